/**
 * Words that run from right to left, put where they stand on the page. The library sets words from left to right and turns the
 * letters inside each; what is left is the order of the words and of what is glued to them. A plain part of the Unicode
 * bidirectional algorithm (UAX 9), enough for names and labels: no embedding, no override.
 */
import { graphemes } from '#sheets/print';

const RIGHT_TO_LEFT = /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]/u;
const LETTER = /\p{L}/u;
const MIRRORED: Readonly<Record<string, string>> = {
  '(': ')',
  ')': '(',
  '[': ']',
  ']': '[',
  '{': '}',
  '}': '{',
  '<': '>',
  '>': '<',
  '«': '»',
  '»': '«',
};

/** Of one line on the page. */
export function inVisualOrder(line: string): string {
  if (!RIGHT_TO_LEFT.test(line)) return line;
  const words = line.split(' ');
  const base = directionOf(line);
  const directions = words.map((word) => directionOf(word));
  const settled = words.map((word, index) => (directions[index] === 'right-to-left' ? turned(word) : lettersTurned(word)));
  return joined(
    ordered(
      settled.map((word, index) => ({ word, direction: directions[index] })),
      base,
    ),
  );
}

interface Word {
  readonly word: string;
  readonly direction: Direction;
}

type Direction = 'right-to-left' | 'left-to-right' | undefined;

/** As the first letter says. */
function directionOf(text: string): Direction {
  const letter = graphemes(text).find((each) => LETTER.test(each));
  if (letter === undefined) return undefined;
  return RIGHT_TO_LEFT.test(letter) ? 'right-to-left' : 'left-to-right';
}

/** Words of the other direction than the line's change places, with what has no direction and stands between two of them. */
function ordered(words: readonly Word[], base: Direction): Word[] {
  const other = base === 'right-to-left' ? 'left-to-right' : 'right-to-left';
  const line = [...words];
  for (let from = 0; from < line.length; from++) {
    if (line[from]?.direction !== other) continue;
    let to = from;
    for (let next = from + 1; next < line.length && line[next]?.direction !== base; next++) if (line[next]?.direction === other) to = next;
    line.splice(from, to - from + 1, ...line.slice(from, to + 1).reverse());
    from = to;
  }
  return base === 'right-to-left' ? line.reverse() : line;
}

const NO_BREAK = '\u00a0';

/**
 * The library takes words apart at spaces, and turns each with the space that follows. Words that run from right to left beside
 * each other are handed over as one, to be turned as one; what follows them brings its own space.
 */
function joined(words: readonly Word[]): string {
  let line = '';
  for (let from = 0; from < words.length; from++) {
    let to = from;
    if (words[from]?.direction === 'right-to-left') while (words[to + 1]?.direction === 'right-to-left') to++;
    const group = words.slice(from, to + 1).map(({ word }) => word);
    const after = words[from - 1]?.direction === 'right-to-left' ? ` ${NO_BREAK}` : ' ';
    line += (from === 0 ? '' : after) + group.reverse().join(NO_BREAK);
    from = to;
  }
  return line;
}

/** The library will turn all of it: what runs the other way, such as figures, is turned beforehand, and brackets are mirrored. */
function turned(word: string): string {
  return runs(
    word,
    (each) => !RIGHT_TO_LEFT.test(each) && /[\p{L}\p{N}]/u.test(each),
    (run) => run.reverse().join(''),
  ).replace(/[()[\]{}<>«»]/g, (bracket) => MIRRORED[bracket] ?? bracket);
}

/** The library will turn none of it. */
function lettersTurned(word: string): string {
  return runs(
    word,
    (each) => RIGHT_TO_LEFT.test(each),
    (run) => run.reverse().join(''),
  );
}

function runs(word: string, wanted: (grapheme: string) => boolean, change: (run: string[]) => string): string {
  let changed = '';
  let run: string[] = [];
  for (const each of graphemes(word)) {
    if (wanted(each)) {
      run.push(each);
      continue;
    }
    changed += change(run) + each;
    run = [];
  }
  return changed + change(run);
}
