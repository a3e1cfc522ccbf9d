/** The labels that a client asks for, or why there are none. */
import { ErrorCodes, ResponseError } from 'vscode-languageserver';
import type { Checked } from '#engine';
import { LABEL_STOCKS, type LabelSet, labelSet } from '#sheets';
import { isOnSheet } from '#sheets/stocks';
import type { ExportLabels } from './protocol';

/** Throws `ResponseError`. */
export function wantedLabels(checked: Checked, { stock, style, start = 1, outlines, band, all }: ExportLabels): LabelSet {
  if (!Object.hasOwn(LABEL_STOCKS, stock)) throw invalid(`There are no labels called "${stock}".`);
  if (!isOnSheet(LABEL_STOCKS[stock], start)) throw invalid(`There is no label ${start} on a sheet of these.`);
  const options = { stock, style, start, outlines, band };
  const set = labelSet(checked, { ...options, all });
  if (set.pages.length > 0) return set;
  if (labelSet(checked, { ...options, all: true }).pages.length > 0)
    throw invalid('All leads of this rig are the house’s: ask for labels on those as well.');
  throw invalid('This rig has no leads yet, so there is nothing to label.');
}

function invalid(says: string): ResponseError<void> {
  return new ResponseError(ErrorCodes.InvalidParams, says);
}
