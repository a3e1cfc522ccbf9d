/** Connectors and phantom power as standards have them. */
import { describe, expect, it } from 'vitest';
import { endLabel, leadBetween, mates, needsPhantom } from '#engine';
import { libraryFiles } from '#language';
import { CONNECTORS, type Connector, type Model, type Port, type SignalKind } from '#rig';
import { analyseText, foundIn } from '../checks/open';

const port = (
  direction: 'input' | 'output',
  connector: Connector,
  kind: SignalKind,
  balanced = CONNECTORS[connector].poles >= 3,
): Port => ({
  id: 'p',
  direction,
  connector,
  modes: [{ kind, balanced, floating: false }],
  separate: false,
  bank: 0,
  place: '',
});

const lead = (output: Port, input: Port, kind: SignalKind) => leadBetween(output, input, kind)?.ends.map(endLabel);

describe('XLR', () => {
  // AES14 and IEC 60268-12, from memory: pin 1 screen, pin 2 hot, pin 3 cold; outputs have pins, inputs have sockets.
  it('has three contacts', () => {
    expect(CONNECTORS.xlr.poles).toBe(3);
  });

  it('leads have a female end for the output and a male end for the input', () => {
    expect(lead(port('output', 'xlr', 'mic'), port('input', 'xlr', 'mic'), 'mic')).toEqual(['XLR female', 'XLR male']);
  });

  it('goes into the XLR half of a combo socket at microphone level, and as a jack at line level', () => {
    // Common practice, no source: the XLR half leads to the microphone preamp, the jack half past it.
    expect(lead(port('output', 'xlr', 'mic'), port('input', 'combo', 'mic'), 'mic')).toEqual(['XLR female', 'XLR male']);
    expect(lead(port('output', 'xlr', 'line'), port('input', 'combo', 'line'), 'line')).toEqual(['XLR female', '6.35 mm TRS jack']);
  });
});

describe('jacks', () => {
  // IEC 60603-11, from memory: the 6.35 mm jack with two contacts (tip, sleeve) or three (tip, ring, sleeve).
  it.each([
    ['ts', 2],
    ['trs', 3],
    ['mini-ts', 2],
    ['mini-trs', 3],
  ] as const)('%s has %d contacts', (connector, contacts) => {
    expect(CONNECTORS[connector].poles).toBe(contacts);
  });

  // Common practice, no source: a mono lead earths the ring of the socket that it is plugged into.
  it('with two contacts go by a lead with two at both ends, and with three by one that keeps the ring off', () => {
    const plugs = (from: Connector, into: Connector) =>
      leadBetween(port('output', from, 'line'), port('input', into, 'line'), 'line')?.ends.map(({ connector }) => connector);
    expect(plugs('ts', 'trs')).toEqual(['ts', 'ts']);
    expect(plugs('mini-ts', 'mini-trs')).toEqual(['mini-ts', 'mini-ts']);
    expect(plugs('trs', 'ts')).toEqual(['trs', 'ts']);
    expect(plugs('ts', 'phono')).toEqual(['ts', 'phono']);
  });

  it('with two contacts at either end make the lead unbalanced', () => {
    expect(leadBetween(port('output', 'trs', 'line'), port('input', 'trs', 'line'), 'line')?.balanced).toBe(true);
    expect(leadBetween(port('output', 'ts', 'line'), port('input', 'trs', 'line'), 'line')?.balanced).toBe(false);
    expect(leadBetween(port('output', 'trs', 'line'), port('input', 'phono', 'line'), 'line')?.balanced).toBe(false);
  });
});

describe('what does not mate', () => {
  it.each([
    ['optical', 'coaxial'],
    ['usb', 'xlr'],
    ['speaker-twist', 'xlr'],
  ] as const)('%s and %s', (from, to) => {
    expect(mates(port('output', from, 'digital'), port('input', to, 'digital'))).toBe(false);
  });
});

/** Every model of the library, as the engine sees it. */
async function library(): Promise<Model[]> {
  const names = libraryFiles().flatMap(({ text }) => [...text.matchAll(/^model (\S+)/gm)].map(([, name = '']) => name));
  const { lowered } = await analyseText(['rig "all of it"', ...names.map((name, index) => `gear g${index} is ${name}`)].join('\n'));
  return [...lowered.rig.pieces.values()].map(({ model }) => model);
}

describe('phantom power', () => {
  // IEC 61938:2018, values as reported by several public descriptions: P48 supplies 44 to 52 V and 10 mA at most.
  const MOST_A = 10e-3;

  it('the library draws no more than 10 mA anywhere', async () => {
    const needy = (await library()).flatMap((model) =>
      model.ports.filter(needsPhantom).map((each) => ({ id: model.id, draws: each.modes[0]?.drawsA })),
    );
    expect(needy.length).toBeGreaterThan(3);
    for (const { id, draws } of needy) expect(draws, id).toBeGreaterThan(0);
    for (const { id, draws } of needy) expect(draws, id).toBeLessThanOrEqual(MOST_A);
  });

  it('the library supplies 10 mA for each input that has it', async () => {
    const supplies = (await library()).filter((model) => model.phantomA !== undefined);
    expect(supplies.length).toBeGreaterThan(3);
    for (const { id, phantomA, ports } of supplies) {
      const inputs = ports.filter(
        ({ direction, modes }) => direction === 'input' && modes.some(({ phantom }) => phantom === 'each' || phantom === 'shared'),
      );
      expect(phantomA, id).toBeCloseTo(inputs.length * MOST_A, 9);
    }
  });

  // IEC 61938: fed over both signal conductors, back over the screen; so three contacts all the way, and no transformer between.
  it.each([
    ['y-lead.1', []],
    ['loom-8', []],
    ['transformer-split.direct', []],
    ['box-1', ['phantom/blocked']],
    ['two-contacts', ['phantom/blocked']],
    ['electronics', ['phantom/blocked']],
  ])('via %s', async (via, codes) => {
    const { located } = await analyseText(`rig "phantom"
model box-1 is splitter        { input in  xlr  output out  xlr  from in transformer 1:1 }
model two-contacts is splitter { input in  ts   output out  xlr  from in parallel }
model electronics is splitter  { input in  xlr  mic  impedance 5 kohm  output out  xlr  from in active  mic  impedance 150 ohm }
performer p
source s is condenser-mic by p
gear desk is interface-2
input desk.1 takes s via ${via}
mix p mono for p { s 0 dB }
output desk.phones carries p`);
    expect(located.map(({ finding }) => finding.code).filter((code) => code.startsWith('phantom/'))).toEqual(codes);
  });

  it('comes from the desk on the direct side where ours is behind the transformer, and from nowhere where there is none', async () => {
    const text = (house: string) => `rig "phantom"
performer p
source s is condenser-mic by p
gear desk is interface-2
input desk.1 takes s via transformer-split.iso
${house}
mix p mono for p { s 0 dB }
output desk.phones carries p`;
    const codes = async (house: string) => foundIn(await analyseText(text(house))).map(({ code }) => code);
    expect(await codes('house 1 takes s')).toEqual([]);
    expect(await codes('')).toContain('phantom/blocked');
  });
});
