/** What is found in a rig that is written in feet is told in feet: each page again, with its lengths in feet. */
import { readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Code, exampleText, message } from '#engine';
import { analyseText, rigsIn } from './open';

const pages = join(import.meta.dirname, '../../examples/mistakes');

// A foot is 0.3048 m exactly (international yard and pound agreement, 1959).
const FOOT_M = 0.3048;
const inFeet = (text: string) =>
  text.replace(/(?<![\d.])(-?\d+(?:\.\d+)?) m\b/g, (_, m) => `${Number((Number(m) / FOOT_M).toFixed(3))} ft`);
const METRES = /(?<![\w.])\d+(?:\.\d+)? m(?![\p{L}\d])/u;

/** What tells lengths, as its words say. */
const OF_LENGTHS: readonly Code[] = [
  'connectors/earphones-too-short',
  'connectors/long-unbalanced',
  'connectors/tail-too-short',
  'latency/late',
  'levels/top-end',
  'stage/far-off',
  'stage/off-stage',
  'units/impossible',
];

describe('pages in feet', () => {
  const told = new Set<Code>();
  it.each(rigsIn(pages).map((path) => [relative(pages, path), path]))('%s tells no metres', async (_, path) => {
    const { located } = await analyseText(inFeet(`gear far is interface-2 at 1 m, 1 m\n${readFileSync(path, 'utf8')}`));
    for (const { finding, related } of located) {
      const words = [message(finding), ...related.map(({ says }) => says)].join(' ');
      if (/\d ft\b/.test(words)) told.add(finding.code);
      expect(words, finding.code).not.toMatch(METRES);
    }
  });

  it('tells feet wherever lengths are told', () => {
    expect([...told]).toEqual(expect.arrayContaining([...OF_LENGTHS]));
  });
});

describe('an example in a message', () => {
  const RIG = `rig "R"
performer ada "Ada" at 0 ft, 8 ft
performer bo "Bo" at 4 ft, 8 ft
source v "V" is dynamic-mic by ada
gear iface is interface-8
`;
  const words = async (text: string) => {
    const found = (await analyseText(text)).located.map(({ finding }) => finding).filter(({ code }) => code.startsWith('text/'));
    return found.map((each) => message(each)).join(' ');
  };
  it.each([
    ['performer cy "Cy" at 4 ft', 'as in "at -3 ft, 7 ft"'],
    ['performer cy "Cy" 5', 'like this: performer ada "Ada" at 0 ft, 7 ft'],
    ['performer cy "Cy"  at', 'a distance, as in 7 ft'],
    ['gear box is interface-8 at', 'like this: gear iface is interface-8 at 3 ft, 15 ft'],
    ['house at', 'like this: house at 15 ft, 3 ft'],
  ])('follows the rig: %s', async (line, wanted) => {
    const told = await words(`${RIG}${line}\n`);
    expect(told).toContain(wanted);
    expect(told).not.toMatch(METRES);
    // What somebody has written themselves is told as it is.
    expect(await words(`${RIG.replaceAll(' ft', ' m')}${line.replaceAll(' ft', ' m')}\n`)).toMatch(METRES);
  });

  it('has the depth of a stage behind "by"', async () => {
    const told = await words(RIG.replace('rig "R"', 'rig "R" stage 30 ft by'));
    expect(told).toContain('After "by" comes a distance, as in 7 ft.');
    expect(told).toContain('stage 25 ft by 15 ft');
  });

  it('keeps other units, and other figures with an m', () => {
    const text = 'at 1 m, -1 m gain 4 dB latency 2 ms impedance 2 kohm sensitivity 2 mV/Pa at 12 m tail 340 m/s';
    expect(exampleText(text, { inFeet: true })).toBe(
      'at 3 ft, -3 ft gain 4 dB latency 2 ms impedance 2 kohm sensitivity 2 mV/Pa at 40 ft tail 340 m/s',
    );
    expect(exampleText(text, {})).toBe(text);
  });
});

it('a sentence in both', async () => {
  const rig = (far: string) => `rig "R"
  stage ${far} by ${far}
performer ada "Ada" at 0 ${far.slice(-2).trim()}, ${far.replace(/\d+/, (n) => String(Number(n) + 2))}
`;
  const words = async (text: string) => (await analyseText(text)).located.map(({ finding }) => message(finding)).join(' ');
  expect(await words(rig('6 m'))).toContain('2 m behind the stage, which is 6 m wide and 6 m deep');
  expect(await words(rig('20 ft'))).toContain('2 ft behind the stage, which is 20 ft wide and 20 ft deep');
});
