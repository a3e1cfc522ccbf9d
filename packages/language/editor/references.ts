/** Everywhere that a name or a port is written, in all files; and, in one file, what is lit up with it. */
import { type LangiumDocument, UriUtils } from 'langium';
import type { DocumentHighlightProvider, ReferencesProvider } from 'langium/lsp';
import {
  type DocumentHighlight,
  DocumentHighlightKind,
  type DocumentHighlightParams,
  type Location,
  type ReferenceParams,
} from 'vscode-languageserver';
import type { RigEditorServices } from './services';

export class RigReferencesProvider implements ReferencesProvider {
  constructor(private readonly services: RigEditorServices) {}

  findReferences(document: LangiumDocument, params: ReferenceParams): Location[] {
    const { Things } = this.services.editor;
    const pointed = Things.at(document, params.position);
    if (!pointed) return [];
    return Things.occurrences(pointed.thing)
      .filter(({ declares }) => params.context.includeDeclaration || !declares)
      .map((each) => ({ uri: each.document.uri.toString(), range: each.range }));
  }
}

export class RigHighlightProvider implements DocumentHighlightProvider {
  constructor(private readonly services: RigEditorServices) {}

  getDocumentHighlight(document: LangiumDocument, params: DocumentHighlightParams): DocumentHighlight[] | undefined {
    const { Things } = this.services.editor;
    const pointed = Things.at(document, params.position);
    if (!pointed) return undefined;
    return Things.occurrences(pointed.thing)
      .filter((each) => UriUtils.equals(each.document.uri, document.uri))
      .map(({ range, declares }) => ({ range, kind: declares ? DocumentHighlightKind.Write : DocumentHighlightKind.Read }));
  }
}
