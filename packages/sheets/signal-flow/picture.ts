/** A graph that has been laid out, as a drawing. */

import { HEAD_HALF, headLength } from '../draw/arrow';
import { widthOf, words } from '../draw/words';
import type { Drawing, Path, Shape, Words } from '../drawing';
import type { Edge, Node, Row, Way } from './graph';
import type { Laid, Placed, Routed } from './layout';
import { inFull, PAD, ROW_MM, rowBase, shown, TITLE_MM, titleBase, UNDER_MM, underBase } from './measure';

interface Page {
  readonly width: number;
  readonly height: number;
}

/** A4 less the margins that printers need and the words above a drawing. Of Letter, across, some 243 mm are left: letters are a fortieth smaller there. */
const ACROSS: Page = { width: 250, height: 150 };
const UPRIGHT: Page = { width: 180, height: 225 };
/** The smallest letters are 6 pt then, 2.12 mm: small print, and still read at arm's length. */
const LEAST_SCALE = 0.8155;
/** Larger letters than these help nobody. */
const MOST_SCALE = 1.6;
/** The numbers at both ends of a lead. */
const NUMBER_MM = 2.6;

const MARGIN = 1;
const KEY_MM = 2.6;
const KEY_HEIGHT = 6;
const KEY_LINE = 9;

const WAY_WORDS: Readonly<Record<Way, string>> = {
  lead: 'lead, with its number',
  house: 'lead to the house',
  digital: 'digital lead',
  radio: 'radio',
  inside: 'inside a machine',
  speaker: 'loudspeaker lead',
  none: 'must not or cannot be joined',
};
const WAYS = Object.keys(WAY_WORDS) as Way[];
const CLASH_WORDS = 'a second plug for one socket';

/** The page that a drawing of a width goes on. */
export function pageFor(width: number): Page & { readonly across: boolean } {
  return width > UPRIGHT.width ? { ...ACROSS, across: true } : { ...UPRIGHT, across: false };
}

/** Whether it can be read on one page. */
export function fits(laid: Laid): boolean {
  return filling(laid) >= LEAST_SCALE;
}

/** On how many pages it would fit, one under another. */
export function pagesHigh(laid: Laid): number {
  const scale = scaleFor(laid);
  const { width, height } = outer(laid);
  return Math.ceil((height * scale) / pageFor(width * scale).height - 0.001);
}

function outer(laid: Laid): Page {
  return { width: Math.max(laid.width + 2 * MARGIN, legend(laid).width), height: laid.height + 2 * MARGIN + KEY_HEIGHT };
}

/** So that it fills the page, whichever way that lies. */
function filling(laid: Laid): number {
  const { width, height } = outer(laid);
  return Math.min(MOST_SCALE, Math.max(...[ACROSS, UPRIGHT].map((page) => Math.min(page.width / width, page.height / height))));
}

/** What does not fit is as wide as the page, and higher; never so small that it cannot be read. */
function scaleFor(laid: Laid): number {
  const scale = filling(laid);
  return scale >= LEAST_SCALE ? scale : Math.max(LEAST_SCALE, Math.min(1, ACROSS.width / outer(laid).width));
}

/** As large as its page, and never so small that nobody can read it. */
export function picture(laid: Laid): Drawing {
  const scale = scaleFor(laid);
  const key = legend(laid);
  const { width, height } = outer(laid);
  const edges = inkLast(laid.edges).map((edge) => ({ ...edge, points: edge.points.map(([x, y]) => [x + MARGIN, y + MARGIN] as const) }));
  const shapes = [
    ...laid.nodes.flatMap((node) => nodeShapes({ ...node, x: node.x + MARGIN, y: node.y + MARGIN })),
    ...edges.flatMap(edgeShapes),
    ...numbers(edges, scale),
    ...key.shapes,
  ];
  return {
    width: hundredth(width * scale),
    height: hundredth(height * scale),
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
  return strokesOf(edge).map((stroke) => ({ kind: 'path', points, place, label, ...stroke }));
}

function strokesOf({ way, clashes }: Edge): Stroke[] {
  return strokes(way, clashes === true);
}

/** The number of each lead where it starts and, before its head, where it ends: whoever follows one knows it again. Those of one socket stand together. */
function numbers(edges: readonly Routed[], scale: number): Words[] {
  interface Beside {
    readonly at: readonly [number, number];
    readonly start: boolean;
    readonly all: number[];
    away: number;
  }
  const found = new Map<string, Beside>();
  for (const { edge, points } of edges) {
    const [first, last] = [points[0], points.at(-1)];
    if (edge.number === undefined || !first || !last) continue;
    for (const [at, start] of [
      [first, true],
      [last, false],
    ] as const) {
      const key = `${start} ${at[0].toFixed(1)} ${at[1].toFixed(1)}`;
      const there: Beside = found.get(key) ?? { at, start, all: [], away: NUMBER_GAP };
      there.all.push(edge.number);
      if (!start) there.away = Math.max(there.away, NUMBER_GAP + headOn(edge, scale));
      found.set(key, there);
    }
  }
  return [...found.values()].map(({ at: [x, y], start, all, away }) => {
    const text = all.length > 1 ? `${all[0]}…` : `${all[0]}`;
    const left = x - away - widthOf(text, NUMBER_MM);
    return words(text, {
      x: start ? x + away : x - away - Math.min(0, left),
      // At the edge of the paper, above the head.
      y: y - 0.6 - (start || left >= 0 ? 0 : HEAD_HALF * away),
      size: NUMBER_MM,
      width: 4.2,
      anchor: start ? 'start' : 'end',
      role: 'muted',
      label: `lead ${all.join(', ')}`,
    });
  });
}

const NUMBER_GAP = 0.5;

/** How long the head is of what is going to be drawn at a scale, in what that scales. */
function headOn(edge: Edge, scale: number): number {
  return Math.max(0, ...strokesOf(edge).flatMap(({ arrow, strokeWidth = 0 }) => (arrow ? [headLength(strokeWidth * scale) / scale] : [])));
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
    case 'house':
      return [{ stroke, strokeWidth: 0.75, arrow: true }];
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
  const clashes = edges.some(({ edge }) => edge.clashes && edge.way !== 'none');
  const y = height + 2 * MARGIN + KEY_HEIGHT - 1.6;
  const shapes: Shape[] = [];
  let x = MARGIN;
  const add = (sample: readonly Stroke[], text: string) => {
    const width = widthOf(text, KEY_MM);
    const points = [
      [x, y - 0.8],
      [x + KEY_LINE, y - 0.8],
    ] as const;
    shapes.push(...sample.map((stroke): Path => ({ kind: 'path', points, ...stroke })));
    shapes.push(words(text, { x: x + KEY_LINE + 1.5, y, size: KEY_MM, width: width + 0.1, role: 'muted' }));
    x += KEY_LINE + width + 6;
  };
  for (const way of WAYS.filter((each) => used.has(each))) add(strokes(way, false), WAY_WORDS[way]);
  if (clashes) add(strokes('lead', true), CLASH_WORDS);
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
