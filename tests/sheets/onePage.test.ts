/** Sheets as they come out of a printer from a browser: which are one A4 page, and no heading apart from its table. Says so where there is no browser to print with. */
import { join } from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { type Browser, chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sheetsOf } from '#sheets';
import { PAPERS, type Paper } from '../../packages/pdf/paper';
import { Press } from '../../packages/pdf/press';
import { sheetsPdf } from '../../packages/pdf/sheets';
import { houseSheet } from '../../packages/sheets/house/sheet';
import { leadsSheet } from '../../packages/sheets/leads/sheet';
import { packDownSheet } from '../../packages/sheets/pack-down/sheet';
import { patchSheet } from '../../packages/sheets/patch-list/sheet';
import { extent, pieces } from '../../packages/sheets/render/extent';
import { html } from '../../packages/sheets/render/html';
import { closenessOf } from '../../packages/sheets/render/pages';
import { setUpSheet } from '../../packages/sheets/set-up/sheet';
import { bound } from '../../packages/sheets/shared/bound';
import { stageSheet } from '../../packages/sheets/stage/sheet';
import { chromium as program } from '../editor/host.mjs';
import { crowd } from './crowd';
import { analyse, analyseText, here } from './load';
import { THIRTY_TWO } from './thirtyTwo';

/** In points, as the style sheet has them. */
const HEADING = 11;
/** What the foot of a page is below. */
const FOOT = 20;

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

  async function pages(
    checked: Parameters<typeof houseSheet>[0],
    sheet: typeof houseSheet = houseSheet,
    paper: Paper = 'A4',
  ): Promise<number> {
    return (await printed(html([sheet(checked)]), paper)).numPages;
  }

  async function printed(text: string, format: Paper = 'A4') {
    const page = await browser.newPage();
    await page.setContent(text);
    const pdf = await page.pdf({ format, preferCSSPageSize: true });
    await page.close();
    return getDocument({ data: new Uint8Array(pdf), verbosity: 0 }).promise;
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

  it.each(PAPERS)(
    'thirty-two lines are one page on %s, with nothing smaller than 7.5 pt and no box apart from its word',
    async (paper) => {
      const document = await printed(html([houseSheet((await analyseText(THIRTY_TWO)).checked)]), paper);
      expect(document.numPages).toBe(1);
      const { items } = await (await document.getPage(1)).getTextContent();
      const words = items.flatMap((item) =>
        'str' in item && item.str.trim()
          ? [{ text: item.str, y: item.transform[5], size: Math.hypot(item.transform[2], item.transform[3]) }]
          : [],
      );
      expect(words.length).toBeGreaterThan(150);
      // The codes of findings are for whoever writes the rig.
      const small = words.filter(({ text, size }) => size < 7.45 && !/^[a-z]+\/[a-z-]+$/.test(text));
      expect(small).toEqual([]);
      const on = words.filter(({ text }) => text.trim() === 'on');
      expect(on.length).toBeGreaterThan(5);
      for (const { y } of on) expect(words.some((each) => each.text.trim() === '\u2610' && Math.abs(each.y - y) < 1)).toBe(true);
    },
    60_000,
  );

  it('the patch list and the stage of the ten are one page each', async () => {
    const { checked } = await analyse(join(import.meta.dirname, '../../examples/ten.rig'));
    for (const paper of PAPERS) for (const sheet of [patchSheet, stageSheet]) expect(await pages(checked, sheet, paper)).toBe(1);
  }, 60_000);

  it('the stage of forty people cannot be one page: it is drawn as large as a page is wide, and its headings come again', async () => {
    const document = await printed(html([stageSheet((await analyseText(crowd(40))).checked)]));
    expect(document.numPages).toBe(2);
    for (const number of [1, 2]) {
      const { items } = await (await document.getPage(number)).getTextContent();
      const words = items.flatMap((item) => ('str' in item && item.str.trim() ? [item] : []));
      expect(words.map(({ str }) => str)).toContain('Who or what');
      expect(Math.min(...words.map(({ transform }) => Math.hypot(transform[2], transform[3])))).toBeGreaterThan(5.5);
    }
  }, 60_000);

  it('no heading stands at the foot of a page, its table on the next', async () => {
    const { checked } = await analyse(join(import.meta.dirname, '../../examples/ten.rig'));
    const sheets = [leadsSheet(checked), packDownSheet(checked), setUpSheet(checked)];
    const document = await printed(html(sheets));
    const titles = sheets.flatMap(({ blocks }) =>
      blocks.flatMap((block) => (block.kind === 'table' && block.rows.length > 0 ? [block] : [])),
    );
    const found = new Set<string>();
    const apart: string[] = [];
    for (let number = 1; number <= document.numPages; number++) {
      const { items } = await (await document.getPage(number)).getTextContent();
      const words = items.flatMap((item) => ('str' in item && item.str.trim() ? [item.str.trim()] : []));
      for (const { title, columns } of titles) {
        const at = words.lastIndexOf(title);
        if (at < 0) continue;
        found.add(title);
        // The headings of its columns, and words of a row.
        const after = words.slice(at + 1);
        const last = columns.at(-1)?.title.split(' ')[0] ?? '';
        if (after.length < columns.length + 3 || !after.some((word) => word.includes(last))) apart.push(`${title}, page ${number}`);
      }
    }
    expect(found.size).toBeGreaterThan(10);
    expect(apart).toEqual([]);
  }, 60_000);

  it('sixteen lines with long labels are one page', async () => {
    const { checked } = await analyseText(SIXTEEN);
    expect(checked.rig.house).toHaveLength(16);
    expect(await pages(checked)).toBe(1);
  }, 60_000);

  /** Of each page of a set: its sheet where one begins on it, how far down it is filled, and how large the lowest words are. */
  async function filled(path: string, paper: Paper) {
    const sheets = await sheetsOf((await analyse(path)).checked);
    const document = await printed(html(sheets), paper);
    const names = new Set<string>(sheets.map(({ name }) => name));
    const pages: { readonly begins: boolean; readonly part: number; readonly lowest: number; readonly wide: boolean }[] = [];
    for (let number = 1; number <= document.numPages; number++) {
      const page = await document.getPage(number);
      const { items } = await page.getTextContent();
      const [, , width = 0, height = 0] = page.view;
      const words = items.flatMap((item) =>
        'str' in item && item.str.trim() && item.transform[5] > FOOT
          ? [{ text: item.str, y: item.transform[5] as number, size: Math.hypot(item.transform[2], item.transform[3]) }]
          : [],
      );
      const lowest = words.reduce((low, each) => (each.y < low.y ? each : low), { y: height, size: 0 });
      // The name of its sheet stands first on it.
      const top = words.reduce((high, each) => (each.y > high.y ? each : high), { text: '', y: 0 }).text.trim();
      pages.push({ begins: names.has(top), part: 1 - lowest.y / height, lowest: lowest.size, wide: width > height });
    }
    return { sheets, pages };
  }

  const examples = ['first', 'choir', 'street', 'ten', 'three-nights/quayside'];
  it.each(examples.flatMap((name) => PAPERS.map((paper) => [name, paper] as const)))(
    '%s on %s: pages are full where the sheet goes on, and no heading is the last on one',
    async (name, paper) => {
      const { pages } = await filled(join(import.meta.dirname, `../../examples/${name}.rig`), paper);
      expect(pages.filter(({ begins }) => begins).length).toBeGreaterThan(9);
      // A page that lies has a drawing alone. Drawings are whole, so the page before one may have some room left.
      const gaps = pages.flatMap(({ part, wide }, at) =>
        pages[at + 1]?.begins === false && !wide && part < 0.55 ? [`page ${at + 1}: ${part}`] : [],
      );
      expect(gaps).toEqual([]);
      // A sheet is set closer where that saves a page with next to nothing on it.
      const empty = pages.flatMap(({ begins, part, wide }, at) =>
        !begins && !wide && pages[at + 1]?.begins !== false && part < 0.2 ? [`page ${at + 1}: ${part}`] : [],
      );
      expect(empty).toEqual([]);
      expect(pages.flatMap(({ lowest, wide }, at) => (!wide && lowest > HEADING - 0.5 ? [`page ${at + 1}`] : []))).toEqual([]);
    },
    120_000,
  );

  it('each page of a set but the first says which sheet it is of, and what has nothing to show takes none', async () => {
    const sheets = await sheetsOf((await analyse(join(import.meta.dirname, '../../examples/three-nights/quayside.rig'))).checked);
    const document = await printed(html(sheets));
    const feet: string[] = [];
    for (let number = 1; number <= document.numPages; number++) {
      const { items } = await (await document.getPage(number)).getTextContent();
      feet.push(items.flatMap((item) => ('str' in item && item.transform[5] < FOOT ? [item.str] : [])).join(''));
    }
    const shown = sheets.filter(({ id }) => id !== 'radio');
    expect(shown.length).toBe(sheets.length - 1);
    expect(feet[0]).toBe(`page 1 of ${feet.length}`);
    const told = feet
      .slice(1)
      .map((foot) => /^page (\d+) of \d+(.*) · Pewter Heron, quayside · rig \w{4} \w{4}$/.exec(foot)?.slice(1) ?? [foot]);
    expect(told.map(([number]) => Number(number))).toEqual(feet.slice(1).map((_, at) => at + 2));
    expect([...new Set(told.map(([, name]) => name))]).toEqual(shown.map(({ name }) => name));
  }, 60_000);

  it.each(['choir', 'ten'])(
    'of %s as much is printed as was reckoned, as close as each sheet is set',
    async (name) => {
      const { sheets } = bound(await sheetsOf((await analyse(join(import.meta.dirname, `../../examples/${name}.rig`))).checked));
      for (const sheet of sheets.filter(({ dense, id }) => !dense && id !== 'signal-flow')) {
        const document = await printed(html([sheet]));
        const { items } = await (await document.getPage(document.numPages)).getTextContent();
        const low = Math.min(
          ...items.flatMap((item) => ('str' in item && item.str.trim() && item.transform[5] > FOOT ? [item.transform[5]] : [])),
        );
        // Of A4, less 10 mm above and below.
        const last = (297 - 10 - (low / 72) * 25.4) / 277;
        const reckoned = extent(pieces(sheet, closenessOf(sheet)), 277);
        expect([sheet.id, reckoned.pages]).toEqual([sheet.id, document.numPages]);
        // Where what is kept together only just fits, or does not, more of it is on the one page or the other: at each break anew.
        expect(Math.abs(reckoned.last - last), sheet.id).toBeLessThan(Math.max(0.15, 0.04 * (reckoned.pages - 1)));
      }
    },
    60_000,
  );

  it('the ten take about as many pages as in the PDF', async () => {
    const { pages, sheets } = await filled(join(import.meta.dirname, '../../examples/ten.rig'), 'A4');
    const pdf = await sheetsPdf(new Press(join(import.meta.dirname, '../../node_modules/dejavu-fonts-ttf/ttf')), sheets, { paper: 'A4' });
    const { numPages } = await getDocument({ data: pdf.slice(), verbosity: 0 }).promise;
    expect(Math.abs(pages.length - numPages), `${pages.length} and ${numPages}`).toBeLessThanOrEqual(2);
  }, 120_000);
});
