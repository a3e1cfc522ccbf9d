/**
 * Sheets and rolls of labels that are commonly had, as plain geometry in millimetres. Sizes and counts are common practice, from
 * memory, and gaps and margins follow from them with the page in the middle: hold a print with outlines against yours first.
 */

export interface LabelStock {
  readonly id: string;
  /** `A4, 24 labels of 70 × 37 mm`. */
  readonly name: string;
  /** A roll has a page for each label. */
  readonly page: { readonly width: number; readonly height: number };
  readonly columns: number;
  readonly rows: number;
  readonly label: { readonly width: number; readonly height: number };
  /** Between labels. */
  readonly gap: { readonly x: number; readonly y: number };
}

const A4 = { width: 210, height: 297 };
const LETTER = { width: 215.9, height: 279.4 };

export const LABEL_STOCKS = {
  'a4-3x8': {
    id: 'a4-3x8',
    name: 'A4, 24 labels of 70 × 37 mm',
    page: A4,
    columns: 3,
    rows: 8,
    label: { width: 70, height: 37 },
    gap: { x: 0, y: 0 },
  },
  'a4-5x13': {
    id: 'a4-5x13',
    name: 'A4, 65 labels of 38.1 × 21.2 mm',
    page: A4,
    columns: 5,
    rows: 13,
    label: { width: 38.1, height: 21.2 },
    gap: { x: 2.5, y: 0 },
  },
  // 2 5/8 by 1 inch, with an eighth of an inch between columns.
  'letter-3x10': {
    id: 'letter-3x10',
    name: 'Letter, 30 labels of 2 5/8 × 1 in',
    page: LETTER,
    columns: 3,
    rows: 10,
    label: { width: 66.675, height: 25.4 },
    gap: { x: 3.175, y: 0 },
  },
  roll: {
    id: 'roll',
    name: 'Roll, labels of 50 × 25 mm',
    page: { width: 50, height: 25 },
    columns: 1,
    rows: 1,
    label: { width: 50, height: 25 },
    gap: { x: 0, y: 0 },
  },
} as const satisfies Readonly<Record<string, LabelStock>>;

export type LabelStockId = keyof typeof LABEL_STOCKS;

export function perPage({ columns, rows }: LabelStock): number {
  return columns * rows;
}

/** Whether a sheet has a label of that number, counted from 1, row by row. */
export function isOnSheet(stock: LabelStock, number: number): boolean {
  return Number.isInteger(number) && number >= 1 && number <= perPage(stock);
}

export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Where the label of a number stands on its page, counted from 0, row by row. */
export function labelAt(stock: LabelStock, index: number): Rectangle {
  const { page, columns, rows, label, gap } = stock;
  const left = (page.width - columns * label.width - (columns - 1) * gap.x) / 2;
  const top = (page.height - rows * label.height - (rows - 1) * gap.y) / 2;
  const column = index % columns;
  const row = Math.floor(index / columns);
  return { x: left + column * (label.width + gap.x), y: top + row * (label.height + gap.y), ...label };
}

/** Printers leave the edge of a sheet white: common practice, no source. A roll's printer goes nearly to its edge. */
const WHITE_MM = 5;
const INSET_MM = 2;

/** The part of a label that may be printed on: the same for each, so that they look alike. */
export function printable(stock: LabelStock, index: number): Rectangle {
  const at = labelAt(stock, index);
  const first = labelAt(stock, 0);
  const white = stock.id === 'roll' ? INSET_MM : WHITE_MM;
  const x = Math.max(INSET_MM, white - first.x);
  const y = Math.max(INSET_MM, white - first.y);
  return { x: at.x + x, y: at.y + y, width: at.width - 2 * x, height: at.height - 2 * y };
}
