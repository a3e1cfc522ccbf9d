/** The messages of our own, beside the language server protocol's. Types and names only: the extension imports them. */
import type { Range } from 'vscode-languageserver-types';
import type { Answers, Interface } from '#language';
import type { Summary } from '#language/editor';
import type { ListColumn, Role } from '#language/list';
import type { Takeable, Writable } from '#language/taken';
import type { Paper } from '#pdf';
import type { Place } from '#rig';
import type { ExportFormat, LabelSetOptions, Sheet, SheetFile, SheetId } from '#sheets';
import type { TabId } from '#sheets/sheet';
import type { SheetUpdate } from '#sheets/update';

export type { Summary };

/** Client to server: keep sending these sheets of this document, `Watched`. A notification; the latest counts. */
export const WATCH = 'earloom/watch';
/** Client to server: no more sheets of this document. A notification. */
export const UNWATCH = 'earloom/unwatch';
/**
 * Server to client: sheets of a watched document, after each change in it or in a file it uses, `Sheets`, or `SheetsUpdate` for who wants that. A notification.
 * A sheet that takes time to lay out comes later than the others, in one of its own.
 */
export const SHEETS = 'earloom/sheets';

/** Client to server: sheets of a document as files, `Export`. A request, answered by `Exported`; fails where the file has no rig. */
export const EXPORT = 'earloom/export';

/** Server to client: the text of a file that the server cannot reach by itself. A request, of a document; fails where there is none. */
export const READ = 'earloom/read';
/** Server to client: what is at this address. A request, of a document; fails where there is nothing. */
export const STAT = 'earloom/stat';
/** Server to client: what is in this folder. A request, of a folder's address. */
export const LIST = 'earloom/list';

/** Client to server: what a new rig can be made of. A request without parameters, answered by `NewRigChoices`. */
export const NEW_RIG_CHOICES = 'earloom/newRigChoices';
/** Client to server: a first rig from `Answers`. A request, answered by `NewRig`. */
export const NEW_RIG = 'earloom/newRig';

/** Client to server: a rig from a channel list, `ListWanted`. A request, answered by `RigFromList`; fails, with what to do, where the list cannot be used. */
export const RIG_FROM_LIST = 'earloom/rigFromList';

/** Client to server: a document's rig in a few words. A request, answered by `Summary`; by null for a file that has no rig of its own. */
export const SUMMARY = 'earloom/summary';

/** Client to server: a plan for what a rig has not written, `PlanWanted`. A request, answered by `Planned`; fails where the file has no rig. */
export const PLAN = 'earloom/plan';
/** Server to client: how far a plan is, `PlanProgress`. A notification. */
export const PLAN_PROGRESS = 'earloom/planProgress';

/** Client to server: the whole language on one page, in Markdown. A request without parameters. */
export const ONE_PAGE = 'earloom/onePage';

/** Client to server: the addresses of the gear library's files. A request without parameters. */
export const LIBRARY = 'earloom/library';

/**
 * Client to server: what changes on the floor between a document and another state of it or another rig, `CompareWanted`. A request, answered by
 * `ChangesShown`; fails, with what to do, where one of them is no rig or cannot be had.
 */
export const COMPARE = 'earloom/compare';

export interface CompareWanted extends OfDocument {
  /** The rig to compare it with; without it, its own last commit, by git: on Node only. */
  readonly old?: string;
}

export interface ChangesShown extends OfDocument {
  readonly sheet: Sheet<'changes'>;
  /** Where each place that the sheet speaks of stands now; what is in the old one alone, in that, where it is a file. */
  readonly spots: Readonly<Record<Place, Spot>>;
}

export interface ListWanted {
  /** Pasted, or the bytes of a file in base64. */
  readonly list: { readonly text: string } | { readonly base64: string };
  /** What it is called where nothing above its headings says. */
  readonly title: string;
  /** What each column is, as somebody says who was asked. */
  readonly roles?: readonly (Role | undefined | null)[];
}

/** The rig; or the columns, where it is not clear what they are. */
export type RigFromList =
  | { readonly unsure: string; readonly columns: readonly ListColumn[] }
  | { readonly fileName: string; readonly text: string; readonly rows: number; readonly lines: number; readonly left: number };

export interface OfDocument {
  readonly uri: string;
}

export interface PlanWanted extends OfDocument {
  /** What is written is thought over, too. */
  readonly afresh?: boolean;
  /** Names of gear that is not there. */
  readonly without?: readonly string[];
}

export interface PlanProgress extends OfDocument {
  /** From 0 to 1. */
  readonly done: number;
}

/** One change of a plan: it can be taken or left, as long as what it needs is taken. */
export interface PlannedChange extends OfDocument, Takeable, Writable {
  /** What it does, in words. */
  readonly says: string;
  /** The id of the source, mix or piece that it is for. */
  readonly about: string;
}

export interface Planned extends OfDocument {
  /** Of the text that it was made from. */
  readonly version: number;
  readonly summary: string;
  /** The sheet, in Markdown. */
  readonly page: string;
  readonly changes: readonly PlannedChange[];
  /** Changes that could not be made edits of: the text is too broken there. */
  readonly unwritten: number;
}

export interface Watched extends OfDocument {
  /** Without it, all there are. */
  readonly sheets?: readonly SheetId[];
  /** The plan instead, which is made anew when nobody has typed for a while. */
  readonly plan?: true;
  /** Of sheets that have been sent, from then on only what is other now. */
  readonly updates?: true;
  /** Rows that have changed are marked: against another rig, or, without `old`, against the last commit. */
  readonly against?: Pick<CompareWanted, 'old'>;
}

export interface Export extends OfDocument {
  readonly sheets: readonly SheetId[];
  readonly format: ExportFormat;
  /** All of them as one file, where the format allows it. */
  readonly together: boolean;
}

/** Client to server: sheets of a document as one PDF, `ExportPdf`. A request, answered by its bytes in base64; on Node only, and as `EXPORT`. */
export const EXPORT_PDF = 'earloom/exportPdf';

export interface ExportPdf extends OfDocument {
  readonly sheets: readonly SheetId[];
  readonly paper: Paper;
}

/** Client to server: the labels of a document's leads as a page of HTML, `ExportLabels`. A request, answered by its text; fails as `EXPORT`, and where there are no leads. */
export const EXPORT_LABELS = 'earloom/exportLabels';
/** The same as PDF, answered by its bytes in base64; on Node only. */
export const EXPORT_LABELS_PDF = 'earloom/exportLabelsPdf';

/** Fails where its `start` is on no sheet of its `stock`. */
export interface ExportLabels extends OfDocument, LabelSetOptions {}

export interface Exported {
  /** None where a picture was asked of sheets that have none. Named by what they are, in the order of the sheets. */
  readonly files: readonly SheetFile[];
}

/** The text without a byte order mark; or why the file cannot be a rig, for "… cannot be read: it is not text in UTF-8". */
export type Read = { readonly text: string } | { readonly reason: string };

export type FileKind = 'file' | 'folder' | 'other';

export interface Listed {
  readonly name: string;
  readonly kind: FileKind;
}

export interface NewRigChoices {
  /** The smallest first. */
  readonly interfaces: readonly Interface[];
  /** What is written where a question is answered with Enter alone. */
  readonly defaults: Answers;
}

export interface NewRig {
  /** Without its ending: `copper-wren-first-rig`. */
  readonly fileName: string;
  readonly text: string;
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
  /** Nothing for a file that has no rig of its own: it only lends its gear, or nothing is written yet. */
  readonly sheets?: readonly Sheet<TabId>[];
  /** Of the plan: whether it is being made, so that what comes with it is of an earlier text or nothing; why it could not be. */
  readonly plan?: { readonly making: boolean; readonly problem?: string };
  /** Whether there is anything in it that other files could use. */
  readonly lends: boolean;
  /** Whether a `rig` stands in it. */
  readonly titled: boolean;
  /** Why changed rows are not marked although somebody wants it, in words for them. */
  readonly unmarked?: string;
  /** Where each place that these sheets speak of stands: in this document, in one that it uses, or in the library. */
  readonly spots: Readonly<Record<Place, Spot>>;
}

/** What is other in the same sheets, which were the last that were sent of this document. */
export interface SheetsUpdate extends Omit<Sheets, 'sheets'> {
  readonly updates: readonly SheetUpdate<TabId>[];
  /** Where places stand that stood elsewhere, or were not spoken of. */
  readonly spots: Readonly<Record<Place, Spot>>;
  /** Places that are not spoken of any more. */
  readonly gone: readonly Place[];
}
