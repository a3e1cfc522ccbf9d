/** The paths of `use` as links to their files. */
import { GrammarUtils, type LangiumDocument } from 'langium';
import type { DocumentLinkProvider } from 'langium/lsp';
import type { DocumentLink } from 'vscode-languageserver';
import { usedUri } from '../symbols';
import type { RigEditorServices } from './services';

export class RigLinkProvider implements DocumentLinkProvider {
  constructor(private readonly services: RigEditorServices) {}

  getDocumentLinks(document: LangiumDocument): DocumentLink[] {
    const { LangiumDocuments } = this.services.shared.workspace;
    return this.services.rig.Symbols.of(document).uses.flatMap((use) => {
      const path = GrammarUtils.findNodeForProperty(use.$cstNode, 'path');
      const uri = usedUri(use);
      if (!path || !uri || !LangiumDocuments.hasDocument(uri)) return [];
      // The quotes are not part of the link.
      const closed = /["\u201D]$/.test(path.text) && path.text.length > 1;
      const { start, end } = path.range;
      const range = { start: { ...start, character: start.character + 1 }, end: { ...end, character: end.character - (closed ? 1 : 0) } };
      return [{ range, target: uri.toString(), tooltip: 'Open the file that is used' }];
    });
  }
}
