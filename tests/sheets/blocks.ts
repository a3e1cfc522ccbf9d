/** Sheets as tests look at them. */
import type { Block, Cell, Sheet, TableBlock, TableRow } from '../../packages/sheets/sheet';
import { fields, heading } from '../../packages/sheets/sheet';

export function blockOf<K extends Block['kind']>(sheet: Sheet, id: string, kind: K): Extract<Block, { kind: K }> {
  const block = sheet.blocks.find((each) => each.id === id);
  if (block?.kind !== kind) throw new Error(`no ${kind} ${id} among ${sheet.blocks.map((each) => `${each.kind} ${each.id}`).join(', ')}`);
  return block as Extract<Block, { kind: K }>;
}

export function drawingsOf(sheet: Sheet): Extract<Block, { kind: 'drawing' }>[] {
  return sheet.blocks.filter((block) => block.kind === 'drawing');
}

export function rowAt(table: TableBlock, key: string): TableRow {
  const row = table.rows.find((each) => each.key === key);
  if (!row) throw new Error(`no row ${key} among ${table.rows.map((each) => each.key).join(', ')}`);
  return row;
}

/** The cells of a row by their headings. */
export function cellsOf(table: TableBlock, key: string): Record<string, Cell> {
  const { cells } = rowAt(table, key);
  return Object.fromEntries(fields(table.columns).map((field, index) => [heading(field), cells[index]]));
}
