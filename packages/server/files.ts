/** The server's two hosts of files: this machine's disk, and the client, which reaches what no disk of ours has. */
import { realpath } from 'node:fs/promises';
import { type FileSystemNode, URI } from 'langium';
import { NodeFileSystemProvider } from 'langium/node';
import type { Files } from './clientFiles';
import { openRegular } from './regular';
import { reasonOf, refuseTooLarge, textOf } from './text';

/**
 * Files on disk, as an editor sees them. Only `file:` addresses stand for something on disk: others (a buffer never saved, the
 * library, a file on a server that the editor has open) must not be taken for a path, and are asked for elsewhere.
 */
export class DiskFiles extends NodeFileSystemProvider implements Files {
  readonly reasonOf = reasonOf;

  constructor(private readonly elsewhere: Files) {
    super();
  }

  override async readFile(uri: URI): Promise<string> {
    if (!isOnDisk(uri)) return this.elsewhere.readFile(uri);
    const handle = await openRegular(uri.fsPath);
    try {
      refuseTooLarge((await handle.stat()).size);
      return textOf(await handle.readFile());
    } finally {
      await handle.close();
    }
  }

  override async stat(uri: URI): Promise<FileSystemNode> {
    return isOnDisk(uri) ? super.stat(uri) : this.elsewhere.stat(uri);
  }

  override async exists(uri: URI): Promise<boolean> {
    return isOnDisk(uri) ? super.exists(uri) : this.elsewhere.exists(uri);
  }

  override async readDirectory(uri: URI): Promise<FileSystemNode[]> {
    if (!isOnDisk(uri)) return this.elsewhere.readDirectory(uri);
    try {
      return await super.readDirectory(uri);
    } catch (problem) {
      // Editors open folders again that have been deleted since: there is nothing in them.
      if ((problem as NodeJS.ErrnoException).code === 'ENOENT') return [];
      throw problem;
    }
  }

  async realPath(uri: URI): Promise<URI> {
    return isOnDisk(uri) ? URI.file(await realpath(uri.fsPath)) : this.elsewhere.realPath(uri);
  }
}

function isOnDisk(uri: URI): boolean {
  return uri.scheme === 'file';
}
