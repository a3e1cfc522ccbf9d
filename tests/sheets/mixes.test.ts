/** The sheet of mixes: who hears what as tables, and the same as bars. */
import { describe, expect, it } from 'vitest';
import { sheetOf } from '#sheets';
import type { Shape } from '../../packages/sheets/drawing';
import { mixesSheet } from '../../packages/sheets/mixes/sheet';
import { big } from './big';
import { blockOf, cellsOf, drawingsOf, rowAt } from './blocks';
import { troubles } from './drawings';
import { analyse, analyseText, here, TOUR } from './load';

const wordsIn = (shapes: readonly Shape[]) => shapes.flatMap((shape) => (shape.kind === 'words' ? [shape.text] : []));

describe('the tour', async () => {
  const sheet = mixesSheet((await analyse(TOUR)).checked);
  const summary = blockOf(sheet, 'summary', 'table');

  it('has a row for each mix, and one for who has none', () => {
    expect(summary.rows.map(({ cells }) => cells.slice(0, 5))).toEqual([
      ['ilse', 'mono', 'Ilse', 'Interface 1', "Transmitter left, 863.3 MHz → Ilse's pack"],
      ['tomek', 'mono', 'Tomek', 'Interface 2', "Transmitter right, 863.3 MHz → Tomek's pack"],
      ['oye', 'stereo', 'Oye', 'Interface 3 and 4', 'Headphone amplifier left; Headphone amplifier right'],
      ['for-house', 'mono', 'the house', 'Interface 5', 'Passive DI → house 15'],
      ['no mix yet', undefined, 'Brana', undefined, undefined],
    ]);
    expect(rowAt(summary, 'performer:brana').findings.map(({ code }) => code)).toEqual(['mixes/no-mix']);
  });

  it('cautions about ears and limiters', () => {
    const { cautions } = blockOf(sheet, 'cautions', 'cautions');
    expect(cautions.map(({ subject }) => subject)).toEqual(['Ears', 'How loud']);
    expect(cautions.map(({ text }) => text).join(' ')).toMatch(/limiter/);
  });
});

const RIG = `rig "By hand"
model plain-mic "Plain microphone" is microphone {
  output out xlr mic impedance 200 ohm sensitivity 2 mV/Pa
  typical 94 dB SPL
  peak 114 dB SPL
}
model plain-box "Plain box" is interface {
  input 1..4 xlr mic impedance 1.8 kohm max 6 dBu gain 10..60 dB
  input 5..6 trs line impedance 10 kohm max 20 dBu
  input usb1 digital
  output 1..6 trs line impedance 150 ohm max 16 dBu
  output phones1..phones2 trs phones impedance 30 ohm max 10 dBu channels 2
  mixes 4 stereo
  latency 2 ms
}
performer ada "Ada"
performer bo  "Bo"
source one   "One" is plain-mic by ada
source two   "Two" is plain-mic by bo
source keys  "Keys" is stereo-keyboard by bo
source click "Click" is click-channel
source spare "Spare" is plain-mic
gear box "Box" is plain-box
input box.1 takes two
input box.2 takes one
input box.3 takes spare
input box.5..6 takes keys
input box.usb1 takes click
mix ada  "Ada's"  mono   for ada { two -6 dB  one 0 dB }
mix bo   "Bo's"   stereo for bo  { one 0 dB  two -3 dB left 40 %  keys -10 dB  click -20 dB right 100 % }
mix only "Only"   mono   for bo  { click 0 dB }
mix none "None"   mono   for ada { }
output box.1 carries ada via headphone-amp
output box.phones1 carries bo
output box.phones2 carries only
`;

describe('a send above 0 dB', async () => {
  const plain = (await analyseText(RIG)).checked;
  const { checked } = await analyseText(
    RIG.replace('click -20 dB right 100 %', 'click 12 dB right 100 %').replace('two -3 dB left', 'two 0.04 dB left'),
  );
  const sheet = mixesSheet(checked);
  const sends = blockOf(sheet, 'sends', 'table');
  const up = await sheetOf('set-up', checked);

  it('is marked in the table, with what the mark means; 0 dB and less are not', () => {
    expect(sends.rows.map(({ cells }) => cells[4])).toEqual([0, 0, undefined, -10, '12 (!)']);
    expect(sends.remark).toContain('(!): above 0 dB, louder than it comes');
    expect(blockOf(mixesSheet(plain), 'sends', 'table').remark).not.toContain('(!)');
  });

  it('stands out among the bars, and says so to who cannot see them', () => {
    const [{ drawing, description } = { drawing: { shapes: [] }, description: '' }] = drawingsOf(sheet);
    const bold = drawing.shapes
      .filter((shape) => shape.kind === 'words' && shape.bold)
      .map((shape) => shape.kind === 'words' && shape.text);
    expect(bold).toContain('! 12');
    expect(wordsIn(drawing.shapes)).toContain('above 0 dB, louder than it comes');
    expect(description).toContain('Click 12 dB above 0 dB');
    expect(wordsIn(drawingsOf(mixesSheet(plain)).flatMap(({ drawing: { shapes } }) => shapes)).join()).not.toContain('!');
  });

  it('is marked where it is brought up', () => {
    const mixes = blockOf(up, 'mixes', 'table');
    expect(rowAt(mixes, 'mix:bo').cells[3]).toContain('Click 12 dB (!), ');
    expect(mixes.remark).toContain('before anybody’s ears go in');
    expect(blockOf(up, 'cautions', 'cautions').cautions.map(({ subject }) => subject)).toContain('Ears');
  });
});

describe('how loud one hears oneself', async () => {
  const peaky = 'model peaky-mic is plain-mic { typical 84 dB SPL }';
  const text = RIG.replace('performer ada', `${peaky}\nperformer ada`).replace('is plain-mic by ada', 'is peaky-mic by ada');
  const own = async (ada: string) => {
    const sheet = mixesSheet((await analyseText(text.replace(/mix ada .*/, ada))).checked);
    const block = sheet.blocks.find(({ id }) => id === 'own');
    const row = block?.kind === 'table' ? block.rows.find(({ key }) => key === 'performer:ada source:one mix:ada') : undefined;
    return row?.cells.slice(3);
  };

  // Peaks are lined up at -6 dBFS: usual levels are 30 and 20 dB below, -36 and -26.
  it.each([
    ['mix ada mono for ada { one 0 dB two -6 dB }', [-4, 'Two by 4 dB']],
    // The loudest in their own mix.
    ['mix ada mono for ada { one 0 dB two -20 dB }', undefined],
    ['mix ada mono for ada { one 0 dB }', undefined],
    // Constant power: a sound that is panned is as loud as in the middle.
    ['mix ada stereo for ada { one 0 dB two -6 dB right 100 % }', [-4, 'Two by 4 dB']],
    // What nobody knows counts with the rest, and is not named.
    ['mix ada mono for ada { one 0 dB click 0 dB }', [-16, undefined]],
  ])('%s', async (ada, cells) => {
    expect(await own(ada)).toEqual(cells);
  });
});

describe('mixes by hand', async () => {
  const sheet = mixesSheet((await analyseText(RIG)).checked);
  const summary = blockOf(sheet, 'summary', 'table');
  const sends = blockOf(sheet, 'sends', 'table');

  it('sums powers at the gains to set', () => {
    // Gains leave 6 dB above the peaks, which are 20 dB above the usual; one of the two comes 6 dB lower.
    const sum = 10 * Math.log10(1 + 10 ** -0.6);
    expect(cellsOf(summary, 'mix:ada')).toMatchObject({
      'Usual (dBFS)': Math.round(-26 + sum),
      'Headroom (dB)': Math.floor(6 - sum),
      'Own sound late by (ms)': 2,
    });
  });

  it('gives no level of a mix of which nothing is known, and says what is guessed', () => {
    expect(cellsOf(summary, 'mix:only')).toMatchObject({ 'Usual (dBFS)': undefined, 'Headroom (dB)': undefined });
    expect(summary.remark).toMatch(/How loud Click comes is not known/);
    expect(rowAt(summary, 'mix:none').unfinished).toBe(true);
  });

  it('has sources down in the order of the inputs, and mixes across with levels and sides', () => {
    expect(sends.columns.map(({ title, under }) => [title, under?.title])).toEqual([
      ['Source', 'By'],
      ['Input', undefined],
      ["Ada's", undefined],
      ["Bo's", "Bo's, side"],
      ['Only', undefined],
      ['None', undefined],
    ]);
    expect(sends.rows.map(({ cells }) => cells)).toEqual([
      ['Two', 'Bo', 'Box 1', -6, -3, 'left 40 %', undefined, undefined],
      ['One', 'Ada', 'Box 2', 0, 0, undefined, undefined, undefined],
      ['Spare', undefined, 'Box 3', undefined, undefined, undefined, undefined, undefined],
      ['Keys', 'Bo', 'Box 5 and 6', undefined, -10, undefined, undefined, undefined],
      ['Click', undefined, 'Box usb1', undefined, -20, 'right 100 %', 0, undefined],
    ]);
    expect(sends.remark).toMatch(/never for the audience: Click\./);
    expect(rowAt(sends, 'source:two').about).toEqual(expect.arrayContaining(['mix:ada/send.two', 'mix:bo/send.two']));
  });

  it('draws the loudest first, with the listener’s own marked by a shape', () => {
    const [block] = drawingsOf(sheet);
    const shapes = block?.drawing.shapes ?? [];
    const send = (place: string) => shapes.filter((shape) => shape.place === place);
    const order = [...new Set(shapes.flatMap(({ place }) => (place?.startsWith('mix:bo/send') ? [place] : [])))];
    expect(order.map((place) => wordsIn(send(place)))).toEqual([
      ['One', '0'],
      ['Two', '−3'],
      ['Keys', '−10'],
      ['Click', '−20'],
    ]);
    const diamonds = (place: string) => send(place).filter((shape) => shape.kind === 'path' && shape.closed).length;
    expect(order.map(diamonds)).toEqual([0, 1, 1, 0]);
    // Bars are as long as their level is high above the lowest on the scale.
    const bars = order.map((place) => send(place).find((shape) => shape.kind === 'box'));
    const widths = bars.map((bar) => (bar?.kind === 'box' ? bar.width : Number.NaN));
    expect((widths[0] ?? 0) - (widths[1] ?? 0)).toBeCloseTo(((widths[0] ?? 0) - (widths[3] ?? 0)) * (3 / 20), 6);
    // Click is at the right end, Two left of the middle; what is stereo itself has both ends.
    const dots = (place: string) => send(place).flatMap((shape) => (shape.kind === 'dot' ? [shape.x] : []));
    const [one = 0] = dots(order[0] ?? '');
    const [two = 0] = dots(order[1] ?? '');
    const [left = 0, right = 0] = dots(order[2] ?? '');
    const [click = 0] = dots(order[3] ?? '');
    expect(one).toBeCloseTo((left + right) / 2, 6);
    expect(two).toBeCloseTo(one - 0.4 * (one - left), 6);
    expect(click).toBeCloseTo(right, 6);
    expect(wordsIn(shapes)).toContain('Nothing is sent to it yet.');
    expect(block?.description).toContain("Bo's: loudest One 0 dB in the middle");
  });

  it('tells how late everybody hears themselves', () => {
    const late = blockOf(sheet, 'latency', 'table');
    expect(late.rows.map(({ cells }) => cells.slice(0, 5))).toEqual([
      // 2 ms of sound in air at 343 m/s is 0.7 m.
      ['Ada', 'One', "Ada's", 2, 0.7],
      ['Bo', 'Two', "Bo's", 2, 0.7],
      ['Bo', 'Keys', "Bo's", 2, 0.7],
    ]);
  });
});

describe('many mixes', async () => {
  const sheet = mixesSheet((await analyseText(big(48, 12))).checked);

  it('are told in tables of eight at most, about equally wide', () => {
    expect(sheet.blocks.filter(({ kind }) => kind === 'table').map(({ id }) => id)).toEqual([
      'summary',
      'sends-1',
      'sends-2',
      'latency',
      'own',
      'strips',
    ]);
    expect(blockOf(sheet, 'sends-1', 'table').columns).toHaveLength(2 + 6);
    expect(blockOf(sheet, 'sends-2', 'table').columns).toHaveLength(2 + 6);
  });

  it('are drawn on pages, each send once', () => {
    const drawings = drawingsOf(sheet);
    const bars = drawings.flatMap(({ drawing }) => drawing.shapes.filter((shape) => shape.kind === 'box' && shape.place));
    expect(new Set(bars.map(({ place }) => place)).size).toBe(48 * 12);
    expect(bars).toHaveLength(48 * 12);
    for (const { drawing } of drawings) {
      expect(troubles(drawing)).toEqual([]);
      expect([drawing.width <= 180, drawing.height <= 235]).toEqual([true, true]);
    }
  });
});

describe('half a rig', async () => {
  it('shows what is understood and says what is missing', async () => {
    const summary = blockOf(mixesSheet((await analyse(here('half.rig'))).checked), 'summary', 'table');
    expect(summary.rows.map(({ cells, unfinished }) => [cells[0], cells[2], cells[3], unfinished])).toEqual([
      ['anouk', 'Anouk', 'no output yet', true],
      ['spare', 'nobody yet', 'no output yet', true],
      ['no mix yet', 'Bram', undefined, true],
    ]);
  });
});

it('of nothing is empty', async () => {
  expect(mixesSheet((await analyseText('rig "Nothing"')).checked).blocks).toEqual([]);
});
