/**
 * Words in a drawing, made to fit: measured with the type that is shipped. Whoever draws them in another gives them as much room
 * (`textLength` in SVG). A character that the type has not is reckoned wide.
 */
import stringWidth from 'string-width';
import type { Words } from '../drawing';
import { graphemes } from '../shared/graphemes';
import { BOLD, REGULAR } from './metrics';

function read(runs: typeof REGULAR): ReadonlyMap<string, number> {
  return new Map(
    runs.flatMap(([from, widths]) =>
      widths.split(' ').map((width, at) => [String.fromCodePoint(from + at), Number(width) / 1000] as const),
    ),
  );
}

const widths = { regular: read(REGULAR), bold: read(BOLD) };

/** Of one line, in the unit of `size`. */
export function widthOf(text: string, size: number, bold = false): number {
  let em = 0;
  for (const letter of graphemes(text)) em += emOf(letter, bold);
  return em * size;
}

/** Whether the type has all of it, so that its width is known and not reckoned. */
export function isMeasured(text: string): boolean {
  return [...text].every((letter) => widths.regular.get(letter));
}

/** As much of its start and its end as fits, with an ellipsis between: names often differ only in their ends. */
export function fitted(text: string, size: number, width: number, bold = false): string {
  if (widthOf(text, size, bold) <= width) return text;
  const letters = graphemes(text);
  let room = width / size - emOf('…', bold);
  let first = 0;
  let last = letters.length;
  // One from the start, one from the end, as long as there is room.
  for (let fromStart = true; first < last; fromStart = !fromStart) {
    room -= emOf(letters[fromStart ? first : last - 1] ?? '', bold);
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

function emOf(letter: string, bold: boolean): number {
  const known = widths[bold ? 'bold' : 'regular'].get(letter);
  if (known) return known;
  return stringWidth(letter) === 2 ? 1.3 : 0.9;
}

/** The words of a text: what a space that does not break holds together is one. */
export function wordsOf(text: string): string[] {
  return text.split(/[^\S\u00a0]+/).filter(Boolean);
}

/** Broken at spaces into at most so many lines, the last one cut where it has to be. */
export function broken(text: string, size: number, width: number, most: number, bold = false): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of wordsOf(text)) {
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
