/** A graph that has been laid out, as a drawing. */

import { widthOf, words } from '../draw/words';
import type { Drawing, Path, Shape, Words } from '../drawing';
import type { Edge, Node, Row, Way } from './graph';
import type { Laid, Placed, Routed } from './layout';
import { inFull, PAD, ROW_MM, rowBase, shown, TITLE_MM, titleBase, UNDER_MM, underBase } from './measure';

interface Page {
  readonly width: number;
  readonly height: number;
}

/** A4 less the margins that printers need and the words above a drawing; Letter is no smaller across. */
const ACROSS: Page = { width: 250, height: 170 };
const UPRIGHT: Page = { width: 180, height: 225 };
/** Letters of rows are 2 mm then: small print, and still read at arm's length. */
const LEAST_SCALE = 0.8;

const MARGIN = 1;
const KEY_MM = 2.4;
const KEY_HEIGHT = 6;
const KEY_LINE = 9;

const WAY_WORDS: Readonly<Record<Way, string>> = {
  lead: 'lead',
  digital: 'digital lead',
  radio: 'radio',
  inside: 'inside a machine',
  speaker: 'loudspeaker lead',
  none: 'must not or cannot be joined',
};
const WAYS = Object.keys(WAY_WORDS) as Way[];

/** The page that a drawing of a width goes on. */
export function pageFor(width: number): Page & { readonly across: boolean } {
  return width > UPRIGHT.width ? { ...ACROSS, across: true } : { ...UPRIGHT, across: false };
}

/** Whether it can be read on one page. */
export function fits(laid: Laid): boolean {
  return scaleOf(laid) >= LEAST_SCALE && pagesHigh(laid) <= 1;
}

/** On how many pages it would fit, one under another. */
export function pagesHigh(laid: Laid): number {
  const scale = scaleFor(laid);
  return Math.ceil(((laid.height + 2 * MARGIN + KEY_HEIGHT) * scale) / pageFor((laid.width + 2 * MARGIN) * scale).height);
}

function scaleFor(laid: Laid): number {
  return Math.max(LEAST_SCALE, scaleOf(laid));
}

function scaleOf({ width }: Laid): number {
  return Math.min(1, ACROSS.width / (width + 2 * MARGIN));
}

/** As wide as it needs, made smaller where a page is too narrow, but never so small that nobody can read it. */
export function picture(laid: Laid): Drawing {
  const scale = scaleFor(laid);
  const key = legend(laid);
  const width = Math.max(laid.width + 2 * MARGIN, key.width);
  const shapes = [
    ...laid.nodes.flatMap((node) => nodeShapes({ ...node, x: node.x + MARGIN, y: node.y + MARGIN })),
    ...inkLast(laid.edges).flatMap((edge) =>
      edgeShapes({ ...edge, points: edge.points.map(([x, y]) => [x + MARGIN, y + MARGIN] as const) }),
    ),
    ...key.shapes,
  ];
  return {
    width: hundredth(width * scale),
    height: hundredth((laid.height + 2 * MARGIN + KEY_HEIGHT) * scale),
    shapes: shapes.map((shape) => scaled(shape, scale)),
  };
}

// ---- nodes -----------------------------------------------------------------------------------------

function nodeShapes(placed: Placed): Shape[] {
  const { node, x, y, width, height, under } = placed;
  const { place } = node;
  const inner = width - 2 * PAD;
  return [
    {
      kind: 'box',
      x,
      y,
      width,
      height,
      fill: 'paper',
      place,
      label: told(node),
      ...FRAMES[node.kind],
      ...(node.unfinished && { dashed: true }),
    },
    words(node.title, { x: x + PAD, y: y + titleBase(), size: TITLE_MM, width: inner, bold: true, place }),
    ...under.map((line, index) => words(line, { x: x + PAD, y: y + underBase(index), size: UNDER_MM, width: inner, role: 'muted', place })),
    ...node.left.flatMap((row, index) => rowShapes(placed, 'left', row, index)),
    ...node.right.flatMap((row, index) => rowShapes(placed, 'right', row, index)),
  ];
}

/** What kind of thing it is shows in its frame. */
const FRAMES: Readonly<Record<Node['kind'], { radius: number; stroke: 'ink' | 'muted' | 'accent'; strokeWidth: number }>> = {
  player: { radius: 2.4, stroke: 'ink', strokeWidth: 0.3 },
  box: { radius: 0.4, stroke: 'ink', strokeWidth: 0.3 },
  mix: { radius: 0.4, stroke: 'accent', strokeWidth: 0.5 },
  listener: { radius: 2.4, stroke: 'ink', strokeWidth: 0.3 },
  house: { radius: 0.4, stroke: 'ink', strokeWidth: 0.7 },
};

function told({ title, under }: Node): string {
  return [title, ...under].join('; ');
}

function rowShapes(placed: Placed, side: 'left' | 'right', row: Row, index: number): Words[] {
  if (row.text === '') return [];
  const { x, y, width, leftWidth, rightWidth } = placed;
  const at = side === 'left' ? { x: x + PAD, width: leftWidth } : { x: x + width - PAD, width: rightWidth, anchor: 'end' as const };
  const text = shown(row, at.width);
  const label = text === inFull(row) ? undefined : inFull(row);
  return [
    words(text, {
      ...at,
      y: y + rowBase(placed, index),
      size: ROW_MM,
      place: row.place,
      label,
      ...(row.unfinished && { role: 'warning' }),
    }),
  ];
}

// ---- edges -----------------------------------------------------------------------------------------

function edgeShapes({ edge, points }: Routed): Path[] {
  const { place, label } = edge;
  return strokes(edge.way, edge.clashes === true).map((stroke) => ({ kind: 'path', points, place, label, ...stroke }));
}

/** Digital leads below the others, which cross them and stay whole. */
function inkLast(edges: readonly Routed[]): Routed[] {
  const digital = (each: Routed) => each.edge.way === 'digital';
  return [...edges.filter(digital), ...edges.filter((each) => !digital(each))];
}

type Stroke = Pick<Path, 'stroke' | 'strokeWidth' | 'dashed' | 'arrow'>;

/** Told apart by weight and by dashes; a digital lead is two lines side by side. */
function strokes(way: Edge['way'], clashes: boolean): Stroke[] {
  const stroke = clashes ? 'danger' : 'ink';
  switch (way) {
    case 'lead':
      return [{ stroke, strokeWidth: clashes ? 0.7 : 0.3, arrow: true }];
    case 'digital':
      return [
        { stroke, strokeWidth: 1 },
        { stroke: 'paper', strokeWidth: 0.45 },
      ];
    case 'radio':
      return [{ stroke, strokeWidth: 0.4, dashed: true, arrow: true }];
    case 'inside':
      return [{ stroke: 'muted', strokeWidth: 0.18 }];
    case 'speaker':
      return [{ stroke, strokeWidth: 0.9, arrow: true }];
    case 'none':
      return [{ stroke: 'danger', strokeWidth: 0.7, dashed: true, arrow: true }];
  }
}

/** Which line means what, under the drawing; only the kinds that are in it. */
function legend({ height, edges }: Laid): { readonly width: number; readonly shapes: Shape[] } {
  const used = new Set(edges.map(({ edge }) => edge.way));
  const y = height + 2 * MARGIN + KEY_HEIGHT - 1.6;
  const shapes: Shape[] = [];
  let x = MARGIN;
  for (const way of WAYS.filter((each) => used.has(each))) {
    const width = widthOf(WAY_WORDS[way], KEY_MM);
    const points = [
      [x, y - 0.8],
      [x + KEY_LINE, y - 0.8],
    ] as const;
    shapes.push(...strokes(way, false).map((stroke): Path => ({ kind: 'path', points, ...stroke })));
    shapes.push(words(WAY_WORDS[way], { x: x + KEY_LINE + 1.5, y, size: KEY_MM, width: width + 0.1, role: 'muted' }));
    x += KEY_LINE + width + 6;
  }
  return { width: x, shapes };
}

// ---- size ------------------------------------------------------------------------------------------

/** In hundredths of a millimetre: finer is not drawn. Letters never grow by it, so that they still fit. */
function scaled(shape: Shape, by: number): Shape {
  const to = (value: number) => hundredth(value * by);
  const stroke = 'strokeWidth' in shape && shape.strokeWidth !== undefined ? { strokeWidth: to(shape.strokeWidth) } : {};
  switch (shape.kind) {
    case 'box': {
      const radius = shape.radius === undefined ? {} : { radius: to(shape.radius) };
      return { ...shape, ...stroke, ...radius, x: to(shape.x), y: to(shape.y), width: to(shape.width), height: to(shape.height) };
    }
    case 'dot':
      return { ...shape, ...stroke, x: to(shape.x), y: to(shape.y), radius: to(shape.radius) };
    case 'path':
      return { ...shape, ...stroke, points: shape.points.map(([x, y]) => [to(x), to(y)] as const) };
    case 'words':
      return { ...shape, x: to(shape.x), y: to(shape.y), size: Math.floor(shape.size * by * 100) / 100, width: to(shape.width) };
  }
}

function hundredth(value: number): number {
  return Math.round(value * 100) / 100;
}
