/** Marks the rows of a sheet that say something else than the same sheet of another rig, or of the same one before. */
import { list } from '#engine';
import { type Cell, fields, heading, type Sheet, type TableBlock, type TableRow } from '../sheet';

type RowChange = TableRow['change'];

/**
 * The sheet with a column that says which rows are new or changed, in the tables that have such rows. `name` is what it is compared with:
 * `the last commit`. What a drawing shows is not marked, and findings by themselves are no change.
 */
export function markChanges<S extends Sheet<string>>(sheet: S, before: Sheet<string>, name: string): S {
  const counts = { changed: 0, new: 0, gone: 0 };
  const olds = new Map(tablesOf(before).map((table) => [table.id, table]));
  const blocks = sheet.blocks.map((block) => {
    if (block.kind !== 'table') return block;
    const old = olds.get(block.id);
    olds.delete(block.id);
    const was = new Map(old?.rows.map((row) => [row.key, said(row, old)]));
    const rows = block.rows.map((row) => {
      const then = was.get(row.key);
      was.delete(row.key);
      const change: RowChange = then === undefined ? 'new' : then === said(row, block) ? undefined : 'changed';
      if (change) counts[change]++;
      return { row, change };
    });
    counts.gone += was.size;
    return rows.some(({ change }) => change) ? withColumn(block, rows) : block;
  });
  for (const { rows } of olds.values()) counts.gone += rows.length;
  const told = (['changed', 'new', 'gone'] as const).flatMap((change) => (counts[change] > 0 ? [`${counts[change]} ${change}`] : []));
  return { ...sheet, blocks, facts: [...sheet.facts, `rows against ${name}: ${told.length > 0 ? list(told) : 'no change'}`] };
}

function tablesOf({ blocks }: Sheet<string>): TableBlock[] {
  return blocks.flatMap((block) => (block.kind === 'table' ? [block] : []));
}

function withColumn(block: TableBlock, rows: readonly { readonly row: TableRow; readonly change: RowChange }[]): TableBlock {
  return {
    ...block,
    columns: [{ title: 'Change' }, ...block.columns],
    rows: rows.map(({ row, change }) => ({ ...row, ...(change ? { change } : {}), cells: [change, ...row.cells] })),
  };
}

/**
 * What a row says, by its headings: a column that is only there while something is in it makes no difference, nor does the order of a list. A
 * number that a sheet gives, as to leads, is a part of it: it stands on labels and drawings.
 */
function said({ cells, strong, unfinished }: TableRow, { columns }: TableBlock): string {
  const words = fields(columns).map((field, index): [string, Cell] => [heading(field), inOrder(cells[index])]);
  return JSON.stringify([words.filter(([, cell]) => cell !== undefined && cell !== null && cell !== ''), strong, unfinished]);
}

function inOrder(cell: Cell): Cell {
  return typeof cell === 'string' ? cell.split(', ').sort().join(', ') : cell;
}
