/** In one file, everywhere that the name or the port under the cursor is written. */
import type { LangiumDocument } from 'langium';
import type { DocumentHighlightProvider } from 'langium/lsp';
import { type DocumentHighlight, DocumentHighlightKind, type DocumentHighlightParams } from 'vscode-languageserver';
import type { RigEditorServices } from './services';

export class RigHighlightProvider implements DocumentHighlightProvider {
  constructor(private readonly services: RigEditorServices) {}

  getDocumentHighlight(document: LangiumDocument, params: DocumentHighlightParams): DocumentHighlight[] | undefined {
    const { Things } = this.services.editor;
    const pointed = Things.at(document, params.position);
    return (
      pointed &&
      Things.occurrences(pointed.thing, [document]).map(({ range, declares }) => ({
        range,
        kind: declares ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
      }))
    );
  }
}
