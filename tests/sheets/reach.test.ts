/** All sheets in one page, for everybody: nothing that axe-core finds, one heading of the first rank a sheet, and all that scrolls can be reached. */
import { join } from 'node:path';
import axe from 'axe-core';
import { type Browser, chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sheetsOf } from '../../packages/sheets/all';
import { html } from '../../packages/sheets/render/html';
import { chromium as program } from '../editor/host.mjs';
import { analyse } from './load';

const found = program();
if (!found) console.warn('No Chromium found: the page of all sheets is not looked at.');

describe.skipIf(!found)('all sheets in one page', { timeout: 120_000 }, () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await chromium.launch({ executablePath: found, headless: true, args: ['--no-sandbox', '--disable-gpu'] });
  }, 60_000);
  afterAll(() => browser?.close());

  it.each([
    ['first', 576],
    ['ten', 420],
    ['ten', 900],
    ['choir', 576],
  ])('%s at %i px', async (name, width) => {
    const sheets = await sheetsOf((await analyse(join(import.meta.dirname, `../../examples/${name}.rig`))).checked);
    const page = await browser.newPage({ viewport: { width, height: 900 } });
    await page.setContent(html(sheets));
    await page.evaluate(axe.source);
    const { violations } = await page.evaluate(() => (globalThis as unknown as { axe: typeof axe }).axe.run());
    expect(violations.flatMap(({ id, nodes }) => nodes.map(({ html: what }) => `${id}: ${what.slice(0, 160)}`))).toEqual([]);
    // One for each, and one for the contents in front.
    expect(await page.locator('h1').count()).toBe(sheets.length + 1);
    expect(await page.locator('article.sheet').evaluateAll((all) => all.map((each) => each.querySelectorAll('h1').length))).toEqual(
      sheets.map(() => 1),
    );
    await page.close();
  });
});
