/** PDF, read back by another library (pdf.js): every word is there and can be searched, pages are as they should be. */
import { join } from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, test, vi } from 'vitest';
import { type Sheet, sheetsOf } from '#sheets';
import { placed, printed, type TableBlock } from '#sheets/print';
import { inVisualOrder } from '../../packages/pdf/direction';
import { labelsPdf } from '../../packages/pdf/labels';
import { Press } from '../../packages/pdf/press';
import { sheetsPdf } from '../../packages/pdf/sheets';
import { labelsOf } from '../../packages/sheets/labels/labels';
import { labelPages } from '../../packages/sheets/labels/pages';
import { LABEL_STOCKS } from '../../packages/sheets/labels/stocks';
import { big } from './big';
import { crowd } from './crowd';
import { analyse, analyseText, TOUR } from './load';

const FONTS = join(import.meta.dirname, '../../node_modules/dejavu-fonts-ttf/ttf');
const EXAMPLES = join(import.meta.dirname, '../../examples');
const press = new Press(FONTS);

vi.setConfig({ testTimeout: 120_000 });
const MM = 72 / 25.4;

async function made(path: string): Promise<Sheet[]> {
  const { checked, located } = await analyse(path);
  return sheetsOf(
    checked,
    located.map(({ finding }) => finding),
  );
}

interface Page {
  readonly text: string;
  readonly width: number;
  readonly height: number;
  /** Where each piece of text is, in points from the left and from below. */
  readonly pieces: readonly {
    readonly text: string;
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly size: number;
  }[];
}

/** Text without its spaces: where a line breaks, there is none. */
async function read(bytes: Uint8Array) {
  const document = await getDocument({ data: bytes.slice(), useSystemFonts: false, verbosity: 0 }).promise;
  const pages: Page[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const { items } = await page.getTextContent();
    const pieces = items.flatMap((item) =>
      'str' in item
        ? [{ text: item.str, x: item.transform[4] as number, y: item.transform[5] as number, width: item.width, size: item.height }]
        : [],
    );
    const [, , width = 0, height = 0] = page.view;
    pages.push({ text: bare(pieces.map(({ text }) => text).join('')), width, height, pieces });
  }
  const { info } = (await document.getMetadata()) as unknown as { info: Record<string, unknown> };
  return { pages, info };
}

function bare(text: string): string {
  return text.normalize('NFC').replace(/\s+/g, '');
}

/** A row as it stands on the page: cell by cell, a dash where only the second line of a cell has something. */
function rowText({ columns, ticks, firstStep = 1 }: TableBlock, row: TableBlock['rows'][number], index: number): string {
  const cells = placed(columns).map((parts) => {
    const texts = parts.map((part) => printed(row.cells[part.index]));
    return texts.map((text, at) => (text === '' && at === 0 && texts.some(Boolean) ? '–' : text)).join('');
  });
  return bare([ticks === 'numbers' ? `${firstStep + index}` : '', ...cells].join(''));
}

/** Every row of every table, one after the other; a row is on one page. */
function rowsMissing(sheets: readonly Sheet[], pages: readonly Page[]): string[] {
  return rowsFound(sheets, pages).missing;
}

/** Of tables that are on several pages, the pages with a row by itself, at the end of one page or at the start of the next. */
function rowsAlone(sheets: readonly Sheet[], pages: readonly Page[]): string[] {
  return [...rowsFound(sheets, pages).pagesOf].flatMap(([table, each]) => {
    const [first, last] = [each[0], each.at(-1)];
    const alone = (page: number | undefined) => each.filter((other) => other === page).length === 1;
    return first === last
      ? []
      : [alone(first) ? `${table}: its first row` : '', alone(last) ? `${table}: its last row` : ''].filter(Boolean);
  });
}

/** The rows that are nowhere, and of each table the page of each row. */
function rowsFound(sheets: readonly Sheet[], pages: readonly Page[]) {
  const missing: string[] = [];
  const pagesOf = new Map<string, number[]>();
  let page = 0;
  let at = 0;
  for (const sheet of sheets) {
    for (const block of sheet.blocks) {
      if (block.kind !== 'table') continue;
      for (const [index, row] of block.rows.entries()) {
        const text = rowText(block, row, index);
        let found = -1;
        for (let next = page; next < pages.length && found < 0; next++) {
          found = pages[next]?.text.indexOf(text, next === page ? at : 0) ?? -1;
          if (found < 0) continue;
          page = next;
          at = found + text.length;
        }
        if (found < 0) missing.push(`${sheet.id} ${block.id}: ${text}`);
        else pagesOf.set(`${sheet.id} ${block.id}`, [...(pagesOf.get(`${sheet.id} ${block.id}`) ?? []), page]);
      }
    }
  }
  return { missing, pagesOf };
}

function table(rows: TableBlock['rows'], columns: TableBlock['columns'] = [{ title: 'Heading', names: true }]): Sheet {
  return {
    id: 'patch-list',
    name: 'Patch list',
    title: 'Made up',
    facts: [],
    blocks: [{ kind: 'table', id: 'rows', title: 'Rows', columns, rows, empty: '' }],
  };
}

function row(key: string, ...cells: string[]): TableBlock['rows'][number] {
  return { key, about: [], findings: [], cells };
}

describe('the words', () => {
  test.each(['first.rig', 'choir.rig', 'street.rig', 'ten.rig', 'three-nights/quayside.rig'])(
    'of every table of %s are there, in order, each row whole and by itself on no page; on A4 no letter is smaller than 6 pt, in drawings neither',
    async (name) => {
      const sheets = await made(join(EXAMPLES, name));
      for (const paper of ['A4', 'Letter'] as const) {
        const { pages } = await read(await sheetsPdf(press, sheets, { paper }));
        expect(rowsMissing(sheets, pages)).toEqual([]);
        expect(rowsAlone(sheets, pages)).toEqual([]);
        const words = pages.flatMap(({ pieces }) => pieces.filter(({ text }) => text.trim() !== ''));
        expect(words.length).toBeGreaterThan(500);
        expect(words.filter(({ size }) => paper === 'A4' && size < 6).map(({ text, size }) => `${text}: ${size}`)).toEqual([]);
      }
    },
  );

  test('of findings, cautions and forms are there', async () => {
    const sheets = await made(TOUR);
    const { pages } = await read(await sheetsPdf(press, sheets, { paper: 'A4' }));
    const all = pages.map(({ text }) => text).join('');
    const wanted = sheets.flatMap(({ blocks }) =>
      blocks.flatMap((block) => {
        if (block.kind === 'cautions') return block.cautions.map(({ text }) => text);
        if (block.kind === 'form') return block.fields.flatMap(({ title, value = '' }) => [title, value]);
        const notes = block.kind === 'notes' ? block.notes : block.kind === 'table' ? block.rows.flatMap(({ findings }) => findings) : [];
        return notes.flatMap(({ what, why, cure, code }) => [what + why + cure + code]);
      }),
    );
    expect(wanted.length).toBeGreaterThan(10);
    expect(wanted.filter((text) => !all.includes(bare(text)))).toEqual([]);
  });

  test('of a drawing are text', async () => {
    const sheets = (await made(join(EXAMPLES, 'choir.rig'))).filter(({ id }) => id === 'signal-flow');
    const { pages } = await read(await sheetsPdf(press, sheets, { paper: 'A4' }));
    const words = sheets.flatMap(({ blocks }) =>
      blocks.flatMap((block) =>
        block.kind === 'drawing' ? block.drawing.shapes.flatMap((shape) => (shape.kind === 'words' ? [shape.text] : [])) : [],
      ),
    );
    expect(words.length).toBeGreaterThan(10);
    expect(words.filter((text) => !pages.some((page) => page.text.includes(bare(text))))).toEqual([]);
  });
});

describe('pages', () => {
  test.each(['A4', 'Letter'] as const)('on %s have that size, and lie where a drawing is wide', async (paper) => {
    const sheets = await made(join(EXAMPLES, 'choir.rig'));
    const { pages } = await read(await sheetsPdf(press, sheets, { paper }));
    // ISO 216, and 8 1/2 by 11 inches, in points.
    const [short, long] = paper === 'A4' ? [595.28, 841.89] : [612, 792];
    for (const { width, height, pieces } of pages) {
      expect(Math.min(width, height)).toBeCloseTo(short, 1);
      expect(Math.max(width, height)).toBeCloseTo(long, 1);
      // Home printers leave 6 mm white.
      for (const { x, y, width: wide, text } of pieces) {
        if (text.trim() === '') continue;
        expect([text, x > 6 * MM, x + wide < width - 6 * MM, y > 6 * MM, y < height - 6 * MM]).toEqual([text, true, true, true, true]);
      }
    }
    const isWide = (sheet: Sheet) => sheet.blocks.some((block) => block.kind === 'drawing' && block.drawing.width > 186);
    const lying = new Set(pages.filter(({ width, height }) => width > height).map(({ text }) => text.match(/(\D+),\d+of\d+·page/)?.[1]));
    for (const sheet of sheets)
      expect([sheet.name, [...lying].some((each) => each?.endsWith(bare(sheet.name)))]).toEqual([sheet.name, isWide(sheet)]);
  });

  test('say of which sheet they are, and each has the title', async () => {
    const sheets = await made(join(EXAMPLES, 'choir.rig'));
    const { pages } = await read(await sheetsPdf(press, sheets, { paper: 'A4' }));
    const title = bare(sheets[0]?.title ?? '?');
    const said = pages.map(({ text }) => {
      expect(text).toContain(title);
      return text
        .match(/(\D*?),(\d+)of(\d+)·page\d+of\d+$/)
        ?.slice(2)
        .map(Number);
    });
    let at = 0;
    // The contents, then the sheets.
    for (const _ of ['contents', ...sheets]) {
      const count = said[at]?.[1] ?? 0;
      expect(said.slice(at, at + count)).toEqual(Array.from({ length: count }, (_, index) => [index + 1, count]));
      at += count;
    }
    expect(at).toBe(pages.length);
  });

  test.each(['first.rig', 'choir.rig', 'street.rig', 'ten.rig'])('of the house sheet and of the patch list of %s: one', async (name) => {
    const sheets = await made(join(EXAMPLES, name));
    for (const id of ['house', 'patch-list']) {
      const one = sheets.filter((sheet) => sheet.id === id);
      expect(one).toHaveLength(1);
      for (const paper of ['A4', 'Letter'] as const) {
        const { pages } = await read(await sheetsPdf(press, one, { paper }));
        expect([id, paper, pages.length]).toEqual([id, paper, 1]);
        // What is smaller is not read easily.
        for (const { text, size } of pages[0]?.pieces ?? []) if (text.trim()) expect([text, size >= 7.49]).toEqual([text, true]);
      }
    }
  });

  test('of the patch list of the ten have a line for each port, and bold is what is plugged, set or switched', async () => {
    const [sheet] = (await made(join(EXAMPLES, 'ten.rig'))).filter(({ id }) => id === 'patch-list');
    const { pages } = await read(await sheetsPdf(press, sheet ? [sheet] : [], { paper: 'A4' }));
    const pieces = pages[0]?.pieces ?? [];
    const inputs = sheet?.blocks.find((block): block is TableBlock => block.kind === 'table' && block.id === 'inputs');
    const at = (title: string) => placed(inputs?.columns ?? []).findIndex(([part]) => part?.field.title === title);
    const wide = (text: string, bold: boolean) => press.type().width(text, 10, bold);
    expect(inputs?.rows.length).toBe(18);
    for (const row of inputs?.rows ?? []) {
      const line = pieces.find(({ text }) => text === row.cells[at('Port')]);
      const cells = row.cells.map(printed).filter(Boolean);
      const beside = pieces.filter(({ y, text }) => text.trim() && Math.abs(y - (line?.y ?? 0)) < 0.5).sort((a, b) => a.x - b.x);
      expect(beside.map(({ text }) => text)).toEqual(cells);
      for (const { text, width, size } of beside) {
        const column = row.cells.map(printed).indexOf(text);
        const acted = inputs?.columns[column]?.acted ?? false;
        if (wide(text, true) !== wide(text, false))
          expect([text, Math.abs(width - (wide(text, true) * size) / 10) < Math.abs(width - (wide(text, false) * size) / 10)]).toEqual([
            text,
            acted,
          ]);
      }
    }
  });

  test.each(['first.rig', 'choir.rig', 'street.rig', 'ten.rig', 'three-nights/quayside.rig'])(
    'of %s: no sheet ends on one with next to nothing, and nothing in a table is smaller than 7.5 pt',
    async (name) => {
      const sheets = await made(join(EXAMPLES, name));
      const drawn = new Set<string>(
        sheets.flatMap((sheet) => (sheet.blocks.some(({ kind }) => kind === 'drawing') ? [bare(sheet.name)] : [])),
      );
      for (const paper of ['A4', 'Letter'] as const) {
        const { pages } = await read(await sheetsPdf(press, sheets, { paper }));
        for (const { text, pieces, height } of pages) {
          const [, sheet = '', number, count] = /·([^·]*),(\d+)of(\d+)·page\d+of\d+$/.exec(text) ?? [];
          // The foot of the page apart.
          const words = pieces.filter(({ text, y }) => text.trim() && y > 12 * MM);
          const filled = 1 - Math.min(...words.map(({ y }) => y)) / height;
          if (Number(count) > 1 && number === count) expect([paper, sheet, filled > 0.33]).toEqual([paper, sheet, true]);
          if (!drawn.has(sheet)) expect([paper, sheet, words.filter(({ size }) => size < 7.49)]).toEqual([paper, sheet, []]);
        }
      }
    },
  );

  test.each([16, 40])(
    'of a stage with %i people: as few as can be, with the headings again and nothing in the table below 7.5 pt',
    async (people) => {
      const { checked } = await analyseText(crowd(people));
      const sheets = await sheetsOf(checked, [], ['stage']);
      const { pages } = await read(await sheetsPdf(press, sheets, { paper: 'A4' }));
      expect(pages).toHaveLength(people === 16 ? 1 : 2);
      expect(rowsMissing(sheets, pages)).toEqual([]);
      for (const { text, pieces } of pages) {
        expect(text).toContain('WhoorwhatWhatitisTheretoo');
        const head = pieces.find(({ text }) => text === 'What it is')?.y ?? 0;
        const below = pieces.filter(({ text, y }) => text.trim() && y <= head);
        expect(below.length).toBeGreaterThan(20);
        expect(below.filter(({ size }) => size < 7.49)).toEqual([]);
      }
      // What is drawn stays as large as it can be.
      expect(Math.min(...(pages[0]?.pieces ?? []).filter(({ text }) => text.trim()).map(({ size }) => size))).toBeGreaterThan(5.5);
    },
  );

  test('break a heading over a narrow column once, not at each word', async () => {
    const columns = [{ title: 'What', names: true }, { title: 'For what' }, { title: 'Cells', under: { title: 'With a set to spare' } }];
    const long = 'one after another of those that are here, '.repeat(6);
    const rows = [{ ...row('a', 'Pack'), cells: ['Pack', long, '2 AA', '4 AA'] }];
    const { pages } = await read(await sheetsPdf(press, [table(rows, columns)], { paper: 'A4' }));
    const words = ['with', 'a', 'set', 'to', 'spare'];
    const lines = pages[0]?.pieces.filter(({ text }) => text.trim() && text.split(' ').every((word) => words.includes(word))) ?? [];
    expect(lines.map(({ text }) => text).join(' ')).toBe(words.join(' '));
    expect(lines.length).toBeLessThanOrEqual(2);
  });

  test('have the headings again, and rows with their findings whole', async () => {
    const findings = Array.from({ length: 3 }, (_, index) => ({
      code: 'splits/missing' as const,
      severity: 'error' as const,
      place: '',
      what: `What ${index} is wrong, in a sentence that is as long as one of those that are really written.`,
      why: 'Why that matters on stage.',
      cure: 'What to do.',
    }));
    const rows = Array.from({ length: 60 }, (_, index) => ({ ...row(`${index}`, `Row ${index}:`), findings }));
    const { pages } = await read(await sheetsPdf(press, [table(rows)], { paper: 'A4' }));
    expect(pages.length).toBeGreaterThan(4);
    for (const { text } of pages) expect(text.split('Heading')).toHaveLength(2);
    const note = findings.map(({ what, why, cure, code }) => bare(`Error ${what} ${why} ${cure} ${code}`)).join('');
    for (let index = 0; index < 60; index++) expect(pages.filter(({ text }) => text.includes(`Row${index}:${note}`))).toHaveLength(1);
  });

  test('leave no row by itself, wherever a table ends, and a rule stands between any two', async () => {
    const row = (index: number) => ({ key: `${index}`, about: [], findings: [], cells: [`Row ${index}.`] });
    let broken = 0;
    for (let many = 40; many <= 60; many++) {
      const sheet = table(Array.from({ length: many }, (_, index) => row(index)));
      const { pages } = await read(await sheetsPdf(press, [sheet], { paper: 'A4' }));
      if (pages.length > 1) broken++;
      expect(rowsMissing([sheet], pages)).toEqual([]);
      expect(rowsAlone([sheet], pages), `${many} rows`).toEqual([]);
      // As far apart at its end as everywhere else.
      const heights = pages.flatMap(({ pieces }) => {
        const ys = pieces.filter(({ text }) => /^Row \d+\.$/.test(text)).map(({ y }) => y);
        return ys.slice(1).map((y, index) => (ys[index] ?? 0) - y);
      });
      for (const height of heights) expect(height).toBeCloseTo(heights[2] ?? 0, 0);
    }
    expect(broken).toBeGreaterThan(3);
  });

  test('hold a row with more findings than one of them, and lose none', async () => {
    const findings = Array.from({ length: 90 }, (_, index) => ({
      code: 'splits/missing' as const,
      severity: 'note' as const,
      place: '',
      what: `Finding ${index}.`,
      why: 'why '.repeat(60).trim(),
      cure: 'Cure.',
    }));
    const { pages } = await read(await sheetsPdf(press, [table([{ ...row('a', 'Row'), findings }])], { paper: 'Letter' }));
    const all = pages.map(({ text }) => text).join('');
    for (let index = 0; index < 90; index++) expect(all).toContain(`Finding${index}.`);
  });

  test('of a rig with 48 lines and labels of 40 characters have everything', async () => {
    const { checked, located } = await analyseText(big(48, 8));
    const sheets = await sheetsOf(
      checked,
      located.map(({ finding }) => finding),
      ['patch-list', 'leads', 'house'],
    );
    const { pages } = await read(await sheetsPdf(press, sheets, { paper: 'A4' }));
    expect(rowsMissing(sheets, pages)).toEqual([]);
  });
});

describe('the file', () => {
  test('says its title and language, and when it was made is the same at all times', async () => {
    const sheets = await made(join(EXAMPLES, 'first.rig'));
    const one = await read(await sheetsPdf(press, sheets.slice(0, 1), { paper: 'A4' }));
    expect(one.info).toMatchObject({ Title: `${sheets[0]?.title}: patch list`, Language: 'en' });
    expect(one.info.CreationDate).toMatch(/^D:20000101000000/);
  });

  test('has its type in it, only the letters that are used, and no other', async () => {
    const raw = Buffer.from(await sheetsPdf(press, await made(join(EXAMPLES, 'first.rig')), { paper: 'A4' })).toString('latin1');
    const named = new Set([...raw.matchAll(/\/BaseFont \/(\S+)/g)].map(([, name]) => name?.replace(/^[A-Z]{6}\+/, 'subset of ')));
    expect([...named].sort()).toEqual(['subset of DejaVuSansCondensed', 'subset of DejaVuSansCondensed-Bold']);
    expect(raw.match(/\/FontFile2 \d+ 0 R/g)).toHaveLength(2);
    // The two whole faces are 1.3 MB; what says what is what is half of the rest.
    expect(raw.length).toBeLessThan(500_000);
  });

  test('is the same for the same rig, byte for byte, and another for another', async () => {
    const sheets = await made(join(EXAMPLES, 'street.rig'));
    const again = await made(join(EXAMPLES, 'street.rig'));
    const one = Buffer.from(await sheetsPdf(press, sheets, { paper: 'A4' }));
    expect(one.equals(await sheetsPdf(new Press(FONTS), again, { paper: 'A4' }))).toBe(true);
    const id = (bytes: Uint8Array) => /\/ID \[(<\w+>)/.exec(Buffer.from(bytes).toString('latin1'))?.[1];
    const changed = sheets.map((sheet) => ({ ...sheet, facts: [...sheet.facts, 'one more'] }));
    expect(id(one)).toMatch(/^<[0-9a-f]{32}>$/);
    expect(id(await sheetsPdf(press, changed, { paper: 'A4' }))).not.toBe(id(one));
  });

  test('of labels has pages of exactly their size', async () => {
    const { checked } = await analyse(join(EXAMPLES, 'choir.rig'));
    const labels = labelsOf(checked);
    for (const stock of Object.values(LABEL_STOCKS)) {
      const laid = labelPages(labels, { stock: stock.id });
      const { pages } = await read(await labelsPdf(press, 'Choir', laid));
      expect(pages).toHaveLength(laid.length);
      for (const { width, height } of pages) {
        expect(width).toBeCloseTo(stock.page.width * MM, 1);
        expect(height).toBeCloseTo(stock.page.height * MM, 1);
      }
      const all = pages.map(({ text }) => text).join('');
      for (const { mark } of labels) expect(all).toContain(bare(mark));
    }
  });
});

describe('hostile labels', () => {
  /** What is written, and what is on the page. */
  const LABELS: readonly (readonly [string, string])[] = [
    ['<script>alert(1)</script> & "x"', '<script>alert(1)</script> & "x"'],
    ['=HYPERLINK("http://invented.example")', '=HYPERLINK("http://invented.example")'],
    ['\\n (unbalanced ( )) %% endstream endobj', '\\n (unbalanced ( )) %% endstream endobj'],
    ['drum 🥁 and 日本', 'drum □ and □□'],
    ['👨‍👩‍👧 family', '□ family'],
    ['half \ud83e pair', 'half □ pair'],
    ['Žižka, Ελένη, Иван', 'Žižka, Ελένη, Иван'],
    ['zero\u200bwidth\u202eturned', 'zerowidthturned'],
    ['tab\tand\nline', 'tab and line'],
  ];

  test('come out whole, a box for what the type does not have', async () => {
    const sheet = table(LABELS.map(([label], index) => row(`${index}`, label)));
    const { pages } = await read(await sheetsPdf(press, [{ ...sheet, title: LABELS.map(([label]) => label).join(' ') }], { paper: 'A4' }));
    const [{ text } = { text: '' }] = pages;
    for (const [, shown] of LABELS) expect(text).toContain(bare(shown));
    expect(text).toContain(bare('□ stands for a character that is not in the type this page is set in.'));
  });

  test('stay in their columns', async () => {
    const long = ['W'.repeat(40), 'a'.repeat(200), '😀'.repeat(40), 'é'.repeat(100), '(/'.repeat(60)];
    const columns = Array.from({ length: 8 }, (_, index) => ({ title: `C${index}`, names: index === 0 }));
    const sheet = table(
      long.map((label) => row(label, ...columns.map(() => label))),
      columns,
    );
    const { pages } = await read(await sheetsPdf(press, [sheet], { paper: 'A4' }));
    for (const { pieces, width } of pages) for (const piece of pieces) expect(piece.x + piece.width).toBeLessThan(width - 14 * MM);
    const all = pages.map(({ text }) => text).join('');
    for (const label of long) expect(all).toContain(label);
  });

  test('longer than a page are cut with an ellipsis', async () => {
    const { pages } = await read(
      await sheetsPdf(press, [table([row('long', 'word '.repeat(5000)), row('next', 'The next')])], { paper: 'A4' }),
    );
    expect(pages).toHaveLength(1);
    expect(pages[0]?.text).toMatch(/wor?d?…Thenext/);
  });

  // By hand, after the rules of the Unicode bidirectional algorithm (UAX 9) for lines without embedding. The letters inside a word
  // that runs from right to left are turned by what sets the type, so figures in it are turned beforehand.
  test.each([
    ['Mic one', 'Mic one'],
    ['שלום עולם', 'שלום\u00a0עולם'],
    ['Mic שלום עולם 2', 'Mic שלום\u00a0עולם \u00a02'],
    ['שלום Mic one עולם', 'עולם \u00a0Mic one שלום'],
    ['מיק12', 'מיק21'],
    ['(שלום)', ')שלום('],
  ])('%s stands in the order %s', (label, ordered) => {
    expect(inVisualOrder(label)).toBe(ordered);
  });
});
