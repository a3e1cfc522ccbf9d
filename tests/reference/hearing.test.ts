/** Ears: published tables of exposure, and how loud earphones get, from the definitions. */
import { describe, expect, it } from 'vitest';
import { allowedS, dailyExposureDb, dailyLawOf, dose, untilDailyS } from '#engine';
import { perMilliwatt } from '#rig';
import { SHEET_IDS, sheetsOf } from '#sheets';
import { analyseText } from '../checks/open';

const minutes = (rule: 'niosh' | 'osha', level: number) => allowedS(rule, level) / 60;

describe('exposure', () => {
  // NIOSH publication 98-126, Table 1-1: to the minute, and its own rounding below an hour.
  it.each([
    [85, 480],
    [88, 240],
    [91, 120],
    [94, 60],
    [97, 30],
    [100, 15],
  ])('NIOSH: %d dB(A) for %d min', (level, time) => expect(minutes('niosh', level)).toBeCloseTo(time, 6));

  // 29 CFR 1910.95, Table G-16, in hours: the table rounds those between its steps of five.
  it.each([
    [90, 8],
    [92, 6],
    [95, 4],
    [97, 3],
    [100, 2],
    [102, 1.5],
    [105, 1],
    [110, 0.5],
    [115, 0.25],
  ])('29 CFR 1910.95: %d dB(A) for %d h', (level, hours) => expect(minutes('osha', level) / 60 / hours).toBeCloseTo(1, 1));

  // Its Appendix A: log10 T = 6.322 - 0.0602 L for T in minutes... of the table's own figures, and 92 dB(A) for 8 h about 131 %.
  it('29 CFR 1910.95, Appendix A: 92 dB(A) for 8 h is about 131 %', () => {
    expect(dose('osha', 92, 8 * 3600)).toBeCloseTo(1.32, 2);
    for (const level of [90, 95, 100, 105, 110, 115])
      expect(Math.log10(allowedS('osha', level) / 3600)).toBeCloseTo(6.322 - 0.0602 * level, 2);
  });

  // ISO 1999: eight hours at a level are that level; half the time 3 dB less.
  it('daily exposure', () => {
    expect(dailyExposureDb(85, 8 * 3600)).toBe(85);
    expect(dailyExposureDb(94, 3600)).toBeCloseTo(94 - 9.03, 2);
  });
});

describe('the law at work', () => {
  // As the European Commission prints it for the action levels and the limit of Directive 2003/10/EC, with 3 dB for half the time
  // (SCENIHR, "Potential health risks of exposure to noise from personal music players", 2008, section 3.3.5); in minutes.
  it.each([
    [80, 83, 240],
    [80, 89, 60],
    [80, 95, 15],
    [85, 88, 240],
    [85, 91, 120],
    [85, 100, 15],
    [87, 90, 240],
    [87, 96, 60],
    [87, 102, 15],
  ])('a daily exposure of %d dB(A) by %d dB(A) for %d min', (daily, level, time) => {
    expect(untilDailyS(daily, level) / 60 / time).toBeCloseTo(1, 1);
    expect(dailyExposureDb(level, untilDailyS(daily, level))).toBeCloseTo(daily, 9);
  });

  it.each([
    [{ region: 'EU' }, 'Directive 2003/10/EC'],
    [{ region: 'EU', country: 'NO' }, 'Directive 2003/10/EC'],
    [{ region: 'UK' }, 'SI 2005/1643'],
    [{ region: 'EU', country: 'GB' }, 'SI 2005/1643'],
    [{ region: 'UK', country: 'FR' }, 'Directive 2003/10/EC'],
    [{ region: 'EU', country: 'CH' }, undefined],
    [{ region: 'US' }, undefined],
    [{}, undefined],
  ])('of %j', (settings, name) => expect(dailyLawOf(settings)?.name).toBe(name));

  // Article 3 has the peaks as pressures, in Pa, over 20 µPa.
  it('has its peaks in decibels as they come of the pressures', () => {
    const law = dailyLawOf({ region: 'EU' });
    for (const [pascals, step] of [
      [112, law?.lower],
      [140, law?.upper],
      [200, law?.limit],
    ] as const)
      expect(step?.peakDbC).toBe(Math.round(20 * Math.log10(pascals / 20e-6)));
  });

  const TEXT = (place: string) => `rig "Ears" ${place} set 3 h listening 92 dB SPL
performer ada "Ada"
source voice "Voice" is dynamic-mic by ada
gear iface "Interface" is interface-4
input iface.1 takes voice
mix ada mono for ada { voice 0 dB }
output iface.phones carries ada
`;

  it.each([
    ['region EU', 'Directive 2003/10/EC'],
    ['region UK', 'SI 2005/1643'],
  ])('stands alone beside what is recommended, on the sheet and in what is found: %s', async (place, name) => {
    const { checked } = await analyseText(TEXT(place));
    if (!checked) throw new Error('no rig');
    const [sheet] = await sheetsOf(checked, checked.findings, ['ears']);
    const tables = sheet?.blocks.flatMap((block) => (block.kind === 'table' ? [block] : [])) ?? [];
    const times = tables.find(({ id }) => id === 'times');
    expect(times?.columns.map(({ title }) => title)).toEqual(['Level', 'Until 80 dB(A)', 'Until 85 dB(A)', 'Until 87 dB(A)', 'NIOSH']);
    expect(times?.remark).toContain(`By ${name}, `);
    expect(times?.rows.find(({ strong }) => strong)?.cells).toEqual([92, '30 min', '1 h 35 min', '2 h 31 min', '1 h 35 min']);
    expect(tables.find(({ id }) => id === 'evening')?.rows[0]?.cells).toEqual(['Set', '3 h', '189 (!) 1.9 days’ worth', '87.7 (!)']);
    expect(JSON.stringify(sheet)).not.toContain('29 CFR');
    expect(checked.findings.filter(({ code }) => code === 'ears/too-long')).toHaveLength(1);
  });

  it('is told as that of the United States where it is not known, and that another may hold', async () => {
    const { checked } = await analyseText(TEXT(''));
    if (!checked) throw new Error('no rig');
    const [sheet] = await sheetsOf(checked, checked.findings, ['ears']);
    const times = sheet?.blocks.find(({ id }) => id === 'times');
    expect(times?.kind === 'table' && times.remark).toMatch(/in the United States.* another law may hold/);
    expect(times?.kind === 'table' && times.rows.find(({ strong }) => strong)?.cells).toEqual([92, '1 h 35 min', '6 h 3 min']);
    expect(checked.findings.filter(({ code }) => code === 'ears/too-long')).toEqual([]);
  });
});

describe('earphones', () => {
  // By the definition: 1 V into 32 ohm is 31.25 mW, 14.95 dB above 1 mW.
  it('100 dB SPL at 1 mW are 114.9 at 1 V in 32 ohm', () => expect(perMilliwatt(114.9485, 32)).toBeCloseTo(100, 3));

  const RIG = (output: string, ears: string) => `rig "Ears" set 60 min check 30 min listening 94 dB SPL region EU
model amp is amplifier { input left, right trs line impedance 10 kohm max 20 dBu
  output phones trs from left, right active phones ${output} channels 2
  mono-switch }
model worn is ears { input in trs phones ${ears} channels 2 }
performer ada "Ada" ears worn
source voice "Voice" is dynamic-mic by ada
gear iface "Interface" is interface-4
input iface.1 takes voice
mix ada mono for ada { voice 0 dB }
output iface.1 carries ada via amp
`;

  // 1 V from nothing into 32 ohm at 100 dB SPL/mW: the same 114.9 dB SPL.
  it.each([
    ['impedance 0.001 ohm max 0 dBV', 'impedance 32 ohm sensitivity 100 dB SPL/mW', 114.95],
    ['impedance 0.001 ohm max 0 dBV', 'impedance 32 ohm sensitivity 114.95 dB SPL/V', 114.95],
    // Half of it stays in the output.
    ['impedance 32 ohm max 0 dBV', 'impedance 32 ohm sensitivity 100 dB SPL/mW', 114.95 - 6.02],
    ['impedance 0.001 ohm max 0 dBV limiter -10 dBV', 'impedance 32 ohm sensitivity 100 dB SPL/mW', 114.95],
  ])('%s into %s', async (output, ears, highest) => {
    const { checked } = await analyseText(RIG(output, ears));
    expect(checked?.hearings).toHaveLength(1);
    expect(checked?.hearings[0]?.highestDbSpl).toBeCloseTo(highest, 2);
    if (output.includes('limiter')) expect(checked?.hearings[0]?.limitedDbSpl).toBeCloseTo(highest - 10, 2);
  });

  // By Ohm's law: n pairs side by side have an nth of one's ohms, and the output's own impedance and they divide its voltage.
  it.each([
    // 1 V behind 20 ohm into 4 × 32 ohm: 8 / 28 of it, 0.2857 V, 2.551 mW in each; alone 32 / 52, 0.6154 V, 11.83 mW.
    [['32 ohm', '32 ohm', '32 ohm', '32 ohm'], 104.067, 110.731, 10.881],
    // 16 and 64 ohm: 12.8 ohm together, 12.8 / 32.8 of it, 0.3902 V, 9.518 mW in the first; alone 16 / 36, 0.4444 V, 12.35 mW.
    [['16 ohm', '64 ohm'], 109.786, 110.915, 8.173],
  ])('of %j on one output each gets %d dB SPL, and %d alone', async (worn, together, alone, lost) => {
    const people = worn.map((_, index) => `p${index}`);
    const { checked } = await analyseText(`rig "Together"
model split is pack { input in trs phones channels 2
  output ${people.join(', ')} trs from in parallel }
model out is interface { input 1 xlr mic impedance 2 kohm max 0 dBu gain 0..60 dB
  output phones trs phones impedance 20 ohm max 0 dBV channels 2
  mixes 1 mono }
${worn.map((ohm, index) => `model worn${index} is ears { input in trs phones impedance ${ohm} sensitivity 100 dB SPL/mW channels 2 }`).join('\n')}
${people.map((id, index) => `performer ${id} ears worn${index}`).join('\n')}
source voice is dynamic-mic by p0
gear iface is out
gear legs is split
input iface.1 takes voice
mix all mono for ${people.join(', ')} { voice 0 dB }
${people.map((id) => `output iface.phones carries all via legs.${id}`).join('\n')}
`);
    expect(checked?.hearings).toHaveLength(worn.length);
    const [first] = checked?.hearings ?? [];
    expect(first?.others).toHaveLength(worn.length - 1);
    expect(first?.togetherDbSpl).toBeCloseTo(together, 2);
    expect(first?.highestDbSpl).toBeCloseTo(alone, 2);
    expect(first?.lossDb).toBeCloseTo(lost, 2);
  });

  it('is never said to be safe, and each figure is called an estimate', async () => {
    const { checked } = await analyseText(RIG('impedance 10 ohm max 14 dBu', 'impedance 32 ohm sensitivity 105 dB SPL/mW'));
    if (!checked) throw new Error('no rig');
    const [sheet] = await sheetsOf(checked, checked.findings, ['ears']);
    const text = JSON.stringify(sheet);
    expect(SHEET_IDS).toContain('ears');
    expect(text).not.toMatch(/\bsafe(ly|r|ty)?\b|harmless|no risk/i);
    expect(text).toContain('estimates');
    const evening = sheet?.blocks.find(({ id }) => id === 'evening');
    // 94 dB(A): an hour fills NIOSH's day.
    expect(evening?.kind === 'table' && evening.rows.map(({ cells }) => cells)).toEqual([
      ['Sound check', '30 min', 50, '82.0'],
      ['Set', '1 h', 100, '85.0'],
      ['Sound check and set', '1 h 30 min', '150 (!) 1.5 days’ worth', '86.7'],
      ['Sound check and two sets', '2 h 30 min', '250 (!) 2.5 days’ worth', '88.9 (!)'],
    ]);
    const times = sheet?.blocks.find(({ id }) => id === 'times');
    expect(times?.kind === 'table' && times.rows.map(({ cells }) => cells)).toEqual([
      [85, '2 h 31 min', '8 h', '12 h 40 min', '8 h'],
      // Never more than is allowed: what is left of a minute falls away.
      [88, '1 h 16 min', '4 h', '6 h 21 min', '4 h'],
      [91, '38 min', '2 h', '3 h 11 min', '2 h'],
      [94, '19 min', '1 h', '1 h 35 min', '1 h'],
      [100, '4 min', '15 min', '24 min', '15 min'],
    ]);
  });
});
