/** Tables of a sheet, looked at in tests. */
import type { Cell, Sheet, TableBlock } from '../../packages/sheets/sheet';

export function tableOf(sheet: Sheet, id: string): TableBlock {
  const block = sheet.blocks.find((each) => each.id === id);
  if (block?.kind !== 'table') throw new Error(`no table ${id} among ${sheet.blocks.map((each) => each.id).join(', ')}`);
  return block;
}

/** The cells of a table's rows, as far as asked for; without a draft's marks at them. */
export function cellsOf(sheet: Sheet, id: string, ...columns: number[]): Cell[][] {
  const { rows, columns: all } = tableOf(sheet, id);
  const end = all.at(-1)?.title === 'To mend' ? -1 : undefined;
  return rows.map(({ cells }) => (columns.length > 0 ? columns.map((column) => cells[column]) : cells.slice(0, end)));
}

/** What has to hold of every sheet: ids and keys are unique, each row has a cell for each field, and it is plain data. */
export function unsound(sheet: Sheet): string[] {
  const found: string[] = [];
  const ids = sheet.blocks.map(({ id }) => id);
  if (new Set(ids).size < ids.length) found.push('a block twice');
  for (const block of sheet.blocks) {
    if (block.kind !== 'table') continue;
    const fields = block.columns.reduce((sum, column) => sum + (column.under ? 2 : 1), 0);
    const keys = block.rows.map(({ key }) => key);
    if (new Set(keys).size < keys.length) found.push(`${block.id}: a key twice`);
    if (block.columns.filter(({ names }) => names).length !== 1) found.push(`${block.id}: not one column that names the row`);
    for (const row of block.rows) {
      if (row.cells.length !== fields) found.push(`${block.id} ${row.key}: ${row.cells.length} cells for ${fields} fields`);
      for (const cell of row.cells) if (typeof cell === 'number' && !Number.isFinite(cell)) found.push(`${block.id} ${row.key}: no figure`);
      for (const place of row.about) if (place.includes('/')) found.push(`${block.id} ${row.key}: ${place} is no statement`);
    }
  }
  if (JSON.stringify(JSON.parse(JSON.stringify(sheet))) !== JSON.stringify(sheet)) found.push('it does not come back as it was sent');
  return found;
}
