/** The sheet of levels: figures by hand, and what stands in the drawings. */
import { describe, expect, it } from 'vitest';
import { xOf } from '../../packages/sheets/draw/axis';
import { levelScale } from '../../packages/sheets/levels/drawing';
import { houseLevels, inputLines } from '../../packages/sheets/levels/lines';
import { levelsSheet } from '../../packages/sheets/levels/sheet';
import { patchSheet } from '../../packages/sheets/patch-list/sheet';
import { contextOf } from '../../packages/sheets/shared/context';
import type { Sheet } from '../../packages/sheets/sheet';
import { big } from './big';
import { blockOf, cellsOf, drawingsOf, rowAt } from './blocks';
import { troubles } from './drawings';
import { analyse, analyseText, here, TOUR } from './load';
import { tableOf } from './tables';

const MODELS = `
model plain-mic "Plain microphone" is microphone {
  output out xlr mic impedance 200 ohm sensitivity 2 mV/Pa
  typical 94 dB SPL
  peak 114 dB SPL
}
model plain-box "Plain box" is interface {
  input 1..6 xlr mic impedance 1.8 kohm max 6 dBu gain 10..60 dB noise -128 dBu
  input 7 xlr mic impedance 1.8 kohm max 6 dBu
  input usb1 digital
  mixes 2 stereo
}`;
const RIG = `rig "By hand"${MODELS}
source alone "Alone" is plain-mic
source hot   "Hot" is plain-mic
source shared "Shared" is plain-mic
source plain "Plain" is plain-mic
source click "Click" is click-channel
gear box "Box" is plain-box
gear y "Y-lead" is y-lead
input box.1 takes alone
input box.2 takes hot gain 60 dB
input box.3 takes shared via y.1
input box.4 takes shared via y.2
input box.7 takes plain
input box.usb1 takes click
house 9 "Alone" takes alone
`;

/** 2 mV at 94 dB SPL, which is 1 Pa (20 log10(1 / 20e-6) is 93.98), from 200 ohm into 1.8 kohm; 0 dBu is 0.7746 V. */
const ONE_PA = 20 * Math.log10(2e-3 / 0.7746) + 94 - 93.98;
const into = (loadOhm: number) => ONE_PA + 20 * Math.log10(loadOhm / (200 + loadOhm));
/** The input's own -128 dBu and its converter's, 110 dB below clipping, which is 26 dB above the usual level. */
const noiseAt = (usual: number) => 10 * Math.log10(10 ** (-128 / 10) + 10 ** ((usual + 26 - 110) / 10));

describe('levels by hand', async () => {
  const { checked } = await analyseText(RIG.replace('house 9 "Alone" takes alone\n', ''));
  const sheet = levelsSheet(checked);
  const cells = (key: string) => cellsOf(blockOf(sheet, 'inputs', 'table'), key);

  it('reckons gain, meter, headroom and the distance to the noise', () => {
    const usual = into(1800);
    // It clips at 6 dBu at a gain of 10 dB: at 16 dBu less the gain. The peak of 20 dB more keeps 6 dB.
    const gain = Math.floor(16 - 6 - (usual + 20));
    expect(cells('box.1')).toEqual({
      Port: 'Box 1',
      Source: 'Alone',
      'Usual (dBu)': Math.round(usual),
      'Loudest (dBu)': Math.round(usual + 20),
      'Gain (dB)': gain,
      'Gain is': 'computed',
      'Meter (dBFS)': Math.round(usual - (16 - gain)),
      'At the loudest (dBFS)': Math.round(usual + 20 - (16 - gain)),
      'Headroom (dB)': Math.floor(16 - gain - usual - 20),
      'S/N (dB)': Math.floor(usual - noiseAt(usual)),
      'Split loss (dB)': undefined,
    });
  });

  it('tells a gain that is written from one that is computed', () => {
    expect(cells('box.2')).toMatchObject({ 'Gain (dB)': 60, 'Gain is': `written, computed ${cells('box.1')['Gain (dB)']}` });
    // 16 - 60 is -44 dBu, and the peak is above it.
    expect(cells('box.2')['Headroom (dB)']).toBe(Math.floor(-44 - into(1800) - 20));
    expect(rowAt(blockOf(sheet, 'inputs', 'table'), 'box.2').findings.map(({ code }) => code)).toEqual(['levels/clips']);
    expect(cells('box.7')).toMatchObject({ 'Gain (dB)': undefined, 'Gain is': 'fixed' });
  });

  it('tells what is lost to the other leg', () => {
    const loss = Math.round(10 * (into(1800) - into(900))) / 10;
    expect(loss).toBeGreaterThan(0.5);
    expect([cells('box.3')['Split loss (dB)'], cells('box.4')['Split loss (dB)']]).toEqual([loss, loss]);
  });

  it('gives no figure where none is known', () => {
    expect(Object.values(cells('box.usb1')).filter((cell) => typeof cell === 'number')).toEqual([]);
    expect(blockOf(sheet, 'into-1', 'drawing').remark).toBe('Not drawn, as no level is known: Click.');
  });

  it('draws each line where its figures are', () => {
    const [drawing] = drawingsOf(sheet);
    const scale = levelScale(inputLines(contextOf(checked)));
    const mine = drawing?.drawing.shapes.filter((shape) => shape.place === rowAt(blockOf(sheet, 'inputs', 'table'), 'box.1').place) ?? [];
    const bar = mine.find((shape) => shape.kind === 'box' && shape.fill === 'accent');
    expect(bar).toMatchObject({
      x: expect.closeTo(xOf(scale, into(1800)), 1),
      width: expect.closeTo(xOf(scale, into(1800) + 20) - xOf(scale, into(1800)), 2),
    });
    const window = mine.find((shape) => shape.kind === 'box' && shape.fill === 'tint');
    expect(window).toMatchObject({ x: expect.closeTo(xOf(scale, noiseAt(into(1800))), 3) });
    const words = (place: string | undefined) =>
      drawing?.drawing.shapes.flatMap((shape) => (shape.kind === 'words' && shape.place === place ? [shape.text] : []));
    expect(words(mine[0]?.place)).toEqual(expect.arrayContaining(['Alone', 'Box 1', 'computed']));
    expect(words(rowAt(blockOf(sheet, 'inputs', 'table'), 'box.2').place)).toEqual(expect.arrayContaining(['60', 'written', 'clips']));
  });
});

describe('the house', async () => {
  it('is told what comes to its sockets, and no gain', async () => {
    const { checked } = await analyse(TOUR);
    const lines = houseLevels(contextOf(checked));
    expect(lines.map(({ socket }) => socket).sort()).toEqual(['house 5', 'house 8', 'house 9']);
    expect(lines.every(({ gain }) => gain === undefined)).toBe(true);
    // 1.2 mV/Pa at 100 dB SPL from 150 ohm into two desks of 2 kohm.
    const voice = 20 * Math.log10(1.2e-3 / 0.7746) + 100 - 93.98 - 20 * Math.log10(1 + 150 / 1000);
    expect(lines.find(({ socket }) => socket === 'house 8')?.usual).toBeCloseTo(voice, 1);
  });
});

describe('a loudspeaker output on a line input', async () => {
  it('has no gain to set and is not drawn', async () => {
    const sheet = levelsSheet((await analyse(here('danger.rig'))).checked);
    const cells = cellsOf(blockOf(sheet, 'inputs', 'table'), 'iface.1');
    expect(cells).toMatchObject({ 'Gain is': 'do not plug in', 'Gain (dB)': undefined, 'Usual (dBu)': undefined });
    expect(drawingsOf(sheet).flatMap(({ drawing }) => drawing.shapes.filter((shape) => shape.kind === 'words' && shape.bold))).toEqual([]);
  });
});

describe('many lines', async () => {
  it('go on pages, each with all its words', async () => {
    const sheet = levelsSheet((await analyseText(big(48, 4))).checked);
    const drawings = drawingsOf(sheet);
    expect(drawings).toHaveLength(6);
    for (const { drawing } of drawings) {
      expect(troubles(drawing)).toEqual([]);
      // Printable on Letter: 279 mm less margins and headings.
      expect([drawing.width <= 180, drawing.height <= 230]).toEqual([true, true]);
    }
    // The port's number stays, however long its gear's name is.
    const words = drawings.flatMap(({ drawing }) => drawing.shapes.flatMap((shape) => (shape.kind === 'words' ? [shape.text] : [])));
    expect(words.filter((text) => /^Interface .*….* 8$/.test(text))).toHaveLength(6);
  });
});

it('of nothing is empty', async () => {
  expect(levelsSheet((await analyseText('rig "Nothing"')).checked).blocks).toEqual([]);
});

describe('gear that is plugged in by its name', () => {
  const rig = `rig "by name"
model line-box { output out  trs  line  impedance 600 ohm  level -4 dBu  max 12 dBu }
model quiet-box { output out  trs  line  impedance 600 ohm  max 12 dBu }
model line-desk { input 1..2  trs  line  impedance 10 kohm  max 20 dBu  gain -10..12 dB  input optical  optical  digital  channels 8 }
gear amp is line-box
gear drone is quiet-box
gear pre is preamp-expander
gear theirs is quiet-box
gear desk is line-desk
input desk.1        takes amp
input desk.2        takes drone
input desk.optical  takes pre.optical
house 1  takes theirs`;

  it('stands on every sheet with its level, or as not stated, and a digital link with neither', async () => {
    const analysis = await analyseText(rig);
    const cells = (sheet: Sheet, id: string, heads: readonly string[]) => {
      const table = tableOf(sheet, id);
      const all = table.columns.flatMap((column) => (column.under ? [column.title, column.under.title] : [column.title]));
      return table.rows.map((row) => heads.map((head) => row.cells[all.indexOf(head)] ?? ''));
    };
    // 600 ohm into 10 kohm take 0.5 dB of -4 and 12 dBu; 6 dB above the peak ask for -7.5 dB of gain, rounded down to -8.
    const levels = levelsSheet(analysis.checked);
    expect(cells(levels, 'inputs', ['Source', 'Usual', 'Loudest', 'Gain', 'Headroom'])).toEqual([
      ['amp', Math.round(-4.506), Math.round(11.494), -8, 6],
      ['drone', 'not stated', 'not stated', '', ''],
    ]);
    expect(cells(levels, 'house', ['Usual', 'Loudest'])).toEqual([['not stated', 'not stated']]);
    expect(cells(patchSheet(analysis.checked), 'inputs', ['Source', 'Gain', 'Headroom', 'Level'])).toEqual([
      ['amp', -8, 6, Math.round(-4.506)],
      ['drone', '', '', 'not stated'],
      ['pre optical', '', '', ''],
    ]);
  });
});
