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
 * What a new line at an offset comes behind: a closing brace that was typed before the editor knew that it is one stands too far in, and
 * with it all that was typed behind it. The edits set them back.
 */
export function behindBrace(text: string, lexer: RigLexer, lineStart: number): SpaceEdit[] {
  const lines: { start: number; indent: string; rest: string }[] = [];
  for (let start = lineStart; lines.length <= MOST_BEHIND; start = text.lastIndexOf('\n', start - 2) + 1) {
    const [, indent = '', rest = ''] = /^([^\S\r\n]*)([^\r\n]*)/.exec(text.slice(start)) ?? [];
    if (start !== lineStart && rest === '') break;
    lines.unshift({ start, indent, rest });
    if (start === 0) break;
  }
  if (!lines.some(({ indent, rest }) => indent !== '' && rest === '}')) return [];
  const stretches = stretchesOf(text, lexer);
  for (const [index, { start, indent, rest }] of lines.entries()) {
    const back = rest === '}' ? setIn(text, stretches, start) : undefined;
    if (!back || back.newText.length >= indent.length) continue;
    const end = lines.findIndex((line, at) => at > index && !line.indent.startsWith(indent));
    const tooFar = indent.length - back.newText.length;
    return lines.slice(index, end < 0 ? undefined : end).map((line) => ({ start: line.start, end: line.start + tooFar, newText: '' }));
  }
  return [];
}

function stretchesOf(text: string, lexer: RigLexer): readonly Stretch[] {
  return cut(lexer.tokenizeAt(text, 0, 0).tokens);
}

function setIn(text: string, stretches: readonly Stretch[], lineStart: number): SpaceEdit | undefined {
  const end = lineStart + (/^[^\S\r\n]*/.exec(text.slice(lineStart))?.[0].length ?? 0);
  const stretch = stretches.findLast(({ tokens: [first] }) => first !== undefined && first.startOffset <= end);
  if (!stretch) return undefined;
  const before = stretch.tokens.filter(({ startOffset }) => startOffset < end);
  const depth = before.reduce((open, { image }) => (image === '{' ? open + 1 : image === '}' ? open - 1 : open), 0);
  const first = stretch.tokens.find(({ startOffset }) => startOffset === end);
  // Outside all blocks, what will stand on an empty line or behind a comment is anybody's guess; a brace there closes nothing.
  if (depth <= 0 && (!first || first.image === '}')) return undefined;
  const goesOn = depth === 0 && before.length > 0 && first?.image !== '{';
  const steps = first?.image === '}' ? depth - 1 : depth + (goesOn ? 1 : 0);
  const newText = ' '.repeat(STEP * Math.max(0, steps));
  return text.slice(lineStart, end) === newText ? undefined : { start: lineStart, end, newText };
}
