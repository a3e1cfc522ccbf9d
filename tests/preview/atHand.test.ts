/** What a reader does to the sheets on a screen: boxes ticked, drawings made larger; and what cannot be drawn, in its place. */
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { type Sheet, sheetsOf } from '#sheets';
import { root } from '../build';
import { analyse } from '../sheets/load';
import { Webview, why } from './webview';

describe.skipIf(why !== undefined)('at hand', { timeout: 90_000 }, () => {
  let sheets: Sheet[];
  let webview: Webview;

  beforeAll(async () => {
    const failure = inject('buildFailure');
    if (failure) throw new Error(`dist/ could not be built:\n${failure}`);
    sheets = await sheetsOf((await analyse(path.join(root, 'examples/ten.rig'))).checked);
    webview = await Webview.open(sheets);
  }, 60_000);

  afterAll(() => webview?.close());

  const sheetNamed = (id: string) => sheets.find((sheet) => sheet.id === id) as Sheet;
  const sent = (sheet: Sheet) => ({ type: 'sheet', uri: 'file:///a.rig', title: sheet.title, sheet, lends: false, titled: true }) as const;
  const ticked = () =>
    webview.page.locator('.tickable input:checked').evaluateAll((all) => all.map((box) => box.getAttribute('aria-label')));

  it('boxes are ticked by the mouse and by the keyboard, and stay so while somebody types, on other sheets, hidden and opened anew', async () => {
    const { page, said } = webview;
    await webview.show('pack-down');
    const boxes = page.locator('.tickable input');
    const names = await boxes.evaluateAll((all) => all.map((box) => box.getAttribute('aria-label')));
    expect(names.length).toBeGreaterThan(20);
    await boxes.nth(2).click();
    await boxes.nth(4).press('Space');
    const both = [names[2], names[4]];
    expect(await ticked()).toEqual(both);
    expect(said.filter(({ type }) => type === 'jump')).toEqual([]);
    expect(await page.locator('.tick-bar').textContent()).toContain(`2 of ${names.length} done`);

    // A row before them, and one that says something else than it did.
    const sheet = sheetNamed('pack-down');
    const [first, ...others] = sheet.blocks;
    if (first?.kind !== 'table') throw new Error('no table');
    const [a, b, c, d, e, ...rows] = first.rows as [
      (typeof first.rows)[0],
      (typeof first.rows)[0],
      (typeof first.rows)[0],
      (typeof first.rows)[0],
      (typeof first.rows)[0],
    ];
    const changed = { ...e, cells: ['Something else', ...e.cells.slice(1)] };
    const typed = {
      ...sheet,
      blocks: [{ ...first, rows: [{ ...a, key: 'new', cells: ['New', ''] }, a, b, c, d, changed, ...rows] }, ...others],
    };
    await webview.send(sent(typed));
    await page.getByText('Something else').waitFor();
    expect(await ticked()).toEqual([names[2]?.replace('3 done', '4 done')]);
    await webview.send(sent(sheet));
    await page.getByText('Something else').waitFor({ state: 'detached' });
    expect(await ticked()).toEqual(both);

    await webview.show('set-up');
    expect(await ticked()).toEqual([]);
    await webview.show('pack-down');
    expect(await ticked()).toEqual(both);
    await webview.again();
    expect(await ticked()).toEqual(both);
    await webview.again({ forget: true });
    await webview.show('pack-down');
    expect(await ticked()).toEqual(both);
  });

  it('ticks are cleared at once, and put back by the same button', async () => {
    const { page } = webview;
    await webview.show('set-up');
    await page.locator('.tickable input').nth(0).check();
    await page.getByRole('button', { name: 'Clear ticks' }).click();
    expect(await ticked()).toEqual([]);
    expect(webview.ticked?.['set-up']).toEqual([]);
    await page.getByRole('button', { name: 'Put ticks back' }).click();
    expect(await ticked()).toHaveLength(1);
    await page.getByRole('button', { name: 'Clear ticks' }).click();
    await webview.show('pack-down');
    expect(await ticked()).toHaveLength(2);
  });

  it('a drawing on a narrow page is as small as can be read, and fits the width when it is asked to', async () => {
    const { page } = webview;
    await page.setViewportSize({ width: 320, height: 800 });
    await webview.show('stage');
    const seen = () =>
      page.locator('.frame').evaluate((frame) => {
        const svg = frame.firstElementChild as SVGSVGElement;
        const words = [...svg.querySelectorAll('text')].map((text) => Number.parseFloat(getComputedStyle(text).fontSize));
        const { width } = svg.getBoundingClientRect();
        return { smallest: Math.min(...words) * (width / svg.viewBox.baseVal.width), part: width / frame.clientWidth };
      });
    const first = await seen();
    expect(first.smallest).toBeGreaterThan(6.3);
    expect(first.part).toBeGreaterThan(1.1);
    await page.getByRole('button', { name: 'Fit' }).click();
    expect((await seen()).part).toBeCloseTo(1, 2);
    await page.getByRole('button', { name: 'Larger' }).click();
    await page.locator('.frame').press('0');
    expect((await seen()).part).toBeCloseTo(1, 2);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
    await page.setViewportSize({ width: 700, height: 800 });
    await page.getByRole('button', { name: 'Fit' }).click();
    expect((await seen()).part).toBeCloseTo(1, 2);
  });

  it('a drawing fits the width, is made larger by button, key and wheel, and stays so while somebody types and hidden', async () => {
    const { page } = webview;
    await page.setViewportSize({ width: 700, height: 800 });
    await webview.show('stage');
    const widths = () =>
      page.locator('.frame').evaluate((frame) => [(frame.firstElementChild as Element).getBoundingClientRect().width, frame.clientWidth]);
    const zoom = async () => {
      const [drawn = 0, frame = 0] = await widths();
      return Math.round((drawn / frame) * 100) / 100;
    };
    expect(await zoom()).toBe(1);
    await page.getByRole('button', { name: 'Larger' }).click();
    expect(await zoom()).toBe(1.25);
    await page.locator('.frame').press('+');
    expect(await zoom()).toBe(1.56);
    await page.locator('.frame').press('-');
    await page.getByRole('button', { name: 'Smaller' }).click();
    expect(await zoom()).toBe(1);

    // The point under the pointer stays there.
    const part = page.locator('.frame [role="button"]:has(circle)').first();
    const centre = async () => {
      const { x, y, width, height } = (await part.boundingBox()) ?? { x: 0, y: 0, width: 0, height: 0 };
      return [x + width / 2, y + height / 2] as const;
    };
    const [x, y] = await centre();
    await page.mouse.move(x, y);
    await page.keyboard.down('Control');
    await page.mouse.wheel(0, -200);
    await page.keyboard.up('Control');
    await expect.poll(zoom).toBe(1.65);
    const [nowX, nowY] = await centre();
    expect(Math.abs(nowX - x) + Math.abs(nowY - y)).toBeLessThan(4);
    await page.mouse.wheel(0, 100);
    expect(await zoom()).toBe(1.65);

    await webview.send(sent({ ...sheetNamed('stage'), title: 'Typed' }));
    await page.getByRole('heading', { name: 'Typed' }).waitFor();
    expect(await zoom()).toBe(1.65);
    await webview.show('patch-list');
    await webview.show('stage');
    await webview.again();
    expect(await zoom()).toBe(1.65);
    await page.getByRole('button', { name: 'Fit' }).click();
    expect(await zoom()).toBe(1);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(700);
  });

  it('a sheet that cannot be drawn says so in its place; the others stand, and so does it once it can be drawn', async () => {
    const { page } = webview;
    await webview.show('leads');
    const sheet = sheetNamed('leads');
    await webview.send(sent({ ...sheet, blocks: [...sheet.blocks, null] } as unknown as Sheet));
    await page.getByText('This sheet could not be made').waitFor();
    expect(await page.locator('.empty').textContent()).toMatch(/your text is safe, and the other sheets are as they should be/);
    await webview.show('mixes');
    expect(await page.locator('.sheet-kind').textContent()).toBe('Mixes');
    await webview.send(sent(sheet));
    await webview.show('leads');
    await page.locator('.table-of').first().waitFor();
    expect(await page.getByText('This sheet could not be made').count()).toBe(0);
  });

  it('was refused nothing by its policy, and threw nothing', () => {
    expect(webview.troubles).toEqual([]);
  });
});
