/** `earloom patch`: the patch list of a rig. */
import { realpath } from 'node:fs/promises';
import path from 'node:path';
import { patchList, renderPatchList, type SheetFormat } from '#sheets';
import { CLEAN, Unusable } from './exit';
import { print, style, tell } from './print';
import { visible } from './report/visible';
import { Session } from './session';
import { shownAs, wantedFiles } from './wanted';
import { writeWhole } from './write';

export interface PatchOptions {
  readonly format?: SheetFormat;
  readonly output?: string;
}

const BY_ENDING: Readonly<Record<string, SheetFormat>> = {
  '.md': 'markdown',
  '.markdown': 'markdown',
  '.csv': 'csv',
  '.html': 'html',
  '.htm': 'html',
};

export async function patch(word: string, options: PatchOptions): Promise<number> {
  const output = options.output === '-' ? undefined : options.output;
  if (output !== undefined) await refuseRig(output);
  const [wanted, ...more] = await wantedFiles([word]);
  if (!wanted || more.length > 0 || (wanted.file !== undefined && wanted.file !== path.resolve(word))) {
    throw new Unusable(`${shownAs(path.resolve(word))} is a folder.`, 'A patch list is of one rig: name it.');
  }
  const session = new Session();
  const { checked, located } = session.analyse(await session.load(wanted));
  if (!checked)
    throw new Unusable(`${wanted.shown} has no rig in it: it only lends its models and gear to others.`, 'Name the rig that uses it.');
  const list = patchList(
    checked,
    located.map(({ finding }) => finding),
  );
  const format = options.format ?? BY_ENDING[path.extname(output ?? '').toLowerCase()] ?? 'text';
  if (output === undefined) {
    const text = renderPatchList(list, format, { width: process.stdout.isTTY ? style().width : undefined });
    await print(process.stdout.isTTY ? visible(text) : text);
  } else {
    await writeWhole(path.resolve(output), renderPatchList(list, format), shownAs(path.resolve(output)));
  }
  const worth = located.filter(({ finding }) => finding.severity !== 'note').length;
  if (worth > 0) {
    const check = wanted.file === undefined ? 'earloom check -' : `earloom check ${wanted.path}`;
    tell({
      what: `${worth === 1 ? 'One thing is' : `${worth} things are`} wrong in ${wanted.shown}.`,
      cure: `"${check}" tells what and how to cure it.`,
    });
  }
  return CLEAN;
}

async function refuseRig(output: string): Promise<void> {
  const file = path.resolve(output);
  const behind = await realpath(file).catch(() => file);
  if (![file, behind].some((each) => path.extname(each).toLowerCase() === '.rig')) return;
  throw new Unusable(
    `${shownAs(file)} would overwrite a rig, or look like one.`,
    'Give the patch list another name, as in "-o patch.html".',
  );
}
