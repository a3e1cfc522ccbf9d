/** The preview as a person uses it, in a browser and without an editor. */
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { type Sheet, sheetsOf } from '#sheets';
import { root } from '../build';
import { analyse, analyseText } from '../sheets/load';
import { THEME_NAMES, Webview, why } from './webview';

if (why) console.warn(`\nNOT RUN: the tests of the preview in a browser (tests/preview), because ${why}.\n`);

async function load(file: string): Promise<Sheet[]> {
  const { checked, located } = await analyse(path.join(root, file));
  return sheetsOf(
    checked,
    located.map(({ finding }) => finding),
  );
}

describe.skipIf(why !== undefined)('the preview in a browser', { timeout: 60_000 }, () => {
  let sheets: Sheet[];
  let webview: Webview;

  beforeAll(async () => {
    const failure = inject('buildFailure');
    if (failure) throw new Error(`dist/ could not be built:\n${failure}`);
    sheets = await load('tests/checks/tour.rig');
    webview = await Webview.open(sheets);
  }, 60_000);

  afterAll(() => webview?.close());

  it('shows each sheet under its tab', async () => {
    for (const { id, name } of sheets) {
      await webview.show(id);
      expect(await webview.page.locator('.sheet-kind').textContent()).toBe(name);
      expect(await webview.page.locator('[role="tab"][aria-selected="true"]').getAttribute('id')).toBe(`tab-${id}`);
    }
    await webview.show('patch-list');
  });

  it('changes by the arrow keys, round in a circle, with one stop for the keyboard', async () => {
    const { page } = webview;
    const chosen = () => page.locator(':focus').getAttribute('id');
    await page.locator('#tab-patch-list').focus();
    await page.keyboard.press('ArrowRight');
    expect(await chosen()).toBe('tab-mixes');
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('ArrowLeft');
    expect(await chosen()).toBe('tab-plan');
    await page.keyboard.press('Home');
    expect(await chosen()).toBe('tab-patch-list');
    expect(await page.locator('[role="tab"][tabindex="0"]').count()).toBe(1);
    await page.locator('.sheet-kind').filter({ hasText: 'Patch list' }).waitFor();
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('TR');
  });

  it('keeps how far down each sheet was read, while others are looked at and while somebody types', async () => {
    const { page } = webview;
    const top = () => page.evaluate(() => Math.round(window.scrollY));
    await webview.show('patch-list');
    await page.evaluate(() => window.scrollTo(0, 700));
    await webview.show('leads');
    expect(await top()).toBe(0);
    await webview.show('patch-list');
    expect(await top()).toBe(700);
    const [first] = sheets as [Sheet];
    await webview.send({
      type: 'sheet',
      uri: 'file:///a.rig',
      title: first.title,
      sheet: { ...first, title: 'Lantern Quay, typed' },
      lends: false,
      titled: true,
    });
    await page.getByRole('heading', { name: 'Lantern Quay, typed' }).waitFor();
    expect(await top()).toBe(700);
    await page.evaluate(() => window.scrollTo(0, 0));
  });

  it('goes to the text from a row and from a part of a drawing, by the mouse and by the keyboard', async () => {
    const { page, said } = webview;
    const jumps = () => said.flatMap((message) => (message.type === 'jump' ? [message.place] : []));
    await webview.show('patch-list');
    const row = page.locator('.table-inputs tr[tabindex]').nth(2);
    await row.locator('th').click();
    expect(jumps()).toHaveLength(1);
    await row.press('Enter');
    expect(jumps()[1]).toBe(jumps()[0]);
    await webview.show('stage');
    const part = page.locator('svg.drawing [role="button"]:has(rect)').first();
    await part.press('Enter');
    await expect.poll(() => jumps().length).toBe(3);
    await part.locator('rect').first().click();
    await expect.poll(() => jumps().length).toBe(4);
    expect(jumps()[3]).toBe(jumps()[2]);
  });

  it('lights what the cursor is in, on a table and in a drawing', async () => {
    const { page } = webview;
    await webview.send({ type: 'cursor', places: ['performer:ilse'] });
    await webview.show('stage');
    await page.locator('svg.drawing .lit').first().waitFor();
    await webview.show('patch-list');
    await page.locator('.entry.lit').first().waitFor();
    await webview.send({ type: 'cursor', places: [] });
    await page.locator('.entry.lit').first().waitFor({ state: 'detached' });
  });

  it('was refused nothing by its policy, and threw nothing', () => {
    expect(webview.troubles).toEqual([]);
  });
});

describe.skipIf(why !== undefined)('for everybody (axe-core)', { timeout: 300_000 }, () => {
  it.each(THEME_NAMES)('no sheet has anything against it in a %s theme', async (theme) => {
    const sheets = await load('tests/checks/tour.rig');
    const webview = await Webview.open(sheets, theme);
    try {
      for (const { id } of sheets) {
        await webview.show(id);
        expect(await webview.violations(), id).toEqual([]);
      }
    } finally {
      await webview.close();
    }
  });

  it('says of a draft at once, and while somebody types when it has stayed one', async () => {
    const sheets = await load('tests/checks/tour.rig');
    const [drafted] = sheets as [Sheet];
    const whole: Sheet = { ...drafted, draft: undefined };
    const webview = await Webview.open(sheets);
    const bar = webview.page.locator('.draft');
    const tell = async (sheet: Sheet) => {
      await webview.send({ type: 'sheet', uri: 'file:///a.rig', title: sheet.title, sheet, lends: false, titled: true });
      await webview.page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))));
    };
    try {
      expect(await bar.isVisible()).toBe(true);
      await tell(whole);
      expect(await bar.count()).toBe(0);
      await tell(drafted);
      expect(await bar.isVisible()).toBe(false);
      await webview.page.emulateMedia({ media: 'print' });
      expect(await bar.isVisible()).toBe(true);
      await webview.page.emulateMedia({ media: 'screen' });
      await bar.waitFor({ state: 'visible' });
      await tell(whole);
      await tell(drafted);
      expect(await bar.isVisible()).toBe(false);
    } finally {
      await webview.close();
    }
  });

  it.each(['dark', 'high-contrast'] as const)(
    'in a %s theme a draft has an edge, and lines and areas of a drawing are seen',
    async (theme) => {
      const webview = await Webview.open(await load('tests/checks/tour.rig'), theme);
      try {
        await webview.show('levels');
        const contrasts = await webview.page.evaluate(() => {
          const canvas = document.createElement('canvas').getContext('2d', { willReadFrequently: true }) as CanvasRenderingContext2D;
          const paper = getComputedStyle(document.body).backgroundColor;
          const luminance = (...colours: readonly string[]) => {
            for (const colour of colours) {
              canvas.fillStyle = colour;
              canvas.fillRect(0, 0, 1, 1);
            }
            const [r = 0, g = 0, b = 0] = [...canvas.getImageData(0, 0, 1, 1).data]
              .map((part) => part / 255)
              .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
            return 0.2126 * r + 0.7152 * g + 0.0722 * b;
          };
          // WCAG 2.2, of what is lighter than the page.
          const contrast = (colour: string) => (luminance(paper, colour) + 0.05) / (luminance(paper) + 0.05);
          const of = (element: string, property: string) =>
            getComputedStyle(document.querySelector(element) as Element).getPropertyValue(property);
          return {
            edge: contrast(of('.draft', 'border-top-color')),
            line: contrast(of('.drawing [stroke="var(--line)"]', 'stroke')),
            area: contrast(of('.drawing [fill="var(--tint)"]', 'fill')),
          };
        });
        expect(contrasts.edge).toBeGreaterThan(4.5);
        expect(contrasts.line).toBeGreaterThan(2);
        expect(contrasts.area).toBeGreaterThan(theme === 'dark' ? 1.2 : 1.5);
      } finally {
        await webview.close();
      }
    },
  );

  it('nor has a narrow one, with labels that are as long as they can be, and nothing sticks out of it', async () => {
    const sheets = await load('tests/sheets/awkward.rig');
    const webview = await Webview.open(sheets, 'light', 340);
    try {
      for (const { id } of sheets) {
        await webview.show(id);
        expect(await webview.violations(), id).toEqual([]);
        expect(await webview.page.evaluate(() => document.documentElement.scrollWidth), id).toBeLessThanOrEqual(340);
      }
    } finally {
      await webview.close();
    }
  });

  it('nor has the one of a rig with nothing in it', async () => {
    const { checked } = await analyseText('rig "Nothing"');
    const sheets = await sheetsOf(checked);
    const webview = await Webview.open(sheets);
    try {
      for (const { id } of sheets) {
        await webview.show(id);
        expect(await webview.violations(), id).toEqual([]);
      }
      expect(webview.troubles).toEqual([]);
    } finally {
      await webview.close();
    }
  });
});
