/** `earloom format`: rigs set in columns. */
import { EmptyFileSystem } from 'langium';
import { createRigCore } from '#language';
import { format as formatted } from '#language/format';
import { CLEAN, FOUND, UNUSABLE, Unusable } from './exit';
import { print, tell } from './print';
import { readText, textOf } from './read';
import { visible } from './report/visible';
import { wantedFiles } from './wanted';
import { writeWhole } from './write';

export interface FormatOptions {
  /** Nothing is written; what would change is named. */
  readonly check: boolean;
}

/** The exit code. Files are changed one by one, each whole or not at all; standard input goes to standard output. */
export async function format(words: readonly string[], options: FormatOptions): Promise<number> {
  const { Rig } = createRigCore(EmptyFileSystem);
  let changed = 0;
  let same = 0;
  let unusable = false;
  let printed = false;
  for (const { file, shown, path, problem } of await wantedFiles(words)) {
    try {
      if (problem) throw problem;
      const text = file === undefined ? await textOf(process.stdin, shown, true) : await readText(file, shown, true);
      const { text: result, left } = formatted(Rig, text);
      if (file === undefined && !options.check) {
        printed = true;
        await print(result);
      } else if (result !== text) {
        if (options.check) await print(visible(`${shown}: not formatted\n`));
        else await writeWhole(file as string, result, shown);
      }
      if (result === text) same++;
      else changed++;
      if (left > 0) tellLeft(left, shown, path);
    } catch (wrong) {
      if (!(wrong instanceof Unusable)) throw wrong;
      tell(wrong);
      unusable = true;
    }
  }
  // Standard output is the rig itself then.
  if (!printed && changed + same > 0) await print(summary(changed, same, options.check));
  if (unusable) return UNUSABLE;
  return options.check && changed > 0 ? FOUND : CLEAN;
}

function tellLeft(left: number, shown: string, path: string): void {
  tell({
    what: `${left === 1 ? 'One statement' : `${left} statements`} in ${shown} cannot be read and ${left === 1 ? 'stays' : 'stay'} as written.`,
    cure: `"earloom check ${path}" tells what is wrong.`,
  });
}

function summary(changed: number, same: number, check: boolean): string {
  const files = (count: number) => `${count} ${count === 1 ? 'file' : 'files'}`;
  if (check)
    return changed === 0 ? `${files(same)} checked: nothing to format.\n` : `${files(changed + same)} checked: ${changed} to format.\n`;
  return changed === 0 ? `${files(same)} read: nothing to format.\n` : `${files(changed + same)} read: ${changed} formatted.\n`;
}
