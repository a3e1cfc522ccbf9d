/** Files are written whole or not at all. */
import { randomBytes } from 'node:crypto';
import { chmod, open, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { Unusable } from './exit';

/**
 * Writes beside the file first and then takes its place, so that a full disk or a pulled plug leaves the old one as it was.
 * Throws `Unusable`. `shown` is how messages call it.
 */
export async function writeWhole(file: string, text: string | Uint8Array, shown: string): Promise<void> {
  try {
    // A link keeps leading to the file that it leads to.
    const target = await realpath(file).catch(() => file);
    const old = await stat(target).catch(() => undefined);
    if (old?.isDirectory()) throw new Unusable(`${shown} is a folder.`, 'Name a file to write.');
    // The end of a pipe, or a device: there is nothing to take the place of.
    if (old && !old.isFile()) return await writeFile(target, text);
    const draft = path.join(path.dirname(target), `.${path.basename(target).slice(0, 100)}.${randomBytes(6).toString('hex')}`);
    try {
      const handle = await open(draft, 'wx');
      try {
        await handle.writeFile(text);
        await handle.sync();
      } finally {
        await handle.close();
      }
      if (old) await chmod(draft, old.mode);
      await rename(draft, target);
    } catch (problem) {
      await rm(draft, { force: true });
      throw problem;
    }
  } catch (problem) {
    throw unwritable(problem, shown);
  }
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'its folder does not exist',
  ENOTDIR: 'a part of its path is a file and not a folder',
  EACCES: 'you may not write there',
  EPERM: 'you may not write there',
  EROFS: 'nothing can be written there',
  ENOSPC: 'the disk is full',
  EDQUOT: 'there is no room left for you',
  EISDIR: 'it is a folder',
  ENAMETOOLONG: 'its name is longer than a file can have',
};

/** Whatever the file system says, as something a person can act on. */
export function unwritable(problem: unknown, shown: string): Unusable {
  if (problem instanceof Unusable) return problem;
  const code = (problem as NodeJS.ErrnoException).code ?? '';
  return new Unusable(
    `${shown} cannot be written: ${REASONS[code] ?? (code || String(problem))}.`,
    'Nothing was changed. Name another file.',
  );
}
