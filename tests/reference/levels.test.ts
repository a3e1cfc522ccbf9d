/** Levels and gains worked by hand, step by step. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Arrival, earsDbSpl, isUnstated } from '#engine';
import { voltsOfDbu } from '#rig';
import { analyseText, rigsIn } from '../checks/open';
import { Spice } from './spice';

async function arrivalAt(text: string, port: string): Promise<Arrival> {
  const { checked } = await analyseText(text);
  const arrival = checked?.levels.arrivals.find(({ line }) => line.end?.key === port);
  if (!arrival) throw new Error(`nothing arrives at ${port}`);
  return arrival;
}

const rig = (source: string, port: string, settings = '') => `rig "by hand" ${settings}
model mic-1 { output out  xlr  mic  impedance 150 ohm  sensitivity 1.2 mV/Pa  max 150 dB SPL }
model desk-1 {
  input 1  xlr { mic   impedance 2 kohm   max 2 dBu   gain 0..55 dB }
  input 2  trs { line  impedance 10 kohm  max 20 dBu  gain -10..12 dB }
}
source s is mic-1 ${source}
gear desk is desk-1
input desk.${port} takes s`;

describe('a microphone', () => {
  it('of 1.2 mV/Pa, 150 ohm, at 100 dB SPL into 2 kohm', async () => {
    const { typicalDbu, peakDbu, lossDb, gain } = await arrivalAt(rig('typical 100 dB SPL peak 120 dB SPL', '1'), 'gear:desk.1');
    // 1.2 mV at 1 Pa is 20 log10(0.0012 / 0.7746) = -56.20 dBu; 100 dB SPL is 6.02 dB above 1 Pa: -50.18 dBu unloaded.
    // 150 ohm into 2 kohm loses 20 log10(2150 / 2000) = 0.63 dB: -50.80 dBu. The peak is 20 dB above that.
    expect(lossDb).toBeCloseTo(0.63, 2);
    expect(typicalDbu).toBeCloseTo(-50.8, 1);
    expect(peakDbu).toBeCloseTo(-30.8, 1);
    // Headroom 20 dB: 2 + 0 - 20 + 50.80 = 32.8 dB. Margin 6 dB over the peak: 2 + 0 - 6 + 30.80 = 26.8 dB. The lower is right.
    expect(gain?.wantedDb).toBeCloseTo(26.8, 1);
    expect(gain?.setDb).toBeCloseTo(26.8, 1);
    expect(gain?.headroomDb).toBeCloseTo(6, 6);
  });

  it('so quiet at its peaks that the headroom decides', async () => {
    const { gain } = await arrivalAt(rig('typical 100 dB SPL peak 105 dB SPL', '1'), 'gear:desk.1');
    // 2 - 20 + 50.80 = 32.8 dB against 2 - 6 + 45.80 = 41.8 dB. At 32.8 dB the port clips at 2 - 32.8 = -30.8 dBu, 15 dB above the peak.
    expect(gain?.setDb).toBeCloseTo(32.8, 1);
    expect(gain?.headroomDb).toBeCloseTo(15, 1);
  });

  it('on a line input, whose figures start at a gain below nought', async () => {
    const { gain, lossDb } = await arrivalAt(rig('typical 120 dB SPL peak 140 dB SPL', '2'), 'gear:desk.2');
    // -56.20 + 26.02 = -30.18 dBu, less 20 log10(10150 / 10000) = 0.13 dB: -30.31 dBu, peak -10.31 dBu.
    // `max` 20 dBu holds at -10 dB of gain: 20 - 10 - 6 + 10.31 = 14.3 dB, and 12 dB is all there is: 2.3 dB short.
    expect(lossDb).toBeCloseTo(0.13, 2);
    expect(gain?.wantedDb).toBeCloseTo(14.3, 1);
    expect(gain?.setDb).toBe(12);
    expect(gain?.shortDb).toBeCloseTo(2.3, 1);
    // At 12 dB, 22 dB above the lowest, it clips at 20 - 22 = -2 dBu.
    expect(gain?.headroomDb).toBeCloseTo(-2 + 10.31, 1);
  });

  it('louder than its input takes at any gain', async () => {
    const { gain } = await arrivalAt(rig('typical 140 dB SPL peak 153 dB SPL', '1'), 'gear:desk.1');
    // Peak: -56.20 + 59.02 - 0.63 = 2.2 dBu, over the 2 dBu at the lowest gain by 0.2 dB.
    expect(gain?.hotDb).toBeCloseTo(0.2, 1);
    expect(gain?.setDb).toBe(0);
  });

  it('with less headroom and margin asked for', async () => {
    const { gain } = await arrivalAt(rig('typical 100 dB SPL peak 120 dB SPL', '1', 'headroom 12 dB margin 3 dB'), 'gear:desk.1');
    // 2 - 12 + 50.80 = 40.8 dB against 2 - 3 + 30.80 = 29.8 dB.
    expect(gain?.setDb).toBeCloseTo(29.8, 1);
  });
});

describe('units', () => {
  const level = (written: string) => `rig "by hand"
model line-1 { output out  xlr  line  impedance 1 ohm  level ${written} }
model desk-1 { input 1  xlr  line  impedance 1 Mohm  max 20 dBu  gain 0..40 dB }
source s is line-1
gear desk is desk-1
input desk.1 takes s`;

  // 0 dBu is 0.7746 V and 0 dBV is 1 V, 2.218 dBu (definitions); -10 dBV is 0.3162 V, 4 dBu 1.228 V.
  it.each([
    ['0 dBV', 2.218],
    ['-10 dBV', -7.782],
    ['4 dBu', 4],
  ])('%s is %d dBu', async (written, dbu) => {
    expect((await arrivalAt(level(written), 'gear:desk.1')).typicalDbu).toBeCloseTo(dbu, 3);
  });

  it('94 dB SPL is 1 Pa, at which a microphone gives its sensitivity', async () => {
    const { typicalDbu, lossDb } = await arrivalAt(rig('typical 93.979 dB SPL', '1'), 'gear:desk.1');
    // 1.2 mV is 20 log10(0.0012 / 0.7746) = -56.198 dBu.
    expect((typicalDbu as number) + lossDb).toBeCloseTo(-56.198, 2);
  });
});

describe('noise', () => {
  it('is what the usual level stands above', async () => {
    const text = (noise: string) => `rig "by hand"
model mic-1 { output out  xlr  mic  impedance 150 ohm  sensitivity 1.2 mV/Pa }
model desk-1 { input 1  xlr  mic  impedance 2 kohm  max 2 dBu  gain 0..55 dB ${noise} }
source s is mic-1 typical 100 dB SPL peak 120 dB SPL
gear desk is desk-1
input desk.1 takes s`;
    // -50.80 dBu, as worked above. At 26.8 dB of gain (6 dB above peaks of -30.8 dBu) it clips at -24.8 dBu, and a converter of 110 dB has its
    // noise at -134.8 dBu: with an equivalent input noise of -127 dBu that adds up to -126.33 dBu.
    expect((await arrivalAt(text('noise -127 dBu'), 'gear:desk.1')).snrDb).toBeCloseTo(75.53, 1);
    expect((await arrivalAt(text(''), 'gear:desk.1')).snrDb).toBeUndefined();
  });

  it('of an electronic microphone is its own, however good the input', async () => {
    const text = `rig "by hand"
model mic-1 { output out  xlr  mic  impedance 150 ohm  sensitivity 10 mV/Pa  phantom needed }
model desk-1 { input 1  xlr  mic  impedance 10 Mohm  max 2 dBu  gain 0..55 dB  noise -200 dBu  phantom each }
source s is mic-1 typical 94 dB SPL peak 94 dB SPL
gear desk is desk-1
input desk.1 takes s`;
    // 20 dB SPL of its own, and 94 usual: 74 dB. Peaks are at -37.80 dBu with 20 dB of headroom it clips at -17.80 dBu; the converter's noise is at -127.80
    // dBu, and the microphone's at -111.80: 0.107 dB more together.
    expect((await arrivalAt(text, 'gear:desk.1')).snrDb).toBeCloseTo(74 - 0.107, 2);
  });

  it('of a microphone that states it is 94 dB SPL less its signal to noise ratio', async () => {
    // IEC 60268-4 (from memory) has the signal to noise ratio of a microphone for 1 Pa, which is 93.979 dB SPL: with 14 dB SPL of its own, 79.979 dB.
    const text = (phantom: string) => `rig "by hand"
model mic-1 { output out  xlr  mic  impedance 150 ohm  sensitivity 10 mV/Pa  ${phantom}  self-noise 14 dB SPL }
model desk-1 { input 1  xlr  mic  impedance 10 Mohm  max 2 dBu  gain 0..55 dB  noise -200 dBu  dynamic-range 200 dB  phantom each }
source s is mic-1 typical 93.979 dB SPL peak 94 dB SPL
gear desk is desk-1
input desk.1 takes s`;
    expect((await arrivalAt(text('phantom needed'), 'gear:desk.1')).snrDb).toBeCloseTo(79.979, 2);
    // With its electronics fed otherwise, or with none, it is what it states.
    expect((await arrivalAt(text(''), 'gear:desk.1')).snrDb).toBeCloseTo(79.979, 2);
  });

  it('of a converter that states its dynamic range is that far below where the input clips', async () => {
    // An ideal converter of n bits has 6.02 n + 1.76 dB of a full sine above its quantization noise: W. R. Bennett, "Spectra of Quantized
    // Signals", Bell System Technical Journal 27, 1948 (from memory). 16 bits: 98.09 dB. 20 dB of headroom leave 78.09 dB.
    const text = (range: string) => `rig "by hand"
model line-1 { output out  xlr  line  impedance 1 ohm  level 0 dBu }
model desk-1 { input 1  xlr  line  impedance 10 Mohm  max 20 dBu  noise -200 dBu  ${range} }
source s is line-1 peak 10 dBu
gear desk is desk-1
input desk.1 takes s`;
    expect((await arrivalAt(text('dynamic-range 98.09 dB'), 'gear:desk.1')).snrDb).toBeCloseTo(78.09, 2);
    expect((await arrivalAt(text(''), 'gear:desk.1')).snrDb).toBeCloseTo(90, 2);
  });

  it('of no input in the library is less than that of the resistance before it', () => {
    // Johnson and Nyquist: 4 k T R B, with k = 1.380649e-23 J/K (SI, 2019), 150 ohm, 293 K and 20 kHz: -130.9 dBu.
    const thermal = 20 * Math.log10(Math.sqrt(4 * 1.380649e-23 * 293.15 * 150 * 20_000) / Math.sqrt(0.6));
    expect(thermal).toBeCloseTo(-130.9, 1);
    const library = rigsIn(join(import.meta.dirname, '../../packages/language/library'));
    const stated = library.flatMap((path) =>
      [...readFileSync(path, 'utf8').matchAll(/noise (-\d+) dBu/g)].map(([, noise]) => Number(noise)),
    );
    expect(stated.length).toBeGreaterThan(5);
    expect(Math.min(...stated)).toBeGreaterThan(thermal);
  });
});

describe('a lead', () => {
  it('takes from a piezo what its capacitance shares with it', async () => {
    const text = (tail: string) => `rig "by hand"
model piezo-1 { output out  ts ${tail} instrument  capacitance 1 nF  level -20 dBu }
model desk-1 { input 1  ts  instrument  impedance 100 Mohm }
source s is piezo-1
gear desk is desk-1
input desk.1 takes s`;
    expect((await arrivalAt(text(''), 'gear:desk.1')).typicalDbu).toBeCloseTo(-20, 3);
    // 10 m are 1 nF: two capacitors alike, half the level, 6.02 dB.
    expect((await arrivalAt(text('tail 10 m'), 'gear:desk.1')).typicalDbu).toBeCloseTo(-26.02, 2);
  });
});

describe('a pad in the line', () => {
  it('takes its figure, what it loads, and what it is loaded by', async () => {
    const { typicalDbu } = await arrivalAt(
      `rig "by hand"
model line-1 { output out  xlr  line  impedance 100 ohm  level 4 dBu }
model desk-1 { input 1  xlr  line  impedance 2 kohm  max 10 dBu }
source s is line-1
gear desk is desk-1
input desk.1 takes s via pad-20`,
      'gear:desk.1',
    );
    // 900 and 100 ohm in the library's pad. 100 ohm beside 2 kohm is 95.24 ohm; of 100 + 900 + 95.24 ohm that is 20 log10(95.24 / 1095.24) = -21.21 dB.
    expect(typicalDbu).toBeCloseTo(4 - 21.21, 2);
  });

  it.each([
    // Jack to jack, as a keyboard into an instrument input: the cold half of its series resistance lies between earth and earth.
    ['ts', 'trs', 'ts', ['R3 p 0 1m', 'R4 m p 450']],
    ['ts', 'xlr', 'ts', ['R3 p 0 1m', 'R4 m p 450']],
    // Into a balanced input it is in the way.
    ['ts', 'xlr', 'xlr', ['R4 m p 450']],
    // So it is of a winding, which knows no earth but that of the input.
    ['floating', 'xlr', 'ts', ['R3 p 0 1m', 'R4 m p 450', 'R9 m 0 1g']],
  ])('from %s by %s into %s has the level that ngspice finds', async (from, through, into, cold) => {
    const output = from === 'floating' ? 'xlr  line  floating' : `${from}  line`;
    const { typicalDbu } = await arrivalAt(
      `rig "by hand"
model line-1 { output out  ${output}  impedance 100 ohm  level 4 dBu }
model pad-1 {
  input in  ${through}  line  impedance 1 kohm
  output out  ${through}  from in parallel pad 20 dB
}
model desk-1 { input 1  ${into}  line  impedance 10 kohm  max 10 dBu }
source s is line-1
gear desk is desk-1
input desk.1 takes s via pad-1`,
      'gear:desk.1',
    );
    // From hot h and cold m of the source through 450 ohm in each wire to o and p, 100 ohm between them, and the input's 10 kohm.
    const earth = from === 'floating' ? [] : ['R8 m 0 1m'];
    const netlist = ['V1 e m DC 1', 'R1 e h 100', 'R2 h o 450', 'R5 o p 100', 'R6 o p 10k', 'R7 p 0 1g', ...earth, ...cold];
    const volts = await new Spice().operatingPoint(netlist);
    const between = (volts.get('o') ?? 0) - (volts.get('p') ?? 0);
    expect(typicalDbu).toBeCloseTo(4 + 20 * Math.log10(between), 2);
  });
});

describe('the house', () => {
  it('loads a split as the rig says that its sockets do', async () => {
    const text = (house: string) => `rig "by hand"
model mic-1 { output out  xlr  mic  impedance 150 ohm  level -50 dBu }
model desk-1 { input 1  xlr  mic  impedance 2 kohm }
model old-box { input in  xlr  mic  impedance 600 ohm  max 10 dBu  gain 0..60 dB }
source s is mic-1
gear desk is desk-1
input desk.1 takes s via y-lead
house at 2 m, 2 m ${house}
house 1 takes s`;
    const usual = await arrivalAt(text(''), 'gear:desk.1');
    const old = await arrivalAt(text('is old-box'), 'gear:desk.1');
    // 150 ohm into 2 kohm twice: 1.214 dB; into 2 kohm and 600 ohm, 461.5 ohm: 20 log10(611.54 / 461.54) = 2.444 dB.
    expect(usual.typicalDbu).toBeCloseTo(-51.214, 3);
    expect(old.typicalDbu).toBeCloseTo(-52.444, 3);
    expect(old.splitLossDb).toBeCloseTo(2.444 - 0.628, 3);
  });
});

describe('figures as far as they go', () => {
  const finite = (value: unknown): boolean =>
    typeof value === 'number' ? Number.isFinite(value) : !value || typeof value !== 'object' || Object.values(value).every(finite);

  it.each([
    ['impedance 1 ohm inductance 100000 H level 0 dBu', '100000 Mohm', '1:1'],
    ['impedance 100000 Mohm level 300 dBu', '0.001 ohm', '1000:1'],
    ['capacitance 0.001 pF level -300 dBu', '1 ohm', '1:1000'],
    ['impedance 0.001 ohm level 0 dBu', '0.001 ohm', '1:1000'],
  ])('%s into %s by %s stay numbers', async (output, load, ratio) => {
    const { checked } = await analyseText(`rig "by hand"
model src-1 { output out  xlr  tail 1000 m  line  ${output} }
model box-1 {
  input in  xlr  line  impedance ${load}
  output out  xlr  from in transformer ${ratio} pad 300 dB  line impedance ${load}
  output hot  xlr  from in active gain 300 dB  line impedance ${load}
}
model desk-1 { input 1..2  xlr  line  impedance ${load}  max 300 dBu  gain -300..300 dB  noise -300 dBu }
source s is src-1
gear box is box-1
gear desk is desk-1
input desk.1 takes s via box.out gain 5 dB
input desk.2 takes s via box.hot`);
    const arrivals = checked?.levels.arrivals ?? [];
    expect(arrivals.length).toBe(2);
    for (const { typicalDbu, peakDbu, lossDb, splitLossDb, gain, snrDb } of arrivals)
      expect(
        finite({ typicalDbu, peakDbu, lossDb, splitLossDb, gain, snrDb }),
        JSON.stringify({ typicalDbu, lossDb, splitLossDb, gain, snrDb }),
      ).toBe(true);
    for (const { code, figures } of checked?.findings ?? []) if (code.startsWith('levels/')) expect(finite(figures), code).toBe(true);
  });
});

describe('a DI', () => {
  it('of 12:1 takes 21.6 dB from a pickup that it hardly loads', async () => {
    const { typicalDbu } = await arrivalAt(
      `rig "by hand"
model pickup-1 { output out  ts  instrument  impedance 10 kohm  level -20 dBu }
model desk-1 { input 1  xlr  mic  impedance 2 kohm  max 2 dBu  gain 0..55 dB }
source s is pickup-1
gear desk is desk-1
input desk.1 takes s via passive-di`,
      'gear:desk.1',
    );
    // 2 kohm seen through 12:1 is 288 kohm, beside the DI's own 1 Mohm: 223.6 kohm. 10 kohm into it loses 0.38 dB.
    // 20 log10(12) = 21.58 dB: -20 - 0.38 - 21.58 = -41.96 dBu.
    expect(typicalDbu).toBeCloseTo(-41.96, 2);
  });
});

describe('a pad of the input', () => {
  it('takes its figure off what arrives', async () => {
    const text = (pad: string) => `rig "by hand"
model line-1 { output out  xlr  line  impedance 100 ohm  level 4 dBu  max 18 dBu }
model desk-1 { input 1  xlr  line  impedance 10 kohm  max 10 dBu  gain 0..20 dB  pad 20 dB }
source s is line-1
gear desk is desk-1
input desk.1 takes s ${pad}`;
    const without = await arrivalAt(text(''), 'gear:desk.1');
    const padded = await arrivalAt(text('pad'), 'gear:desk.1');
    expect(without.gain?.hotDb).toBeCloseTo(18 - 0.09 - 10, 1);
    expect(padded.gain?.hotDb).toBe(0);
    expect((without.peakDbu as number) - (padded.peakDbu as number)).toBeCloseTo(20, 9);
  });
});

describe('gear that is plugged in by its name', () => {
  const text = (output: string, more: string, taken = 'box.out') => `rig "by name"
model mic-1 { output out  xlr  mic  impedance 150 ohm  level -40 dBu  max 0 dBu }
model keys-1 { output out  ts  line  impedance 1 kohm  level -6 dBu  max 12 dBu }
model box-1 {
  input  in, more  ts  line  impedance 10 kohm
  output out   trs  ${output}
}
model desk-1 { input 1..4  trs  line  impedance 10 kohm  max 20 dBu  gain -10..12 dB  noise -90 dBu }
source s is keys-1
source t is keys-1
gear box is box-1
gear desk is desk-1
${more}
input desk.1 takes ${taken}`;

  it('has the level that its output states, into what it is plugged into', async () => {
    const { typicalDbu, peakDbu, gain, snrDb, source } = await arrivalAt(
      text('line  impedance 600 ohm  level -4 dBu  max 12 dBu', ''),
      'gear:desk.1',
    );
    // 600 ohm into 10 kohm loses 20 log10(10600 / 10000) = 0.506 dB; 20 dB of headroom ask for 20 - 10 - 20 + 4.506 = -5.494 dB of gain,
    // and 6 dB above the peak for 20 - 10 - 6 - 11.494 = -7.494 dB, which is less.
    expect(source.label).toBe('box');
    expect(typicalDbu).toBeCloseTo(-4.506, 3);
    expect(peakDbu).toBeCloseTo(11.494, 3);
    expect(gain?.setDb).toBeCloseTo(-7.494, 3);
    expect(gain?.headroomDb).toBeCloseTo(6, 6);
    // It clips at 20 - 2.506 dBu at that gain; 110 dB below is -92.506 dBu, and with -90 dBu of its own -88.066 dBu.
    expect(snrDb).toBeCloseTo(88.066 - 4.506, 2);
  });

  it('states its level whatever is plugged into it', async () => {
    const { typicalDbu } = await arrivalAt(
      text('from in active gain 40 dB  line  impedance 600 ohm  level -4 dBu  max 12 dBu', 'input box.in takes s'),
      'gear:desk.1',
    );
    expect(typicalDbu).toBeCloseTo(-4.506, 3);
  });

  it('gives what comes into it, amplified, where it states none, through gear before it, too', async () => {
    const { checked } =
      await analyseText(`${text('from in active gain 6 dB  line  impedance 600 ohm', 'input box.in takes s\ngear next is box-1\ninput next.in takes box.out via y-lead.1', 'next.out')}
input desk.2 takes box.out`);
    const at = (port: string) => checked?.levels.arrivals.find(({ line }) => line.end?.key === port) as Arrival;
    // -6 dBu from 1 kohm into 10 kohm loses 0.828 dB; 6 dB are gained. The output drives two inputs of 10 kohm, one by one leg alone:
    // of 1 V, half a volt behind 300 ohm on each wire; (0.5 - h) / 300 = h / 10000 + (h - c) / 10000 and
    // (-0.5 - c) / 300 = (c - h) / 10000: 106 h - 3 c = 50 and 103 c - 3 h = -50: h = 5000 / 10909, c = -5150 / 10909.
    const out = -6 - 0.828 + 6;
    expect(at('gear:desk.2').typicalDbu).toBeCloseTo(out + 20 * Math.log10(10_150 / 10_909), 2);
    // Behind the second box: the leg alone, 6 dB more, and 600 ohm into 10 kohm.
    expect(at('gear:desk.1').typicalDbu).toBeCloseTo(out + 20 * Math.log10(5_000 / 10_909) + 6 - 0.506, 2);
    expect(at('gear:desk.1').source.label).toBe('next');
  });

  it.each([
    ['active', 'adds up what is mixed in it', -6 - 0.828 + 10 * Math.log10(2) - 0.506],
    ['switch', 'gives one at a time of what is switched in it', -6 - 20 * Math.log10(1.1)],
  ])('%s: it %s', async (how, _, dbu) => {
    const own = how === 'active' ? '  line  impedance 600 ohm' : '';
    const { typicalDbu } = await arrivalAt(
      // A switch is plain copper: no input of its own loads what goes through.
      text(`from in, more ${how}${own}`, 'input box.in takes s\ninput box.more takes t').replace(
        'in, more  ts  line  impedance 10 kohm',
        how === 'active' ? 'in, more  ts  line  impedance 10 kohm' : 'in, more  ts',
      ),
      'gear:desk.1',
    );
    expect(typicalDbu).toBeCloseTo(dbu, 2);
  });

  it('has none where nothing says one, and none on a digital link, whatever is plugged into it', async () => {
    const silent = await arrivalAt(text('line  impedance 600 ohm  max 12 dBu', ''), 'gear:desk.1');
    expect([silent.typicalDbu, silent.peakDbu, silent.gain, isUnstated(silent)]).toEqual([undefined, undefined, undefined, true]);
    const { checked } = await analyseText(`rig "link"
source v is dynamic-mic
gear pre is preamp-expander
gear iface is interface-18
input pre.1 takes v
input iface.optical takes pre.optical`);
    const link = checked?.levels.arrivals.filter(({ line }) => line.run.kind === 'input' && line.run.takes?.kind === 'gear') ?? [];
    expect(link.filter((each) => each.typicalDbu !== undefined || isUnstated(each))).toEqual([]);
    expect(checked?.levels.arrivals.length).toBeGreaterThan(0);
  });

  it('is judged as a source is', async () => {
    const codes = async (taken: string) => {
      const { located } =
        await analyseText(`${text('line  impedance 600 ohm  level 30 dBu  max 40 dBu', 'gear mic is mic-1\nsource same is box-1\nsource voice is mic-1', taken)}
input desk.2 takes ${taken === 'same' ? 'voice' : 'mic'}`);
      return located.map(({ finding }) => finding.code).filter((code) => code.startsWith('levels/'));
    };
    expect(await codes('same')).toEqual(
      ['levels/too-hot', 'levels/mic-on-line', 'levels/gain-short'].filter((code) => code !== 'levels/gain-short'),
    );
    expect(await codes('box')).toEqual(await codes('same'));
  });
});

describe('earphones on a line output', () => {
  // By hand: 18 dBu is 6.153 V. Half of it behind 75 ohm leaves 0.920 V in 32 ohm: 26.4 mW, 14.2 dB above 1 mW.
  it('get 119 dB SPL from 18 dBu behind 150 ohm, in 32 ohm at 105 dB/mW', () => {
    expect(earsDbSpl({ maxDbu: 18, impedanceOhm: 150 }, true, 32, 105)).toBeCloseTo(119.2, 1);
  });

  it('are as loud as ngspice says, on two halves and on one', async () => {
    const spice = new Spice();
    for (const [balanced, share] of [
      [true, 0.5],
      [false, 1],
    ] as const) {
      const netlist = [`V1 s 0 dc 0 ac ${share * voltsOfDbu(12)}`, `R1 s e ${share * 150}`, 'R2 e 0 64'];
      const volts = (await spice.at(netlist, 1000)).get('e') ?? 0;
      expect(earsDbSpl({ maxDbu: 12, impedanceOhm: 150 }, balanced, 64, 98)).toBeCloseTo(98 + 10 * Math.log10(volts ** 2 / 64 / 1e-3), 6);
    }
  });
});
