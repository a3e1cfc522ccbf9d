/** Labels laid out on sheets or on a roll: a drawing for each page, as large as the page. */
import type { Drawing, Shape } from '../drawing';
import { setter } from './face';
import type { Label } from './labels';
import { LABEL_STOCKS, type LabelStockId, labelAt, perPage, printable, type Rectangle } from './stocks';

/**
 * `plain` is read from above. A `flag` is folded round the lead and stuck to itself: the text stands on both sides of the fold,
 * the right way up on each face.
 */
export type LabelStyle = 'plain' | 'flag';

export interface LabelOptions {
  readonly stock: LabelStockId;
  readonly style?: LabelStyle;
  /** The first label on the first sheet that is still there, counted from 1, row by row. */
  readonly start?: number;
  /** Draws the edges of all labels, for a trial on plain paper. */
  readonly outlines?: boolean;
  /** Stands on each label that has room for words, so that a lead finds home from another band's case. */
  readonly band?: string;
}

export interface LabelPage {
  readonly drawing: Drawing;
  readonly description: string;
}

/** What goes round the lead, in mm: a lead of 6.4 mm is 20 mm round (common practice, no source); less on a small label. */
const ROUND_MM = 20;
const ROUND_SHARE = 0.4;
/** Of the marks at the fold, at the edges of a label. */
const FOLD_MM = 1.5;

export function labelPages(labels: readonly Label[], options: LabelOptions): LabelPage[] {
  const stock = LABEL_STOCKS[options.stock];
  const room = perPage(stock);
  const start = startOf(options.start, room);
  const labelled = labeller(labels, options);
  const pages: LabelPage[] = [];
  for (let first = -start; first < labels.length; first += room) {
    const here = labels.slice(Math.max(0, first), first + room);
    const offset = first < 0 ? start : 0;
    const shapes: Shape[] = options.outlines ? outlines(stock, room) : [];
    for (const [index, label] of here.entries()) shapes.push(...labelled(label, offset + index));
    pages.push({ drawing: { width: stock.page.width, height: stock.page.height, shapes }, description: describe(here) });
  }
  return labels.length > 0 ? pages : [];
}

/** From 0. What is no place on the sheet is taken as its first. */
function startOf(start: number | undefined, room: number): number {
  const index = Math.floor(start ?? 1) - 1;
  return index > 0 && index < room ? index : 0;
}

/** All labels of a set have one setting: the room on each is the same. */
function labeller(labels: readonly Label[], { stock: id, style, band }: LabelOptions): (label: Label, index: number) => Shape[] {
  const stock = LABEL_STOCKS[id];
  const whole = printable(stock, 0);
  const name = band?.trim() || undefined;
  if (style !== 'flag') {
    const face = setter(labels, whole, name);
    return (label, index) => face(label, printable(stock, index));
  }
  const round = Math.min(ROUND_MM, stock.label.width * ROUND_SHARE);
  const width = (whole.width - round) / 2;
  const face = setter(labels, { ...whole, width }, name);
  return (label, index) => {
    const room = printable(stock, index);
    const faces = [room.x, room.x + room.width - width].flatMap((x) => face(label, { ...room, x, width }));
    return [...faces, ...folds(labelAt(stock, index))];
  };
}

function folds({ x, y, width, height }: Rectangle): Shape[] {
  const middle = x + width / 2;
  const edges = [
    [y, y + FOLD_MM],
    [y + height - FOLD_MM, y + height],
  ] as const;
  return edges.map(([from, to]) => ({
    kind: 'path',
    points: [
      [middle, from],
      [middle, to],
    ],
    stroke: 'line',
    strokeWidth: 0.2,
  }));
}

function outlines(stock: (typeof LABEL_STOCKS)[LabelStockId], room: number): Shape[] {
  return Array.from({ length: room }, (_, index) => ({ kind: 'box', ...labelAt(stock, index), stroke: 'line', strokeWidth: 0.15 }));
}

function describe(labels: readonly Label[]): string {
  const first = labels[0];
  const last = labels.at(-1);
  if (!first || !last) return 'No labels.';
  return first === last ? `Label ${first.mark}.` : `Labels ${first.mark} to ${last.mark}.`;
}
