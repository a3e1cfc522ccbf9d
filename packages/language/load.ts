/** Loads rigs from a file system, with all the files they use, for use without an editor. */
import { type FileSystemProvider, type LangiumDocument, type URI } from 'langium';
import { createRigCore, type RigServices } from './module';
import { usedUri } from './symbols';
import { libraryFiles } from './library';

/** A language without an editor, which reads the files it is asked for and those that they use. */
export class RigLoader {
  readonly services: RigServices;
  private readonly shared: ReturnType<typeof createRigCore>['shared'];

  constructor(files: FileSystemProvider, folder: URI) {
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
    const queue = [document];
    for (const each of queue) {
      for (const use of this.services.rig.Symbols.of(each).uses) {
        const uri = usedUri(use);
        const { LangiumDocuments } = this.shared.workspace;
        if (!uri || LangiumDocuments.hasDocument(uri) || !this.services.rig.Workspace.isInside(uri.toString(), each.uri)) continue;
        try {
          queue.push(await LangiumDocuments.getOrCreateDocument(uri));
        } catch {
          // A file that cannot be read is reported where it is used.
        }
      }
    }
  }
}

