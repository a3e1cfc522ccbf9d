/** Files that only the client can reach: in a browser all of them, on a desktop those of a folder that is not on this machine. */
import { EmptyFileSystemProvider, type FileSystemNode, type FileSystemProvider, type URI, UriUtils } from 'langium';
import type { Connection } from 'vscode-languageserver';
import type { LoaderOptions } from '#language';
import { type FileKind, LIST, type Listed, type OfDocument, READ, type Read, STAT } from './protocol';
import { NotText, reasonOf } from './text';

/** All that the server asks of a file system. */
export type Files = FileSystemProvider & Required<LoaderOptions>;

export class ClientFiles extends EmptyFileSystemProvider implements Files {
  readonly reasonOf = reasonOf;

  constructor(private readonly client: Pick<Connection, 'sendRequest'>) {
    super();
  }

  override async readFile(uri?: URI): Promise<string> {
    const read = await this.ask<Read>(READ, uri as URI);
    if ('reason' in read) throw new NotText(read.reason);
    return read.text;
  }

  override async stat(uri: URI): Promise<FileSystemNode> {
    return nodeOf(uri, await this.ask<FileKind>(STAT, uri));
  }

  override async exists(uri?: URI): Promise<boolean> {
    return this.stat(uri as URI).then(
      () => true,
      () => false,
    );
  }

  override async readDirectory(uri?: URI): Promise<FileSystemNode[]> {
    const listed = await this.ask<readonly Listed[]>(LIST, uri as URI);
    return listed.map(({ name, kind }) => nodeOf(UriUtils.joinPath(uri as URI, name), kind));
  }

  /** Where links lead there, no client can tell; such a file system lets nobody out of itself. */
  async realPath(uri: URI): Promise<URI> {
    return uri;
  }

  /** Rejects where there is no such file, and where the client reads no files for us. */
  private ask<Answer>(method: string, uri: URI): Promise<Answer> {
    const of: OfDocument = { uri: uri.toString() };
    return this.client.sendRequest<Answer>(method, of);
  }
}

function nodeOf(uri: URI, kind: FileKind): FileSystemNode {
  return { uri, isFile: kind === 'file', isDirectory: kind === 'folder' };
}
