/** The paths of `use` and of `scan` as links to their files. */
import { GrammarUtils, type LangiumDocument, type URI } from 'langium';
import type { DocumentLinkProvider } from 'langium/lsp';
import type { DocumentLink } from 'vscode-languageserver';
import type { RigFile, Scan, Use } from '../generated/ast';
import { scansOf, scanUri, usedUri } from '../symbols';
import type { RigEditorServices } from './services';

export class RigLinkProvider implements DocumentLinkProvider {
  constructor(private readonly services: RigEditorServices) {}

  getDocumentLinks(document: LangiumDocument): DocumentLink[] {
    const { LangiumDocuments } = this.services.shared.workspace;
    const { Symbols, Scans } = this.services.rig;
    const uses = Symbols.of(document).uses.flatMap((use) => {
      const uri = usedUri(use);
      return uri && LangiumDocuments.hasDocument(uri) ? link(use, uri, 'Open the file that is used') : [];
    });
    if (Symbols.of(document).scans.length === 0) return uses;
    const { statements } = (document as LangiumDocument<RigFile>).parseResult.value;
    const scans = statements.flatMap((statement) =>
      (statement.$type === 'Header' ? scansOf(statement) : []).flatMap((scan) => {
        const uri = scanUri(scan);
        return uri && Scans.has(uri) ? link(scan, uri, 'Open the scan') : [];
      }),
    );
    return [...uses, ...scans];
  }
}

function link({ $cstNode }: Use | Scan, target: URI, tooltip: string): DocumentLink[] {
  const path = GrammarUtils.findNodeForProperty($cstNode, 'path');
  if (!path) return [];
  // The quotes are not part of the link.
  const closed = /["\u201D]$/.test(path.text) && path.text.length > 1;
  const { start, end } = path.range;
  const range = { start: { ...start, character: start.character + 1 }, end: { ...end, character: end.character - (closed ? 1 : 0) } };
  return [{ range, target: target.toString(), tooltip }];
}
