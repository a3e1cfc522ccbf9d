/** `earloom compare`: what changes on the floor between two rigs, or two revisions of one, or of a folder of them. */
import path from 'node:path';
import { compare as compared, isSame } from '#compare';
import { type Analysis, foundBy } from '#language';
import { changesSheet, EXPORT_ENDINGS, renderSheets, type Sheet } from '#sheets';
import { formatByName } from './ending';
import { CLEAN, FOUND, UNUSABLE, Unusable } from './exit';
import { print, tell, terminalWidth } from './print';
import { changesReport, type Pair, type Paired } from './report/changes';
import { escaped, visible } from './report/visible';
import { revisionOf } from './revision';
import { refuseRig } from './rigFile';
import { type Rigs, rigOf, rigsOf } from './rigs';
import { shownAs } from './wanted';
import { writeWhole } from './write';

const FORMATS = ['text', 'markdown', 'csv', 'html', 'pdf', 'json'] as const;
export type CompareFormat = (typeof FORMATS)[number];

export interface CompareOptions {
  readonly format?: CompareFormat;
  readonly output?: string;
  readonly paper: 'A4' | 'Letter';
  /** Fails where something is found wrong that was not before. */
  readonly strict: boolean;
}

const BY_ENDING: Readonly<Record<string, CompareFormat>> = {
  [EXPORT_ENDINGS.html]: 'html',
  [EXPORT_ENDINGS.markdown]: 'markdown',
  [EXPORT_ENDINGS.csv]: 'csv',
  '.markdown': 'markdown',
  '.htm': 'html',
  '.pdf': 'pdf',
  '.json': 'json',
};

export async function compare(oldWord: string, newWord: string | undefined, options: CompareOptions): Promise<number> {
  // One alone is compared with what was committed last.
  const [old, anew] = newWord === undefined ? [`HEAD:${oldWord}`, oldWord] : [oldWord, newWord];
  if (newWord === undefined && revisionOf(oldWord))
    throw new Unusable(
      `${oldWord} is compared with nothing.`,
      'Name the rig that it is to be compared with, as in "earloom compare HEAD~3:club.rig club.rig".',
    );
  const output = options.output === '-' ? undefined : options.output;
  if (output !== undefined) await refuseRig(output, 'Name another file, as in "-o changes.html".');
  const format = options.format ?? formatByName('A list of changes', output, BY_ENDING);
  if (format === 'pdf' && output === undefined)
    throw new Unusable('A PDF is no text to print here.', 'Name a file for it, as in "-o changes.pdf".');
  const [before, after] = [await rigsOf(old), await rigsOf(anew)];
  if (before.isFolder !== after.isFolder)
    throw new Unusable(
      `${before.shown} is a ${before.isFolder ? 'folder' : 'rig'}, and ${after.shown} is a ${after.isFolder ? 'folder' : 'rig'}.`,
      'Compare two rigs, or two folders.',
    );
  const made = await paired(before, after);
  for (const { problem } of made.unusable) tell(problem);
  if (format === 'json') {
    const report = `${escaped(JSON.stringify(changesReport(before.shown, after.shown, made), null, 2))}\n`;
    if (output === undefined) await print(report);
    else await writeWhole(path.resolve(output), report, shownAs(path.resolve(output)));
  } else await written(sheetsOf(made, before, after), format, output, options);
  if (made.unusable.length > 0) return UNUSABLE;
  const worse = made.pairs.some(({ compared: { findings } }) => findings.come.some(({ severity }) => severity !== 'note'));
  return options.strict && worse ? FOUND : CLEAN;
}

async function written(
  sheets: readonly Sheet<string>[],
  format: Exclude<CompareFormat, 'json'>,
  output: string | undefined,
  { paper }: CompareOptions,
) {
  if (format === 'pdf') {
    const { pdfToFile } = await import('./pdf');
    await pdfToFile(sheets, output ?? '', paper);
    return;
  }
  const width = output === undefined ? terminalWidth() : {};
  const text = renderSheets(sheets, format, width);
  if (output !== undefined) await writeWhole(path.resolve(output), text, shownAs(path.resolve(output)));
  else await print(process.stdout.isTTY ? visible(text) : text);
}

/** A folder's rigs that stay as they are have no sheet. */
function sheetsOf({ pairs, come, gone }: Paired, before: Rigs, after: Rigs): Sheet<string>[] {
  const changed = after.isFolder ? pairs.filter((pair) => !isSame(pair.compared)) : pairs;
  const made = changed.map((pair, index): Sheet<string> => {
    const sheet = changesSheet(pair.compared, pair);
    return after.isFolder ? { ...sheet, id: `changes-${index + 1}`, name: `What changes in ${pair.path}` } : sheet;
  });
  if (!after.isFolder || (come.length === 0 && gone.length === 0 && made.length > 0)) return made;
  return [...made, filesSheet(before, after, come, gone, pairs.length)];
}

function filesSheet(before: Rigs, after: Rigs, come: readonly string[], gone: readonly string[], both: number): Sheet<string> {
  const rows = [...come.map((file) => [file, 'new']), ...gone.map((file) => [file, 'gone'])];
  return {
    id: 'files',
    name: 'Rigs',
    title: after.shown,
    facts: [`from ${before.shown} to ${after.shown}`],
    blocks: [
      {
        kind: 'table',
        id: 'files',
        title: 'Rigs that come and go',
        columns: [{ title: 'Rig', names: true }, { title: 'Change' }],
        rows: rows.map(([file, what]) => ({ key: `${what} ${file}`, about: [], findings: [], cells: [file, what] })),
        empty: `Nothing changes: ${both} ${both === 1 ? 'rig differs' : 'rigs differ'} in comments, order and spaces at most.`,
      },
    ],
  };
}

async function paired(before: Rigs, after: Rigs): Promise<Paired> {
  const pairs: Pair[] = [];
  const [come, gone]: [string[], string[]] = [[], []];
  const unusable: { path: string; problem: Unusable }[] = [];
  if (!after.isFolder) {
    const [[, old] = [], [file, anew] = []] = [[...before.files][0], [...after.files][0]];
    if (old && anew && file !== undefined) pairs.push(pairOf(file, old.shown, anew.shown, await rigOf(old), await rigOf(anew)));
    return { pairs, come, gone, unusable };
  }
  for (const file of [...new Set([...before.files.keys(), ...after.files.keys()])].sort()) {
    const [old, anew] = [before.files.get(file), after.files.get(file)];
    try {
      const [was, is] = [await old?.analyse(), await anew?.analyse()];
      // Files that only lend their gear change the rigs that use them.
      if (was?.checked && is?.checked && old && anew) pairs.push(pairOf(file, old.shown, anew.shown, was, is));
      else if (is?.checked) come.push(file);
      else if (was?.checked) gone.push(file);
    } catch (problem) {
      if (!(problem instanceof Unusable)) throw problem;
      unusable.push({ path: file, problem });
    }
  }
  return { pairs, come, gone, unusable };
}

function pairOf(file: string, before: string, after: string, was: Analysis, is: Analysis): Pair {
  const input = (analysis: Analysis) => ({ rig: analysis.lowered.rig, findings: foundBy(analysis) });
  return { path: file, before, after, compared: compared(input(was), input(is)) };
}
