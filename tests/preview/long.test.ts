/** A long sheet beside the text: of what comes only that is drawn which is other, first what is in sight; in the end it is as if it were drawn afresh. */
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import type { ToPreview } from '#preview';
import type { Sheet } from '#sheets';
import { sharing } from '#sheets/sharing';
import type { TableRow } from '#sheets/sheet';
import { updateOf } from '#sheets/update';
import { inParts } from '../../packages/sheets/render/components/parts';
import { randomFrom } from '../generate';
import { Webview, why } from './webview';

if (why) console.warn(`\nNOT RUN: the tests of long sheets in a browser (tests/preview), because ${why}.\n`);

const ROWS = 700;

function row(number: number, says = `Lead ${number}`): TableRow {
  return {
    key: `lead ${number}`,
    place: `input:iface.${number}`,
    about: [`input:iface.${number}`],
    group: `Walk ${Math.floor(number / 90)}`,
    findings: [],
    cells: [says, number % 3 === 0 ? 'XLR' : 'jack'],
  };
}

function sheet(rows: readonly TableRow[]): Sheet {
  return {
    id: 'patch-list',
    name: 'Patch list',
    title: 'Copper Wren',
    facts: [],
    blocks: [
      {
        kind: 'table',
        id: 'first',
        title: 'First',
        columns: [{ title: 'What', names: true }],
        rows: [{ ...row(9_999), cells: ['Mats'] }],
        ticks: 'numbers',
        empty: '',
      },
      {
        kind: 'table',
        id: 'leads',
        title: 'Leads',
        columns: [{ title: 'What', names: true }, { title: 'Plug' }],
        rows,
        ticks: 'numbers',
        firstStep: 2,
        groups: 'Walk',
        empty: '',
      },
    ],
  };
}

const all = Array.from({ length: ROWS }, (_, index) => row(index));

/** Some rows come, some go, some say something else, some change their places. */
function edited(rows: readonly TableRow[], random: () => number, fresh: () => number): TableRow[] {
  const now = [...rows];
  const at = () => Math.floor(random() * now.length);
  for (let count = 1 + Math.floor(random() * 4); count > 0; count--) {
    const what = Math.floor(random() * 4);
    if (what === 0) now.splice(at(), 0, row(fresh()));
    else if (what === 1) now.splice(at(), 1 + Math.floor(random() * 3));
    else if (what === 2) now.splice(at(), 1, row(fresh(), `Lead of ${fresh()}`));
    else now.splice(at(), 0, ...now.splice(at(), 2));
  }
  return now;
}

describe('the parts of a long table', () => {
  it('are all of its rows in order, and the very lists of before where nothing has changed', () => {
    const random = randomFrom(3);
    let [rows, number] = [all, ROWS];
    let parts = inParts(rows, []);
    for (let step = 0; step < 300; step++) {
      rows = edited(rows, random, () => number++);
      const now = inParts(rows, parts);
      expect(now.flatMap((part) => part.rows)).toEqual(rows);
      for (const { rows: some, first } of now) expect(rows[first]).toBe(some[0]);
      expect(Math.max(...now.map((part) => part.rows.length))).toBeLessThanOrEqual(64);
      const before = new Set(parts.map((part) => part.rows));
      expect(now.filter((part) => !before.has(part.rows)).length).toBeLessThanOrEqual(16);
      expect(new Set(now.map(({ id }) => id)).size).toBe(now.length);
      // It does not fall to pieces.
      expect(now.length).toBeLessThan(40);
      parts = now;
    }
  });
});

describe('a part of a long table', () => {
  const before = inParts(all, []);
  const [, second] = before;

  it.each([
    ['a row in front of all', [row(ROWS), ...all]],
    ['its first row gone', all.toSpliced(second?.first ?? 0, 1)],
    ['a row in front of its first', all.toSpliced(second?.first ?? 0, 0, row(ROWS))],
    ['a row within', all.toSpliced((second?.first ?? 0) + 3, 0, row(ROWS))],
    ['its first row another', all.toSpliced(second?.first ?? 0, 1, row(ROWS))],
    ['the first of all another', all.toSpliced(0, 1, row(ROWS))],
    ['one in front and one gone', [row(ROWS), ...all.toSpliced(300, 1)]],
  ])('stays that part: %s', (_, rows) => {
    const ids = inParts(rows, before).map(({ id }) => id);
    expect(ids.filter((id) => id >= before.length).length).toBeLessThanOrEqual(1);
    expect(before.map(({ id }) => id).filter((id) => !ids.includes(id))).toEqual([]);
  });

  it('takes in what comes in front of it, row by row', () => {
    let parts = before;
    let rows = all;
    for (let number = ROWS; number < ROWS + 200; number++) {
      rows = [row(number), ...rows];
      parts = inParts(rows, parts);
    }
    expect(parts.length).toBeLessThan(before.length + 200 / 14);
    expect(parts.at(-1)?.rows).toBe(before.at(-1)?.rows);
  });
});

describe.skipIf(why !== undefined)('a long sheet in a browser', { timeout: 60_000 }, () => {
  let webview: Webview;
  let shown = sheet(all);

  beforeAll(async () => {
    const failure = inject('buildFailure');
    if (failure) throw new Error(`dist/ could not be built:\n${failure}`);
    webview = await Webview.open([shown]);
  }, 60_000);

  afterAll(() => webview?.close());

  const message = (content: { readonly sheet?: Sheet } | { readonly update?: unknown }): ToPreview =>
    ({ type: 'sheet', uri: 'file:///a.rig', title: 'a', lends: false, titled: true, ...content }) as ToPreview;

  async function update(rows: readonly TableRow[]): Promise<void> {
    const now = sharing(shown, sheet(rows));
    await webview.send(message({ update: updateOf(shown, now) }));
    shown = now;
  }

  const words = ({ page }: Webview) => page.locator('.table-leads').evaluate((table) => (table as HTMLElement).textContent);

  it('is in the end as if it were drawn afresh, wherever somebody looks', async () => {
    const random = randomFrom(7);
    const { page } = webview;
    let [rows, number] = [all, ROWS];
    for (let round = 0; round < 12; round++) {
      await page.evaluate((part) => window.scrollTo(0, document.body.scrollHeight * part), random());
      rows = edited(rows, random, () => number++);
      await update(rows);
      const steps = rows.map((_, index) => String(index + 2));
      await expect.poll(() => page.locator('.table-leads .tickable').allTextContents(), { timeout: 10_000 }).toEqual(steps);
    }
    const fresh = await Webview.open([{ ...shown, id: 'patch-list' as const }]);
    expect(await words(webview)).toBe(await words(fresh));
    await fresh.close();
  });

  it('has its columns under one another, and no word in them is broken', async () => {
    const { page } = webview;
    const rows = shown.blocks.flatMap((block) => (block.kind === 'table' && block.id === 'leads' ? block.rows : []));
    await update(rows.with(4, { ...row(8_000), cells: ['Sousaphones', 'unbalanced'] }));
    await page.locator('.table-leads .entry').filter({ hasText: 'Sousaphones' }).waitFor();
    for (const width of [480, 600, 760, 1300]) {
      await page.setViewportSize({ width, height: 800 });
      await page.evaluate(() => window.scrollTo(0, 0));
      const { lefts, broken, wider } = await page.locator('.table-leads').evaluate((table) => {
        const cells = [...table.querySelectorAll('thead tr, .entry:nth-of-type(-n+20) > tr:not(.group)')].map((row) => [...row.children]);
        const lefts = new Set(cells.map((row) => row.map((cell) => Math.round(cell.getBoundingClientRect().left)).join(' ')));
        const lines = (cell: Element) => {
          const range = document.createRange();
          range.selectNodeContents(cell);
          return new Set([...range.getClientRects()].map(({ top }) => Math.round(top))).size;
        };
        const words = [...table.querySelectorAll('.main')].filter(({ textContent }) =>
          /^(Sousaphones|unbalanced)$/.test(textContent ?? ''),
        );
        return { lefts: [...lefts], broken: words.map(lines).filter((count) => count > 1), wider: table.scrollWidth - table.clientWidth };
      });
      expect({ columns: lefts.length, broken, wider }, `${width} px`).toEqual({ columns: 1, broken: [], wider: 0 });
    }
    await page.setViewportSize({ width: 760, height: 800 });
    await update(rows);
  });

  it('lays out only what is in sight', async () => {
    const { page } = webview;
    await page.evaluate(() => window.scrollTo(0, 0));
    const laidOut = () =>
      page
        .locator('.table-leads .main')
        .evaluateAll((all) => all.filter((each) => each.checkVisibility({ contentVisibilityAuto: true })).length);
    await expect.poll(laidOut).toBeLessThan(400);
    expect(await laidOut()).toBeGreaterThan(10);
  });

  it('is a table for everybody', async () => {
    const some = await Webview.open([sheet(all.slice(0, 130))]);
    const groups = 2;
    const head = 1;
    expect(await some.page.getByRole('table', { name: 'Leads' }).getByRole('row').count()).toBe(130 + groups + head);
    expect(await some.violations()).toEqual([]);
    await some.close();
  });

  it('keeps what is ticked in one part and then in another', async () => {
    const { page } = webview;
    const boxes = page.locator('.table-leads input[type="checkbox"]');
    for (const at of [1, 300, 650, 2]) await boxes.nth(at).check();
    const ticked = () => boxes.evaluateAll((all) => all.flatMap((box, index) => ((box as HTMLInputElement).checked ? [index] : [])));
    expect(await ticked()).toEqual([1, 2, 300, 650]);
    const rows = shown.blocks.flatMap((block) => (block.kind === 'table' && block.id === 'leads' ? block.rows : []));
    await update([row(5_000), ...rows]);
    await expect.poll(ticked, { timeout: 10_000 }).toEqual([2, 3, 301, 651]);
    await boxes.nth(301).uncheck();
    expect(await ticked()).toEqual([2, 3, 651]);
  });

  it('shows at once which row the cursor is in, however far down it is', async () => {
    const { page } = webview;
    await page.evaluate(() => {
      (document.activeElement as HTMLElement).blur();
      window.scrollTo(0, 0);
    });
    await webview.send({ type: 'cursor', places: ['input:iface.640'] });
    await page.locator('.entry.lit').filter({ hasText: 'Lead 640' }).waitFor();
    await expect.poll(() => page.locator('.entry.lit').evaluate((lit) => lit.getBoundingClientRect().top < window.innerHeight)).toBe(true);
  });

  it.each([
    ['in front of all', 0],
    ['in front of a part', 250],
  ])('leaves the rows alone that stay, and the focus where it is, while rows come one after the other %s', async (_, at) => {
    const { page } = webview;
    await update(all);
    await expect.poll(() => page.locator('.table-leads .entry').count()).toBe(ROWS);
    const focused = page.locator('.table-leads tr[tabindex]').filter({ hasText: /Lead 300(?!\d)/ });
    await focused.focus();
    await page.evaluate(() => {
      const moved = Object.assign(globalThis, { moved: 0 });
      new MutationObserver((all) => {
        for (const { removedNodes } of all) moved.moved += removedNodes.length;
      }).observe(document.querySelector('.table-leads') as Element, { childList: true });
    });
    let rows: readonly TableRow[] = all;
    for (let number = 6_000; number < 6_020; number++) {
      rows = rows.toSpliced(at, 0, row(number));
      await update(rows);
      await expect.poll(() => page.locator('.table-leads .entry').count()).toBe(rows.length);
      expect(await page.evaluate(() => document.activeElement?.textContent)).toMatch(/Lead 300(?!\d)/);
    }
    // Those of small parts that become one are drawn afresh.
    expect(await page.evaluate(() => (globalThis as unknown as { moved: number }).moved)).toBeLessThan(80);
  });

  it('asks for the whole where it has not what it is told the changes of', async () => {
    const other = { ...sheet(all), id: 'leads' as const };
    const said = webview.said.length;
    await webview.send(message({ update: updateOf(other, other) }));
    await expect.poll(() => webview.said.slice(said)).toContainEqual({ type: 'ready', sheet: 'patch-list' });
    // Which it gets: here, of the beginning.
    await expect.poll(() => webview.page.locator('.table-leads .entry').count()).toBe(ROWS);
    expect(webview.troubles).toEqual([]);
  });
});
