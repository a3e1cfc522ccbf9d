/** `earloom sheets`: the sheets of a rig, one or all, to read here or as files. `earloom patch` is its short form for one. */
import { stat } from 'node:fs/promises';
import path from 'node:path';
import { count } from '#engine';
import { foundBy } from '#language';
import type { Paper } from '#pdf';
import {
  EXPORT_ENDINGS,
  EXPORT_FORMATS,
  type ExportFormat,
  filesOf,
  markChanges,
  oneFileOf,
  SHEET_IDS,
  SHEET_NAMES,
  type Sheet,
  type SheetId,
  sheetsOf,
} from '#sheets';
import { formatByName } from './ending';
import { CLEAN, Unusable } from './exit';
import { writeToFolder } from './folder';
import { mention, oneRig } from './oneRig';
import { pdfToFile, pdfToFolder } from './pdf';
import { print, tell, terminalWidth } from './print';
import { visible } from './report/visible';
import { revisionOf } from './revision';
import { refuseRig } from './rigFile';
import { rigOf, rigsOf } from './rigs';
import { shownAs } from './wanted';
import { writeWhole } from './write';

export interface SheetsOptions {
  /** Ids with commas between; without it, all. */
  readonly sheet?: string;
  readonly format?: ExportFormat | 'pdf';
  /** Of a PDF; A4 without it. */
  readonly paper?: Paper;
  /** A file, or a folder: one that is there, or a name that ends in a slash. */
  readonly output?: string;
  /** Another state of the rig, or another rig, whose sheets have other rows: those are marked. */
  readonly against?: string;
  /** The output is a file, whatever it looks like. */
  readonly oneFile?: boolean;
}

const BY_ENDING: Readonly<Record<string, ExportFormat | 'pdf'>> = {
  ...Object.fromEntries(EXPORT_FORMATS.map((format) => [EXPORT_ENDINGS[format], format])),
  '.markdown': 'markdown',
  '.htm': 'html',
  '.pdf': 'pdf',
};

export async function sheets(word: string, options: SheetsOptions): Promise<number> {
  const ids = wantedSheets(options.sheet);
  const output = options.output === '-' ? undefined : options.output;
  const folder = output !== undefined && !options.oneFile && (await isFolder(output));
  if (output !== undefined && !folder) await refuseRig(output, 'Give the sheets another name, as in "-o sheets.html".');
  const format = options.format ?? (folder ? 'html' : formatByName(ids.length === 1 ? 'This sheet' : 'These sheets', output, BY_ENDING));
  const rig = await oneRig(word, ids.length === 1 ? `${article(SHEET_NAMES[ids[0] as SheetId])} is` : 'Sheets are');
  const made = await marked(await sheetsOf(rig.checked, rig.findings, ids), word, ids, options.against);
  if (format === 'pdf') await asPdf(made, output, folder, options.paper ?? 'A4');
  else if (output === undefined) await printed(made, format);
  else if (folder) await written(made, format, output);
  else await writtenAsOne(made, format, output, word);
  mention(rig);
  return CLEAN;
}

async function marked(
  made: readonly Sheet[],
  word: string,
  ids: readonly SheetId[],
  against: string | undefined,
): Promise<readonly Sheet[]> {
  if (against === undefined) return made;
  const there = await stat(against).then(
    () => true,
    () => false,
  );
  // A revision alone means the same rig at that revision.
  const rigs = await rigsOf(there || against === '-' || against.endsWith('.rig') || revisionOf(against) ? against : `${against}:${word}`);
  const [old] = rigs.files.values();
  if (rigs.isFolder || !old) throw new Unusable(`${rigs.shown} is a folder.`, 'Name one rig, or a revision, as in "--against HEAD".');
  const analysis = await rigOf(old);
  const before = analysis.checked ? await sheetsOf(analysis.checked, foundBy(analysis), ids) : [];
  return made.map((sheet, index) => {
    const was = before[index];
    return was ? markChanges(sheet, was, old.shown) : sheet;
  });
}

function wantedSheets(words: string | undefined): readonly SheetId[] {
  if (words === undefined) return SHEET_IDS;
  const named = words.split(',').map((word) => word.trim().toLowerCase());
  return named.map((name) => {
    const found = SHEET_IDS.find((id) => id === name);
    if (!found) throw new Unusable(`There is no sheet "${name}".`, `There are ${SHEET_IDS.join(', ')}.`);
    return found;
  });
}

async function isFolder(output: string): Promise<boolean> {
  if (/[/\\]$/.test(output)) return true;
  return stat(output).then(
    (stats) => stats.isDirectory(),
    () => false,
  );
}

async function printed(made: readonly Sheet[], format: ExportFormat): Promise<void> {
  const text = asOne(made, format, terminalWidth());
  await print(process.stdout.isTTY ? visible(text) : text);
}

async function writtenAsOne(made: readonly Sheet[], format: ExportFormat, output: string, word: string): Promise<void> {
  const shown = shownAs(path.resolve(output));
  await writeWhole(path.resolve(output), asOne(made, format), shown);
  if (format === 'csv') tellOfTables(made, shown, word);
}

/** A spreadsheet reads a file as one table. */
function tellOfTables(made: readonly Sheet[], shown: string, word: string): void {
  const tables = filesOf(made, 'csv').length - made.length;
  if (tables < 2) return;
  const named = made.length === SHEET_IDS.length ? '' : ` --sheet ${made.map(({ id }) => id).join(',')}`;
  tell({
    what: `${shown} has ${count(tables, 'table')} in it, one below the other.`,
    cure: `For a file for each, name a folder: "earloom sheets ${word}${named} --format csv -o tables/".`,
  });
}

function asOne(made: readonly Sheet[], format: ExportFormat, options?: { readonly width?: number }): string {
  const text = oneFileOf(made, format, options);
  if (text !== undefined) return text;
  const count = filesOf(made, format).length;
  if (count === 0) throw new Unusable(nothingDrawn(made), 'Ask for another format, as in "--format html".');
  throw new Unusable(
    `There are ${count} drawings on ${made.length === 1 ? 'this sheet' : 'these sheets'}, and an SVG file holds one.`,
    'Write them to a folder, as in "-o drawings/", or name one sheet with "--sheet".',
  );
}

async function asPdf(made: readonly Sheet[], output: string | undefined, folder: boolean, paper: Paper): Promise<void> {
  if (output === undefined) throw new Unusable('A PDF is no text to print here.', 'Name a file for it, as in "-o sheets.pdf".');
  await (folder ? pdfToFolder : pdfToFile)(made, output, paper);
}

function nothingDrawn(made: readonly Sheet[]): string {
  return made.length === 1 ? `There is no drawing on the sheet "${made[0]?.name}".` : 'There is no drawing on these sheets.';
}

/** Each sheet as a file in a folder, which is made if need be. */
async function written(made: readonly Sheet[], format: ExportFormat, output: string): Promise<void> {
  const files = filesOf(made, format);
  if (files.length === 0) throw new Unusable(nothingDrawn(made), 'Ask for another format, as in "--format html".');
  await writeToFolder(output, files);
  if (format !== 'csv') return;
  const tables = files.length - made.length;
  tell({
    what: `Written to ${shownAs(path.resolve(output))}: ${count(made.length, 'sheet')} whole, and ${count(tables, 'table')} of ${made.length === 1 ? 'it' : 'them'}, each a file.`,
    cure: '',
  });
}

function article(name: string): string {
  return `A ${name.toLowerCase()}`;
}
