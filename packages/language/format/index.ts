/**
 * Formatting: the white space of a rig, set in columns. Words, comments and line breaks stay as they are written.
 *
 * - Statements of a kind without a blank line between them have their parts in columns, two spaces apart; so have the ports,
 *   modes and figures of a model and the sends of a mix. Inside a clause stands one space.
 * - A part that is more than 20 characters wider than the middle one of its column is not waited for, and sends in a statement's
 *   own line are in columns only where no line becomes longer than 120 characters.
 * - Blocks are set in by two, and so is what goes on from the line before. One blank line at most stays.
 * - What cannot be read stays as it is, to the last space.
 */
import type { LangiumCoreServices, ParseResult } from 'langium';
import type { RigFile } from '../generated/ast';
import type { RigLexer } from '../syntax/lexer';
import { type RigParser, stretchesOf } from '../syntax/parser';
import { editsTo, type SpaceEdit } from './edits';
import { behindBrace, indentAt } from './indent';
import { layoutOf, type Part } from './layout';
import { piecesOf } from './pieces';

export type { SpaceEdit } from './edits';
export type { Part } from './layout';

/**
 * The edits that format a text, in its order; offsets in UTF-16 units. `parsed` is the text's own tree, where there is one already. Where
 * but a `part` of it, whole lines, is to be formatted, the edits elsewhere are to be left out.
 */
export function formatEdits(services: LangiumCoreServices, text: string, parsed?: ParseResult, part?: Part): SpaceEdit[] {
  const known = parsed && stretchesOf(parsed);
  const result = known ? (parsed as ParseResult<RigFile>) : (services.parser.LangiumParser as RigParser).parseAgain(text);
  const stretches = known ?? stretchesOf(result) ?? [];
  const pieces = piecesOf(text, stretches, services.parser.Lexer as RigLexer);
  return editsTo(text, pieces, layoutOf(text, pieces, result, stretches, part));
}

export interface Formatted {
  readonly text: string;
  /** How many stretches of it cannot be read, and stay as they are. */
  readonly left: number;
}

/** A whole text, formatted. */
export function format(services: LangiumCoreServices, text: string): Formatted {
  const parsed = (services.parser.LangiumParser as RigParser).parseAgain(text);
  const left = (stretchesOf(parsed) ?? []).filter(({ sound }) => !sound).length;
  return { text: applyEdits(text, formatEdits(services, text, parsed)), left };
}

/** The edit that sets in the line that starts at an offset, as far as can be told while it is being typed. */
export function indentEdit(services: LangiumCoreServices, text: string, lineStart: number): SpaceEdit | undefined {
  return indentAt(text, services.parser.Lexer as RigLexer, lineStart);
}

/** Of a new line that starts at an offset, what sets back a closing brace above it, and what is between. */
export function braceEdits(services: LangiumCoreServices, text: string, lineStart: number): SpaceEdit[] {
  return behindBrace(text, services.parser.Lexer as RigLexer, lineStart);
}

/** A text after edits that are in its order and do not overlap. */
export function applyEdits(text: string, edits: readonly SpaceEdit[]): string {
  let at = 0;
  let result = '';
  for (const { start, end, newText } of edits) {
    result += text.slice(at, start) + newText;
    at = end;
  }
  return result + text.slice(at);
}
