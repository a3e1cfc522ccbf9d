/** Words on labels on so many lines, cut where they have to be, so that what tells two of them apart stays. */
import { broken, widthOf, wordsOf } from '../draw/words';
import { graphemes } from '../shared/graphemes';

/** The type they are set in, and the room for one of them. */
export interface Fit {
  readonly size: number;
  readonly width: number;
  readonly lines: number;
}

/** Of a text how wide its words are, of a size of 1, so that sizes can be tried without measuring again. In bold, so that both ends of a lead look alike. */
export type Measured = readonly number[];

export function measured(text: string): Measured {
  return wordsOf(text).map((word) => widthOf(word, 1, true));
}

const SPACE = widthOf(' ', 1, true);

/** How many lines it takes, broken at spaces; nothing where a word is wider than a line. */
export function linesOf(words: Measured, size: number, width: number): number | undefined {
  const room = width / size;
  if (words.some((word) => word > room)) return undefined;
  let lines = 1;
  let taken = 0;
  for (const word of words) {
    const longer = taken === 0 ? word : taken + SPACE + word;
    if (longer > room) lines++;
    taken = longer > room ? word : longer;
  }
  return lines;
}

function set(text: string, { size, width, lines }: Fit): string[] {
  return broken(text, size, width, lines, true);
}

/** Each of them set; those that would read the same where they are cut begin where they differ. */
export function setApart(texts: readonly string[], fitOf: (text: string) => Fit): Map<string, string[]> {
  const all = [...new Set(texts)];
  const found = new Map(all.map((text) => [text, set(text, fitOf(text))]));
  const groups = new Map<string, string[]>();
  for (const [text, lines] of found) groups.set(lines.join(' '), [...(groups.get(lines.join(' ')) ?? []), text]);
  for (const alike of groups.values()) {
    if (alike.length < 2) continue;
    const cuts = PARTS.map((part) => alike.map((text) => setPart(text, part(lettersOf(text), othersOf(text, alike)), fitOf(text))));
    const best = cuts.find((cut) => new Set(cut.map((lines) => lines.join(' '))).size === alike.length) ?? cuts.at(-1);
    for (const [index, text] of alike.entries()) found.set(text, best?.[index] ?? []);
  }
  return found;
}

/** The arrow in front of where a lead goes to is never cut. */
const ARROW = /^→\u00a0/;
const lettersOf = (text: string) => graphemes(text.replace(ARROW, ''));

/** From a letter to one before the end: so many are left out in front, and so many behind. */
type Part = readonly [before: number, after: number];

function setPart(text: string, [before, after]: Part, fit: Fit): string[] {
  const arrow = ARROW.exec(text)?.[0] ?? '';
  const letters = lettersOf(text);
  const left = letters.slice(before, letters.length - after).join('');
  return set(`${arrow}${before > 0 ? '…' : ''}${left}${after > 0 ? '…' : ''}`, fit);
}

/** As much as can stay: from the word in which the first of them differs, or only to the last such word; then from where the last differs. */
const PARTS: readonly ((letters: Letters, others: readonly Letters[]) => Part)[] = [
  (letters, others) => [wordsIn(letters, Math.min(...shared(letters, others))), 0],
  (letters, others) => [wordsIn(letters, Math.min(...shared(letters, others))), behind(letters, others)],
  (letters, others) => [wordsIn(letters, Math.max(...shared(letters, others))), 0],
  (letters, others) => [Math.max(...shared(letters, others)), 0],
];

type Letters = readonly string[];

function othersOf(text: string, alike: readonly string[]): Letters[] {
  return alike.filter((other) => other !== text).map(lettersOf);
}

/** How many letters stand behind the last word in which one of them differs. */
function behind(letters: Letters, others: readonly Letters[]): number {
  const turned = letters.toReversed();
  return wordsIn(
    turned,
    Math.min(
      ...shared(
        turned,
        others.map((other) => other.toReversed()),
      ),
    ),
  );
}

/** How many of so many letters are whole words, with the space behind them. */
function wordsIn(letters: Letters, count: number): number {
  return letters.slice(0, count).lastIndexOf(' ') + 1;
}

/** With how many letters it begins as each other does. */
function shared(letters: Letters, others: readonly Letters[]): number[] {
  return others.map((other) => {
    const at = letters.findIndex((letter, index) => letter !== other[index]);
    return at < 0 ? letters.length : at;
  });
}
