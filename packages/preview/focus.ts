/** Keyboard focus and scrolling in the sheet. */

const ROWS = '.entry > tr[tabindex]';

/** Draws anew. What had the focus keeps it, also where it is drawn afresh; if its row is gone, the row in its place gets it. */
export function keepFocus(root: HTMLElement, redraw: () => void): void {
  const focused = document.activeElement;
  const row = focused instanceof HTMLElement && root.contains(focused) ? focused.closest<HTMLElement>(ROWS) : null;
  const index = row ? rows(root).indexOf(row) : -1;
  const name = row && nameOf(row);
  redraw();
  if (!(focused instanceof HTMLElement) || index < 0 || document.activeElement === focused) return;
  const all = rows(root);
  const same = all.find((each) => nameOf(each) === name);
  const there = focused.isConnected ? focused : focused === row ? same : same?.querySelector<HTMLElement>('input');
  (there ?? all[Math.min(index, all.length - 1)])?.focus({ preventScroll: true });
}

/** Of a row, in the page. */
function nameOf(row: HTMLElement): string {
  return `${row.closest('table')?.querySelector('h2')?.id} ${row.dataset.row}`;
}

/** Up and down, Home and End, from row to row. */
export function moveByKeys(root: HTMLElement, event: KeyboardEvent): void {
  if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  if (!(event.target instanceof HTMLElement) || !event.target.matches(ROWS)) return;
  const all = rows(root);
  const at = all.indexOf(event.target);
  const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: all.length - 1 }[event.key];
  if (to === undefined || !all[to]) return;
  event.preventDefault();
  all[to].focus();
}

/** Scrolls as little as is needed to see a row, or a part of a drawing, of the statement under the cursor, unless one is in sight or the reader is in here. */
export function bringLitIntoView(root: HTMLElement): void {
  if (document.hasFocus() && root.contains(document.activeElement)) return;
  const lit = [...root.querySelectorAll<Element>('.entry.lit, .drawing .lit')];
  const inSight = lit.some((row) => {
    const { top, bottom } = row.getBoundingClientRect();
    return bottom > 0 && top < window.innerHeight;
  });
  if (!inSight) lit[0]?.scrollIntoView({ block: 'nearest' });
}

function rows(root: HTMLElement): HTMLElement[] {
  return [...root.querySelectorAll<HTMLElement>(ROWS)];
}
