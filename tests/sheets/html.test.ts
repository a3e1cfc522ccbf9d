/** The document that stands alone, read back by a parser of HTML (parse5, which follows the WHATWG standard). */
import { parse, type DefaultTreeAdapterTypes as T, defaultTreeAdapter as tree } from 'parse5';
import { describe, expect, it } from 'vitest';
import type { PatchList } from '#sheets';
import { analyse, here, render, sheetOf, TOUR } from './load';

type Element = T.Element;

const read = (list: PatchList) => {
  const problems: string[] = [];
  const document = parse(render(list, 'html'), { onParseError: (error) => problems.push(error.code) });
  return { document, problems };
};

function all(node: T.ParentNode, name?: string): Element[] {
  return node.childNodes.flatMap((child) =>
    tree.isElementNode(child) ? [...(name === undefined || child.tagName === name ? [child] : []), ...all(child, name)] : [],
  );
}

function text(node: T.ParentNode): string {
  return node.childNodes.map((child) => (tree.isTextNode(child) ? child.value : tree.isElementNode(child) ? text(child) : '')).join('');
}

const attribute = (element: Element, name: string) => element.attrs.find((each) => each.name === name)?.value;
const named = (elements: readonly Element[], className: string) =>
  elements.filter((each) => attribute(each, 'class')?.split(' ').includes(className));

const ALLOWED = new Set(
  'html head meta title style body main article header section h1 h2 p ul li strong span table caption colgroup col thead tbody tr th td dl div dt dd svg path'.split(
    ' ',
  ),
);

describe.each([
  ['tour.rig', TOUR],
  ['lighthouse.rig', here('lighthouse.rig')],
  ['half.rig', here('half.rig')],
  ['awkward.rig', here('awkward.rig')],
  ['danger.rig', here('danger.rig')],
])('the page of %s', async (_, path) => {
  const list = sheetOf(await analyse(path));
  const { document, problems } = read(list);
  const elements = all(document);

  it('is well formed', () => {
    expect(problems).toEqual([]);
    expect(text(all(document, 'title')[0] as Element)).toBe(`${list.title}: patch list`);
    expect(all(document, 'h1').map(text)).toEqual([`Patch list: ${list.title}`]);
  });

  it('has no script, nothing to load, and only elements and attributes of ours', () => {
    expect(elements.map((element) => element.tagName).filter((name) => !ALLOWED.has(name))).toEqual([]);
    const attributes = new Set(elements.flatMap((element) => element.attrs.map((each) => each.name)));
    expect([...attributes].filter((name) => /^on|^(href|src|srcset|style|action|formaction|xlink:href)$/.test(name))).toEqual([]);
    expect(text(all(document, 'style')[0] as Element)).not.toMatch(/url\(|@import|expression/);
  });

  it('has real tables: a caption, headings with a scope, a heading in every row, as many cells as headings', () => {
    const tables = all(document, 'table');
    const sections = [list.inputs, list.outputs, list.house];
    expect(tables).toHaveLength(sections.filter((rows) => rows.length > 0).length);
    for (const table of tables) {
      expect(all(table, 'caption')).toHaveLength(1);
      const headings = all(all(table, 'thead')[0] as Element, 'th');
      expect(headings.every((heading) => attribute(heading, 'scope') === 'col')).toBe(true);
      const rows = all(table, 'tbody').map((body) => all(body, 'tr')[0] as Element);
      for (const row of rows) {
        expect(row.childNodes).toHaveLength(headings.length);
        expect(all(row, 'th').map((heading) => attribute(heading, 'scope'))).toEqual(['row']);
      }
    }
  });

  it('shows in its rows what the model says', () => {
    const [table] = named(all(document, 'table'), 'table-inputs');
    const shown = all(table as Element, 'tbody').map((body) =>
      named(all(all(body, 'tr')[0] as Element), 'main')
        .concat()
        .map(text),
    );
    expect(shown.map((cells) => cells.slice(0, 2))).toEqual(list.inputs.map((row) => [row.port, row.source]));
  });

  it('tells every finding whole, by word and shape, in the body of its row', () => {
    const notes = named(elements, 'note');
    const told = [...list.inputs, ...list.outputs, ...list.house, ...list.leads].flatMap((row) => row.findings).concat(list.elsewhere);
    expect(notes.map((note) => text(all(note, 'p')[0] as Element).replaceAll('\u00a0', ' ')).sort()).toEqual(
      told
        .map((note) => `${note.severity[0]?.toUpperCase()}${note.severity.slice(1)} ${note.what} ${note.why} ${note.cure} ${note.code}`)
        .sort(),
    );
    for (const note of notes) expect(all(note, 'svg').map((shape) => attribute(shape, 'aria-hidden'))).toEqual(['true']);
    const bodies = named(all(document, 'tbody'), 'entry').map((body) => named(all(body), 'note').length);
    expect(bodies.reduce((a, b) => a + b, 0)).toBe(told.length - list.elsewhere.length);
  });

  it('is the same each time', async () => {
    expect(render(sheetOf(await analyse(path)), 'html')).toBe(render(list, 'html'));
  });
});

describe('labels that want to be markup', async () => {
  const list = sheetOf(await analyse(here('awkward.rig')));
  const { document } = read(list);

  it('stay text', () => {
    const body = text(document);
    for (const label of [
      '<img src=x onerror=alert(1)>',
      '"&\'; <script>alert(2)</script>',
      '</title><b>&amp;',
      'Straße & <Söhne> | "Tour" *2*',
    ])
      expect(body).toContain(label);
    expect(all(document, 'img')).toEqual([]);
    expect(all(document, 'script')).toEqual([]);
    expect(all(document, 'b')).toEqual([]);
  });

  it('stay text even where they come in by other ways than a rig', () => {
    const row = { ...(list.inputs[0] as PatchList['inputs'][number]), port: '"><script>1</script>', taken: "' onclick='x", key: 'k"<' };
    const title = '</style></title><script>2</script>"; } * { display: none }';
    const { document: page, problems } = read({ ...list, title, facts: ['<i>'], inputs: [row] });
    expect(problems).toEqual([]);
    expect(all(page, 'script')).toEqual([]);
    expect(all(page, 'i')).toEqual([]);
    expect(all(page, 'h1').map(text)).toEqual([`Patch list: ${title}`]);
    // It stands at the foot of each page as well.
    const style = text(all(page, 'style')[0] as Element);
    expect(style).toContain('content: "Patch list');
    expect(style).not.toContain('"; } *');
    expect(
      all(page)
        .flatMap((element) => element.attrs)
        .filter((each) => each.name.startsWith('on')),
    ).toEqual([]);
  });
});

describe('colours on paper', () => {
  /** Contrast of two colours by WCAG 2.2, success criterion 1.4.3: 4.5 or more for text. */
  const luminance = (hex: string) => {
    const [r = 0, g = 0, b = 0] = [1, 3, 5]
      .map((from) => Number.parseInt(hex.slice(from, from + 2), 16) / 255)
      .map((c) => (c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };

  it('can be read on white', async () => {
    const style = text(all(read(sheetOf(await analyse(here('danger.rig')))).document, 'style')[0] as Element);
    for (const name of ['ink', 'muted', 'accent', 'danger', 'error', 'warning', 'note']) {
      const colour = new RegExp(`--${name}: (#[0-9a-f]{6})`).exec(style)?.[1];
      expect(colour, name).toBeDefined();
      expect(1.05 / (luminance(colour as string) + 0.05), name).toBeGreaterThan(4.5);
    }
  });
});
