/** Statements may stand in any order, and any of them may be missing: the sheet is made all the same. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SHEET_FORMATS } from '#sheets';
import { analyseText, here, render, sheetOf, TOUR } from './load';

const STATEMENT = /^(?=(?:rig|use|model|gear|performer|source|input|house|mix|output)\b)/m;

const statementsOf = (path: string) => readFileSync(path, 'utf8').split(STATEMENT).slice(1);

describe.each([
  ['tour.rig', statementsOf(TOUR)],
  ['lighthouse.rig', statementsOf(here('lighthouse.rig'))],
])('%s', (_, statements) => {
  const whole = fc.shuffledSubarray(statements, { minLength: statements.length });

  it('in any order has the same ports, with the same sources and mixes', async () => {
    const sheet = sheetOf(await analyseText(statements.join('')));
    const ports = (list: typeof sheet) =>
      [...list.inputs.map((row) => `${row.written} ${row.source}`), ...list.outputs.map((row) => `${row.written} ${row.mix}`)].sort();
    await fc.assert(
      fc.asyncProperty(whole, async (shuffled) => {
        const list = sheetOf(await analyseText(shuffled.join('\n')));
        expect(ports(list)).toEqual(ports(sheet));
        expect(list.house.map((row) => row.number)).toEqual(sheet.house.map((row) => row.number));
      }),
      { numRuns: 8 },
    );
  });

  it('with statements missing can be rendered, and no row is lost', async () => {
    await fc.assert(
      fc.asyncProperty(fc.shuffledSubarray(statements), async (some) => {
        const analysis = await analyseText(`rig "Some of it"\n${some.filter((statement) => !statement.startsWith('rig')).join('\n')}`);
        const list = sheetOf(analysis);
        for (const format of SHEET_FORMATS) expect(render(list, format)).not.toMatch(/undefined|NaN|\[object/);
        const { inputs, house, outputs } = analysis.checked.rig;
        for (const run of inputs) expect(list.inputs.map((row) => row.place)).toContain(run.id);
        for (const run of outputs) expect(list.outputs.map((row) => row.place)).toContain(run.id);
        for (const run of house) expect(list.house.map((row) => row.place)).toContain(run.id);
      }),
      { numRuns: 15 },
    );
  });
});
