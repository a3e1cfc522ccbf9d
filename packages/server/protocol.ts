/** The messages of our own, beside the language server protocol's. Types and names only: the extension imports them. */
import type { Range } from 'vscode-languageserver-types';
import type { Place } from '#rig';
import type { PatchList } from '#sheets';

/** Client to server: keep sending the sheets of this document. A notification. */
export const WATCH = 'earloom/watch';
/** Client to server: no more sheets of this document. A notification. */
export const UNWATCH = 'earloom/unwatch';
/** Server to client: the sheets of a watched document, after each change in it or in a file it uses. A notification. */
export const SHEETS = 'earloom/sheets';

export interface OfDocument {
  readonly uri: string;
}

export interface Spot {
  readonly uri: string;
  readonly range: Range;
}

export interface Sheets {
  readonly uri: string;
  /** The version of the text they were made from; 0 for a file that no editor has open. */
  readonly version: number;
  readonly title: string;
  /** Nothing for a file that has no rig of its own, such as one that only lends its gear. */
  readonly sheet?: PatchList;
  /** Where each place that the sheet speaks of stands: in this document, in one that it uses, or in the library. */
  readonly spots: Readonly<Record<Place, Spot>>;
}
