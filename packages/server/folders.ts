/** The folders that are open, as they come and go. */
import type { LangiumDocument, LangiumSharedCoreServices, Stream, URI } from 'langium';
import type { InitializeParams, WorkspaceFolder } from 'vscode-languageserver';
import { RigWorkspaceManager, type Workspace } from '#language';

export class ServerWorkspaceManager extends RigWorkspaceManager {
  private readonly boundary: Workspace;

  constructor(services: LangiumSharedCoreServices, boundary: Workspace) {
    super(services, boundary);
    this.boundary = boundary;
  }

  /** Older clients name a root instead of folders. */
  override initialize(params: InitializeParams): void {
    super.initialize(params);
    this.folders ??= params.rootUri ? [{ uri: params.rootUri, name: '' }] : undefined;
  }

  changeFolders(opened: readonly WorkspaceFolder[], closed: readonly WorkspaceFolder[]): void {
    const gone = new Set(closed.map(({ uri }) => uri));
    this.folders = [...(this.folders ?? []).filter(({ uri }) => !gone.has(uri)), ...opened];
    this.boundary.open(this.folders.map(({ uri }) => uri));
  }

  /** One file that cannot be read does not keep the others from being read. */
  protected override async loadWorkspaceDocuments(uris: Stream<URI>, collector: (document: LangiumDocument) => void): Promise<void> {
    await Promise.all(
      uris.map(async (uri) => {
        try {
          collector(await this.langiumDocuments.getOrCreateDocument(uri));
        } catch (problem) {
          // Whoever opens a file meanwhile is quicker than the disk, and its buffer counts; one that is deleted meanwhile is no loss.
          if (!this.langiumDocuments.hasDocument(uri) && (await this.fileSystemProvider.exists(uri)))
            console.warn(`Could not read ${uri.toString()}.`, problem);
        }
      }),
    );
  }
}
