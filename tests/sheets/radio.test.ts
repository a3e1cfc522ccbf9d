/** The sheet "Radio": its rows against the rig, and its drawing against what any drawing has to be. */
import { describe, expect, it } from 'vitest';
import { sheetOf } from '#sheets';
import type { Sheet, TableBlock } from '../../packages/sheets/sheet';
import { analyseText } from '../checks/open';
import { troubles } from './drawings';

const HEAD = 'rig "Marsh & Bell"  region EU  avoid 863..863.1 MHz "a neighbour"\nperformer ana "Ana"\nperformer brik "Brik"\n';

async function sheet(rig: string): Promise<Sheet> {
  const { checked, located } = await analyseText(rig);
  if (!checked) throw new Error('no rig');
  return await sheetOf(
    'radio',
    checked,
    located.map(({ finding }) => finding),
  );
}

const table = (made: Sheet, id: string) => made.blocks.find((block): block is TableBlock => block.kind === 'table' && block.id === id);

describe('the sheet Radio', () => {
  it('has every carrier, ours and theirs, with who uses it and what is nearest', async () => {
    const made = await sheet(`${HEAD}
gear tx "Transmitter" is in-ear-transmitter on 863.4 MHz
gear pack-a is belt-pack for ana hears tx.left
gear pack-b is belt-pack for brik hears tx.right
source voice "Voice" is wireless-mic by ana on 864 MHz
gear their "House handheld" is wireless-mic theirs on 864.6 MHz
source air "Air" is digital-wireless-mic by brik`);
    const rows = table(made, 'carriers')?.rows ?? [];
    expect(rows.map(({ cells }) => cells.slice(0, 7))).toEqual([
      [863.4, 200, 'Transmitter', 'ours', 'Ana and Brik', '863 to 865 MHz', '600 kHz: Voice'],
      [864, 200, 'Voice', 'ours', 'Ana', '863 to 865 MHz', '600 kHz: Transmitter'],
      [864.6, 200, 'House handheld', 'the house’s', undefined, '863 to 865 MHz', '600 kHz: Voice'],
      [undefined, undefined, 'Air', 'ours', 'Brik', 'by itself', undefined],
    ]);
    // Equal distances: 2 × 864 − 864.6 = 863.4.
    expect(rows[0]?.cells[7]).toBe('on it: 2 × 864 − 864.6 MHz');
    expect(rows[0]?.findings.map(({ code }) => code)).toContain('radio/product-on');
    expect(table(made, 'ranges')?.rows.map(({ cells }) => cells[0])).toContain('863 to 865 MHz');
    for (const row of table(made, 'ranges')?.rows ?? []) expect(row.cells[4]).toMatch(/^(\d{4}-\d{2}-\d{2}|from memory)$/);
  });

  it('says of a set without a frequency what the set-up and the house sheet say of it', async () => {
    const { checked } = await analyseText(`${HEAD}
source air "Air" is digital-wireless-mic by brik
house 1 "Air" takes air.xlr`);
    if (!checked) throw new Error('no rig');
    const radio = table(await sheetOf('radio', checked), 'carriers')?.rows[0]?.cells[8];
    expect(radio).toBe('looks for free channels');
    for (const [id, rows] of [
      ['set-up', 'radio'],
      ['house', 'needs'],
    ] as const) {
      const told = table(await sheetOf(id, checked), rows)?.rows.map(({ cells }) => cells.join(' ')) ?? [];
      expect(told.filter((row) => row.includes(`2.4 GHz, ${radio}`))).toHaveLength(1);
    }
  });

  it('has what a scan shows, in its row and drawn', async () => {
    const made = await sheet(`${HEAD.replace('avoid', 'scan "examples/mistakes/scan/rooms/mill.csv"  avoid')}
source voice "Voice" is wireless-mic by ana on 863.5 MHz
gear tx "Transmitter" is in-ear-transmitter on 864.4 MHz`);
    const [voice, transmitter] = table(made, 'carriers')?.rows ?? [];
    expect(voice?.cells[8]).toMatch(/; loud in examples\/mistakes\/scan\/rooms\/mill\.csv: \u22125\d\.\d dBm$/);
    expect(voice?.findings.map(({ code }) => code)).toEqual(['scan/occupied']);
    expect(transmitter?.cells[8]).not.toContain('loud');
    const [drawing] = made.blocks.flatMap((block) => (block.kind === 'drawing' ? [block.drawing] : []));
    if (!drawing) throw new Error('no drawing');
    expect(troubles(drawing)).toEqual([]);
    const levels = drawing.shapes.find(({ label }) => label?.startsWith('what examples/mistakes/scan/rooms/mill.csv shows'));
    // One point each 100 kHz from 863.2 to 864.8 MHz, and it is highest where it is loud.
    const points = levels?.kind === 'path' ? levels.points : [];
    expect(points.length).toBeGreaterThan(10);
    const [x] = points.reduce((a, b) => (b[1] < a[1] ? b : a));
    const [first, last] = [points[0]?.[0] ?? 0, points.at(-1)?.[0] ?? 0];
    expect(x).toBeLessThan(first + (last - first) / 2);
  });

  it('says of a rig without radio that it has none', async () => {
    const made = await sheet('rig "Wired"\ngear iface is interface-4');
    expect(table(made, 'carriers')).toMatchObject({ rows: [], empty: 'Nothing of this rig sends by radio.' });
    expect(made.blocks).toHaveLength(1);
  });

  it.each([1, 2, 7, 40, 64])('draws %d carriers inside their frames, no word on another', async (many) => {
    const sets = Array.from(
      { length: many },
      (_, index) => `gear mic-${index} "Handheld with a long name ${index}" is far-mic on ${470.2 + index * index * 0.31} MHz`,
    );
    const made = await sheet(`${HEAD}model far-mic is wireless-mic { tunes 400..2500 MHz }\n${sets.join('\n')}`);
    const drawings = made.blocks.filter((block) => block.kind === 'drawing');
    expect(drawings.length).toBeGreaterThan(0);
    for (const { drawing } of drawings) expect(troubles(drawing)).toEqual([]);
    const drawn = drawings.flatMap(({ drawing }) =>
      drawing.shapes.flatMap((shape) => (shape.kind === 'box' && shape.label?.startsWith('Handheld') ? shape.label : [])),
    );
    expect(drawn).toHaveLength(many);
  });
});
