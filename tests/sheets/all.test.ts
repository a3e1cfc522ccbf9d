/** Every sheet of every rig in every rendering, each read back by a parser of its own. What a single sheet says is tested with that sheet. */
import { createHash } from 'node:crypto';
import Papa from 'papaparse';
import { parse, type DefaultTreeAdapterTypes as T, defaultTreeAdapter as tree } from 'parse5';
import stringWidth from 'string-width';
import { describe, expect, it } from 'vitest';
import {
  EXPORT_ENDINGS,
  EXPORT_FORMATS,
  fields,
  filesOf,
  oneFileOf,
  renderSheet,
  renderSheets,
  SHEET_FORMATS,
  SHEET_IDS,
  SHEET_NAMES,
  type Sheet,
  sheetsOf,
} from '#sheets';
import { printed } from '../../packages/sheets/render/words';
import { analyse, analyseText, here, TOUR } from './load';

const example = (name: string) => here(`../../examples/${name}.rig`);

async function load(path: string): Promise<Sheet[]> {
  const { checked, located } = await analyse(path);
  return sheetsOf(
    checked,
    located.map(({ finding }) => finding),
  );
}

function all(node: T.ParentNode): T.Element[] {
  return node.childNodes.flatMap((child) => (tree.isElementNode(child) ? [child, ...all(child)] : []));
}

function text(node: T.ParentNode): string {
  return node.childNodes.map((child) => (tree.isTextNode(child) ? child.value : tree.isElementNode(child) ? text(child) : '')).join('');
}

const attribute = (element: T.Element, name: string) => element.attrs.find((each) => each.name === name)?.value;
const squeezed = (written: string) => written.replace(/\s+/g, '');
/** As it comes out of a rendering that keeps to one line. */
const plain = (written: unknown) =>
  String(written ?? '')
    .replace(/\s+/g, ' ')
    .trim();

describe.each([
  ['first.rig', example('first')],
  ['ten.rig', example('ten')],
  ['tour.rig', TOUR],
  ['half.rig', here('half.rig')],
  ['awkward.rig', here('awkward.rig')],
  ['danger.rig', here('danger.rig')],
])('the sheets of %s', async (_, path) => {
  const sheets = await load(path);

  it('are all there, in their order, under their names', () => {
    expect(sheets.map(({ id }) => id)).toEqual(SHEET_IDS);
    for (const sheet of sheets) {
      expect(sheet.name).toBe(SHEET_NAMES[sheet.id]);
      expect(new Set(sheet.blocks.map(({ id }) => id)).size, sheet.id).toBe(sheet.blocks.length);
      for (const block of sheet.blocks) {
        expect(block.id, sheet.id).toMatch(/^[a-z][a-z0-9-]*$/);
        if (block.kind !== 'table') continue;
        const keys = block.rows.map(({ key }) => key);
        expect(new Set(keys).size, `${sheet.id} ${block.id}`).toBe(keys.length);
        for (const row of block.rows) expect(row.cells, `${sheet.id} ${block.id} ${row.key}`).toHaveLength(fields(block.columns).length);
      }
    }
  });

  it('come back from JSON saying the same', () => {
    const sent = JSON.parse(JSON.stringify(sheets));
    for (const format of SHEET_FORMATS) expect(renderSheets(sent, format)).toBe(renderSheets(sheets, format));
    expect(filesOf(sent, 'svg')).toEqual(filesOf(sheets, 'svg'));
  });

  it('are the same each time, to the byte', async () => {
    const again = await load(path);
    for (const format of SHEET_FORMATS) expect(renderSheets(again, format)).toBe(renderSheets(sheets, format));
    expect(filesOf(again, 'svg')).toEqual(filesOf(sheets, 'svg'));
  });

  it('as HTML have every cell, every finding, every description, with nothing that loads, and nothing that runs but what keeps ticks', () => {
    for (const sheet of sheets) {
      const problems: string[] = [];
      const document = parse(renderSheet(sheet, 'html'), { onParseError: (error) => problems.push(error.code) });
      expect(problems, sheet.id).toEqual([]);
      const elements = all(document);
      expect(elements.filter(({ tagName }) => /^(img|iframe|object|embed|link|form|a|foreignObject|use|image)$/.test(tagName))).toEqual([]);
      const boxes = elements.filter(({ tagName }) => tagName === 'input');
      expect(boxes.every((box) => attribute(box, 'type') === 'checkbox')).toBe(true);
      const rows = sheet.blocks.flatMap((block) => (block.kind === 'table' && block.ticks ? block.rows : []));
      expect(boxes).toHaveLength(rows.length);
      // One script where there is a box, and the policy lets in that one (CSP 3: the base64 of its SHA-256).
      const scripts = elements.filter(({ tagName }) => tagName === 'script').map(text);
      expect(scripts).toHaveLength(boxes.length > 0 ? 1 : 0);
      const policy = elements.flatMap((element) => (attribute(element, 'http-equiv') ? [attribute(element, 'content')] : []))[0] ?? '';
      expect(policy.match(/script-src ([^;]*)/)?.[1]).toBe(
        scripts[0] && `'sha256-${createHash('sha256').update(scripts[0]).digest('base64')}'`,
      );
      expect(policy).toMatch(/^default-src 'none';/);
      const attributes = elements.flatMap(({ attrs }) => attrs);
      expect(attributes.filter(({ name }) => /^on|^(href|src|action)$/.test(name))).toEqual([]);
      // How narrow a drawing may get is the one figure that no class can hold.
      expect(attributes.filter(({ name, value }) => name === 'style' && !/^--least:\s?[\d.]+mm;?$/.test(value))).toEqual([]);
      const ids = elements.flatMap((element) => attribute(element, 'id') ?? []);
      expect(new Set(ids).size, sheet.id).toBe(ids.length);
      const shown = text(document).replaceAll('\u00a0', ' ');
      for (const block of sheet.blocks) {
        expect(shown).toContain(block.title);
        if (block.kind === 'drawing') expect(elements.map((element) => attribute(element, 'aria-label'))).toContain(block.description);
        if (block.kind === 'form') for (const { title } of block.fields) expect(shown).toContain(title);
        if (block.kind !== 'table') continue;
        for (const row of block.rows) {
          for (const cell of row.cells)
            expect(shown).toContain(typeof cell === 'number' ? String(cell).replace('-', '\u2212') : (cell ?? ''));
          for (const note of row.findings) expect(shown).toContain(note.cure);
        }
      }
    }
  });

  it('as one HTML document have a list that leads to each of them', () => {
    const problems: string[] = [];
    const document = parse(renderSheets(sheets, 'html'), { onParseError: (error) => problems.push(error.code) });
    expect(problems).toEqual([]);
    const elements = all(document);
    const links = elements.filter(({ tagName }) => tagName === 'a').map((link) => [attribute(link, 'href'), text(link)]);
    expect(links).toEqual(sheets.map(({ id, name }) => [`#${id}`, name]));
    const ids = elements.flatMap((element) => attribute(element, 'id') ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { id } of sheets) expect(ids).toContain(id);
  });

  it('as CSV have every row, in records of one length, with no formula (OWASP, "CSV Injection")', () => {
    for (const written of [...sheets.map((sheet) => renderSheet(sheet, 'csv')), renderSheets(sheets, 'csv')]) {
      const { data, errors } = Papa.parse<string[]>(written, { skipEmptyLines: true });
      expect(errors).toEqual([]);
      expect(new Set(data.map((record) => record.length)).size).toBe(1);
      const formulas = data.flat().filter((cell) => /^[=+\-@\t\r\uFF1D\uFF0B\uFF0D\uFF20]/.test(cell) && !/^-?\d+(\.\d+)?$/.test(cell));
      expect(formulas).toEqual([]);
    }
    for (const sheet of sheets) {
      const { data } = Papa.parse<string[]>(renderSheet(sheet, 'csv'), { skipEmptyLines: true });
      for (const block of sheet.blocks) {
        if (block.kind === 'table') expect(data.filter(([section]) => section === block.title).length, block.id).toBe(block.rows.length);
        if (block.kind === 'drawing') expect(data.flat()).toContain(block.description);
      }
    }
  });

  it('as Markdown keep their columns, whatever a label says', () => {
    for (const written of [...sheets.map((sheet) => renderSheet(sheet, 'markdown')), renderSheets(sheets, 'markdown')]) {
      // A vertical bar that is not escaped ends a cell (GitHub Flavored Markdown, 4.10), and every row has as many as the rule.
      let columns = 0;
      for (const line of written.split('\n')) {
        const count = line.startsWith('|') ? line.replaceAll('\\\\', '').replaceAll('\\|', '').split('|').length : 0;
        if (columns > 0 && count > 0) expect(count, line).toBe(columns);
        columns = count;
        expect(line).not.toMatch(/(?<!\\)[<`]/);
      }
    }
  });

  it('as text stay within the width and lose no word', () => {
    for (const sheet of sheets) {
      for (const width of [40, 80, 132]) {
        const written = renderSheet(sheet, 'text', { width });
        for (const line of written.split('\n')) expect(stringWidth(line)).toBeLessThanOrEqual(width);
        for (const block of sheet.blocks) {
          expect(squeezed(written)).toContain(squeezed(block.title));
          if (block.kind === 'drawing') expect(squeezed(written)).toContain(squeezed(block.description));
        }
      }
      const wide = renderSheet(sheet, 'text', { width: 2000 });
      for (const block of sheet.blocks)
        if (block.kind === 'table')
          for (const row of block.rows) for (const cell of row.cells) expect(wide).toContain(plain(printed(cell)));
    }
  });

  it('as files have names made of what they are, and of nothing that somebody wrote', () => {
    for (const format of EXPORT_FORMATS) {
      const names = filesOf(sheets, format).map(({ name }) => name);
      expect(new Set(names).size).toBe(names.length);
      for (const name of names) {
        expect(name).toMatch(/^[a-z][a-z0-9-]*\.[a-z]+$/);
        expect(name.endsWith(EXPORT_ENDINGS[format])).toBe(true);
        expect(SHEET_IDS.some((id) => name.startsWith(id))).toBe(true);
      }
    }
  });
});

describe('a block of each kind', () => {
  const sheet: Sheet = {
    id: 'set-up',
    name: 'Set-up',
    title: 'Brindle & Sons',
    facts: ['48 kHz'],
    blocks: [
      {
        kind: 'table',
        id: 'steps',
        title: 'Steps',
        ticks: 'numbers',
        empty: 'None.',
        columns: [
          { title: 'What', names: true, under: { title: 'Where' } },
          { title: 'Takes', unit: 'min' },
        ],
        rows: [
          { key: 'a', about: [], findings: [], cells: ['Lay the loom', 'stage left', 4] },
          { key: 'b', about: [], findings: [], strong: true, cells: ['In all', undefined, -4] },
        ],
      },
      { kind: 'table', id: 'bag', title: 'Bag', ticks: 'boxes', empty: 'The bag is empty.', columns: [{ title: 'Thing' }], rows: [] },
      { kind: 'form', id: 'people', title: 'People', fields: [{ title: 'Engineer' }, { title: 'Doors', value: '19:30' }] },
      {
        kind: 'drawing',
        id: 'plan',
        title: 'Plan',
        description: 'A square.',
        drawing: { width: 10, height: 10, shapes: [{ kind: 'box', x: 1, y: 1, width: 8, height: 8, stroke: 'ink' }] },
      },
    ],
  };

  it('has boxes and numbers to tick, lines to write on, and a picture by its description', () => {
    const written = renderSheet(sheet, 'text');
    expect(written).toMatch(/^Done +Step +What +Where +Takes \(min\)$/m);
    expect(written).toMatch(/^\[ \] +1 +Lay the loom +stage left +4$/m);
    expect(written).toMatch(/^\[ \] +2 +In all +\u22124$/m);
    expect(written).toContain('The bag is empty.');
    expect(written).toMatch(/^- Engineer: _{10,}$/m);
    expect(written).toContain('- Doors: 19:30');
    expect(written).toContain('A square.');
    const markdown = renderSheet(sheet, 'markdown');
    expect(markdown).toContain('| ☐ | 1 | Lay the loom | stage left | 4 |');
    expect(markdown).toContain('# Brindle \\& Sons');
    expect(markdown).toContain('- **Doors:** 19:30');
    const { data } = Papa.parse<string[]>(renderSheet(sheet, 'csv'), { skipEmptyLines: true });
    expect(data).toContainEqual(['Section', 'Done', 'Step', 'What', 'Where', 'Takes (min)']);
    expect(data).toContainEqual(['Steps', '', '1', 'Lay the loom', 'stage left', '4']);
    expect(data).toContainEqual(['People', 'Engineer', '', '', '', '']);
  });

  it('in a page has a box before each row, and the widths of its columns are the whole of it', () => {
    const elements = all(parse(renderSheet(sheet, 'html')));
    expect(elements.filter((element) => attribute(element, 'type') === 'checkbox')).toHaveLength(2);
    const widths = elements.filter(({ tagName }) => tagName === 'col').map((col) => Number(attribute(col, 'class')?.slice(1)));
    expect(widths).toHaveLength(3);
    expect(widths.reduce((a, b) => a + b)).toBe(100);
    expect(elements.filter(({ tagName }) => tagName === 'dd').map(text)).toEqual(['', '19:30']);
    expect(elements.filter(({ tagName }) => tagName === 'svg').map((svg) => attribute(svg, 'aria-label'))).toEqual(['A square.']);
    expect(text(parse(renderSheet(sheet, 'html')))).toContain('\u22124');
  });

  it('has one picture, which can be one file; two cannot', () => {
    expect(oneFileOf([sheet], 'svg')).toBe(filesOf([sheet], 'svg')[0]?.text);
    expect(filesOf([sheet], 'svg').map(({ name }) => name)).toEqual(['set-up.svg']);
    expect(oneFileOf([sheet, sheet], 'svg')).toBeUndefined();
    const two = { ...sheet, blocks: [...sheet.blocks, { ...sheet.blocks[3], id: 'plan-2' } as Sheet['blocks'][number]] };
    expect(filesOf([two], 'svg').map(({ name }) => name)).toEqual(['set-up-plan.svg', 'set-up-plan-2.svg']);
  });
});

it('of nothing say so, each of them', async () => {
  const { checked } = await analyseText('rig "Nothing"');
  for (const sheet of await sheetsOf(checked)) {
    for (const format of SHEET_FORMATS) expect(renderSheet(sheet, format).length).toBeGreaterThan(0);
    expect(renderSheet(sheet, 'text'), sheet.id).toContain('Nothing');
  }
});
