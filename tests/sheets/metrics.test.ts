/** Words in drawings are measured with the type that is shipped: what is reckoned is what the font itself says (pdfkit reads it). */
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { Press } from '../../packages/pdf/press';
import { isMeasured, widthOf } from '../../packages/sheets/draw/words';

const type = new Press(join(import.meta.dirname, '../../node_modules/dejavu-fonts-ttf/ttf')).type();

it.each(['Interface optical', 'Žižka, Gašper', 'Ελένη', 'Иван', '863.3 MHz → Neža’s pack', '−12 dB × 2 … “quoted”'])('%s', (text) => {
  expect(isMeasured(text)).toBe(true);
  for (const bold of [false, true]) {
    const measured = type.width(text, 1, bold);
    // Pairs of letters are set a little closer, never wider: at most a twentieth here.
    expect(widthOf(text, 1, bold)).toBeGreaterThan(measured - 0.001);
    expect(widthOf(text, 1, bold)).toBeLessThan(measured * 1.05);
  }
});

it('knows what it does not know', () => {
  expect(isMeasured('🥁')).toBe(false);
  expect(isMeasured('שלום')).toBe(false);
});
