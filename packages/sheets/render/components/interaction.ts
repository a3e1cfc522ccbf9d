import type { Place } from '#rig';

/** What a reader can do with the sheet where there is an editor behind it. On paper there is none. */
export interface Interaction {
  jump(place: Place): void;
  /** Whether the cursor is in one of the statements that a row is about. */
  isLit(about: readonly Place[]): boolean;
  /** The rows that are in sight; all others may be drawn later. Left out, all are drawn at once. */
  near?(table: HTMLTableElement): RowsNear;
  /** Left out, the page keeps them itself. */
  readonly ticks?: Ticks;
  /** Left out, a drawing is as large as on paper, or as there is room. */
  readonly zooms?: Zooms;
}

/** From one row of a table to another, by where they stand in it. */
export interface RowsNear {
  readonly from: number;
  readonly to: number;
}

/** Boxes by their names (`boxesOf`). */
export interface Ticks {
  has(box: string): boolean;
  set(box: string, ticked: boolean): void;
}

/** How large each drawing is, by its block; 1 fits the width where its words can be read then. */
export interface Zooms {
  of(block: string): number;
  set(block: string, zoom: number): void;
}
