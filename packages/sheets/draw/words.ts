/**
 * Words in a drawing, made to fit. Which type they are set in is not known here, so widths are reckoned for a wide sans serif
 * (DejaVu Sans is one): in others they come out narrower, never wider.
 */
import stringWidth from 'string-width';
import type { Words } from '../drawing';
import { graphemes } from '../shared/graphemes';

const NARROW = /[ijl.,:;'|!()[\]/ ftr-]/;
const WIDE = /[mwMW@%—…→−]/;
/** Drawings ask for the same few characters thousands of times. */
const known = new Map<string, number>();
const MOST_KNOWN = 4096;

/** Of one line, in the unit of `size`. */
export function widthOf(text: string, size: number, bold = false): number {
  let em = 0;
  for (const letter of graphemes(text)) em += emOf(letter);
  return em * size * (bold ? 1.1 : 1);
}

/** As much of its start and its end as fits, with an ellipsis between: names often differ only in their ends. */
export function fitted(text: string, size: number, width: number, bold = false): string {
  if (widthOf(text, size, bold) <= width) return text;
  const letters = graphemes(text);
  let room = width / (size * (bold ? 1.1 : 1)) - emOf('…');
  let first = 0;
  let last = letters.length;
  // One from the start, one from the end, as long as there is room.
  for (let fromStart = true; first < last; fromStart = !fromStart) {
    room -= emOf(letters[fromStart ? first : last - 1] ?? '');
    if (room < 0) break;
    if (fromStart) first++;
    else last--;
  }
  return first === 0 ? '' : `${letters.slice(0, first).join('').trimEnd()}…${letters.slice(last).join('').trimStart()}`;
}

/** As `fitted`, but the last word stays: a port's number says more than the end of its gear's name. */
export function fittedToLast(text: string, size: number, width: number, bold = false): string {
  const at = text.lastIndexOf(' ');
  const last = text.slice(at);
  const room = width - widthOf(last, size, bold);
  if (at <= 0 || widthOf(text, size, bold) <= width || room < width / 3) return fitted(text, size, width, bold);
  return fitted(text.slice(0, at).trimEnd(), size, room, bold) + last;
}

/** Many words are measured again and again: what is known of a letter is kept. */
function emOf(letter: string): number {
  let em = known.get(letter);
  if (em === undefined) {
    if (stringWidth(letter) === 2) em = 1.3;
    else if (WIDE.test(letter)) em = 1;
    else if (NARROW.test(letter)) em = 0.42;
    else em = /\p{Lu}/u.test(letter) ? 0.78 : 0.64;
    if (known.size < MOST_KNOWN) known.set(letter, em);
  }
  return em;
}

/** Broken at spaces into at most so many lines, the last one cut where it has to be. */
export function broken(text: string, size: number, width: number, most: number, bold = false): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).filter(Boolean)) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line === '' || lines.length === most - 1 || widthOf(longer, size, bold) <= width) line = longer;
    else {
      lines.push(line);
      line = word;
    }
  }
  return [...lines, line].map((each) => fitted(each, size, width, bold));
}

/** One line of words that takes no more than `width`; the whole of it becomes the label where something is left out. */
export function words(text: string, at: Omit<Words, 'kind' | 'text'>): Words {
  const shown = fitted(text, at.size, at.width, at.bold);
  return { kind: 'words', ...at, text: shown, label: at.label ?? (shown === text ? undefined : text) };
}
