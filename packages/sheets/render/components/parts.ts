/** A long table in parts of some rows each: where nothing has changed in a part, none of its rows is gone through. */
import type { TableRow } from '../../sheet';

export interface RowPart {
  /** The same from one state of the table to the next. */
  readonly id: number;
  readonly rows: readonly TableRow[];
  /** Where its first row stands in the table. */
  readonly first: number;
}

const MOST = 64;
/** One that is smaller goes to the one before it, if there is room. */
const LEAST = 16;

/** The rows in order, with the very lists of `before` wherever the same rows follow one another: what comes or goes changes a part or two. */
export function inParts(rows: readonly TableRow[], before: readonly RowPart[]): RowPart[] {
  const starts = new Map(before.map((part) => [part.rows[0]?.key, part.rows]));
  /** To where the next one of before starts. */
  const endFrom = (at: number) => {
    let end = at + 1;
    while (end < rows.length && end - at < MOST && !starts.has(rows[end]?.key)) end++;
    return end;
  };
  const lists: (readonly TableRow[])[] = [];
  for (let at = 0; at < rows.length; ) {
    const there = starts.get(rows[at]?.key);
    const list = there?.every((row, index) => row === rows[at + index]) ? there : rows.slice(at, endFrom(at));
    at += list.length;
    const last = lists.at(-1);
    if (last && list.length < LEAST && last.length + list.length <= MOST) lists[lists.length - 1] = [...last, ...list];
    else lists.push(list);
  }
  return identified(lists, before);
}

/** Each is the one that the first of its rows was in that has been there: the page keeps what stands in a part as long as that is the same. */
function identified(lists: readonly (readonly TableRow[])[], before: readonly RowPart[]): RowPart[] {
  const were = new Map(before.flatMap(({ id, rows }) => rows.map(({ key }) => [key, id])));
  const taken = new Set<number>();
  let [first, next] = [0, Math.max(0, ...before.map(({ id }) => id + 1))];
  return lists.map((rows) => {
    const was = rows.map(({ key }) => were.get(key)).find((each) => each !== undefined && !taken.has(each));
    const id = was ?? next++;
    taken.add(id);
    const part = { id, rows, first };
    first += rows.length;
    return part;
  });
}
