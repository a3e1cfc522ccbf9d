/** Where a name, a port or a used file is declared. */
import { AstUtils, type LangiumDocument } from 'langium';
import type { DefinitionProvider } from 'langium/lsp';
import type { DefinitionParams, LocationLink } from 'vscode-languageserver';
import type * as ast from '../generated/ast';
import { usedUri } from '../symbols';
import type { RigEditorServices } from './services';
import { nameRange, type PortSite } from './things';
import { type Under, under } from './under';

const START = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

export class RigDefinitionProvider implements DefinitionProvider {
  constructor(private readonly services: RigEditorServices) {}

  getDefinition(document: LangiumDocument, params: DefinitionParams): LocationLink[] | undefined {
    const found = under(document, params.position);
    if (!found) return undefined;
    if (found.node.$type === 'Use' && found.property === 'path') return this.file(found);
    const pointed = this.services.editor.Things.pointed(found);
    if (!pointed) return this.mixOfSide(found);
    const { thing, range } = pointed;
    if (thing.kind === 'ports') return thing.sites.flatMap((site) => portLink(site, range) ?? []);
    const target = nameRange(thing.node);
    if (!target) return undefined;
    return [
      {
        originSelectionRange: range,
        targetUri: uriOf(thing.node),
        targetRange: thing.node.$cstNode?.range ?? target,
        targetSelectionRange: target,
      },
    ];
  }

  private file({ node, range }: Under): LocationLink[] | undefined {
    const uri = usedUri(node as ast.Use);
    if (!uri || !this.services.shared.workspace.LangiumDocuments.hasDocument(uri)) return undefined;
    return [{ originSelectionRange: range, targetUri: uri.toString(), targetRange: START, targetSelectionRange: START }];
  }

  /** The side of a mix is declared nowhere; the mix is. */
  private mixOfSide({ node, property, range }: Under): LocationLink[] | undefined {
    const mix = node.$type === 'Taken' && property === 'port' ? (node as ast.Taken).target?.ref : undefined;
    const target = mix?.$type === 'Mix' ? nameRange(mix) : undefined;
    return (
      mix &&
      target && [
        { originSelectionRange: range, targetUri: uriOf(mix), targetRange: mix.$cstNode?.range ?? target, targetSelectionRange: target },
      ]
    );
  }
}

function portLink({ port, written }: PortSite, origin: LocationLink['originSelectionRange']): LocationLink | undefined {
  const whole = port.$cstNode?.range;
  const selection = written.$cstNode?.range;
  return (
    whole && selection && { originSelectionRange: origin, targetUri: uriOf(port), targetRange: whole, targetSelectionRange: selection }
  );
}

function uriOf(node: Parameters<typeof AstUtils.getDocument>[0]): string {
  return AstUtils.getDocument(node).uri.toString();
}
