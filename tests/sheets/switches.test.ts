/** What a rig of ten sets by hand, and in which order: sides, frequencies, clock, buffer; the link before what comes over it. */
import { describe, expect, it } from 'vitest';
import { setUpSheet } from '../../packages/sheets/set-up/sheet';
import { analyse, here } from './load';
import { cellsOf, tableOf } from './tables';

describe('ten people', async () => {
  const { checked } = await analyse(here('../../examples/ten.rig'));
  const sheet = setUpSheet(checked);

  it('set each pack to its side and frequency, amplifiers to one width', () => {
    const set = new Map(cellsOf(sheet, 'switches').map(([on, what]) => [on, what]));
    expect(set.get("Neža's pack")).toBe('side select left, mono: the same in both ears, 863.3 MHz');
    expect(set.get("Rok's pack")).toBe('side select right, mono: the same in both ears, 863.3 MHz');
    expect(set.get('Transmitter')).toBe('863.3 MHz, stereo');
    expect(set.get('Voice')).toBe('864.3 MHz');
    expect(set.get('Expander')).toBe('its own clock, 48 kHz');
    expect(set.get('Interface')).toBe('clock from optical, 48 kHz');
    expect(set.get('Computer')).toContain('buffer 64 samples');
    expect(set.get("Maja's pack left")).toBeUndefined();
  });

  it('have the link in before the lines that come over it, and checked first', () => {
    const { rows } = tableOf(sheet, 'leads');
    expect(rows[0]?.name).toBe('Expander: Expander → Interface in optical');
    expect(cellsOf(sheet, 'line-check', 0)[0]).toEqual(['Expander']);
  });

  it('walk with their radio before mixes are made', () => {
    const ids = sheet.blocks.map(({ id }) => id);
    expect(ids.indexOf('radio')).toBeLessThan(ids.indexOf('mixes'));
    expect(ids.indexOf('switches')).toBeLessThan(ids.indexOf('phantom'));
  });

  it('know how long each walk takes: a minute a lead, five seconds a metre', () => {
    const { rows, groups } = tableOf(sheet, 'leads');
    expect(groups).toBe('Walk');
    // Nine leads of 2, 2, 3, 3, 3, 3, 2, 2 and 2 m: 9 min and 110 s.
    expect(rows[0]?.group).toBe('Walk 1, at Interface: nine leads, about 11 min');
  });
});
