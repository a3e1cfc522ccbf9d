/** Rows that say something else than before are marked, in every sheet, and nothing where nothing on the floor has changed. */
import { describe, expect, it } from 'vitest';
import { markChanges, SHEET_IDS, type Sheet, sheetOf } from '#sheets';
import { analyseText } from './load';

const RIG = `rig "Copper Wren"
performer ana "Ana" at 0 m, 1 m
performer bo "Bo" at 2 m, 1 m
source voice "Voice" is dynamic-mic by ana
source reed "Reed" is dynamic-mic by bo
gear iface "Interface" is interface-8-mic at 1 m, 3 m
input iface.1 takes voice
input iface.2 takes reed
mix ana mono for ana { voice 0 dB reed -3 dB }
output iface.phones1 carries ana
`;

async function sheetsOf(text: string): Promise<Sheet[]> {
  const { checked } = await analyseText(text);
  return Promise.all(SHEET_IDS.map((id) => sheetOf(id, checked)));
}

async function marked(before: string, now: string): Promise<Sheet[]> {
  const olds = await sheetsOf(before);
  return (await sheetsOf(now)).map((sheet, index) => markChanges(sheet, olds[index] as Sheet, 'before'));
}

/** Of the rows that are marked: the sheet, the mark and the row's key. */
function marks(sheets: readonly Sheet[]): string[] {
  return sheets.flatMap(({ id, blocks }) =>
    blocks.flatMap((block) =>
      block.kind === 'table' ? block.rows.flatMap(({ change, key }) => (change ? [`${id} ${change} ${key}`] : [])) : [],
    ),
  );
}

describe('changed rows', () => {
  it('are none where only comments, order and white space differ', async () => {
    const [head, ana, bo, ...lines] = RIG.trimEnd().split('\n');
    // Who is named first is the first on the stage.
    const written = ['# another day', head, ana, bo, ...lines.reverse()].join('\n\n');
    const sheets = await marked(RIG, written);
    expect(marks(sheets)).toEqual([]);
    for (const { facts } of sheets) expect(facts.at(-1)).toBe('rows against before: no change');
  });

  it('are new where a line goes into another socket, and what is gone is counted', async () => {
    const sheets = await marked(RIG, RIG.replace('input iface.2 takes', 'input iface.5 takes'));
    expect(marks(sheets)).toContain('patch-list new iface.5');
    expect(sheets[0]?.facts.at(-1)).toMatch(/^rows against before: .*1 new and 1 gone$|2 new and 2 gone$/);
    // The other line stays as it is.
    expect(marks(sheets).filter((mark) => mark.endsWith('iface.1'))).toEqual([]);
  });

  it('have a column that says so, before all that the table had', async () => {
    const [patch] = await marked(RIG, RIG.replace('takes voice', 'takes voice gain 45 dB'));
    const block = patch?.blocks.find((each) => each.id === 'inputs');
    if (block?.kind !== 'table') throw new Error('no inputs');
    expect(block.columns[0]).toEqual({ title: 'Change' });
    expect(block.rows.map(({ cells }) => cells[0])).toEqual(['changed', undefined]);
  });
});
