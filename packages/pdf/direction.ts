/**
 * Words that run from right to left, put where they stand on the page. The library sets words from left to right and turns the
 * letters inside each; what is left is the order of the words and of what is glued to them. A plain part of the Unicode
 * bidirectional algorithm (UAX 9), enough for names and labels: no embedding, no override.
 */
import { graphemes } from './graphemes';

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
  return ordered(settled, directions, base).join(' ');
}

type Direction = 'right-to-left' | 'left-to-right' | undefined;

/** As the first letter says. */
function directionOf(text: string): Direction {
  const letter = graphemes(text).find((each) => LETTER.test(each));
  if (letter === undefined) return undefined;
  return RIGHT_TO_LEFT.test(letter) ? 'right-to-left' : 'left-to-right';
}

/** Words of the other direction than the line's change places, with what has no direction and stands between two of them. */
function ordered(words: readonly string[], directions: readonly Direction[], base: Direction): string[] {
  const other = base === 'right-to-left' ? 'left-to-right' : 'right-to-left';
  const line = [...words];
  for (let from = 0; from < line.length; from++) {
    if (directions[from] !== other) continue;
    let to = from;
    for (let next = from + 1; next < line.length && directions[next] !== base; next++) if (directions[next] === other) to = next;
    line.splice(from, to - from + 1, ...line.slice(from, to + 1).reverse());
    from = to;
  }
  return base === 'right-to-left' ? line.reverse() : line;
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
