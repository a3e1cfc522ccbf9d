/**
 * Sheets and labels as PDF, on Node. A bundle of its own, with its fonts in a folder beside it: it is much to load, and most
 * commands never need it.
 */
import path from 'node:path';
import type { LabelPage, Sheet } from '#sheets/print';
import { labelsPdf } from './labels';
import { Press } from './press';
import { type PdfOptions, sheetsPdf } from './sheets';

export { PAPERS, type Paper } from './paper';
export type { PdfOptions };

const press = new Press(path.join(__dirname, 'fonts'));

/** Sheets of one rig as one document. The same sheets give the same bytes. */
export function pdf(sheets: readonly Sheet<string>[], options: PdfOptions): Promise<Uint8Array> {
  return sheetsPdf(press, sheets, options);
}

/** Labels, each page as large as its sheet of labels. `title` is the rig's. Fails where there are none. */
export function pdfOfLabels(title: string, pages: readonly LabelPage[]): Promise<Uint8Array> {
  return labelsPdf(press, title, pages);
}
