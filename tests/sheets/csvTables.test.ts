/** One table a file, as a spreadsheet wants it, beside the sheet as a whole. */
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { filesOf, sheetsOf } from '#sheets';
import { fields } from '../../packages/sheets/sheet';
import { analyse, here } from './load';

describe('ten people, as files of CSV', async () => {
  const { checked } = await analyse(here('../../examples/ten.rig'));
  const sheets = await sheetsOf(checked);
  const files = new Map(filesOf(sheets, 'csv').map(({ name, text }) => [name, text]));

  it('have the whole of each sheet, and each table by itself', () => {
    for (const sheet of sheets) {
      expect(files.has(`${sheet.id}.csv`)).toBe(true);
      for (const block of sheet.blocks) {
        if (block.kind !== 'table' || block.rows.length === 0) continue;
        const { data, errors } = Papa.parse<string[]>((files.get(`${sheet.id}-${block.id}.csv`) ?? '').replace(/^\uFEFF/, ''), {
          skipEmptyLines: true,
        });
        expect(errors).toEqual([]);
        // A heading for each field, with a box and a step where it is ticked, and its group; then a record a row.
        const more = (block.ticks ? 1 : 0) + (block.ticks === 'numbers' ? 1 : 0) + (block.groups ? 1 : 0);
        expect(data.map((record) => record.length)).toEqual(Array(block.rows.length + 1).fill(fields(block.columns).length + more));
      }
    }
  });

  it('have numbers as numbers', () => {
    const { data } = Papa.parse<string[]>((files.get('set-up-gains.csv') ?? '').replace(/^\uFEFF/, ''), { skipEmptyLines: true });
    const [head = [], ...records] = data;
    const gains = records.map((record) => record[head.indexOf('Gain (dB)')]);
    expect(gains).toContain('-6');
    for (const gain of gains) expect(gain).toMatch(/^-?\d+$/);
  });

  it('have what is in one unit as numbers, the unit in the heading, and all else as it is', () => {
    const column = (name: string, title: string) => {
      const { data } = Papa.parse<string[]>((files.get(name) ?? '').replace(/^\uFEFF/, ''), { skipEmptyLines: true });
      return data.slice(1).map((record) => record[data[0]?.indexOf(title) ?? -1]);
    };
    const packed = column('leads-leads.csv', 'Length (m)');
    expect(packed.length).toBeGreaterThan(1);
    for (const length of packed) expect(length).toMatch(/^[\d.]+$/);
    expect(column('shopping-money.csv', 'Each (EUR)').every((price) => /^\d+$/.test(price ?? ''))).toBe(true);
    expect(column('radio-ranges.csv', 'Range').every((range) => / to .* MHz$/.test(range ?? ''))).toBe(true);
  });
});
