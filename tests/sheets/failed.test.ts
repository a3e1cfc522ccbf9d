/** A sheet that cannot be made or written says so in its place, and all others are as they are without it. */
import { describe, expect, it } from 'vitest';
import { type Checked, check } from '#engine';
import { renderSheets, SHEET_FORMATS, SHEET_IDS, type Sheet, sheetsOf } from '#sheets';
import { bounded } from '../../packages/sheets/failed';
import { stageSheet } from '../../packages/sheets/stage/sheet';
import { analyseText } from './load';

const RIG = `rig "Two Mills"
performer ada  "Ada"  at 2 m, 1 m
source voice  "Voice"  is dynamic-mic  by ada
gear iface  "Interface"  is interface-8-mic  at 2 m, 4.5 m
input iface.1  takes voice
mix ada  mono  for ada  { voice 0 dB }
output iface.phones1  carries ada
`;

describe('a sheet that fails', async () => {
  const { checked } = await analyseText(RIG);

  it('says so in its place, with what to do, and the others are as they were', async () => {
    // Only the levels read these.
    const spoilt: Checked = { ...checked, latencies: null as unknown as Checked['latencies'] };
    const [sheets, whole] = [await sheetsOf(spoilt), await sheetsOf(checked)];
    const failed = sheets.filter((sheet) => sheet.blocks[0]?.id === 'failed');
    expect(failed.length).toBeGreaterThan(0);
    expect(failed.length).toBeLessThan(SHEET_IDS.length);
    for (const [index, sheet] of sheets.entries()) if (!failed.includes(sheet)) expect(sheet).toEqual(whole[index]);
    for (const format of SHEET_FORMATS) expect(renderSheets(failed, format)).toMatch(/[Uu]ndo what you wrote last/);
  });

  it('is told apart where it can be made and not be written', async () => {
    const sheets = await sheetsOf(checked);
    const spoilt = sheets.map((sheet) =>
      sheet.id === 'leads' ? ({ ...sheet, blocks: [{ kind: 'table', id: 'x', title: 'X' }, null] } as unknown as Sheet) : sheet,
    );
    for (const format of SHEET_FORMATS) {
      const page = renderSheets(spoilt, format);
      expect(page).toMatch(/[Uu]ndo what you wrote last/);
      expect(page).toContain('Two Mills');
      expect(page.length).toBeGreaterThan(2000);
    }
  });
});

describe('a sheet of more than can be shown', () => {
  it('is cut, and says what it has left out', () => {
    const row = (key: string) => ({ key, about: [], findings: [], cells: [key] });
    const table = {
      kind: 'table',
      id: 'a',
      title: 'A',
      columns: [{ title: 'A' }],
      empty: '',
      rows: Array.from({ length: 15_000 }, (_, at) => row(`${at}`)),
    } as const;
    const sheet: Sheet = { id: 'leads', name: 'Leads', title: 'X', facts: [], blocks: [table, { ...table, id: 'b' }] };
    const [first, second] = bounded(sheet).blocks;
    expect(first).toEqual(table);
    expect(second).toMatchObject({ rows: { length: 5_000 }, remark: expect.stringContaining('Only 5000 of 15000 rows') });
  });
});

describe('the stage', () => {
  it.each([0, -3, 1e-300, 201, 1e17, 1e308, Number.NaN, Number.POSITIVE_INFINITY])(
    'draws no more for a figure of %d than for another',
    async (far) => {
      const { checked } = await analyseText(RIG);
      const { rig } = checked;
      for (const at of [
        { x: far, y: 1 },
        { x: 1, y: far },
        { x: -far, y: far },
      ]) {
        for (const stageM of [
          undefined,
          { width: far, depth: 5 },
          { width: 5, depth: far },
          { width: far, depth: far },
          { width: 200, depth: 200 },
        ]) {
          const performers = new Map([...rig.performers].map(([id, performer]) => [id, { ...performer, at }]));
          const sheet = stageSheet(check({ ...rig, performers, settings: { ...rig.settings, stageM } }));
          for (const block of sheet.blocks) {
            if (block.kind !== 'drawing') continue;
            expect(block.drawing.shapes.length).toBeLessThan(300);
            expect(block.drawing.height).toBeLessThan(220);
          }
        }
      }
    },
  );
});
