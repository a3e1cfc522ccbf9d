/** Cures of names that mean two things: one of the two gets another name, everywhere it is meant. Which name is best is not for us to say. */
import { AstUtils, GrammarUtils, type LangiumDocument } from 'langium';
import type { TextEdit } from 'vscode-languageserver';
import type { Code } from '#engine';
import type { Located } from '../../analysis';
import type * as ast from '../../generated/ast';
import { isLibrary } from '../../library';
import type { Declaration } from '../../symbols';
import type { Cure } from '../edits';
import { freeName } from '../refactor/names';
import type { RigEditorServices } from '../services';
import { isDeclaration, nameRange } from '../things';

const MEANT_TWICE: ReadonlySet<Code> = new Set<Code>(['names/duplicate', 'names/two-meanings', 'names/elsewhere-too']);

export function renamings(services: RigEditorServices, document: LangiumDocument<ast.RigFile>, { finding, range }: Located): Cure[] {
  if (!MEANT_TWICE.has(finding.code)) return [];
  const offset = document.textDocument.offsetAt(range.start);
  const node = document.parseResult.value.statements.find(
    (each): each is Declaration => isDeclaration(each) && GrammarUtils.findNodeForProperty(each.$cstNode, 'name')?.offset === offset,
  );
  if (!node) return [];
  // Nothing means the second of two: whoever names it gets the first.
  if (finding.code === 'names/duplicate') {
    const name = freeName(services, `${node.name}-2`);
    const at = nameRange(node);
    return at ? [{ title: `Call the second one ${name}`, changes: { [document.uri.toString()]: [{ range: at, newText: name }] } }] : [];
  }
  const kind = node.$type.toLowerCase();
  const name = freeName(services, `${node.name}-${finding.code === 'names/elsewhere-too' ? 2 : kind}`);
  const changes: Record<string, TextEdit[]> = {};
  for (const each of services.editor.Things.occurrences({ kind: 'declared', node })) {
    if (isLibrary(each.document.uri)) return [];
    const uri = each.document.uri.toString();
    const edits = changes[uri] ?? [];
    changes[uri] = edits;
    edits.push({ range: each.range, newText: name });
  }
  return AstUtils.getDocument(node) === document ? [{ title: `Call the ${kind} ${name}`, changes }] : [];
}
