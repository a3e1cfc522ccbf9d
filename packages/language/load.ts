/** Loads rigs from a file system, with all the files they use, for use without an editor. */
import { DocumentState, type FileSystemProvider, type LangiumDocument, type URI } from 'langium';
import { libraryFiles } from './library';
import { createRigCore, type RigServices } from './module';
import type { RigDocumentFactory } from './syntax/factory';
import { type LoaderOptions, UsedFiles } from './used';

/** A language without an editor, which reads the files it is asked for and those that they use. */
export class RigLoader {
  readonly services: RigServices;
  private readonly shared: ReturnType<typeof createRigCore>['shared'];
  private readonly used: UsedFiles;

  constructor(files: FileSystemProvider, folder: URI, options: LoaderOptions = {}) {
    const { shared, Rig } = createRigCore({ fileSystemProvider: () => files });
    this.shared = shared;
    this.services = Rig;
    this.used = new UsedFiles(Rig, options);
    Rig.rig.Workspace.open([folder.toString()]);
    const { LangiumDocumentFactory, LangiumDocuments } = shared.workspace;
    for (const { uri, text } of libraryFiles())
      LangiumDocuments.addDocument(linkable((LangiumDocumentFactory as RigDocumentFactory).unread(uri, text)));
  }

  /** A document from a file. Rejects where the file cannot be read. */
  async load(uri: URI): Promise<LangiumDocument> {
    const document = linkable(await this.shared.workspace.LangiumDocuments.getOrCreateDocument(uri));
    await this.loadUsed(document);
    return document;
  }

  async loadText(text: string, uri: URI): Promise<LangiumDocument> {
    const { LangiumDocumentFactory, LangiumDocuments } = this.shared.workspace;
    const document = LangiumDocumentFactory.fromString(text, uri);
    LangiumDocuments.addDocument(linkable(document));
    await this.loadUsed(document);
    return document;
  }

  private async loadUsed(document: LangiumDocument): Promise<void> {
    for (const used of await this.used.read([document])) linkable(used);
    this.services.rig.Symbols.refresh();
  }
}

/** Names are found as soon as a document is read (see `scope.ts`); Langium warns on the console where it is not told so. */
function linkable(document: LangiumDocument): LangiumDocument {
  if (document.state < DocumentState.ComputedScopes) document.state = DocumentState.ComputedScopes;
  return document;
}
