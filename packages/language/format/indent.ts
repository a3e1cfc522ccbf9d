/** How far a line is set in while it is being typed, when its statement need not be whole yet. */
import { cut, type Stretch } from '../syntax/chunks';
import type { RigLexer } from '../syntax/lexer';
import type { SpaceEdit } from './edits';
import { STEP } from './layout';

/** More lines than these nobody types before the editor catches up. */
const MOST_BEHIND = 20;

/**
 * The edit that sets in the line that starts at an offset, where it is not right already. A line outside all blocks with nothing
 * on it yet is left to the editor: what will stand there is not known.
 */
export function indentAt(text: string, lexer: RigLexer, lineStart: number): SpaceEdit | undefined {
  return setIn(text, stretchesOf(text, lexer), lineStart);
}

/**
 * What a new line at an offset comes behind: closing braces that were typed before the editor knew that they are some stand too far in, and
 * with each all that was typed behind it. The edits set them back. A blank line ends the search, but the one right above and those before
 * what is set in.
 */
export function behindBrace(text: string, lexer: RigLexer, lineStart: number): SpaceEdit[] {
  const lines: { start: number; indent: string; rest: string; tooFar: number }[] = [];
  for (let start = lineStart; lines.length <= MOST_BEHIND; start = text.lastIndexOf('\n', start - 2) + 1) {
    const [, indent = '', rest = ''] = /^([^\S\r\n]*)([^\r\n]*)/.exec(text.slice(start)) ?? [];
    if (rest === '' && lines.length > 1 && lines[0]?.indent === '') break;
    lines.unshift({ start, indent, rest, tooFar: 0 });
    if (start === 0) break;
  }
  if (!lines.some(({ indent, rest }) => indent !== '' && rest === '}')) return [];
  const stretches = stretchesOf(text, lexer);
  for (const [index, { start, indent, rest, tooFar }] of lines.entries()) {
    const still = indent.slice(tooFar);
    const back = rest === '}' ? meant(text, stretches, start) : undefined;
    if (back === undefined || back.length >= still.length) continue;
    const end = lines.findIndex((line, at) => at > index && line.rest !== '' && !line.indent.slice(line.tooFar).startsWith(still));
    for (const line of lines.slice(index, end < 0 ? undefined : end))
      line.tooFar = Math.min(line.indent.length, line.tooFar + still.length - back.length);
  }
  return lines.flatMap(({ start, tooFar }) => (tooFar > 0 ? [{ start, end: start + tooFar, newText: '' }] : []));
}

function stretchesOf(text: string, lexer: RigLexer): readonly Stretch[] {
  return cut(lexer.tokenizeAt(text, 0, 0).tokens);
}

function setIn(text: string, stretches: readonly Stretch[], lineStart: number): SpaceEdit | undefined {
  const end = indentEnd(text, lineStart);
  const newText = meant(text, stretches, lineStart);
  return newText === undefined || text.slice(lineStart, end) === newText ? undefined : { start: lineStart, end, newText };
}

function indentEnd(text: string, lineStart: number): number {
  return lineStart + (/^[^\S\r\n]*/.exec(text.slice(lineStart))?.[0].length ?? 0);
}

/** The white space that a line is to be set in by; nothing where that cannot be told. */
function meant(text: string, stretches: readonly Stretch[], lineStart: number): string | undefined {
  const end = indentEnd(text, lineStart);
  const stretch = stretches.findLast(({ tokens: [first] }) => first !== undefined && first.startOffset <= end);
  if (!stretch) return undefined;
  const before = stretch.tokens.filter(({ startOffset }) => startOffset < end);
  const depth = before.reduce((open, { image }) => (image === '{' ? open + 1 : image === '}' ? open - 1 : open), 0);
  const first = stretch.tokens.find(({ startOffset }) => startOffset === end);
  // Outside all blocks, what will stand on an empty line or behind a comment is anybody's guess; a brace there closes nothing.
  if (depth <= 0 && (!first || first.image === '}')) return undefined;
  const goesOn = depth === 0 && before.length > 0 && first?.image !== '{';
  const steps = first?.image === '}' ? depth - 1 : depth + (goesOn ? 1 : 0);
  return ' '.repeat(STEP * Math.max(0, steps));
}
