/** Frequencies as edits of the statements of their sets. */
import { type AstNode, AstUtils, GrammarUtils } from 'langium';
import type { TextEdit } from 'vscode-languageserver-types';
import { onText } from '#engine';
import type { Place } from '#rig';
import type { Analysis } from './analysis';
import type * as ast from './generated/ast';
import { Layout } from './layout';
import { isLibrary } from './library';

/** Undefined where the text is too broken. */
export function frequencyEdit(node: AstNode | undefined, hz: number): TextEdit | undefined {
  if (node?.$type !== 'Gear' && node?.$type !== 'Source') return undefined;
  const statement = node as ast.Gear | ast.Source;
  const written = onText(hz);
  const clauses: readonly AstNode[] = statement.clauses;
  const there = clauses.find(({ $type }) => $type === 'OnFrequency')?.$cstNode;
  if (there) return Layout.of(node).replace(there.offset, there.end, written);
  const instead = GrammarUtils.findNodesForProperty(node.$cstNode, 'instead').at(-1);
  const after = clauses.at(-1)?.$cstNode ?? instead ?? GrammarUtils.findNodeForProperty(node.$cstNode, 'model');
  return after && Layout.of(node).append(statement, after.end, 'on', written);
}

/** Each with the file that it belongs into. Undefined in place of what cannot be written: a set of the library, a text that is too broken. */
export function writeFrequencies(
  { lowered }: Analysis,
  sets: readonly { readonly piece: Place; readonly hz: number }[],
): ({ readonly uri: string; readonly edits: readonly TextEdit[] } | undefined)[] {
  return sets.map(({ piece, hz }) => {
    const node = lowered.marks.markOf(piece)?.node;
    const edit = frequencyEdit(node, hz);
    const uri = node && AstUtils.getDocument(node).uri;
    return edit && uri && !isLibrary(uri) ? { uri: uri.toString(), edits: [edit] } : undefined;
  });
}
