/** What is found in a rig that is written in feet is told in feet: each page again, with its lengths in feet. */
import { readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Code, message } from '#engine';
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

it('a sentence in both', async () => {
  const rig = (far: string) => `rig "R"
  stage ${far} by ${far}
performer ada "Ada" at 0 ${far.slice(-2).trim()}, ${far.replace(/\d+/, (n) => String(Number(n) + 2))}
`;
  const words = async (text: string) => (await analyseText(text)).located.map(({ finding }) => message(finding)).join(' ');
  expect(await words(rig('6 m'))).toContain('2 m behind the stage, which is 6 m wide and 6 m deep');
  expect(await words(rig('20 ft'))).toContain('2 ft behind the stage, which is 20 ft wide and 20 ft deep');
});
