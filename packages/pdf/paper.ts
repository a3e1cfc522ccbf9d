/** Paper and its margins, in points (72 to the inch). */
import type { Size } from 'pdfmake';
import type { Drawing } from '#sheets/print';

export const PAPERS = ['A4', 'Letter'] as const;
export type Paper = (typeof PAPERS)[number];

/** In mm: ISO 216, and 8 1/2 by 11 inches. */
const SIZES_MM: Readonly<Record<Paper, Size>> = { A4: { width: 210, height: 297 }, Letter: { width: 215.9, height: 279.4 } };
/** Drawings are made for so much. */
const PRINTED_MM = 180;
export const TOP_MM = 14;
const BOTTOM_MM = 12;
/** At the sides of a page that lies; home printers leave 6 mm white (common practice, no source). */
const SIDE_OF_WIDE_MM = 15;

export function mm(length: number): number {
  return (length * 72) / 25.4;
}

export function sizeOf(paper: Paper): Size {
  const { width, height } = SIZES_MM[paper];
  return { width: mm(width), height: mm(height) };
}

export interface Area {
  readonly wide: boolean;
  /** What can be printed on. */
  readonly width: number;
  readonly height: number;
}

/** Left, top, right, bottom; the same for a page that stands and one that lies. */
export function margins(paper: Paper): [number, number, number, number] {
  const side = sideOf(paper);
  return [side, mm(TOP_MM), side, mm(BOTTOM_MM)];
}

function sideOf(paper: Paper): number {
  return Math.max(mm(SIDE_OF_WIDE_MM), (sizeOf(paper).width - mm(PRINTED_MM)) / 2);
}

export function areaOf(paper: Paper, wide: boolean): Area {
  const { width, height } = sizeOf(paper);
  const [across, down] = wide ? [height, width] : [width, height];
  return { wide, width: across - 2 * sideOf(paper), height: down - mm(TOP_MM) - mm(BOTTOM_MM) };
}

/** What is wider than a page that stands lies. */
export function lies(drawings: readonly Drawing[]): boolean {
  return drawings.some(({ width }) => width > PRINTED_MM + 6);
}
