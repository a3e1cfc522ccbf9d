/** Columns: how far from the start of their lines the parts of lines of one sort stand. */
import type { Role } from './roles';

export interface Cell {
  readonly role: Role;
  /** How many columns of a monospaced font it takes. */
  readonly width: number;
  /** Whether it begins with a sign. */
  readonly signed: boolean;
}

/** A line's parts. There is at least one. */
export interface Row {
  readonly cells: readonly Cell[];
}

/** A part this much wider than the middle one of its column (the lower of two) is not waited for: what follows it runs on. */
const OUTLIER = 20;

/** For each row, the places of its parts, from 0 on. */
export function placesOf(rows: readonly Row[], isLoose: (role: Role) => boolean = ({ loose }) => loose === true): number[][] {
  const lines = rows.map(({ cells }): Line => ({ cells, places: [], end: 0 }));
  const { end, rest } = fixedColumns(lines, isLoose);
  freeColumns(rest, end, isLoose);
  for (const line of lines) for (const cell of line.cells.slice(line.places.length)) put(line, cell, 0);
  return lines.map(({ places }) => places);
}

interface Line {
  readonly cells: readonly Cell[];
  readonly places: number[];
  /** Where what has been placed ends. */
  end: number;
}

function put(line: Line, cell: Cell, column: number, shift = 0): void {
  const nearest = line.places.length === 0 ? 0 : line.end + cell.role.gap;
  const place = Math.max(column + shift, nearest);
  line.places.push(place);
  line.end = place + cell.width;
}

const columnOf = (line: Line): number | undefined =>
  line.places.length === 0 ? (line.cells[0]?.role.column ?? 0) : line.cells[line.places.length]?.role.column;

/** Columns by their number, blank where a line has no such part. */
function fixedColumns(lines: readonly Line[], isLoose: (role: Role) => boolean): { end: number; rest: Line[] } {
  let end = 0;
  let waiting = [...lines];
  const rest: Line[] = [];
  for (let first = true; waiting.length > 0; first = false) {
    const fixed = waiting.filter((line) => {
      const cell = line.cells[line.places.length];
      return cell !== undefined && columnOf(line) !== undefined && !isLoose(cell.role);
    });
    const going = new Set(fixed);
    for (const line of waiting) if (!going.has(line)) rest.push(line);
    const next = fixed.reduce((least, line) => Math.min(least, columnOf(line) as number), Number.POSITIVE_INFINITY);
    const here = fixed.filter((line) => columnOf(line) === next);
    if (here.length > 0) end = column(here, first ? 0 : end, first);
    waiting = fixed;
  }
  return { end, rest: rest.filter((line) => !isLoose(line.cells[line.places.length]?.role ?? LOOSE)) };
}

const LOOSE: Role = { kind: '', gap: 1, loose: true };

/** Columns of lines that have parts of the same kinds, one after the other. */
function freeColumns(lines: readonly Line[], end: number, isLoose: (role: Role) => boolean): void {
  // A list of what is to be done instead of recursion: a line can have more parts than calls go deep.
  const waiting = [{ lines, end }];
  for (let next = waiting.pop(); next; next = waiting.pop()) {
    const going = next.lines.filter((line) => line.places.length < line.cells.length && !isLoose(nextOf(line).role));
    if (going.length === 0) continue;
    const start = next.end + widestGap(going);
    const byKind = new Map<string, Line[]>();
    for (const line of going) {
      const { kind } = nextOf(line).role;
      const alike = byKind.get(kind);
      if (alike) alike.push(line);
      else byKind.set(kind, [line]);
    }
    for (const alike of byKind.values()) waiting.push({ lines: alike, end: column(alike, start, true) });
  }
}

const widestGap = (lines: readonly Line[]): number => lines.reduce((most, line) => Math.max(most, nextOf(line).role.gap), 0);

const nextOf = (line: Line): Cell => line.cells[line.places.length] as Cell;

/** Puts the next part of each line into one column; gives where the column ends. */
function column(lines: readonly Line[], end: number, isStart: boolean): number {
  const cells = lines.map(nextOf);
  const start = isStart ? end : end + widestGap(lines);
  const signs = cells.some(({ role, signed }) => role.align === 'signed' && signed) ? 1 : 0;
  const shiftOf = ({ role, signed }: Cell) => (role.align === 'signed' && !signed ? signs : 0);
  const width = usual(cells.map((cell) => cell.width + shiftOf(cell)));
  for (const line of lines) {
    const cell = nextOf(line);
    put(line, cell, start, cell.role.align === 'right' ? Math.max(0, width - cell.width) : shiftOf(cell));
  }
  return start + width;
}

/** The widest, leaving out what is far wider than is usual here. */
export function usual(widths: readonly number[]): number {
  const sorted = [...widths].sort((a, b) => a - b);
  const middle = sorted[Math.floor((sorted.length - 1) / 2)] ?? 0;
  return sorted.findLast((width) => width <= middle + OUTLIER) ?? 0;
}
