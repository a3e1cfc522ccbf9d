/** Keeps what a command writes from taking the place of a rig. */
import { realpath } from 'node:fs/promises';
import path from 'node:path';
import { Unusable } from './exit';
import { shownAs } from './wanted';

/** Throws `Unusable` where the file is a rig, or is called like one, by its own name or behind a link. `cure` names another way. */
export async function refuseRig(output: string, cure: string): Promise<void> {
  const file = path.resolve(output);
  const behind = await realpath(file).catch(() => file);
  if (![file, behind].some((each) => path.extname(each).toLowerCase() === '.rig')) return;
  throw new Unusable(`${shownAs(file)} would overwrite a rig, or look like one.`, cure);
}
