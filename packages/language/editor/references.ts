/** Everywhere that a name or a port is written, in all files. */
import type { LangiumDocument } from 'langium';
import type { ReferencesProvider } from 'langium/lsp';
import type { Location, ReferenceParams } from 'vscode-languageserver';
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
