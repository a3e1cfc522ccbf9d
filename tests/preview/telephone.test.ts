/** A page that stands alone, on a telephone: boxes are ticked by a finger and stay so, with nothing behind the page but its browser. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { oneFileOf, sheetsOf } from '#sheets';
import { root } from '../build';
import { chromium as program } from '../editor/host.mjs';
import { analyse, analyseText } from '../sheets/load';
import { some } from '../thorough';

const found = program();
if (!found) console.warn('No Chromium found: pages are not ticked on a telephone.');

const TELEPHONE: BrowserContextOptions = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };

async function pageOf(checked: Awaited<ReturnType<typeof analyse>>['checked'], ids: readonly string[]): Promise<string> {
  return oneFileOf(
    (await sheetsOf(checked)).filter(({ id }) => ids.includes(id)),
    'html',
  ) as string;
}

describe.skipIf(!found)('a page on a telephone', { timeout: 120_000 }, () => {
  let browser: Browser;
  let context: BrowserContext;
  let html: string;
  let folder: string;
  let at: string;
  const troubles: string[] = [];

  beforeAll(async () => {
    browser = await chromium.launch({ executablePath: found, args: ['--no-sandbox'] });
    context = await browser.newContext(TELEPHONE);
    html = await pageOf((await analyse(path.join(root, 'examples/ten.rig'))).checked, ['set-up', 'pack-down']);
    folder = mkdtempSync(path.join(tmpdir(), 'page-'));
    at = pathToFileURL(path.join(folder, 'sheets.html')).href;
    writeFileSync(path.join(folder, 'sheets.html'), html);
  }, 60_000);

  afterAll(async () => {
    await browser?.close();
    if (folder) rmSync(folder, { recursive: true });
  });

  async function open(where = context): Promise<Page> {
    const page = await where.newPage();
    page.on('pageerror', (problem) => troubles.push(String(problem)));
    page.on('console', (line) => line.type() === 'error' && troubles.push(line.text()));
    page.on('request', (request) => request.url() !== at && troubles.push(request.url()));
    await page.goto(at);
    return page;
  }

  const boxes = (page: Page, sheet: string) => page.locator(`#${sheet} .tickable input`);
  const bar = (page: Page, sheet: string) => page.locator(`#${sheet} .tick-bar`);
  const ticked = (page: Page) =>
    page.locator('.tickable input:checked').evaluateAll((all) => all.map((box) => box.getAttribute('aria-label') ?? ''));

  it('boxes are ticked by a finger, counted, and stay ticked when the page is loaded again and when it is closed', async () => {
    const page = await open();
    const many = await boxes(page, 'set-up').count();
    expect(many).toBeGreaterThan(20);
    expect(await bar(page, 'set-up').textContent()).toContain(`0 of ${many} done`);
    await boxes(page, 'set-up').nth(1).tap();
    await boxes(page, 'set-up').nth(3).tap();
    await boxes(page, 'pack-down').nth(0).tap();
    const three = await ticked(page);
    expect(three).toHaveLength(3);
    expect(await bar(page, 'set-up').textContent()).toContain(`2 of ${many} done`);
    await page.reload();
    expect(await ticked(page)).toEqual(three);
    await page.close();
    const again = await open();
    expect(await ticked(again)).toEqual(three);
    expect(await bar(again, 'set-up').textContent()).toContain(`2 of ${many} done`);
    await again.close();
  });

  it('what is ticked in one window is ticked in another; a rig that has changed begins anew', async () => {
    const [page, other] = [await open(), await open()];
    const before = (await ticked(other)).length;
    await boxes(page, 'set-up').nth(5).tap();
    await expect.poll(async () => (await ticked(other)).length).toBe(before + 1);
    await other.close();
    const changed = html.replaceAll(/data-rig="[^"]*"/g, 'data-rig="0000 0000"');
    writeFileSync(path.join(folder, 'sheets.html'), changed);
    await page.reload();
    expect(await ticked(page)).toEqual([]);
    writeFileSync(path.join(folder, 'sheets.html'), html);
    await page.reload();
    expect(await ticked(page)).toHaveLength(before + 1);
    await page.close();
  });

  it('ticks of a sheet are cleared when it is asked for and said so', async () => {
    const page = await open();
    const asked: string[] = [];
    let answer = false;
    page.on('dialog', async (dialog) => {
      asked.push(dialog.message());
      await (answer ? dialog.accept() : dialog.dismiss());
    });
    const before = await ticked(page);
    await bar(page, 'set-up').getByRole('button').tap();
    expect(await ticked(page)).toEqual(before);
    answer = true;
    await bar(page, 'set-up').getByRole('button').tap();
    expect(asked).toEqual(Array(2).fill('Clear all 3 ticks on this sheet?'));
    expect(await ticked(page)).toHaveLength(1);
    await page.reload();
    expect(await ticked(page)).toHaveLength(1);
    // With nothing to clear nothing is asked.
    await bar(page, 'set-up').getByRole('button').tap();
    expect(asked).toHaveLength(2);
    await page.close();
  });

  it('targets are 44 px (WCAG 2.2, 2.5.5) under a finger and 24 px (2.5.8) under a mouse, and lie on nothing else', async () => {
    for (const [given, least] of [
      [TELEPHONE, 44],
      [{ viewport: { width: 1000, height: 800 } }, 24],
    ] as const) {
      const where = await browser.newContext(given);
      const page = await open(where);
      const areas = await page.$$eval('.tickable, .tick-bar button', (all) =>
        all.map((each) => {
          const { left, top, right, bottom } = each.getBoundingClientRect();
          return { left, top, right, bottom };
        }),
      );
      expect(areas.length).toBeGreaterThan(40);
      for (const { left, top, right, bottom } of areas) {
        expect(right - left).toBeGreaterThanOrEqual(least);
        expect(bottom - top).toBeGreaterThanOrEqual(least);
      }
      const inOrder = areas.toSorted((a, b) => a.top - b.top);
      const over = inOrder.filter((area, index) => {
        const next = inOrder[index + 1];
        return next && next.top < area.bottom - 4 && next.left < area.right && area.left < next.right;
      });
      expect(over).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBe(0);
      await where.close();
    }
  });

  it('nothing is against it (axe-core), with boxes ticked', async () => {
    const page = await context.newPage();
    await page.setContent(await pageOf((await analyse(path.join(root, 'examples/first.rig'))).checked, ['set-up']));
    await boxes(page, 'set-up').nth(0).tap();
    await page.evaluate(axe.source);
    const { violations } = await page.evaluate(() => (globalThis as unknown as { axe: typeof axe }).axe.run('#set-up'));
    expect(violations.flatMap(({ id, nodes }) => nodes.map(({ html: what }) => `${id}: ${what.slice(0, 160)}`))).toEqual([]);
    await page.close();
  });

  it('printed, its boxes are empty and nothing is muted', async () => {
    const page = await open();
    await boxes(page, 'set-up').nth(0).check();
    await page.emulateMedia({ media: 'print' });
    const look = (nth: number) =>
      boxes(page, 'set-up')
        .nth(nth)
        .evaluate((box) => {
          const { appearance, backgroundColor, backgroundImage, borderTopWidth, width } = getComputedStyle(box);
          const row = getComputedStyle(box.closest('tr')?.querySelector('th') as Element).color;
          return { appearance, backgroundColor, backgroundImage, borderTopWidth, width, row };
        });
    expect(await look(0)).toEqual(await look(8));
    expect((await look(0)).appearance).toBe('none');
    expect(await bar(page, 'set-up').isVisible()).toBe(false);
    await page.close();
  });

  it('without scripts its boxes can be ticked, and it says that they are not kept', async () => {
    const where = await browser.newContext({ ...TELEPHONE, javaScriptEnabled: false });
    const page = await open(where);
    await boxes(page, 'pack-down').nth(0).check();
    expect(await boxes(page, 'pack-down').nth(0).isChecked()).toBe(true);
    expect(await page.locator('.tick-bar:visible').allTextContents()).toEqual(Array(2).fill(expect.stringMatching(/^Keep this page open/)));
    await where.close();
  });

  const stores: [string, (page: Page) => Promise<unknown>][] = [
    ['a page without an address', async (page) => page.setContent(html)],
    [
      'a browser that forbids it',
      async (page) => {
        await page.addInitScript(() => {
          Object.defineProperty(window, 'localStorage', {
            get() {
              throw new DOMException('denied', 'SecurityError');
            },
          });
        });
        await page.goto(at);
      },
    ],
    [
      'a store that is full',
      async (page) => {
        await page.addInitScript(() => {
          Storage.prototype.setItem = () => {
            throw new DOMException('full', 'QuotaExceededError');
          };
        });
        await page.goto(at);
      },
    ],
    [
      'a store with something else in it',
      async (page) => {
        await page.addInitScript(() => {
          Storage.prototype.getItem = () => '{"a": [1';
        });
        await page.goto(at);
      },
    ],
  ];
  it.each(some(stores, 2))('works in %s', async (_name, go) => {
    const where = await browser.newContext(TELEPHONE);
    const page = await where.newPage();
    page.on('pageerror', (problem) => troubles.push(String(problem)));
    await go(page);
    const box = boxes(page, 'pack-down').nth(2);
    await box.tap();
    expect(await box.isChecked()).toBe(true);
    expect(await bar(page, 'pack-down').textContent()).toMatch(
      /^1 of \d+ done(\. Keep this page open: this browser does not keep ticks\.)?Clear ticks$/,
    );
    await where.close();
  });

  it('lets no script in but its own, loads nothing, and throws nothing', async () => {
    const page = await open();
    const ran = await page.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'globalThis.ran = true';
      document.body.append(script);
      return 'ran' in globalThis;
    });
    expect(ran).toBe(false);
    expect(troubles.splice(0).filter((trouble) => !trouble.includes('Content Security Policy'))).toEqual([]);
    await page.close();
  });

  it('has no script where there is nothing to tick', async () => {
    const { checked } = await analyseText('rig "R" region EU\nperformer a "Ama" at 0 m, 1 m\n');
    expect(await pageOf(checked, ['stage'])).not.toContain('<script');
  });
});
