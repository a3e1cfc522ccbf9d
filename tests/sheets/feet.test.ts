/** A rig that is written in feet is told in feet, and leads come in lengths that are had in feet. */
import { describe, expect, it } from 'vitest';
import { renderSheet, sheetsOf } from '#sheets';
import { analyse, analyseText, here } from './load';

const METRES = /(?<![\d.])\d+(?:\.\d+)? m(?![\p{L}\d])/gu;

describe('the choir, in feet', async () => {
  const { checked } = await analyse(here('../../examples/choir.rig'));
  const sheets = await sheetsOf(checked);
  it.each(sheets.map((sheet) => [sheet.id, sheet] as const))('%s has no metres', (_id, sheet) => {
    const written = renderSheet(sheet, 'text', { width: 400 });
    // How far sound goes in a while is no length of this rig.
    expect(
      written
        .replace(/Sound in air takes[^.]*\.[^.]*\./, '')
        .match(METRES)
        ?.join() ?? '',
    ).toBe('');
    expect(written).not.toMatch(/\bmetres?\b/);
  });

  it('its stage is to scale in feet, with crosses a whole number of feet apart', () => {
    const stage = sheets.find(({ id }) => id === 'stage') as (typeof sheets)[number];
    const words = JSON.stringify(stage);
    expect(words).not.toMatch(/\d m(?![\p{L}\d])|in metres/u);
    const [, step, ratio] = /"(\d+) ft from cross to cross; 1 : (\d+)/.exec(words) as RegExpExecArray;
    const drawing = stage.blocks.flatMap((block) => (block.kind === 'drawing' ? [block.drawing] : []))[0];
    const bar = drawing?.shapes.find((shape) => shape.kind === 'path' && shape.points.length === 4 && shape.points[0]?.[0] === 0.2);
    if (bar?.kind !== 'path') throw new Error('no bar');
    // A foot is 304.8 mm exactly.
    expect((bar.points[2]?.[0] ?? 0) - 0.2).toBeCloseTo((Number(step) * 304.8) / Number(ratio), 6);
  });

  it('leads are of 3, 5, 10, 15, 20, 25, 30, 50 and 100 ft', () => {
    const had = [3, 5, 10, 15, 20, 25, 30, 50, 100];
    // A foot is 0.3048 m exactly (international yard and pound agreement, 1959).
    for (const { lengthM } of checked.leads)
      if (lengthM !== undefined)
        expect(
          had.some((feet) => Math.abs(lengthM / 0.3048 - feet) < 1e-9),
          `${lengthM}`,
        ).toBe(true);
  });
});

it('a rig in metres has its lengths as before, and one that says its own keeps them', async () => {
  const text = 'rig "R" lengths 2 m, 7 m\nperformer a at 12 ft, 3 ft\nperformer b at 3 ft, 3 ft\nperformer c at 1 ft, 1 ft';
  expect((await analyseText(text)).checked.rig.settings).toMatchObject({ inFeet: true, lengthsM: [2, 7] });
  expect((await analyseText('rig "R"\nperformer a at 12 m, 3 m # 40 ft, 10 ft')).checked.rig.settings.inFeet).toBeUndefined();
});
