/** Sheets on screens of many widths, in Chromium: no word of usual length is broken, and nothing is wider than the window. */
import { join } from 'node:path';
import axe from 'axe-core';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Checked } from '#engine';
import { sheetsOf } from '../../packages/sheets/all';
import { html } from '../../packages/sheets/render/html';
import { chromium as program } from '../editor/host.mjs';
import { some } from '../thorough';
import { analyse, analyseText, here } from './load';

const found = program();
if (!found) console.warn('No Chromium found: the sheets are not looked at.');

const WIDTHS = some([320, 400, 500, 600, 650, 700, 760, 820, 900, 1000, 1200], 4);
/** Longer words may be broken. */
const UNBROKEN = 16;

/** Nine mixes in stereo with long names, and a word of sixty letters. */
const CROWDED = `rig "Ensemble ${'Zwischenraum'.repeat(5)}" region EU
gear desk "Interface" is interface-16 at 0 m, 2 m
${Array.from({ length: 9 }, (_, at) => {
  const id = `p${at}`;
  return `performer ${id} "Contrabass ${at + 1}" at ${at - 4} m, 2 m
source s${at} "${at === 0 ? 'Zwischenraum'.repeat(5) : 'Contrabassoons'} ${at}" is dynamic-mic by ${id}
input desk.${at + 1} takes s${at}
mix m${at} "Accompaniment ${at}" stereo for ${id} { s${at} -3 dB pan left 20 % }`;
}).join('\n')}
`;

/** Forty lines into ten mixes, whose names are too long to stand beside one another. */
const FORTY = `rig "Forty lines"
${Array.from({ length: 10 }, (_, at) => `performer p${at} "Nightingale ${at}"`).join('\n')}
${Array.from({ length: 5 }, (_, at) => `gear box${at} "Interface ${at}" is interface-8-mic`).join('\n')}
${Array.from({ length: 40 }, (_, at) => `source s${at} "Bandoneon ${at}" is dynamic-mic by p${at % 10}\ninput box${Math.floor(at / 8)}.${(at % 8) + 1} takes s${at}`).join('\n')}
${Array.from({ length: 10 }, (_, at) => `mix m${at} "Accompaniment ${at}" mono for p${at} { s${at} 0 dB  s${at + 20} -3 dB }`).join('\n')}
`;

describe.skipIf(!found)('on a screen', { timeout: 240_000 }, () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await chromium.launch({ executablePath: found, headless: true, args: ['--no-sandbox', '--disable-gpu'] });
  }, 60_000);
  afterAll(() => browser?.close());

  async function open(checked: Checked): Promise<Page> {
    const page = await browser.newPage();
    await page.setContent(html(await sheetsOf(checked)));
    return page;
  }

  /** Words that stand on two lines, and how much wider than the window the page is. */
  const look = (page: Page, unbroken: number) =>
    page.evaluate((most) => {
      const broken = new Set<string>();
      const range = document.createRange();
      const texts = document.createTreeWalker(document.querySelector('main') as Element, NodeFilter.SHOW_TEXT);
      for (let node = texts.nextNode(); node; node = texts.nextNode()) {
        if (!node.parentElement?.closest('table') || node.parentElement.closest('.long')) continue;
        // A line may end after a hyphen, a slash, and other signs.
        for (const { 0: word, index } of (node.textContent ?? '').matchAll(/[\p{L}\p{N}.,]+/gu)) {
          // Chinese and Japanese are broken between any two characters.
          if (word.length > most || /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}]/u.test(word)) continue;
          range.setStart(node, index);
          range.setEnd(node, index + word.length);
          if (new Set([...range.getClientRects()].map(({ top }) => Math.round(top))).size > 1) broken.add(word);
        }
      }
      return { broken: [...broken], wider: (document.scrollingElement?.scrollWidth ?? 0) - innerWidth };
    }, unbroken);

  it.each([
    ...['choir', 'street', 'ten'].map((name) => join(import.meta.dirname, `../../examples/${name}.rig`)),
    here('lighthouse.rig'),
    here('awkward.rig'),
  ])('%s breaks no word and is not too wide', async (path) => {
    const page = await open((await analyse(path)).checked);
    for (const width of WIDTHS) {
      await page.setViewportSize({ width, height: 800 });
      expect(await look(page, UNBROKEN), `${width} px`).toEqual({ broken: [], wider: 0 });
    }
    await page.close();
  });

  it('many mixes with long names do neither', async () => {
    const { checked } = await analyseText(CROWDED);
    expect(checked.rig.mixes.size).toBe(9);
    const page = await open(checked);
    for (const width of WIDTHS) {
      await page.setViewportSize({ width, height: 800 });
      expect(await look(page, UNBROKEN), `${width} px`).toEqual({ broken: [], wider: 0 });
    }
    await page.close();
  });

  it('in a card a value with a long word stands beside its label like all others', async () => {
    const page = await open((await analyseText(CROWDED)).checked);
    await page.setViewportSize({ width: 400, height: 800 });
    const lefts = await page.$$eval('.entry > tr > .cell > span:has(.long)', (all) =>
      all.flatMap((value) => {
        const range = document.createRange();
        range.selectNodeContents(value);
        return [...range.getClientRects()].map(({ left }) => Math.round(left - value.getBoundingClientRect().left));
      }),
    );
    expect(lefts.length).toBeGreaterThan(5);
    // The label takes 7.5 rem.
    expect(Math.min(...lefts)).toBeGreaterThanOrEqual(120);
    await page.close();
  });

  it('tables are tables where there is room to read one, a pane beside the text among it', async () => {
    const page = await open((await analyse(join(import.meta.dirname, '../../examples/ten.rig'))).checked);
    const cards = () =>
      page.$$eval('table.table-of', (all) =>
        all
          .filter((table) => getComputedStyle(table.querySelector('thead') as Element).display === 'block')
          .map((table) => table.className.replace(/.*table-/, '')),
      );
    await page.setViewportSize({ width: 576, height: 800 });
    // Of ten columns and more: they would have to be moved sideways.
    expect(await cards()).toEqual(['inputs', 'sends', 'matrix']);
    await page.setViewportSize({ width: 800, height: 800 });
    expect(await cards()).toEqual([]);
    await page.setViewportSize({ width: 400, height: 800 });
    expect((await cards()).length).toBe(await page.locator('table.table-of').count());
    await page.close();
  });

  it.each(['ten', 'choir', 'street', 'first'])('no table of %s is moved sideways', async (name) => {
    const page = await open((await analyse(join(import.meta.dirname, `../../examples/${name}.rig`))).checked);
    for (const width of WIDTHS) {
      await page.setViewportSize({ width, height: 800 });
      const wider = await page.$$eval('.room', (all) =>
        all.filter((room) => room.scrollWidth > room.clientWidth + 1).map((room) => room.querySelector('h2')?.textContent),
      );
      expect(wider, `${width} px`).toEqual([]);
    }
    await page.close();
  });

  it('of a table that is moved, by the keyboard as well, the headings and the names of the rows stay in sight', async () => {
    const page = await open((await analyseText(FORTY)).checked);
    for (const width of [800, 1200]) {
      await page.setViewportSize({ width, height: 800 });
      const room = page.locator('.room', { has: page.locator('.table-matrix') });
      await room.focus();
      expect(await room.getAttribute('aria-label')).toBe('Table: What comes in');
      const moved = await room.evaluate((element) => {
        element.scrollTo(300, 600);
        const { left, top, bottom } = element.getBoundingClientRect();
        const at = (selector: string) => [...element.querySelectorAll(selector)].map((each) => each.getBoundingClientRect());
        return {
          by: [element.scrollLeft, element.scrollTop],
          tops: [...new Set(at('thead th').map((each) => Math.round(each.top - top)))],
          lefts: [...new Set(at('.names').map((each) => Math.round(each.left - left)))],
          high: bottom - top,
        };
      });
      expect(moved).toMatchObject({ by: [300, 600], tops: [0], lefts: [0] });
      expect(moved.high).toBeLessThan(800);
    }
    await page.evaluate(axe.source);
    const { violations } = await page.evaluate(() => (globalThis as unknown as { axe: typeof axe }).axe.run('.moved'));
    expect(violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)])).toEqual([]);
    await page.close();
  });

  it('drawings are scaled as long as they can be read, then scrolled', async () => {
    const page = await open((await analyse(join(import.meta.dirname, '../../examples/ten.rig'))).checked);
    for (const width of WIDTHS) {
      await page.setViewportSize({ width, height: 800 });
      const frames = await page.$$eval('.frame', (all) =>
        all.map((frame) => {
          const svg = frame.querySelector('svg') as SVGSVGElement;
          const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
          const smallest = Math.min(...[...svg.querySelectorAll('text')].map((text) => Number(text.getAttribute('font-size'))));
          return { px: smallest * scale, paper: (smallest * 96) / 25.4, scrolled: frame.scrollWidth > frame.clientWidth + 1 };
        }),
      );
      expect(frames.length).toBeGreaterThan(2);
      for (const { px, paper, scrolled } of frames) {
        expect(px, `${width} px`).toBeGreaterThan(Math.min(7.9, paper - 0.1));
        // It is not scrolled while there is still something to give.
        if (scrolled) expect(px, `${width} px`).toBeLessThan(Math.min(8.1, paper + 0.1));
      }
    }
    await page.close();
  });
});
