/** One master, and who follows whom, worked out by hand. */
import { describe, expect, it } from 'vitest';
import { clocksOf } from '#engine';
import { sheetOf } from '#sheets';
import { analyseText } from '../checks/open';

const HEAD = `rig "Clock" rate 48 kHz
model desk is interface { input 1..2 xlr mic  input a, b optical digital channels 8  output a optical digital channels 8  mixes 2 stereo }
model box is expander { input 1..2 xlr mic  output out optical from 1..2 active digital channels 8 }
model led is expander { input 1..2 xlr mic  input in optical digital  output out optical from 1..2 active digital channels 8 }
gear iface "Desk" is desk
`;

const clocks = async (body: string) => {
  const { checked } = await analyseText(HEAD + body);
  if (!checked) throw new Error('no rig');
  return clocksOf(checked.network).map(({ master, follows, others }) => ({
    master: master.label,
    follows: follows.map(({ piece, by }) => `${piece.label} by ${by.to.port.id}`),
    others: others.map(({ piece }) => piece.label),
  }));
};

describe('clock', () => {
  it('a box that nothing brings a clock to keeps the time, and what it sends to follows', async () => {
    expect(await clocks('gear x "Box" is box\ninput iface.a takes x')).toEqual([{ master: 'Box', follows: ['Desk by a'], others: [] }]);
  });

  it('two such boxes cannot both', async () => {
    expect(await clocks('gear x "Box" is box\ngear y "Other" is box\ninput iface.a takes x\ninput iface.b takes y')).toEqual([
      { master: 'Box', follows: ['Desk by a'], others: ['Other'] },
    ]);
  });

  it('a box that has the desk’s clock follows it: each has one from the other, so what makes the mixes keeps the time', async () => {
    expect(await clocks('gear x "Box" is led\ninput iface.a takes x\ninput x.in takes iface.a')).toEqual([
      { master: 'Desk', follows: ['Box by in'], others: [] },
    ]);
  });

  it('a chain is set step by step', async () => {
    expect(await clocks('gear x "Box" is box\ngear y "Led" is led\ninput y.in takes x\ninput iface.a takes y')).toEqual([
      { master: 'Box', follows: ['Led by in', 'Desk by a'], others: [] },
    ]);
  });

  // Common practice: the interface keeps the time, and its clock goes from box to box.
  it('by clock sockets two boxes follow the desk, or one the other', async () => {
    const gear =
      'model boxed is box { input clock bnc digital  output clock bnc digital }\nmodel clocked is desk { output clock bnc digital }\ngear top "Top" is clocked\ngear x "Box" is boxed\ngear y "Other" is boxed\ninput top.a takes x.out\ninput top.b takes y.out\n';
    expect(await clocks(`${gear}input y.clock takes x.clock`)).toEqual([
      { master: 'Box', follows: ['Top by a', 'Other by clock'], others: [] },
    ]);
    expect(await clocks(`${gear}input x.clock takes top.clock\ninput y.clock takes x.clock`)).toEqual([
      { master: 'Top', follows: ['Box by clock', 'Other by clock'], others: [] },
    ]);
  });

  it.each([
    ['rates 44.1 kHz, 48 kHz', 48, []],
    ['rates 44.1 kHz', 48, ['clock/no-such-rate']],
    ['rates 88.2 kHz, 96 kHz', 96, []],
    ['', 192, []],
  ])('a box with %s in a rig at %d kHz', async (rates, rate, codes) => {
    const { checked } = await analyseText(
      `${HEAD.replace('48', String(rate))}model odd is box { ${rates} }\ngear x "Box" is odd\ninput iface.a takes x`,
    );
    expect(checked?.findings.map(({ code }) => code).filter((code) => code.startsWith('clock/'))).toEqual(codes);
  });

  it('without digital leads there is nothing to set', async () => {
    expect(await clocks('source v is dynamic-mic\ninput iface.1 takes v')).toEqual([]);
  });

  it('is a step of setting up', async () => {
    const { checked } = await analyseText(`${HEAD}gear x "Box" is box\ninput iface.a takes x`);
    if (!checked) throw new Error('no rig');
    const sheet = await sheetOf('set-up', checked, checked.findings);
    const table = sheet.blocks.find(({ id }) => id === 'switches');
    expect(table?.kind === 'table' && table.rows.map(({ cells }) => cells)).toEqual([
      ['Box', 'its own clock, 48 kHz', 'keeps the time'],
      ['Desk', 'clock from a, 48 kHz', 'follows Box'],
    ]);
  });
});
