/** Figures beyond all measure in any place: what is made of a rig stays of its size, is whole, and holds no figure that is none. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { message } from '#engine';
import { renderSheets, SHEET_FORMATS, sheetsOf } from '#sheets';
import { analyseText } from '../sheets/load';
import { cases } from '../thorough';

const root = join(import.meta.dirname, '../..');
const TEXTS = ['tests/checks/tour.rig', 'examples/choir.rig', 'examples/street.rig', 'tests/sheets/lighthouse.rig'].map((name) =>
  readFileSync(join(root, name), 'utf8'),
);
const FIGURES = [
  '0',
  '-0',
  '0.0000000000000000000001',
  '-1',
  '1',
  '199',
  '201',
  '999',
  '1001',
  '65536',
  '4294967296',
  '100000000000000000',
];
const ENDLESS = [`1${'0'.repeat(308)}`, `9${'9'.repeat(400)}`];

/** Of each format, for sheets of the whole rig. */
const MOST_LETTERS = 4_000_000;

/** Wherever a figure stands, also in names of ports and ranges. */
const figuresIn = (text: string) =>
  [...text.matchAll(/(?<![\w"#.])-?\d+(\.\d+)?/g)].map(({ index, 0: figure }) => ({ index, length: figure.length }));

const changes = fc.tuple(
  fc.nat({ max: TEXTS.length - 1 }),
  fc.array(fc.tuple(fc.double({ min: 0, max: 0.999, noNaN: true }), fc.constantFrom(...FIGURES, ...ENDLESS)), {
    minLength: 1,
    maxLength: 4,
  }),
);

test('no figure makes more of a rig than there is', { timeout: 600_000 }, async () => {
  await fc.assert(
    fc.asyncProperty(changes, async ([which, put]) => {
      let text = TEXTS[which] as string;
      for (const [at, figure] of put) {
        const places = figuresIn(text);
        const { index, length } = places[Math.floor(at * places.length)] as { index: number; length: number };
        text = text.slice(0, index) + figure + text.slice(index + length);
      }
      const analysis = await analyseText(text);
      for (const { finding } of analysis.located) expect(message(finding)).not.toMatch(/NaN|Infinity|undefined/);
      const sheets = await sheetsOf(analysis.checked);
      expect(sheets.filter(({ blocks }) => blocks[0]?.id === 'failed').map(({ id }) => id)).toEqual([]);
      for (const format of SHEET_FORMATS) {
        const page = renderSheets(sheets, format);
        expect(page.length).toBeLessThan(MOST_LETTERS);
        expect(page).not.toMatch(/\bNaN\b|\bInfinity\b|\bundefined\b/);
      }
    }),
    { numRuns: cases(300, 12), seed: 11 },
  );
});
