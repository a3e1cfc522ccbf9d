/** The house sheet as it comes out of a printer: one A4 page for up to sixteen lines. Says so where there is no browser to print with. */
import { join } from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { type Browser, chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { houseSheet } from '../../packages/sheets/house/sheet';
import { html } from '../../packages/sheets/render/html';
import { chromium as program } from '../editor/host.mjs';
import { analyse, analyseText, here } from './load';

const found = program();
if (!found) console.warn('No Chromium found: the house sheet is not printed.');

/** Sixteen lines, all split, all with labels of forty letters. */
const SIXTEEN = `rig "A band with a long name, in a hall with a long one" region EU set 75 min stage 10 m by 6 m
performer ada "Ada" at -2 m, 1 m
gear iface "Interface" is interface-16 at 3 m, 5 m
gear pre "Expander" is preamp-expander at 3 m, 5 m
gear tx "Transmitter" is in-ear-transmitter at 3 m, 5 m on 863.3 MHz
house at -5 m, 1 m
input iface.optical takes pre.optical
mix ada mono for ada { s1 0 dB }
output iface.1 carries ada via tx.left
${Array.from({ length: 16 }, (_, index) => {
  const port = index < 8 ? `iface.${index + 1}` : `pre.${index - 7}`;
  return `source s${index + 1} "Source ${index + 1} whose label has forty letters" is ${index % 2 ? 'dynamic-mic' : 'clip-on-mic'} by ada
input ${port} takes s${index + 1} via transformer-split.iso
house ${index + 1} takes s${index + 1}`;
}).join('\n')}
`;

describe.skipIf(!found)('printed', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await chromium.launch({ executablePath: found, headless: true, args: ['--no-sandbox', '--disable-gpu'] });
  }, 60_000);
  afterAll(() => browser?.close());

  async function pages(checked: Parameters<typeof houseSheet>[0]): Promise<number> {
    const page = await browser.newPage();
    await page.setContent(html([houseSheet(checked)]));
    const pdf = await page.pdf({ format: 'A4', preferCSSPageSize: true });
    await page.close();
    return (await getDocument({ data: new Uint8Array(pdf) }).promise).numPages;
  }

  it.each([
    ...['first', 'choir', 'street', 'ten'].map((name) => join(import.meta.dirname, `../../examples/${name}.rig`)),
    here('lighthouse.rig'),
    here('../house/each-kind.rig'),
  ])(
    '%s is one page',
    async (path) => {
      expect(await pages((await analyse(path)).checked)).toBe(1);
    },
    60_000,
  );

  it('sixteen lines with long labels are one page', async () => {
    const { checked } = await analyseText(SIXTEEN);
    expect(checked.rig.house).toHaveLength(16);
    expect(await pages(checked)).toBe(1);
  }, 60_000);
});
