/**
 * CSV for a spreadsheet: one table after the other, each under its own heading, every record with the section it belongs to
 * in front and all records of one length (RFC 4180 asks for that). A cell of somebody's text that a spreadsheet would take
 * for a formula gets an apostrophe in front; numbers are numbers, with their unit in the heading, and stay as they are.
 */
// The edition for browsers runs in Node as well; the other one needs a global of Node's.
import { stringify } from 'csv-stringify/browser/esm/sync';
import { type Block, type Cell, fields, heading, type Sheet, type TableBlock } from '../sheet';
import { inOrder } from './order';
import { allNotes, draftWords, kindOf, withTicks } from './words';

/** Of several sheets, each section has its sheet in front. */
export function csv(sheets: readonly Sheet<string>[]): string {
  const several = sheets.length > 1;
  const records = sheets.flatMap((sheet) => {
    const named = (section: string) => (several ? `${sheet.name}: ${section}` : section);
    return [
      ...section(
        named('Sheet'),
        ['Title', 'Facts', 'Rig', 'Draft'],
        [[sheet.title, [...(sheet.occasion ?? []), ...sheet.facts].join('; '), sheet.fingerprint, draftWords(sheet)]],
      ),
      ...inOrder(sheet).flatMap((part) => (part === 'findings' ? findings(sheet, named) : block(part, named))),
    ];
  });
  const width = records.reduce((most, record) => Math.max(most, record.length), 0);
  const even = records.map((record) => [...record, ...Array<Cell>(width - record.length).fill('')]);
  return written(even);
}

/** Each table of a sheet that has rows, by itself: a line of headings, then only its records. Numbers are numbers, those with a unit too. */
export function tablesOf(sheet: Sheet<string>): { readonly id: string; readonly text: string }[] {
  return sheet.blocks.flatMap((each) => {
    if (each.kind !== 'table' || each.rows.length === 0 || each.columns.length === 0) return [];
    const { columns, rows } = withTicks(withGroups(each), '');
    const titles = fields(columns).map(heading);
    const records = rows.map(({ cells }) => [...cells]);
    const units = titles.map((_, index) => unitOf(records.map((record) => record[index])));
    return [
      {
        id: each.id,
        text: written([
          titles.map((title, index) => (units[index] ? `${title} (${units[index]})` : title)),
          ...records.map((record) => record.map((cell, index) => (units[index] ? withoutUnit(cell) : cell))),
        ]),
      },
    ];
  });
}

/** `10 m`, `−3 dB`. */
const FIGURE = /^([-−]?\d+(?:\.\d+)?)[ \u00a0](\p{L}+|%)$/u;

/** Of a column in which every cell with a digit is a number with one and the same unit: that goes into its heading. */
function unitOf(cells: readonly Cell[]): string | undefined {
  const told = cells.filter((cell) => /\d/.test(String(cell ?? '')));
  const [unit, ...others] = new Set(told.map((cell) => FIGURE.exec(String(cell))?.[2]));
  return others.length === 0 ? unit : undefined;
}

function withoutUnit(cell: Cell): Cell {
  const [, figure] = FIGURE.exec(String(cell ?? '')) ?? [];
  return figure === undefined ? cell : Number(figure.replace('−', '-'));
}

function written(records: readonly (readonly Cell[])[]): string {
  return stringify(
    records.map((record) => [...record]),
    { bom: true, record_delimiter: 'windows', escape_formulas: true },
  );
}

type Naming = (section: string) => string;

function findings(sheet: Sheet<string>, named: Naming): Cell[][] {
  const rows = allNotes(sheet).map(({ at, note }) => [at, kindOf(note), note.code, note.what, note.why, note.cure]);
  return section(named('Findings'), ['Where', 'Kind', 'Code', 'What', 'Why', 'Cure'], rows);
}

function block(each: Exclude<Block, { kind: 'notes' }>, named: Naming): Cell[][] {
  const name = named(each.title);
  switch (each.kind) {
    case 'table': {
      // What has no columns has only something to say.
      if (each.columns.length === 0) return section(name, ['Remark'], [[each.empty]]);
      const { columns, rows } = withTicks(withGroups(each), '');
      return section(
        name,
        fields(columns).map(heading),
        rows.map((row) => row.cells),
      );
    }
    case 'drawing':
      return section(name, ['Drawing'], [[each.description]]);
    case 'form':
      return section(
        name,
        ['Field', 'Value'],
        each.fields.map((field) => [field.title, field.value]),
      );
    case 'cautions':
      return section(
        name,
        ['Subject', 'Caution'],
        each.cautions.map((caution) => [caution.subject, caution.text]),
      );
  }
}

/** Its groups as a column of their own. */
function withGroups(table: TableBlock): TableBlock {
  if (table.groups === undefined) return table;
  const columns = [{ title: table.groups }, ...table.columns];
  return { ...table, columns, rows: table.rows.map((row) => ({ ...row, cells: [row.group, ...row.cells] })) };
}

/** A heading that begins with the word Section, and records that begin with the section's name. Nothing where there are none. */
function section(name: string, titles: readonly string[], rows: readonly (readonly Cell[])[]): Cell[][] {
  return rows.length === 0 ? [] : [['Section', ...titles], ...rows.map((row) => [name, ...row])];
}
