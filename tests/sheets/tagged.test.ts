/** What a PDF says of itself to whoever has it read out or goes through it by its bookmarks: read back by pdf.js (ISO 32000-1, 12.3.3 and 14.7). */
import { join } from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Sheet, sheetsOf } from '#sheets';
import { isEmpty, placed, printed, type TableBlock } from '#sheets/print';
import { Press } from '../../packages/pdf/press';
import { sheetsPdf } from '../../packages/pdf/sheets';
import { analyse, here } from './load';

const press = new Press(join(import.meta.dirname, '../../node_modules/dejavu-fonts-ttf/ttf'));

interface Node {
  readonly role?: string;
  readonly alt?: string;
  readonly type?: string;
  readonly id?: string;
  readonly children?: readonly Node[];
}

interface Part {
  readonly role: string;
  readonly alt?: string;
  readonly text: string;
  readonly parts: readonly Part[];
}

/** Of each page, what its tags hold, with the words that are marked so; and what is marked as nothing to be read. */
async function read(bytes: Uint8Array) {
  const document = await getDocument({ data: bytes.slice(), useSystemFonts: false, verbosity: 0 }).promise;
  const pages: { parts: Part[]; artifacts: string; untagged: string }[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const { items } = await page.getTextContent({ includeMarkedContent: true });
    const texts = new Map<string, string>();
    const open: string[] = [];
    for (const item of items) {
      if (!('str' in item)) {
        if (item.type === 'endMarkedContent') open.pop();
        else open.push(item.id ?? (item as { tag?: string }).tag ?? '');
        continue;
      }
      const at = open.at(-1) ?? 'untagged';
      texts.set(at, (texts.get(at) ?? '') + item.str);
    }
    const part = ({ role = '', alt, children = [] }: Node): Part => ({
      role,
      alt,
      text: children.map((child) => (child.type === 'content' ? (texts.get(child.id ?? '') ?? '') : '')).join(' '),
      parts: children.filter((child) => child.role).map(part),
    });
    const tree = (await page.getStructTree()) as Node | null;
    pages.push({
      parts: tree ? [part(tree)] : [],
      artifacts: texts.get('Artifact') ?? '',
      untagged: texts.get('untagged') ?? '',
    });
  }
  const links = (await (await document.getPage(1)).getAnnotations()).filter(({ subtype }) => subtype === 'Link');
  const leads: number[] = [];
  for (const { dest } of links) {
    const [page] = (await document.getDestination(dest)) ?? [];
    leads.push((await document.getPageIndex(page)) + 1);
  }
  return { document, pages, leads };
}

const all = (parts: readonly Part[]): Part[] => parts.flatMap((part) => [part, ...all(part.parts)]);
const bare = (text: string) => text.normalize('NFC').replace(/\s+/g, '');
const whole = (part: Part): string => bare(all([part]).reduce((text, each) => text + each.text, ''));

describe('a set of sheets as PDF', { timeout: 120_000 }, () => {
  let sheets: Sheet[];
  let made: Awaited<ReturnType<typeof read>>;
  let parts: Part[];

  beforeAll(async () => {
    const { checked, located } = await analyse(here('../../examples/choir.rig'));
    sheets = await sheetsOf(
      checked,
      located.map(({ finding }) => finding),
    );
    made = await read(await sheetsPdf(press, sheets, { paper: 'A4' }));
    parts = all(made.pages.flatMap((page) => page.parts));
  }, 120_000);

  const of = (role: string) => parts.filter((part) => part.role === role);

  it('says that it is tagged, and in which language it is', async () => {
    expect(await made.document.getMarkInfo()).toMatchObject({ Marked: true });
    expect(((await made.document.getMetadata()).info as { Language?: string }).Language).toBe('en');
  });

  it('has one heading of the first level for each sheet, which names it and the rig', () => {
    const [front, ...headings] = of('H1').map(({ text }) => bare(text));
    const title = sheets[0]?.title ?? '?';
    expect(front).toBe(bare(`Contents ${title}`));
    expect(headings).toEqual(sheets.map(({ name }) => bare(`${name} ${title}`)));
  });

  it('has bookmarks: the sheets, and in each what it holds', async () => {
    const outline = await made.document.getOutline();
    expect(outline.map(({ title }) => title)).toEqual(['Contents', ...sheets.map(({ name }) => name)]);
    const stage = sheets.find(({ id }) => id === 'stage');
    expect(outline.find(({ title }) => title === 'Stage')?.items[0]?.title).toBe(stage?.blocks[0]?.title);
    for (const { items } of outline.slice(1)) expect(items.length).toBeGreaterThan(0);
  });

  it('has contents with the pages that its bookmarks lead to, as links', async () => {
    const outline = await made.document.getOutline();
    const pages: number[] = [];
    for (const { dest } of outline) pages.push((await made.document.getPageIndex((dest as [{ num: number; gen: number }])[0])) + 1);
    const entries = of('TOCI').map(whole);
    expect(entries).toEqual(sheets.map(({ name }, index) => bare(`${name} ${pages[index + 1]}`)));
    // Each entry is pressed by its name and by its number.
    expect(made.leads).toEqual(pages.slice(1).flatMap((page) => [page, page]));
  });

  it('counts its pages through', () => {
    made.pages.forEach(({ artifacts }, index) => {
      expect(bare(artifacts)).toContain(`page${index + 1}of${made.pages.length}`);
    });
  });

  it('has every row of every table as a row, cell by cell, under headings that are told once', () => {
    const rows = new Set(of('TR').map((row) => row.parts.map(whole).join('|')));
    const tables = sheets.flatMap(({ blocks }) => blocks.filter((block): block is TableBlock => block.kind === 'table'));
    const missing = tables.flatMap(({ columns, rows: wanted, ticks, firstStep = 1 }) =>
      wanted.flatMap((row, index) => {
        const cells = placed(columns).map((each) => {
          const texts = each.map(({ index: at }) => printed(row.cells[at]));
          return bare(texts.map((text, at) => (text === '' && at === 0 && texts.some(Boolean) ? '–' : text)).join(''));
        });
        const first = ticks === 'numbers' ? [`${firstStep + index}`] : ticks ? [''] : [];
        const told = [...first, ...cells].join('|');
        return rows.has(told) ? [] : [told];
      }),
    );
    expect(tables.length).toBeGreaterThan(10);
    expect(missing).toEqual([]);
    // However many pages a table takes.
    const headed = of('TR').filter(({ parts: cells }) => cells.every(({ role, text }) => role === 'TH' && text.trim() !== ''));
    expect(headed.length).toBe(tables.filter((table) => table.rows.length > 0).length);
  });

  it('has what each drawing says in words', () => {
    const drawings = sheets.flatMap(({ blocks }) => blocks.flatMap((block) => (block.kind === 'drawing' ? [block.description] : [])));
    const told = of('Figure').flatMap(({ alt }) => (alt && alt !== 'box to tick' ? [alt] : []));
    expect(told).toEqual(drawings);
  });

  it('has cautions as lists, each subject with its text, once in the set', () => {
    const items = of('LI').map(whole);
    const cautions = sheets.flatMap(({ blocks }) => blocks.flatMap((block) => (block.kind === 'cautions' ? block.cautions : [])));
    const wanted = new Set(cautions.map(({ subject, text }) => bare(`${subject}${text}`)));
    expect(wanted.size).toBeLessThan(cautions.length);
    for (const each of wanted) expect(items.filter((item) => item === each)).toHaveLength(1);
  });

  it('leaves no words without a tag', () => {
    expect(made.pages.map(({ untagged }) => untagged.trim()).filter(Boolean)).toEqual([]);
    expect(sheets.filter(isEmpty)).toEqual([]);
  });
});
