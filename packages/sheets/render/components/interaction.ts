import type { Place } from '#rig';

/** What a reader can do with the sheet where there is an editor behind it. On paper there is none. */
export interface Interaction {
  jump(place: Place): void;
  /** Whether the cursor is in one of the statements that a row is about. */
  isLit(about: readonly Place[]): boolean;
}
