/** Whatever thumps on a line that the hall hears is done while the house has it muted. */
import { lineNumbers } from '../house/counted';
import type { Context } from '../shared/context';
import { touchedHouseRows } from '../shared/house';
import { tableRow } from '../shared/tableRow';
import type { Cell, TableRow } from '../sheet';

/** `4 to 10 and 13`: the house's lines that hang on something of ours; empty where there are none. */
function linesToMute(context: Context): string {
  return lineNumbers(touchedHouseRows(context).map(({ number }) => number));
}

/** A step before others; `cells` of it by where the lines are to be named. Nothing where no line of the house's is shared with us. */
export function muteRow(context: Context, cells: (lines: string) => readonly Cell[]): TableRow[] {
  const rows = touchedHouseRows(context);
  const lines = linesToMute(context);
  if (lines === '') return [];
  return [tableRow('mute', cells(`house ${lines}`), { name: 'Mute', about: rows.map(({ place }) => place) })];
}

export const ASK_TO_MUTE = 'ask the house to mute them, and wait until it says that they are';
export const STILL_MUTED = 'ask the house whether they are still muted';
