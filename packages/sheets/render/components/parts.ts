/** A long table in parts of some rows each: where nothing has changed in a part, none of its rows is gone through. */
import type { TableRow } from '../../sheet';

export interface RowPart {
  readonly rows: readonly TableRow[];
  /** Where its first row stands in the table. */
  readonly first: number;
}

const MOST = 64;
/** A part that is new and has fewer goes to the one before it. */
const LEAST = 16;

/** The rows in order, with the very lists of `before` wherever the same rows follow one another: what comes or goes changes a part or two. */
export function inParts(rows: readonly TableRow[], before: readonly RowPart[]): RowPart[] {
  const known = new Map(before.map((part) => [part.rows[0]?.key, part.rows]));
  const parts: (readonly TableRow[])[] = [];
  for (let at = 0; at < rows.length; ) {
    const there = known.get(rows[at]?.key);
    if (there?.every((row, index) => row === rows[at + index])) {
      parts.push(there);
      at += there.length;
      continue;
    }
    let end = at + 1;
    while (end < rows.length && end - at < MOST && !known.has(rows[end]?.key)) end++;
    const last = parts.at(-1);
    const isShort = end - at < LEAST && last !== undefined && last.length + end - at <= MOST;
    // One that has its own first row still is the one that it was.
    if (isShort && !there) parts[parts.length - 1] = [...last, ...rows.slice(at, end)];
    else parts.push(rows.slice(at, end));
    at = end;
  }
  let first = 0;
  return parts.map((rows) => {
    const part = { rows, first };
    first += rows.length;
    return part;
  });
}
