/**
 * Tells the client to ask again for what it shows in the text. It does so by itself where it edits; not where the settings, or
 * another file, have changed what stands in a file that nobody has touched.
 */
import { DocumentState } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import { type ClientCapabilities, CodeLensRefreshRequest, type Connection } from 'vscode-languageserver';

export class Refresher {
  private capabilities: ClientCapabilities['workspace'];
  /** The version of each open text when it was last built. */
  private readonly built = new Map<string, number>();
  private stale = false;

  constructor(
    private readonly connection: Connection,
    shared: LangiumSharedServices,
  ) {
    const { DocumentBuilder, TextDocuments } = shared.workspace;
    shared.lsp.LanguageServer.onInitialize(({ capabilities }) => {
      this.capabilities = capabilities.workspace;
    });
    DocumentBuilder.onDocumentPhase(DocumentState.Validated, ({ uri }) => {
      const version = TextDocuments.get(uri)?.version;
      const key = uri.toString();
      if (version === undefined) this.built.delete(key);
      else {
        // The same text built again: something that it uses has changed.
        if (this.built.get(key) === version) this.stale = true;
        this.built.set(key, version);
      }
    });
    DocumentBuilder.onBuildPhase(DocumentState.Validated, () => {
      if (this.stale) this.all();
      this.stale = false;
    });
  }

  /** Hints and lenses, and colours as well: whether a name stands for something depends on other files. */
  all(): void {
    this.shown();
    if (this.capabilities?.semanticTokens?.refreshSupport) settle(this.connection.languages.semanticTokens.refresh());
  }

  /** What the settings switch on and off. */
  shown(): void {
    if (this.capabilities?.inlayHint?.refreshSupport) settle(this.connection.languages.inlayHint.refresh());
    if (this.capabilities?.codeLens?.refreshSupport) settle(this.connection.sendRequest(CodeLensRefreshRequest.type));
  }
}

function settle(asked: Promise<void>): void {
  asked.catch((problem) => console.warn('The client would not refresh what it shows.', problem));
}
