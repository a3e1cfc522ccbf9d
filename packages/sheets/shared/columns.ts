/** How columns share a width that is not enough for all of them: the same on a page, in a PDF and on a screen, in whatever unit. */

export interface Need {
  /** The longest word. */
  readonly least: number;
  /** All of it on one line. */
  readonly most: number;
}

/** Longer words than this share of the table are broken. */
const WORD_SHARE = 0.3;

/** `room` is for all columns, gaps not counted, and less than all of them on one line take. Together they take no more. */
export function crowded(needs: readonly Need[], room: number): number[] {
  const least = needs.map((need) => Math.min(need.least, room * WORD_SHARE));
  const taken = sum(least);
  if (taken >= room) return least.map((each) => (each * room) / taken);
  const wishes = needs.map((need, index) => need.most - (least[index] ?? 0));
  // A long sentence in one column does not starve the others: wishes count by their root.
  const weights = wishes.map((wish) => Math.sqrt(Math.max(0, wish)));
  return shared(least, wishes, weights, room - taken);
}

/** What is left, by weight, nobody getting more than wished for. */
function shared(least: readonly number[], wishes: readonly number[], weights: readonly number[], left: number): number[] {
  const got = least.map(() => 0);
  let rest = left;
  for (let turn = 0; turn < least.length && rest > 0.01; turn++) {
    const open = weights.map((weight, index) => ((got[index] ?? 0) < (wishes[index] ?? 0) - 0.01 ? weight : 0));
    const all = sum(open);
    if (all === 0) break;
    const now = rest;
    for (const [index, weight] of open.entries()) {
      const more = Math.min((now * weight) / all, (wishes[index] ?? 0) - (got[index] ?? 0));
      got[index] = (got[index] ?? 0) + more;
      rest -= more;
    }
  }
  return least.map((each, index) => each + (got[index] ?? 0));
}

/** The least width in which a heading takes no more. */
export function onTwoLines(text: string, widthOf: (words: string) => number): number {
  const words = text.split(' ');
  const wide = (from: number, to: number) => widthOf(words.slice(from, to).join(' '));
  return Math.min(...words.map((_, at) => Math.max(wide(0, at), wide(at, words.length))));
}

export function sum(numbers: readonly number[]): number {
  return numbers.reduce((a, b) => a + b, 0);
}
