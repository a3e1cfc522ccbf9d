/** The boxes of a sheet that can be ticked. */
import { mark } from '../../shared/fingerprint';
import { onceEach } from '../../shared/onceEach';
import type { Sheet, TableBlock, TableRow } from '../../sheet';
import { written } from '../words';

/**
 * A name for the box of each row, short, for it is kept. It follows from what the row says: a line that is written above it moves no tick, and what says something else than
 * before is to be done again. Of rows that say the same, the first is the first.
 */
export function boxesOf({ id, rows, ticks }: TableBlock): string[] {
  if (!ticks) return [];
  const seen = new Map<string, number>();
  return rows.map((row) => {
    const box = boxOf(id, row);
    const before = seen.get(box) ?? 0;
    seen.set(box, before + 1);
    return before === 0 ? box : mark(`${says(id, row)} ${before + 1}`);
  });
}

function says(id: string, { cells }: TableRow): string {
  return JSON.stringify([id, ...cells.map(written)]);
}

/** By the table, as that is in their names. Most rows are in the next state of their table as well. */
const boxesIn = onceEach((_: TableRow) => new Map<string, string>());

function boxOf(id: string, row: TableRow): string {
  const known = boxesIn(row);
  const box = known.get(id) ?? mark(says(id, row));
  known.set(id, box);
  return box;
}

export function allBoxes({ blocks }: Sheet<string>): string[] {
  return blocks.flatMap((block) => (block.kind === 'table' ? boxesOf(block) : []));
}
