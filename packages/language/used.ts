/** Reads the files that documents use: rigs, and scans of what is on the air. */
import { type LangiumDocument, URI, UriUtils } from 'langium';
import type { RigServices } from './module';
import { isScan } from './scans';

/** What a file system knows beyond the text of its files. */
export interface LoaderOptions {
  /** Where a file is when links are followed. Without it they are not looked into. Rejects where there is no such file. */
  readonly realPath?: (uri: URI) => Promise<URI>;
  /** Why reading failed, for "… cannot be read: it is not text in UTF-8"; nothing where the file is just not there. */
  readonly reasonOf?: (problem: unknown) => string | undefined;
}

/** Whether a file is called a rig. Langium knows the language of a file that no editor has open by its ending alone. */
export function isRig(uri: URI): boolean {
  return uri.path.endsWith('.rig');
}

export class UsedFiles {
  constructor(
    private readonly services: RigServices,
    private readonly options: LoaderOptions,
  ) {}

  /**
   * Reads what these documents use, and what that uses in turn, as far as it may be used and has not been read.
   * Gives the documents that are new. A file that cannot be read is reported where it is used.
   */
  async read(users: Iterable<LangiumDocument>): Promise<LangiumDocument[]> {
    const { Symbols, Scans } = this.services.rig;
    const { LangiumDocuments, FileSystemProvider } = this.services.shared.workspace;
    const found: LangiumDocument[] = [];
    const queue = [...users];
    const roots = new Map<string, Promise<URI>>();
    for (const user of queue) {
      const { used, scans } = Symbols.of(user);
      for (const uri of used) {
        if (!isRig(uri) || LangiumDocuments.hasDocument(uri)) continue;
        await this.reading(uri, user.uri, roots, async () => {
          const document = await LangiumDocuments.getOrCreateDocument(uri);
          found.push(document);
          queue.push(document);
        });
      }
      for (const uri of scans) {
        if (!isScan(uri) || Scans.has(uri)) continue;
        await this.reading(uri, user.uri, roots, async () => Scans.take(uri, await FileSystemProvider.readFile(uri)));
      }
    }
    return found;
  }

  /** Whether a file that has been read stands behind a link by now that leads out of its folder. */
  async hasLeft(uri: URI): Promise<boolean> {
    // What is not there at all is told by whoever reads it.
    return this.leadsOut(uri, uri, new Map()).catch(() => false);
  }

  /** Reads a file as far as its user may use it, and keeps why it cannot be read. */
  private async reading(uri: URI, user: URI, roots: Map<string, Promise<URI>>, read: () => Promise<void>): Promise<void> {
    const { Workspace } = this.services.rig;
    if (!Workspace.isInside(uri.toString(), user)) return;
    try {
      if (await this.leadsOut(uri, user, roots)) Workspace.leadsOut(uri.toString());
      else await read();
    } catch (problem) {
      const reason = this.options.reasonOf?.(problem);
      if (reason !== undefined) Workspace.cannotRead(uri.toString(), reason);
    }
  }

  /** Whether a link on the way to a file leads out of the folder that its user may use files of. `roots` keeps where those folders are. */
  private async leadsOut(uri: URI, user: URI, roots: Map<string, Promise<URI>>): Promise<boolean> {
    const { realPath } = this.options;
    if (!realPath) return false;
    const folder = this.services.rig.Workspace.rootOf(user);
    const root = roots.get(folder) ?? realPath(URI.parse(folder));
    roots.set(folder, root);
    return !UriUtils.contains(await root, await realPath(uri));
  }
}
