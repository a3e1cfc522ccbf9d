/** Files on disk, as an editor sees them. */
import { readFile, realpath, stat } from 'node:fs/promises';
import { type FileSystemNode, URI } from 'langium';
import { NodeFileSystemProvider } from 'langium/node';
import type { LoaderOptions } from '#language';

/** Some hundred times the largest rig; keeps a slip from filling the memory. */
const MOST_BYTES = 16 * 1024 * 1024;

/** A file that is there and cannot be a rig. The message goes after "cannot be read:". */
class NotText extends Error {}

/** Only `file:` addresses stand for something on disk: others (a buffer never saved, the library) must not be taken for a path. */
export class DiskFiles extends NodeFileSystemProvider implements LoaderOptions {
  /** A byte order mark is left out, as editors leave it out of the text that they show and count. */
  override async readFile(uri: URI): Promise<string> {
    const path = pathOf(uri);
    if ((await stat(path)).size > MOST_BYTES) throw new NotText(`it is larger than ${MOST_BYTES / 1024 / 1024} MB`);
    const bytes = await readFile(path);
    try {
      return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    } catch {
      throw new NotText('it is not text in UTF-8');
    }
  }

  override async stat(uri: URI): Promise<FileSystemNode> {
    pathOf(uri);
    return super.stat(uri);
  }

  override async exists(uri: URI): Promise<boolean> {
    return uri.scheme === 'file' && super.exists(uri);
  }

  async realPath(uri: URI): Promise<URI> {
    return URI.file(await realpath(pathOf(uri)));
  }

  reasonOf(problem: unknown): string | undefined {
    return problem instanceof NotText ? problem.message : undefined;
  }
}

function pathOf(uri: URI): string {
  if (uri.scheme !== 'file') throw new Error(`${uri.toString()} is not a file on disk`);
  return uri.fsPath;
}
