/**
 * What every sheet is made of, as plain data: blocks under one another. It can be sent as JSON and says the same when it comes back.
 * A sheet says what is on paper; how it looks is the renderings' to say, and none of them knows one sheet from another.
 */
import type { Place } from '#rig';
import type { Drawing } from './drawing';
import type { Caution, Counts, Note } from './shared/model';

/** In the order in which they are shown, bound and printed. */
export const SHEET_IDS = [
  'patch-list',
  'mixes',
  'leads',
  'house',
  'stage',
  'signal-flow',
  'levels',
  'radio',
  'ears',
  'shopping',
  'set-up',
  'if-it-fails',
  'pack-down',
] as const;
export type SheetId = (typeof SHEET_IDS)[number];

/** What each is called, on its page and wherever it is chosen. */
export const SHEET_NAMES: Readonly<Record<SheetId, string>> = {
  'patch-list': 'Patch list',
  mixes: 'Mixes',
  leads: 'Leads',
  house: 'House sheet',
  stage: 'Stage',
  'signal-flow': 'Signal flow',
  levels: 'Levels',
  radio: 'Radio',
  ears: 'Ears',
  shopping: 'Shopping',
  'set-up': 'Set-up',
  'if-it-fails': 'If it fails',
  'pack-down': 'Pack-down',
};

/** What there is to look at beside the text: the sheets, and what is planned for all that is not written, which is made when somebody looks. */
export const TAB_IDS = [...SHEET_IDS, 'plan'] as const;
export type TabId = (typeof TAB_IDS)[number];

export const TAB_NAMES: Readonly<Record<TabId, string>> = { ...SHEET_NAMES, plan: 'Plan' };

/** One of those that every rig has, unless it says otherwise: a plan is made when it is asked for. */
export interface Sheet<Id extends string = SheetId> {
  readonly id: Id;
  /** What kind of sheet it is: `Patch list`. */
  readonly name: string;
  /** The rig's title. */
  readonly title: string;
  /** What holds for the whole: rate, region, how long they play. */
  readonly facts: readonly string[];
  /** The evening, where the rig says: its date, the venue, whom to ask. On every page. */
  readonly occasion?: readonly string[];
  /** A short mark of the rig's content, to tell two papers apart. */
  readonly fingerprint?: string;
  /** Grave findings in the rig, while there are any: the sheet is a draft then, and no page of it looks finished. */
  readonly draft?: { readonly danger: number; readonly error: number };
  /** Findings of each kind in the whole rig; left out on a sheet that does not show findings. */
  readonly counts?: Counts;
  /** To be set tightly on paper, because it is of use only on one page. */
  readonly dense?: true;
  /** None where there is nothing of a rig yet. */
  readonly blocks: readonly Block[];
}

export type Block = TableBlock | DrawingBlock | FormBlock | NotesBlock | CautionsBlock;

interface Titled {
  /** Unique in its sheet: letters and dashes. */
  readonly id: string;
  readonly title: string;
  /** What to know before reading it. */
  readonly remark?: string;
}

export interface Field {
  readonly title: string;
  /** Of a number: stands in the heading, not in every row. */
  readonly unit?: string;
}

/** A column; where there is room for few, `under` goes below the first in the same cell. */
export interface Column extends Field {
  readonly number?: boolean;
  /** Names the row: its heading, to a screen reader. One column of a table at most. */
  readonly names?: boolean;
  /** What somebody plugs, sets or switches by this table. */
  readonly acted?: boolean;
  readonly under?: Field;
}

/** A number where the field has a unit or counts; nothing where there is nothing to say, which comes back from JSON as null. */
export type Cell = string | number | null | undefined;

export interface TableRow {
  /** The same for the same thing from one state of the text to the next; unique in its table. */
  readonly key: string;
  /** What to call it away from its table: `Interface 3: Clarinet`. Without it, the table and the cell that names the row say. */
  readonly name?: string;
  /** The statement that the row is made of; a row of sums has none. */
  readonly place?: Place;
  /** All statements that have a part in it, the row's own first. */
  readonly about: readonly Place[];
  /**
   * What of the rig it tells, where a mistake in that is one in the row: statements, or parts of one, as `gear:tx/on` is its frequency. Not what it only
   * has to do with: a strip of sockets is right whatever frequency is set on what is plugged in there.
   */
  readonly tells?: readonly Place[];
  /** Something is not said yet, so that the row is not whole. */
  readonly unfinished?: boolean;
  /** What it belongs to with the rows beside it that say the same; told once above them. */
  readonly group?: string;
  /** A sum, or the like. */
  readonly strong?: boolean;
  /** Against another state of the rig, where one is compared with; a column says so in words. */
  readonly change?: 'new' | 'changed';
  readonly findings: readonly Note[];
  /** One for each field, in the order of `fields`: a column's own, then the one under it. */
  readonly cells: readonly Cell[];
}

export interface TableBlock extends Titled {
  readonly kind: 'table';
  readonly columns: readonly Column[];
  readonly rows: readonly TableRow[];
  /** What to say where it has no rows. */
  readonly empty: string;
  /** What the groups of its rows are, where it has some: `Walk`. */
  readonly groups?: string;
  /** `boxes`: an empty box to tick before each row. `numbers`: numbered, with a box. */
  readonly ticks?: 'boxes' | 'numbers';
  /** The number of the first row, where it is not 1: the steps of a sheet may be one run. */
  readonly firstStep?: number;
}

export interface DrawingBlock extends Titled {
  readonly kind: 'drawing';
  readonly drawing: Drawing;
  /** What the drawing says, in a sentence or two, for those who cannot see it; tables beside it hold the figures. */
  readonly description: string;
}

/** Lines to fill in by hand. */
export interface FormBlock extends Titled {
  readonly kind: 'form';
  readonly fields: readonly { readonly title: string; readonly value?: string }[];
}

/** Findings that no row stands for. */
export interface NotesBlock extends Titled {
  readonly kind: 'notes';
  readonly notes: readonly Note[];
}

export interface CautionsBlock extends Titled {
  readonly kind: 'cautions';
  readonly cautions: readonly Caution[];
}

/** The fields one by one, in the order of a row's cells. */
export function fields(columns: readonly Column[]): Field[] {
  return columns.flatMap((column) => (column.under ? [column, column.under] : [column]));
}

/** Whether it stands out in its table: what is acted on; where that is not said, what names the row. */
export function standsOut(column: Column, { columns }: Pick<TableBlock, 'columns'>): boolean {
  return (columns.some(({ acted }) => acted) ? column.acted : column.names) ?? false;
}

/** `Gain (dB)`. */
export function heading(field: Field): string {
  return field.unit ? `${field.title} (${field.unit})` : field.title;
}

/** A field with where its cell is in a row. */
export interface Placed {
  readonly field: Field;
  readonly index: number;
  /** Set as numbers are. */
  readonly number: boolean;
}

/** The number of a row in its sheet's run of steps. */
export function stepOf({ firstStep = 1 }: TableBlock, index: number): number {
  return firstStep + index;
}

/** The heading of the group that begins at a row; nothing where none does. */
export function groupAt(rows: readonly TableRow[], index: number): string | undefined {
  const group = rows[index]?.group;
  return group === rows[index - 1]?.group ? undefined : group;
}

/** The columns with where their cells are: the column's own first, then the one under it. */
export function placed(columns: readonly Column[]): Placed[][] {
  let index = 0;
  return columns.map((column) =>
    [column, ...(column.under ? [column.under] : [])].map((field) => ({
      field,
      index: index++,
      number: Boolean(column.number ?? field.unit),
    })),
  );
}

/** Whether there is nothing of a rig to show yet; there may be findings all the same. */
export function isEmpty(sheet: Sheet<string>): boolean {
  return sheet.blocks.every(({ kind }) => kind === 'notes' || kind === 'cautions');
}

/** What a sheet says that has nothing but that to say: a set does without its page. */
export function bareWords({ blocks }: Sheet<string>): string | undefined {
  const empty = blocks.flatMap((block) => (block.kind === 'table' && block.rows.length === 0 ? [block.empty] : []));
  return blocks.length > 0 && empty.length === blocks.length ? empty[0] : undefined;
}

/** Every place that a sheet speaks of. */
export function placesOf(sheet: Sheet<string>): Set<Place> {
  const places = new Set<Place>();
  const add = (place: Place | undefined) => place !== undefined && places.add(place);
  for (const block of sheet.blocks) {
    if (block.kind === 'table') {
      for (const row of block.rows) for (const place of [row.place, ...row.about, ...row.findings.map((note) => note.place)]) add(place);
    } else if (block.kind === 'drawing') for (const shape of block.drawing.shapes) add(shape.place);
    else if (block.kind === 'notes') for (const note of block.notes) add(note.place);
  }
  return places;
}
