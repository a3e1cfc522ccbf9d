/** A line of the rig with a mark under what a finding is about. */
import type { Located } from '#language';
import { columnsOf, lettersOf } from './columns';
import { visible } from './visible';

export interface Quote {
  readonly line: string;
  readonly mark: string;
}

/** Letters of context kept before the mark where a line is too long for the terminal. */
const BEFORE = 20;

/** `width` is how many columns there are for it. A stretch over several lines is marked to the end of its first. */
export function quote(lines: readonly string[], { start, end }: Located['range'], width: number): Quote | undefined {
  const line = lines[start.line];
  if (line === undefined || line.trim() === '') return undefined;
  const last = end.line > start.line ? line.length : end.character;
  const from = start.character > width - BEFORE ? atLetter(line, start.character - BEFORE) : 0;
  const before = tidy(line.slice(from, start.character));
  const marked = tidy(line.slice(start.character, Math.max(last, start.character)));
  const after = tidy(line.slice(Math.max(last, start.character), from + 2 * width));
  const lead = from > 0 ? '… ' : '';
  const room = Math.max(1, width - columnsOf(lead + before));
  return {
    line: cut(`${lead}${before}${marked}${after}`, width),
    mark: ' '.repeat(columnsOf(lead + before)) + '^'.repeat(Math.min(room, Math.max(1, columnsOf(marked)))),
  };
}

/** The lines of a text, by the line ends that editors know. */
export function linesOf(text: string): string[] {
  return text.split(/\r\n|\r|\n/);
}

/** Not in the middle of a letter that takes two code units. */
function atLetter(line: string, index: number): number {
  const code = line.charCodeAt(index);
  return code >= 0xdc00 && code <= 0xdfff ? index + 1 : index;
}

function tidy(text: string): string {
  return visible(text).replaceAll('\t', '    ');
}

function cut(text: string, width: number): string {
  if (columnsOf(text) <= width) return text.trimEnd();
  let kept = '';
  let columns = 0;
  for (const letter of lettersOf(text)) {
    columns += columnsOf(letter);
    if (columns > width - 2) break;
    kept += letter;
  }
  return `${kept} …`;
}
