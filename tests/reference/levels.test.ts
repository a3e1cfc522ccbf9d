/** Levels and gains worked by hand, step by step. */
import { describe, expect, it } from 'vitest';
import type { Arrival } from '#engine';
import { analyseText } from '../checks/open';

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
