/** Sheets that are kept together say each caution once, and each by itself says all of its own. */
import { describe, expect, it } from 'vitest';
import { renderSheet, renderSheets, sheetsOf } from '#sheets';
import { EARS, PHANTOM } from '../../packages/sheets/shared/cautions';
import { analyse, here } from './load';

describe('the sheets of ten people', async () => {
  const { checked } = await analyse(here('../../examples/ten.rig'));
  const sheets = await sheetsOf(checked);
  const times = (written: string, words: string) => written.split(words).length - 1;
  const words = (written: string) => written.replace(/\s+/g, ' ');

  it.each(['text', 'markdown', 'csv', 'html'] as const)('as one %s say how ears are harmed once', (format) => {
    const written = renderSheets(sheets, format).replaceAll('\u00a0', ' ');
    const start = EARS.text.slice(0, 60);
    expect(times(words(written), start)).toBe(1);
    expect(times(words(written), PHANTOM.text)).toBe(1);
    // On pages the patch list is one by itself, with its few words.
    expect(times(words(written), 'Nobody’s in and every level down')).toBe(format === 'html' ? 1 : 0);
  });

  it('one by one say all of it', () => {
    for (const id of ['set-up', 'pack-down']) {
      const sheet = sheets.find((each) => each.id === id);
      expect(sheet && words(renderSheet(sheet, 'text'))).toContain(EARS.text);
    }
  });
});
