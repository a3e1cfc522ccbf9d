/**
 * Expectations written into a rig as comments, under the line they are about.
 *
 *     input iface.3  takes voice
 *     #     ^^^^^^^ levels/gain-short "4.8 dB"     a finding of that code on exactly that stretch, its message with these words
 *     # cure: input iface.1  takes voice            what the line above has to be instead; with nothing after it, no line
 *     # cure+ house 3  takes voice                  a line to add after it
 *
 * A stretch that begins in the first column is marked from the `#` itself: `#^^^^`. A finding over several lines is marked on
 * its first.
 */
import { typeset } from '#engine';

export interface Mark {
  /** From 0, as in the language server protocol. */
  readonly line: number;
  readonly start: number;
  readonly end: number;
  readonly code: string;
  /** What the message has to contain. */
  readonly words: readonly string[];
}

/** A finding as the analysis gives it, with its message. */
export interface Found extends Omit<Mark, 'words'> {
  readonly message: string;
}

const MARK = /^( *)#( *)(\^+) +([a-z-]+\/[a-z-]+)((?: +"[^"]*")*)/;
const CURE = /^ *# cure([:+]) ?(.*)$/;

const isNote = (line: string) => MARK.test(line) || CURE.test(line);

export function readMarks(text: string): Mark[] {
  const lines = text.split(/\r?\n/);
  return lines.flatMap((each, index) => {
    const [, indent = '', gap = '', carets = '', code = '', quoted = ''] = MARK.exec(each) ?? [];
    if (code === '') return [];
    // Straight after the `#`, the `#` is the first of the carets.
    const start = indent.length + (gap === '' ? 0 : 1 + gap.length);
    return [
      {
        line: lineOf(lines, index),
        start,
        end: indent.length + 1 + gap.length + carets.length,
        code,
        words: [...quoted.matchAll(/"([^"]*)"/g)].map(([, words = '']) => words),
      },
    ];
  });
}

/** The line that a note is about: the nearest above that is not a note itself. */
function lineOf(lines: readonly string[], note: number): number {
  let line = note - 1;
  while (line > 0 && isNote(lines[line] ?? '')) line--;
  return line;
}

/** The text as it is once every cure is carried out, without the notes. */
export function cured(text: string): string {
  const lines = text.split(/\r?\n/);
  const instead = new Map<number, string[]>();
  const added = new Map<number, string[]>();
  for (const [index, line] of lines.entries()) {
    const cure = CURE.exec(line);
    if (!cure) continue;
    const into = cure[1] === ':' ? instead : added;
    const about = lineOf(lines, index);
    into.set(about, [...(into.get(about) ?? []), cure[2] ?? '']);
  }
  return lines.flatMap((line, index) => (isNote(line) ? [] : [...(instead.get(index) ?? [line]), ...(added.get(index) ?? [])])).join('\n');
}

/** What was marked and is not found, and what is found and was not marked, each with the line it is about, for people to read. */
export function differences(text: string, found: readonly Found[]): string {
  const lines = text.split(/\r?\n/);
  const marks = readMarks(text);
  const left = [...found];
  const told: string[] = [];
  for (const mark of marks) {
    const at = left.findIndex(
      (each) => each.code === mark.code && each.line === mark.line && each.start === mark.start && each.end === mark.end,
    );
    const [match] = at < 0 ? [] : left.splice(at, 1);
    if (!match) told.push(show(lines, mark, `${mark.code} is marked here and not found`));
    for (const words of match ? mark.words : []) {
      if (![words, typeset(words)].some((each) => match?.message.includes(each)))
        told.push(show(lines, mark, `${mark.code} does not say "${words}":\n    ${match?.message}`));
    }
  }
  for (const each of left) told.push(show(lines, each, `${each.code} is found here and not marked:\n    ${each.message}`));
  return told.join('\n');
}

function show(lines: readonly string[], { line, start, end }: Pick<Mark, 'line' | 'start' | 'end'>, says: string): string {
  return `line ${line + 1}: ${says}\n    ${lines[line] ?? ''}\n    ${' '.repeat(start)}${'^'.repeat(Math.max(1, end - start))}`;
}
