/** Frequencies that are none, too many carriers, and what is written by half: told, and nothing stops. */
import { describe, expect, it } from 'vitest';
import { chooseAll, message } from '#engine';
import { analyseText } from '../checks/open';
import { READS_WELL } from '../checks/reads-well';

const codes = async (text: string) => (await analyseText(text)).located.map(({ finding }) => finding.code);
const set = (on: string) => `rig "Air"  region EU\nsource voice "Voice" is wireless-mic ${on}\n`;

describe('a frequency that is none', () => {
  it.each([
    ['on 863.2 kHz', ['units/impossible']],
    ['on -863.2 MHz', ['units/impossible']],
    ['on 0 MHz', ['units/impossible']],
    ['on 3000 GHz', ['units/impossible']],
    ['on 863.2 MHz MHz', ['text/unexpected']],
    ['on 863.2', ['text/missing-unit']],
    ['on 863,2 MHz', ['text/decimal-comma']],
    ['on 863.2 dB', ['units/wrong']],
    ['on', ['text/unfinished']],
    ['', ['radio/no-frequency']],
    ['on 863.2 MHz on 863.4 MHz', ['text/clause-twice']],
  ])('"%s"', async (on, expected) => {
    const found = (await codes(set(on))).filter((code) => code !== 'mixes/not-patched');
    expect(found).toEqual(expected);
  });

  it.each([
    'avoid 865..863 MHz',
    'avoid 863..865 dB',
    'avoid 863 MHz',
    'guard carriers -1 kHz',
    'guard 300 kHz',
    'guard carriers',
    'circuit 16 A',
    'circuit 0 A 230 V',
    'listening 94',
    'check 0 min',
  ])('"%s" is told, and the rest of the rig stays', async (clause) => {
    const { located, lowered } = await analyseText(`rig "Air"  region EU  ${clause}\nsource voice "Voice" is wireless-mic on 863.2 MHz\n`);
    expect(located.some(({ finding }) => /^(text|units)\//.test(finding.code))).toBe(true);
    expect(lowered.rig.pieces.get('source:voice')?.onHz).toBeCloseTo(863.2e6, 0);
  });
});

describe('many carriers', () => {
  const crowd = (many: number) => {
    const sets = Array.from(
      { length: many },
      (_, index) => `gear g${index} "Set ${index}" is far  on ${(470.1 + ((index * 7919) % 9000) * 0.025).toFixed(3)} MHz`,
    );
    return `rig "Crowd"  region US\nmodel far is wireless-mic { tunes 470..700 MHz }\n${sets.join('\n')}\n`;
  };

  it.each([64, 500])('%d are all looked at, each told once, in whole sentences', async (many) => {
    const { checked } = await analyseText(crowd(many));
    const air = (checked?.findings ?? []).filter(({ code }) => code.startsWith('radio/product'));
    expect(air.length).toBeGreaterThan(many / 2);
    expect(air.length).toBeLessThanOrEqual(many);
    for (const finding of air.slice(0, 40)) expect(message(finding)).toMatch(READS_WELL);
  });

  it('a choice for 64 comes to an end, and says what it is', async () => {
    const { checked } = await analyseText(crowd(64));
    if (!checked) throw new Error('no rig');
    const { choices, proven } = chooseAll(checked.rig);
    expect(choices).toHaveLength(64);
    expect(typeof proven.most).toBe('boolean');
    expect(choices.filter(({ hz }) => hz !== undefined).length).toBeGreaterThan(16);
  });
});
