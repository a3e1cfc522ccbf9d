/** The boxes of a sheet that can be ticked. */
import { mark } from '../../shared/fingerprint';
import type { Sheet, TableBlock } from '../../sheet';
import { written } from '../words';

/**
 * A name for the box of each row, short, for it is kept. It follows from what the row says: a line that is written above it moves no tick, and what says something else than
 * before is to be done again. Of rows that say the same, the first is the first.
 */
export function boxesOf({ id, rows, ticks }: TableBlock): string[] {
  if (!ticks) return [];
  const seen = new Map<string, number>();
  return rows.map(({ cells }) => {
    const says = JSON.stringify([id, ...cells.map(written)]);
    const before = seen.get(says) ?? 0;
    seen.set(says, before + 1);
    return mark(before === 0 ? says : `${says} ${before + 1}`);
  });
}

export function allBoxes({ blocks }: Sheet<string>): string[] {
  return blocks.flatMap((block) => (block.kind === 'table' ? boxesOf(block) : []));
}
