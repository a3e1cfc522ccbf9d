/** CSV, read back by another library (papaparse). */
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import type { PatchList } from '#sheets';
import { analyse, here, render, sheetOf, TOUR } from './load';

interface Table {
  readonly titles: string[];
  readonly rows: Record<string, string>[];
}

/** The tables by the name of their section. */
function read(list: PatchList): Map<string, Table> {
  const { data, errors } = Papa.parse<string[]>(render(list, 'csv'));
  expect(errors).toEqual([]);
  const tables = new Map<string, Table>();
  let titles: string[] = [];
  for (const [section = '', ...cells] of data.filter((record) => record.length > 1)) {
    if (section === 'Section') {
      titles = cells.filter((title) => title !== '');
      continue;
    }
    const table = tables.get(section) ?? { titles, rows: [] };
    table.rows.push(Object.fromEntries(titles.map((title, index) => [title, cells[index] ?? ''])));
    tables.set(section, table);
  }
  return tables;
}

const number = (value: number | undefined) => (value === undefined ? '' : String(value));

describe.each([
  ['tour.rig', TOUR],
  ['lighthouse.rig', here('lighthouse.rig')],
  ['half.rig', here('half.rig')],
])('the table of %s', async (_, path) => {
  const list = sheetOf(await analyse(path));
  const tables = read(list);

  it('has the model in its cells', () => {
    expect(tables.get('Inputs')?.rows).toEqual(
      list.inputs.map((row) => ({
        Port: row.port,
        Source: row.source,
        By: row.by,
        Taken: row.taken,
        ...(tables.get('Inputs')?.titles.includes('Leads') && { Leads: row.leads }),
        ...(list.inputs.some(({ house }) => house) && { House: row.house }),
        '48 V': row.phantom.replace('from the house', 'the house').replace('on (shared switch)', 'on, shared'),
        'Gain (dB)': number(row.gainDb),
        'Headroom (dB)': number(row.headroomDb),
        'Level (dBu)': number(row.levelDbu),
      })),
    );
    expect(tables.get('Outputs')?.rows).toEqual(
      list.outputs.map((row) => ({
        Port: row.port,
        Mix: row.mix,
        Width: row.width,
        For: row.listeners,
        Way: row.way,
        ...(list.outputs.some(({ leads }) => leads) && { Leads: row.leads }),
      })),
    );
    const written = (row: Record<string, string>, title: string) => row[title] ?? '';
    expect(
      tables
        .get('House lines')
        ?.rows.map((row) => [row.Line, written(row, 'Taken from'), written(row, 'Leads'), row['Our rig on it'], written(row, 'Loss (dB)')]),
    ).toEqual(list.house.map((row) => [row.number, row.from, row.leads, row.touch, number(row.lossDb)]));
    expect(tables.get('Sheet')?.rows[0]?.Title).toBe(list.title);
  });

  it('has every finding, whole', () => {
    const notes = [...list.inputs, ...list.outputs, ...list.house, ...list.leads]
      .flatMap((row) => row.findings.filter(({ see }) => !see))
      .concat(list.elsewhere);
    const sorted = (all: readonly string[][] | undefined) => all?.map((each) => each.join('|')).sort();
    expect(sorted(tables.get('Findings')?.rows.map((row) => [row.Code ?? '', row.What ?? '', row.Why ?? '', row.Cure ?? '']))).toEqual(
      sorted(notes.map((note) => [note.code, note.what, note.why, note.cure])),
    );
  });

  it('has different titles in each table, and records of one length that end in CR LF (RFC 4180)', () => {
    for (const { titles } of tables.values()) expect(new Set(titles).size).toBe(titles.length);
    const text = render(list, 'csv');
    const { data } = Papa.parse<string[]>(text);
    expect(new Set(data.slice(0, -1).map((record) => record.length)).size).toBe(1);
    expect(data.at(-1)).toEqual(['']);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  });

  it('says that it is UTF-8, and is the same each time', async () => {
    expect(render(list, 'csv').charCodeAt(0)).toBe(0xfeff);
    expect(render(sheetOf(await analyse(path)), 'csv')).toBe(render(list, 'csv'));
  });
});

describe('in a spreadsheet', async () => {
  const list = sheetOf(await analyse(here('awkward.rig')));
  const cells = (all: PatchList) => [...read(all).values()].flatMap((table) => table.rows).flatMap((row) => Object.values(row));

  it('no label is a formula', () => {
    // What spreadsheets take for one: =, +, -, @, tab and carriage return in front (OWASP, "CSV Injection"). A number is none.
    const formulas = (all: readonly string[]) =>
      all.filter((cell) => /^[=+\-@\t\r\uFF1D\uFF0B\uFF0D\uFF20]/.test(cell) && !/^-?\d+(\.\d+)?$/.test(cell));
    expect(formulas(cells(list))).toEqual([]);
    const tab = { ...(list.inputs[0] as PatchList['inputs'][number]), source: '\t=1', taken: '\r=2', by: '-1+2' };
    expect(formulas(cells({ ...list, inputs: [tab], title: '-2+3', facts: ['=4'] }))).toEqual([]);
  });

  it('a label like a formula gets an apostrophe and nothing else', () => {
    expect(
      read(list)
        .get('Inputs')
        ?.rows.map((row) => row.Source),
    ).toEqual([
      "'=1+1",
      "'+49 and more",
      "'@SUM(A1)",
      "'-12",
      "'＝全角",
      'a|b `c` \\ [d](http://e.invalid)',
      '"&\'; <script>alert(2)</script>',
      'Forty letters make this label very long.',
    ]);
  });

  it('a level stays a number', async () => {
    const levels = read(sheetOf(await analyse(TOUR)))
      .get('Inputs')
      ?.rows.map((row) => row['Level (dBu)']);
    expect(
      levels
        ?.slice(0, 2)
        .map(Number)
        .every((level) => level < 0),
    ).toBe(true);
  });
});
