/** How large a node is, and where in it what stands. Lengths are millimetres. */
import { broken, fitted, widthOf } from '../draw/words';
import type { Node, Row } from './graph';

export const TITLE_MM = 2.9;
export const UNDER_MM = 2.6;
export const ROW_MM = 2.6;

export const PAD = 1.6;
const TITLE_LINE = 4.2;
const UNDER_LINE = 3.4;
const ROW_LINE = 3.9;
/** Between what is written left and right on one line. */
const GUTTER = 2.5;
const NARROWEST = 12;
const WIDEST_ROW = 40;
const WIDEST: Readonly<Record<Node['kind'], number>> = { player: 40, box: 40, mix: 38, listener: 30, house: 42 };
const MOST_UNDER = 5;
/** Sums of widths differ in their last digit with the order in which they are added. */
const HAIR = 0.01;

export interface Measured {
  readonly node: Node;
  readonly width: number;
  readonly height: number;
  /** The lines under the title, broken to the width. */
  readonly under: readonly string[];
  /** How wide what is written at the ports may be. */
  readonly leftWidth: number;
  readonly rightWidth: number;
}

export function measured(node: Node): Measured {
  const written = (rows: Node['left']) => {
    const widest = Math.max(0, ...rows.map((row) => widthOf(inFull(row), ROW_MM)));
    return widest === 0 ? 0 : Math.min(WIDEST_ROW, widest + HAIR);
  };
  const [leftWidth, rightWidth] = [written(node.left), written(node.right)];
  const rows = leftWidth + rightWidth + (leftWidth > 0 && rightWidth > 0 ? GUTTER : 0);
  const head = Math.min(
    WIDEST[node.kind],
    Math.max(NARROWEST, widthOf(node.title, TITLE_MM, true), ...node.under.map((line) => widthOf(line, UNDER_MM))),
  );
  const inner = Math.max(head, rows);
  const under = node.under.flatMap((line) => broken(line, UNDER_MM, inner, MOST_UNDER));
  const width = inner + 2 * PAD;
  const lines = bare(node) ? 0 : Math.max(node.left.length, node.right.length);
  return { node, width, height: PAD + TITLE_LINE + under.length * UNDER_LINE + lines * ROW_LINE + PAD * 0.6, under, leftWidth, rightWidth };
}

/** What is written at a port: as much of it as fits, and what must stand behind it. */
export function shown(row: Row, width: number): string {
  if (widthOf(inFull(row), ROW_MM) <= width) return inFull(row);
  const after = afterOf(row);
  return `${fitted(row.text, ROW_MM, width - widthOf(after, ROW_MM))}${after}`;
}

export function inFull(row: Row): string {
  return `${row.text}${afterOf(row)}`;
}

function afterOf({ after }: Row): string {
  return after ? `, ${after}` : '';
}

/** With nothing written at its ports, they are beside its title. */
function bare({ left, right }: Node): boolean {
  return left.length <= 1 && right.length <= 1 && [...left, ...right].every((row) => row.text === '');
}

/** The base lines in a node, from its upper edge. */
export function titleBase(): number {
  return PAD + TITLE_MM;
}

export function underBase(line: number): number {
  return PAD + TITLE_LINE + line * UNDER_LINE + UNDER_MM * 0.85;
}

export function rowBase({ under }: Measured, row: number): number {
  return PAD + TITLE_LINE + under.length * UNDER_LINE + row * ROW_LINE + ROW_LINE * 0.72;
}

/** Where a lead comes to a node: at the middle of its row's letters. */
export function rowY(each: Measured, row: number): number {
  return bare(each.node) ? titleBase() - TITLE_MM * 0.36 : rowBase(each, row) - ROW_MM * 0.36;
}
