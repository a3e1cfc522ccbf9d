/** Opens files on this machine's disk, and nothing else: to read a pipe or a device may wait for ever, or never end. */
import { constants, type Stats } from 'node:fs';
import { type FileHandle, open, stat } from 'node:fs/promises';
import { NotText } from './text';

/** Open for reading. Throws `NotText` for what is no regular file, and as `open` does. Whoever calls closes it. */
export async function openRegular(file: string): Promise<FileHandle> {
  // To open a device can do something to it, so it is looked at first.
  refuseOthers(await stat(file));
  // A pipe that has taken its place meanwhile would wait for a writer.
  const handle = await open(file, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
  try {
    refuseOthers(await handle.stat());
    return handle;
  } catch (problem) {
    await handle.close();
    throw problem;
  }
}

/** What stands at an address instead of a file, for "it is a pipe and not a file"; nothing where a file or a folder does. */
export function notAFile(stats: Stats): string | undefined {
  if (stats.isFile() || stats.isDirectory()) return undefined;
  return `it is a ${stats.isFIFO() ? 'pipe' : stats.isSocket() ? 'socket' : 'device'} and not a file`;
}

function refuseOthers(stats: Stats): void {
  if (stats.isDirectory()) throw new NotText('it is a folder');
  const other = notAFile(stats);
  if (other !== undefined) throw new NotText(other);
}
