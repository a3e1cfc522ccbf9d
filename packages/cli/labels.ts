/** `earloom labels`: a label for each end of each lead, to be printed on sheets or a roll of labels. */
import path from 'node:path';
import { LABEL_STOCKS, type LabelSetOptions, labelSet, labelsHtml } from '#sheets';
import { isOnSheet, perPage } from '#sheets/stocks';
import { CLEAN, Unusable } from './exit';
import { mention, oneRig } from './oneRig';
import { labelsPdfToFile } from './pdf';
import { refuseRig } from './rigFile';
import { shownAs } from './wanted';
import { writeWhole } from './write';

export interface LabelsOptions extends Omit<LabelSetOptions, 'start'> {
  /** As it was typed: a number from 1. */
  readonly start: string;
  /** A file; its ending says how they are written. */
  readonly output?: string;
}

/** Throws `Unusable`. */
export async function labels(word: string, { output, start, ...asked }: LabelsOptions): Promise<number> {
  if (output === undefined || output === '-')
    throw new Unusable('Labels are made for paper and not for the screen.', 'Name a file for them, as in "-o labels.pdf".');
  await refuseRig(output, 'Give the labels another name, as in "-o labels.pdf".');
  const format = formatOf(output);
  const options = { ...asked, start: startOf(start, asked.stock) };
  const rig = await oneRig(word, 'Labels are');
  const { title, pages } = labelSet(rig.checked, options);
  if (pages.length === 0 && !asked.all && labelSet(rig.checked, { ...options, all: true }).pages.length > 0)
    throw new Unusable(`All leads in ${rig.wanted.shown} are the house’s.`, 'Give "--all" for labels on those.');
  if (pages.length === 0)
    throw new Unusable(
      `There are no leads in ${rig.wanted.shown} yet, so there is nothing to label.`,
      'Write what is plugged in where, as in "input iface.1 takes voice".',
    );
  if (format === 'pdf') await labelsPdfToFile(title, pages, output);
  else await writeWhole(path.resolve(output), labelsHtml(title, asked.stock, pages), shownAs(path.resolve(output)));
  mention(rig);
  return CLEAN;
}

function formatOf(output: string): 'pdf' | 'html' {
  const ending = path.extname(output).toLowerCase();
  if (ending === '.pdf') return 'pdf';
  if (ending === '.html' || ending === '.htm') return 'html';
  throw new Unusable(
    `Labels are a PDF or a page of HTML, and "${output}" is called neither.`,
    'Name a file that ends in ".pdf" or ".html", as in "-o labels.pdf".',
  );
}

function startOf(typed: string, stock: LabelSetOptions['stock']): number {
  const start = /^\d+$/.test(typed) ? Number(typed) : Number.NaN;
  if (isOnSheet(LABEL_STOCKS[stock], start)) return start;
  const room = perPage(LABEL_STOCKS[stock]);
  if (room === 1) throw new Unusable('On a roll there is always a next label.', 'Leave "--start" out.');
  throw new Unusable(
    `There is no label ${Number.isNaN(start) ? `"${typed}"` : start} on a sheet of ${stock}.`,
    `They are counted row by row from 1 to ${room}: give "--start" the first that is still there.`,
  );
}
