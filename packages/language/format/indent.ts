/** How far a line is set in while it is being typed, when its statement need not be whole yet. */
import { cut } from '../syntax/chunks';
import type { RigLexer } from '../syntax/lexer';
import type { SpaceEdit } from './edits';
import { STEP } from './layout';

/**
 * The edit that sets in the line that starts at an offset, where it is not right already. A line outside all blocks with nothing
 * on it yet is left to the editor: what will stand there is not known.
 */
export function indentAt(text: string, lexer: RigLexer, lineStart: number): SpaceEdit | undefined {
  const end = lineStart + (/^[^\S\r\n]*/.exec(text.slice(lineStart))?.[0].length ?? 0);
  const { tokens } = lexer.tokenizeAt(text, 0, 0);
  const stretches = cut(tokens);
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
