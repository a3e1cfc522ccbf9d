/** A sheet that comes anew, with the very blocks and rows of the one before wherever they say the same: only the others are sent, and drawn again. */
import { isSame, isSameList } from '#rig';
import type { Block, Sheet, TableBlock } from './sheet';

export function sharing<S extends Sheet<string>>(before: S, now: S): S {
  if (before === now || before.id !== now.id) return now;
  const known = new Map(before.blocks.map((block) => [block.id, block]));
  return { ...now, blocks: now.blocks.map((block) => shared(known.get(block.id), block)) };
}

function shared(before: Block | undefined, now: Block): Block {
  if (before === undefined) return now;
  if (before.kind !== 'table' || now.kind !== 'table') return isSame(before, now) ? before : now;
  const known = new Map(before.rows.map((row) => [row.key, row]));
  const rows = now.rows.map((row) => {
    const same = known.get(row.key);
    return same && isSame(same, row) ? same : row;
  });
  const table: TableBlock = {
    ...now,
    columns: isSame(before.columns, now.columns) ? before.columns : now.columns,
    rows: isSameList(before.rows, rows) ? before.rows : rows,
  };
  return isSame(before, table) ? before : table;
}
