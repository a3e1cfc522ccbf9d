/** Drawings as SVG: the file is read back by an XML parser, the picture in a page by an HTML parser. */
import { parseFragment, type DefaultTreeAdapterTypes as T, defaultTreeAdapter as tree } from 'parse5';
import type { VNode } from 'preact';
import { render } from 'preact-render-to-string';
import sax from 'sax';
import { describe, expect, it } from 'vitest';
import { Svg, svgFile } from '../../packages/sheets/draw/svg';
import type { Drawing, Role, Shape } from '../../packages/sheets/drawing';

interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Element[];
  text: string;
}

/** Strict: anything that is not well-formed fails. */
function parseXml(xml: string): Element {
  const parser = sax.parser(true);
  const top: Element = { name: '', attributes: {}, children: [], text: '' };
  const open = [top];
  parser.onerror = (error) => {
    throw error;
  };
  parser.onopentag = ({ name, attributes }) => {
    const element: Element = { name, attributes, children: [], text: '' };
    open.at(-1)?.children.push(element);
    open.push(element);
  };
  parser.ontext = (text) => {
    const last = open.at(-1);
    if (last) last.text += text;
  };
  parser.onclosetag = () => {
    open.pop();
  };
  parser.write(xml).close();
  return top.children[0] ?? top;
}

function all(element: Element, name?: string): Element[] {
  return element.children.flatMap((child) => [...(name === undefined || child.name === name ? [child] : []), ...all(child, name)]);
}

const HOSTILE = [
  '</text><script>alert(1)</script>',
  '"><image href="http://example.invalid/x" onload="alert(1)"/>',
  "' onclick='alert(1)",
  '&amp; &lt; &#0; &unknown;',
  ']]><![CDATA[',
  '<!-- --> <?x ?> <!DOCTYPE x>',
  'نص من اليمين \u202e reversed',
  '🎻🪗👩‍👩‍👧‍👦',
  'forty characters and a few more than that, whole',
];

const word = (text: string, y: number): Shape => ({ kind: 'words', x: 1, y, text, size: 3, width: 90, label: text });
const drawing = (...shapes: Shape[]): Drawing => ({ width: 100, height: 50, shapes });

describe('a file', () => {
  it('holds every label whole, and nothing that a label brings with it', () => {
    const file = parseXml(svgFile(drawing(...HOSTILE.map((text, index) => word(text, index * 5))), HOSTILE.join(' '), HOSTILE.join(' ')));
    expect(all(file, 'text').map(({ text }) => text)).toEqual(HOSTILE);
    expect(all(file, 'title').map(({ text }) => text)).toEqual([HOSTILE.join(' '), ...HOSTILE]);
    expect(all(file, 'desc').map(({ text }) => text)).toEqual([HOSTILE.join(' ')]);
    expect([...new Set(all(file).map(({ name }) => name))].sort()).toEqual(['desc', 'g', 'rect', 'text', 'title']);
    const attributes = new Set(all(file).flatMap((element) => Object.keys(element.attributes)));
    expect([...attributes].filter((name) => /^on|href|style/.test(name))).toEqual([]);
  });

  it('has no character that XML forbids, and shows where there was one', () => {
    const file = svgFile(drawing(word('a\u0000b\u001bc\ud800d\ufffee', 5)), '\u0008', '\uffff');
    // The production Char of XML 1.0, 2.2.
    expect(file).toMatch(/^[\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]*$/u);
    expect(all(parseXml(file), 'text')[0]?.text).toBe('a\ufffdb\ufffdc\ufffdd\ufffde');
  });

  it('is as large as the drawing, in millimetres, and named', () => {
    const { attributes, children } = parseXml(svgFile(drawing(), 'Stage', 'Two people.'));
    expect(attributes).toMatchObject({
      width: '100mm',
      height: '50mm',
      viewBox: '0 0 100 50',
      role: 'img',
      xmlns: 'http://www.w3.org/2000/svg',
    });
    const named = (attributes['aria-labelledby'] ?? '').split(' ').map((id) => children.find((child) => child.attributes.id === id)?.text);
    expect(named).toEqual(['Stage', 'Two people.']);
  });

  it('has colours of its own, dark enough on white', () => {
    const roles: Role[] = ['ink', 'muted', 'line', 'accent', 'warning', 'danger'];
    const file = parseXml(svgFile(drawing(...roles.map((role): Shape => ({ kind: 'dot', x: 5, y: 5, radius: 2, fill: role }))), '', ''));
    const contrasts = all(file, 'circle').map(({ attributes }) => 1.05 / (luminance(attributes.fill ?? '') + 0.05));
    // WCAG 2: 4.5 for what is read (1.4.3), 3 for what is drawn (1.4.11).
    expect(contrasts.map((each, index) => each >= (roles[index] === 'line' ? 3 : 4.5))).toEqual(roles.map(() => true));
  });

  it('rounds numbers to two decimals and is the same each time', () => {
    const odd = drawing(
      { kind: 'box', x: 1 / 3, y: -1e-9, width: 2 / 3, height: 10 / 3, radius: Math.PI, stroke: 'ink', strokeWidth: 1 / 7 },
      { kind: 'path', points: [[0, 0], [100 / 3, Number.NaN]], stroke: 'ink' }, // biome-ignore format: a line
    );
    const file = svgFile(odd, 't', 'd');
    expect(svgFile(structuredClone(odd), 't', 'd')).toBe(file);
    const numbers = all(parseXml(file)).flatMap(({ attributes }) =>
      Object.values(attributes).flatMap((value) => value.match(/-?\d*\.\d+/g) ?? []),
    );
    expect(numbers).not.toEqual([]);
    expect(numbers.filter((number) => !/^-?\d+\.\d{1,2}$/.test(number))).toEqual([]);
    expect(file).not.toMatch(/NaN|Infinity|-0[" ]/);
  });
});

/** Relative luminance, as WCAG 2 defines it. */
function luminance(colour: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5]
    .map((at) => Number.parseInt(colour.slice(at, at + 2), 16) / 255)
    .map((value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

describe('shapes', () => {
  const parts = (shape: Shape) => all(parseXml(svgFile(drawing(shape), '', ''))).slice(3);
  const points = (d = '') => [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);

  it('an arrow has its tip at the last point, and the line stops before it', () => {
    const [, line, head] = parts({ kind: 'path', points: [[10, 10], [40, 10], [40, 30]], stroke: 'ink', strokeWidth: 0.5, arrow: true }); // biome-ignore format: a line
    const corners = points(head?.attributes.d);
    expect(corners[0]).toEqual([40, 30]);
    expect(corners[1]?.[1]).toBe(corners[2]?.[1]);
    expect((corners[1]?.[0] ?? 0) + (corners[2]?.[0] ?? 0)).toBeCloseTo(80, 2);
    const end = points(line?.attributes.d).at(-1) ?? [];
    expect(end[0]).toBe(40);
    expect(end[1]).toBe(corners[1]?.[1]);
    expect(head?.attributes.fill).toBe(line?.attributes.stroke);
  });

  it('an arrow whose last points are one has its head where it came from', () => {
    const [, , head] = parts({ kind: 'path', points: [[10, 10], [40, 10], [40, 10]], stroke: 'ink', arrow: true }); // biome-ignore format: a line
    expect(points(head?.attributes.d)[0]).toEqual([40, 10]);
  });

  it('dashes, corners, weights and anchors come through', () => {
    expect(
      parts({ kind: 'box', x: 1, y: 2, width: 3, height: 4, radius: 0.5, fill: 'paper', stroke: 'line', dashed: true })[1]?.attributes,
    ).toMatchObject({
      x: '1',
      y: '2',
      width: '3',
      height: '4',
      rx: '0.5',
      fill: '#ffffff',
      'stroke-width': '0.25',
      'stroke-dasharray': '1.6 1.1',
    });
    expect(parts({ kind: 'words', x: 9, y: 8, text: 'A', size: 2.6, width: 5, anchor: 'end', bold: true })[1]?.attributes).toMatchObject({
      x: '9',
      y: '8',
      'font-size': '2.6',
      'text-anchor': 'end',
      'font-weight': '600',
    });
  });
});

describe('in a page', () => {
  const shapes: Shape[] = [
    { kind: 'box', x: 0, y: 0, width: 20, height: 10, stroke: 'ink', place: 'gear:split', label: 'Split' },
    { ...word('Split', 5), label: undefined, place: 'gear:split' } as Shape,
    { ...word('Voice', 15), label: undefined, place: 'source:voice' } as Shape,
    { kind: 'path', points: [[0, 0], [9, 9]], stroke: 'accent', place: 'input:1', label: 'Voice: to Interface 1' }, // biome-ignore format: a line
    { kind: 'dot', x: 5, y: 5, radius: 1, fill: 'danger', place: 'input:2' },
    { ...word('Key', 40), label: undefined } as Shape,
  ];
  const jumps: string[] = [];
  const act = { jump: (place: string) => void jumps.push(place), isLit: (about: readonly string[]) => about.includes('source:voice') };
  const shown = (with_: typeof act | undefined) =>
    parseFragment(render(<Svg drawing={drawing(...shapes)} description="A split." act={with_} />)).childNodes[0] as T.Element;
  const inside = (node: T.ParentNode): T.Element[] =>
    node.childNodes.flatMap((child) => (tree.isElementNode(child) ? [child, ...inside(child)] : []));
  const attribute = (element: T.Element, name: string) => element.attrs.find((each) => each.name.toLowerCase() === name)?.value;

  it('is one picture with a description where nothing can be done with it', () => {
    const svg = shown(undefined);
    expect([attribute(svg, 'role'), attribute(svg, 'aria-label'), attribute(svg, 'width')]).toEqual(['img', 'A split.', '100mm']);
    expect(inside(svg).filter((each) => attribute(each, 'tabindex') ?? attribute(each, 'role'))).toEqual([]);
  });

  it('takes its colours from the page, without styles that a policy may forbid', () => {
    const painted = inside(shown(act)).flatMap((each) => [attribute(each, 'fill'), attribute(each, 'stroke')]);
    expect(new Set(painted.filter((each) => each !== undefined))).toEqual(
      new Set(['none', 'transparent', 'var(--ink)', 'var(--accent)', 'var(--danger)']),
    );
    expect(inside(shown(act)).filter((each) => attribute(each, 'style'))).toEqual([]);
  });

  it('has a button for each thing with a name, one of which the tab key reaches', () => {
    const buttons = inside(shown(act)).filter((each) => attribute(each, 'role') === 'button');
    expect(buttons.map((each) => [attribute(each, 'aria-label'), attribute(each, 'tabindex'), attribute(each, 'aria-current')])).toEqual([
      ['Split', '0', undefined],
      ['Voice', '-1', 'true'],
      ['Voice: to Interface 1', '-1', undefined],
    ]);
    expect(attribute(shown(act), 'role')).toBe('group');
  });

  it('goes to the statement of what is clicked, named or not', () => {
    const clicks = clickable(<Svg drawing={drawing(...shapes)} description="A split." act={act} />);
    for (const click of clicks) click();
    expect(jumps).toEqual(['gear:split', 'source:voice', 'input:1', 'input:2']);
  });
});

/** What is heard by the elements that a component makes, in their order. */
function clickable(node: unknown): (() => void)[] {
  if (Array.isArray(node)) return node.flatMap(clickable);
  if (typeof node !== 'object' || node === null || !('props' in node)) return [];
  const { type, props } = node as VNode<{ children?: unknown; onClick?: () => void }>;
  if (typeof type === 'function') return clickable((type as (props: unknown) => unknown)(props));
  return [...(props.onClick ? [props.onClick] : []), ...clickable(props.children)];
}
