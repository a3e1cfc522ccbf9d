/** Writes several files to a folder. */
import { mkdir, rmdir } from 'node:fs/promises';
import path from 'node:path';
import { refuseRig } from './rigFile';
import { shownAs } from './wanted';
import { unwritable, type Writing, writeAllWhole } from './write';

/** The folder is made if need be, and not left behind where nothing could be written. Throws `Unusable`. */
export async function writeToFolder(output: string, files: readonly (Pick<Writing, 'text'> & { readonly name: string })[]): Promise<void> {
  const folder = path.resolve(output);
  const made = await mkdir(folder, { recursive: true }).catch((problem: unknown) => {
    throw unwritable(problem, shownAs(folder));
  });
  const writings = files.map(({ name, text }) => ({ file: path.join(folder, name), text, shown: shownAs(path.join(folder, name)) }));
  try {
    for (const { file } of writings) await refuseRig(file, 'Name another folder.');
    await writeAllWhole(writings);
  } catch (problem) {
    // What is empty of what was made. The first that is not ends it.
    for (let at = folder; made !== undefined && at.startsWith(made); at = path.dirname(at)) if (!(await isRemoved(at))) break;
    throw problem;
  }
}

function isRemoved(folder: string): Promise<boolean> {
  return rmdir(folder).then(
    () => true,
    () => false,
  );
}
