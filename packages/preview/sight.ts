/** Which rows of which tables are in sight, or nearly: these are drawn at once, and the others when there is time. */
import type { RowsNear } from '#sheets/components';

const NONE: RowsNear = { from: 0, to: -1 };

/** Of all tables at once: asked for when something has been changed already, the browser would have to lay the page out again. */
export function rowsInSight(root: HTMLElement): (table: HTMLTableElement) => RowsNear {
  let found: ReadonlyMap<HTMLTableElement, RowsNear> | undefined;
  return (table) => {
    found ??= new Map([...root.querySelectorAll('table')].map((each) => [each, rowsNear(each)]));
    return found.get(table) ?? NONE;
  };
}

/** Each row is a body of its table. */
function rowsNear(table: HTMLTableElement): RowsNear {
  const height = window.innerHeight;
  const [top, bottom] = [-height / 2, 1.5 * height];
  // What stands around it is laid out, even where nothing in it is.
  const room = (table.parentElement ?? table).getBoundingClientRect();
  if (room.bottom < top || room.top > bottom) return NONE;
  const { tBodies } = table;
  /** The first row that ends below a line of the window. */
  const below = (line: number) => {
    let [low, high] = [0, tBodies.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((tBodies[middle]?.getBoundingClientRect().bottom ?? 0) > line) high = middle;
      else low = middle + 1;
    }
    return low;
  };
  return { from: below(top), to: below(bottom) };
}
