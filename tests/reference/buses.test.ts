/** Mixes as signals: sums of powers worked by hand, full scale at inputs and outputs, and what holds for any mix. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { balanceDb, dbfsOf, type Joint, type MixLevels, panDb, powerSum } from '#engine';
import { analyse, analyseText } from '../checks/open';

const HEAD = `rig "by hand"
model desk-1 is interface {
  input  1..4  xlr  line  impedance 10 kohm  max 20 dBu  gain -10..40 dB
  input  u1..u12  digital
  output 1..4  trs  line  impedance 100 ohm  max 18 dBu
  output ph  trs  phones  impedance 30 ohm  max 10 dBu  channels 2
  mixes  8 stereo
  latency 1 ms
}
model line-1 { output out  xlr  line  impedance 0.001 ohm  level 0 dBu  max 14 dBu }
model keys-1 { output left, right  xlr  separate  line  impedance 0.001 ohm  level 0 dBu  max 14 dBu }
model amp-1 { input in  trs  line  impedance 9.9 kohm  max 20 dBu }
performer p
gear desk is desk-1
`;

async function mixed(
  text: string,
): Promise<{ of(name: string): MixLevels; at(joint: Joint): { typical: number; peak: number } | undefined; joints: readonly Joint[] }> {
  const { checked } = await analyseText(HEAD + text);
  if (!checked) throw new Error('not a rig');
  return {
    of: (name) => {
      const levels = checked.buses.of(`mix:${name}`);
      if (!levels) throw new Error(`no mix ${name}`);
      return levels;
    },
    at: (joint) => checked.buses.at(joint),
    joints: checked.network.joints,
  };
}

/** The loudest of each side, in order. */
const peaks = (levels: MixLevels) => levels.sides.map(({ level }) => level?.peak);

/** So many channels of a computer, which are taken to peak at -6 dBFS and to be at -20 dBFS as a rule. */
const computer = (count: number) =>
  Array.from({ length: count }, (_, at) => `source c${at} is computer-channel\ninput desk.u${at + 1} takes c${at}\n`).join('');
const sends = (count: number, level = '0 dB') => Array.from({ length: count }, (_, at) => `c${at} ${level}`).join('  ');

describe('a sum of powers', () => {
  it('is 3.01 dB for two alike, 10 dB for ten, and hardly more than the louder of two far apart', () => {
    // 10 log10(2) and 10 log10(10); 0 and -20 dB: 10 log10(1.01) = 0.043 dB.
    expect(powerSum([-6, -6])).toBeCloseTo(-6 + 3.0103, 4);
    expect(powerSum(new Array(10).fill(-30))).toBeCloseTo(-20, 9);
    expect(powerSum([0, -20])).toBeCloseTo(0.0432, 4);
  });

  it('of nothing is nothing, and very large or small levels do not spill', () => {
    expect(powerSum([])).toBeUndefined();
    expect(powerSum([Number.NEGATIVE_INFINITY])).toBeUndefined();
    expect(powerSum([5000, 5000])).toBeCloseTo(5003.0103, 4);
    expect(powerSum([-5000, -5000])).toBeCloseTo(-4996.9897, 4);
  });

  it('never is less than its loudest part or more than all parts as loud as that', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -90, max: 20, noNaN: true }), { minLength: 1, maxLength: 20 }), (levels) => {
        const sum = powerSum(levels) as number;
        expect(sum).toBeGreaterThanOrEqual(Math.max(...levels) - 1e-9);
        expect(sum).toBeLessThanOrEqual(Math.max(...levels) + 10 * Math.log10(levels.length) + 1e-9);
        // The long way round, in watts.
        expect(sum).toBeCloseTo(10 * Math.log10(levels.map((level) => 10 ** (level / 10)).reduce((a, b) => a + b)), 6);
      }),
    );
  });
});

describe('a pan', () => {
  it('has 3.01 dB less on each side in the middle, and all or nothing at its ends', () => {
    expect(panDb(0, 'left')).toBeCloseTo(-3.0103, 4);
    expect(panDb(0, 'right')).toBeCloseTo(-3.0103, 4);
    expect(panDb(-100, 'left')).toBe(0);
    expect(panDb(-100, 'right')).toBe(Number.NEGATIVE_INFINITY);
    // Half way to the left: cos and sin of 22.5 degrees, 0.9239 and 0.3827.
    expect(panDb(-50, 'left')).toBeCloseTo(20 * Math.log10(0.92388), 3);
    expect(panDb(-50, 'right')).toBeCloseTo(20 * Math.log10(0.38268), 3);
  });

  it('keeps the power of both sides together, and mirrors', () => {
    fc.assert(
      fc.property(fc.double({ min: -100, max: 100, noNaN: true }), (percent) => {
        const [left, right] = [panDb(percent, 'left'), panDb(percent, 'right')];
        expect(10 ** (left / 10) + 10 ** (right / 10)).toBeCloseTo(1, 9);
        expect(10 ** (panDb(-percent, 'right') / 10)).toBeCloseTo(10 ** (left / 10), 9);
        expect(Math.max(balanceDb(percent, 'left'), balanceDb(percent, 'right'))).toBe(0);
      }),
    );
  });
});

describe('full scale', () => {
  it('of an input is its `max` at the lowest gain, and as much lower as the gain is higher', () => {
    // 20 dBu at -10 dB of gain; at 5 dB, 15 dB more, it clips at 5 dBu: -7 dBu is 12 dB under.
    expect(dbfsOf(20, 20, -10, -10)).toBe(0);
    expect(dbfsOf(-7, 20, -10, 5)).toBe(-12);
  });

  it('of a channel follows from the gain that is written, or else from the gain to set', async () => {
    const text = (gain: string) =>
      `source a is line-1\ninput desk.1 takes a ${gain}\nmix m mono for p { a -3 dB }\noutput desk.1 carries m`;
    // 0 dBu usual and 14 dBu at most. At -4 dB of gain it clips at 20 - 6 = 14 dBu: 0 dBFS, less 3 dB of the send.
    const written = (await mixed(text('gain -4 dB'))).of('m').sides[0]?.level;
    expect(written?.peak).toBeCloseTo(-3, 3);
    expect(written?.typical).toBeCloseTo(-17, 3);
    // The gain to set keeps 6 dB over the peak: -6 dBFS.
    expect(peaks((await mixed(text(''))).of('m'))[0]).toBeCloseTo(-9, 3);
    // What the input cuts off goes no further: 10 dB more gain does not make it louder than full scale.
    expect(peaks((await mixed(text('gain 6 dB'))).of('m'))[0]).toBeCloseTo(-3, 9);
  });

  it('of an output is its `max`, unloaded; a load takes its part', async () => {
    const { of, at, joints } = await mixed(`${computer(1)}mix m mono for p { c0 -4 dB }\noutput desk.1 carries m via amp-1`);
    const [leaving] = of('m').leaving;
    // -6 - 4 = -10 dBFS at the peak, -24 as a rule: 8 and -6 dBu.
    expect(leaving?.level.peak).toBeCloseTo(8, 9);
    expect(leaving?.level.typical).toBeCloseTo(-6, 9);
    // 100 ohm into 9.9 kohm: 20 log10(9900 / 10000) = -0.0873 dB.
    const joint = joints.find(({ to }) => to.piece.label.includes('amp-1')) as Joint;
    expect(at(joint)?.peak).toBeCloseTo(8 - 0.0873, 3);
    expect(at(joint)?.typical).toBeCloseTo(-6 - 0.0873, 3);
  });

  it('is what an output gives at most', async () => {
    const { of } = await mixed(`${computer(8)}mix m mono for p { ${sends(8)} }\noutput desk.1 carries m via headphone-amp`);
    // Eight at -6 dBFS: -6 + 9.03 = 3.03 dB over.
    expect(peaks(of('m'))[0]).toBeCloseTo(3.03, 2);
    expect(of('m').leaving[0]?.level.peak).toBe(18);
    expect(of('m').leaving[0]?.cutDb).toBeCloseTo(3.03, 2);
  });
});

describe('a mix', () => {
  it('of two alike is 3.01 dB over one, and of ten 10 dB', async () => {
    const { of } = await mixed(
      `${computer(10)}mix one mono for p { ${sends(1)} }\nmix two mono for p { ${sends(2)} }\nmix ten mono for p { ${sends(10)} }`,
    );
    expect(peaks(of('one'))[0]).toBeCloseTo(-6, 9);
    expect(of('one').sides[0]?.level?.typical).toBeCloseTo(-20, 9);
    expect(peaks(of('two'))[0]).toBeCloseTo(-2.99, 2);
    expect(peaks(of('ten'))[0]).toBeCloseTo(4, 9);
  });

  it('in mono has both channels of a stereo source, 3.01 dB over one of them; a channel that is named comes alone', async () => {
    const { of } = await mixed(
      `source k is keys-1\ninput desk.1..2 takes k gain -4 dB\nmix both mono for p { k 0 dB }\nmix one mono for p { k.left 0 dB }`,
    );
    expect(peaks(of('one'))[0]).toBeCloseTo(0, 3);
    expect(peaks(of('both'))[0]).toBeCloseTo(3.01, 2);
  });

  it('in stereo has left on the left and right on the right, a balance apart, and what is mono in the middle', async () => {
    const { of } = await mixed(
      `source k is keys-1\nsource a is line-1\ninput desk.1..2 takes k gain -4 dB\ninput desk.3 takes a gain -4 dB
mix wide stereo for p { k 0 dB }\nmix turned stereo for p { k 0 dB right 100 % }\nmix middle stereo for p { a 0 dB }\nmix panned stereo for p { a 0 dB left 100 % }`,
    );
    for (const peak of peaks(of('wide'))) expect(peak).toBeCloseTo(0, 3);
    expect(peaks(of('turned'))[0]).toBeUndefined();
    expect(peaks(of('turned'))[1]).toBeCloseTo(0, 3);
    expect(peaks(of('middle'))[0]).toBeCloseTo(-3.01, 2);
    expect(peaks(of('middle'))[1]).toBeCloseTo(-3.01, 2);
    expect(peaks(of('panned'))[0]).toBeCloseTo(0, 3);
    expect(peaks(of('panned'))[1]).toBeUndefined();
  });

  it('in stereo leaves by two outputs side by side, or whole by one with two channels', async () => {
    const { of } = await mixed(
      `${computer(2)}mix m stereo for p { c0 0 dB left 100 %  c1 -10 dB right 100 % }\noutput desk.1..2 carries m via headphone-amp\noutput desk.ph carries m`,
    );
    expect(of('m').leaving.map(({ level }) => Number(level.peak.toFixed(3)))).toEqual([12, 2, 4]);
  });

  it('counts two sources behind one switch once: they never play together', async () => {
    const { of } = await mixed(
      'source a is preamp-pickup\nsource b is preamp-pickup\nmodel jack-1 is interface { input 1 ts instrument impedance 1 Mohm max 10 dBu gain 0..50 dB }\ngear box is jack-1\ngear foot is ab-switch\ninput box.1 takes a via foot.a gain 4 dB\ninput box.1 takes b via foot.b gain 4 dB\nmix both mono for p { a 0 dB  b 0 dB }\nmix one mono for p { a 0 dB }',
    );
    expect(peaks(of('both'))[0]).toBeCloseTo(peaks(of('one'))[0] as number, 6);
  });

  it('has what lands on an expander as it is there, by a link of numbers', async () => {
    const { of } = await mixed(
      `model box-1 is expander { input 1 xlr line impedance 10 kohm max 20 dBu gain -10..40 dB
  output opt optical from 1 active digital channels 8 }
model hub-1 is interface { input opt optical digital channels 8
  output 1 trs line impedance 100 ohm max 18 dBu
  mixes 1 mono }
gear box is box-1
gear hub is hub-1
source a is line-1
input box.1 takes a gain -4 dB
input hub.opt takes box
mix m mono for p { a -2 dB }
output hub.1 carries m via headphone-amp`,
    );
    expect(peaks(of('m'))[0]).toBeCloseTo(-2, 3);
  });

  it('of nothing, or of what is not plugged in, has no level and says no word of it', async () => {
    const { of } = await mixed(
      'source a is line-1\nmix none mono for p { }\nmix loose mono for p { a 0 dB }\noutput desk.1 carries none\noutput desk.2 carries loose',
    );
    expect(of('none').sides).toEqual([{ side: undefined, level: undefined, from: [] }]);
    expect(of('loose').leaving).toEqual([]);
  });
});

describe('for any mix', () => {
  const send = fc.record({
    level: fc.integer({ min: -60, max: 10 }),
    side: fc.constantFrom('left', 'right'),
    percent: fc.integer({ min: 0, max: 100 }),
  });
  const written = (list: readonly { level: number; side: string; percent: number }[], pan: boolean) =>
    list.map(({ level, side, percent }, at) => `c${at} ${level} dB${pan ? ` ${side} ${percent} %` : ''}`).join('  ');

  it('another send never makes it quieter; both sides together have the power of the same in mono; turning all down turns it down', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(send, { minLength: 2, maxLength: 12 }), fc.integer({ min: 1, max: 20 }), async (list, down) => {
        const lower = list.map((each) => ({ ...each, level: each.level - down }));
        const { of } = await mixed(
          `${computer(12)}mix mono-all mono for p { ${written(list, false)} }\nmix fewer mono for p { ${written(list.slice(0, -1), false)} }
mix wide stereo for p { ${written(list, true)} }\nmix lower mono for p { ${written(lower, false)} }`,
        );
        const all = peaks(of('mono-all'))[0] as number;
        expect(all).toBeGreaterThanOrEqual((peaks(of('fewer'))[0] as number) - 1e-9);
        expect(powerSum(peaks(of('wide')).flatMap((peak) => peak ?? []))).toBeCloseTo(all, 6);
        expect(peaks(of('lower'))[0]).toBeCloseTo(all - down, 6);
      }),
      { numRuns: 40 },
    );
  });

  it('it clips by the figure that is told, and no more once it is turned down by what is told', async () => {
    const clipping = async (text: string) =>
      (await analyseText(HEAD + text)).located.find(({ finding }) => finding.code === 'mixes/clips')?.finding.figures;
    for (const count of [1, 4, 5, 6, 9, 12]) {
      const rig = (level: string) =>
        `${computer(count)}mix m mono for p { ${sends(count, level)} }\noutput desk.1 carries m via headphone-amp`;
      const told = (await clipping(rig('0 dB'))) as { overDb: number; downDb: number } | undefined;
      const overDb = 10 * Math.log10(count) - 6;
      // A dB over is within what such an estimate can say.
      expect(told !== undefined, `${count} channels`).toBe(overDb > 1);
      if (!told) continue;
      expect(told.overDb).toBeCloseTo(overDb, 6);
      expect(await clipping(rig(`-${told.downDb} dB`))).toBeUndefined();
    }
  });
});

describe('all examples', () => {
  it('stay under full scale and have a level for every mix', async () => {
    for (const name of ['choir', 'first', 'street', 'ten']) {
      const { checked } = await analyse(new URL(`../../examples/${name}.rig`, import.meta.url).pathname);
      expect(checked?.buses.all.length).toBeGreaterThan(0);
      for (const each of checked?.buses.all ?? []) {
        expect(each.leaving.length, each.mix.label).toBeGreaterThan(0);
        for (const peak of peaks(each)) expect(peak, each.mix.label).toBeLessThan(0);
      }
    }
  });
});
