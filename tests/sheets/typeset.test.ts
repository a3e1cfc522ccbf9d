/** Minus and apostrophes, as they stand on every sheet. */
import { describe, expect, it } from 'vitest';
import { typeset } from '#engine';
import { renderSheet, SHEET_IDS, sheetOf } from '#sheets';
import { analyse, here } from './load';

// The minus sign and the apostrophe that is preferred: The Unicode Standard, U+2212 and U+2019.
describe('words are set as in print', () => {
  it.each([
    ['kick -4 dB', 'kick \u22124 dB'],
    ['(-12 dBu)', '(\u221212 dBu)'],
    ['-7', '\u22127'],
    ['for-house', 'for-house'],
    ['house 7-8', 'house 7-8'],
    ['Y-lead', 'Y-lead'],
    ["Idris's pack", 'Idris\u2019s pack'],
    ["Strings' Y-lead", 'Strings\u2019 Y-lead'],
    ['write "takes voice"', 'write "takes voice"'],
    ['write "gain -4 dB", or pad -4 dB', 'write "gain -4 dB", or pad \u22124 dB'],
    ["the 'big' one", "the 'big' one"],
    ['6.35 mm (1/4")', '6.35 mm (1/4")'],
  ])('%s', (words, wanted) => {
    expect(typeset(words)).toBe(wanted);
    expect(typeset(wanted)).toBe(wanted);
  });
});

describe('the sheets of ten people', async () => {
  const { checked } = await analyse(here('../../examples/ten.rig'));
  it.each(SHEET_IDS)('%s has no hyphen for a minus, and no straight apostrophe', async (id) => {
    const written = renderSheet(await sheetOf(id, checked), 'text', { width: 120 });
    expect(written.match(/(?<![\w.-])-\d[^\n]*/g) ?? []).toEqual([]);
    expect(written.match(/\p{L}'\p{L}+/gu) ?? []).toEqual([]);
  });
});
