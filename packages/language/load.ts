/** Loads rigs from a file system, with all the files they use, for use without an editor. */
import { type FileSystemProvider, type LangiumDocument, URI, UriUtils } from 'langium';
import { libraryFiles } from './library';
import { createRigCore, type RigServices } from './module';
import { usedUri } from './symbols';

/** What a file system knows beyond the text of its files. */
export interface LoaderOptions {
  /** Where a file is when links are followed. Without it they are not looked into. Rejects where there is no such file. */
  readonly realPath?: (uri: URI) => Promise<URI>;
  /** Why reading failed, for "… cannot be read: it is not text in UTF-8"; nothing where the file is just not there. */
  readonly reasonOf?: (problem: unknown) => string | undefined;
}

/** A language without an editor, which reads the files it is asked for and those that they use. */
export class RigLoader {
  readonly services: RigServices;
  private readonly shared: ReturnType<typeof createRigCore>['shared'];

  constructor(
    files: FileSystemProvider,
    folder: URI,
    private readonly options: LoaderOptions = {},
  ) {
    const { shared, Rig } = createRigCore({ fileSystemProvider: () => files });
    this.shared = shared;
    this.services = Rig;
    Rig.rig.Workspace.open([folder.toString()]);
    const { LangiumDocumentFactory, LangiumDocuments } = shared.workspace;
    for (const { uri, text } of libraryFiles()) LangiumDocuments.addDocument(LangiumDocumentFactory.fromString(text, uri));
  }

  /** A document from a file. Rejects where the file cannot be read. */
  async load(uri: URI): Promise<LangiumDocument> {
    const document = await this.shared.workspace.LangiumDocuments.getOrCreateDocument(uri);
    await this.loadUsed(document);
    return document;
  }

  async loadText(text: string, uri: URI): Promise<LangiumDocument> {
    const { LangiumDocumentFactory, LangiumDocuments } = this.shared.workspace;
    const document = LangiumDocumentFactory.fromString(text, uri);
    LangiumDocuments.addDocument(document);
    await this.loadUsed(document);
    return document;
  }

  private async loadUsed(document: LangiumDocument): Promise<void> {
    const { Symbols, Workspace } = this.services.rig;
    const { LangiumDocuments } = this.shared.workspace;
    const queue = [document];
    for (const each of queue) {
      for (const use of Symbols.of(each).uses) {
        const uri = usedUri(use);
        if (!uri || LangiumDocuments.hasDocument(uri) || !Workspace.isInside(uri.toString(), each.uri)) continue;
        try {
          if (await this.leadsOut(uri, each.uri)) Workspace.leadsOut(uri.toString());
          else queue.push(await LangiumDocuments.getOrCreateDocument(uri));
        } catch (problem) {
          // A file that cannot be read is reported where it is used.
          const reason = this.options.reasonOf?.(problem);
          if (reason !== undefined) Workspace.cannotRead(uri.toString(), reason);
        }
      }
    }
  }

  /** Whether a link on the way to a file leads out of the folder that its user may use files of. */
  private async leadsOut(uri: URI, user: URI): Promise<boolean> {
    const { realPath } = this.options;
    if (!realPath) return false;
    const root = await realPath(URI.parse(this.services.rig.Workspace.rootOf(user)));
    return !UriUtils.contains(root, await realPath(uri));
  }
}
