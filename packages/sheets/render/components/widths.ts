/** How wide the columns of a table are: by what stands in most of their cells, so that a single letter typed moves nothing. */
import { heading, placed, type TableBlock } from '../../sheet';
import { written } from '../words';

export const TICKS = { boxes: 'Done', numbers: 'Step' } as const;

/** In letters. */
const LEAST = 4;
const MOST = 26;
const LONG_WORD = 14;
const PADDING = 2;
const TICK = 5;
/** A table that needs no more letters in a row is not drawn out over the page. */
const SMALL = 62;
/** In percent: the style sheet has a class for each. */
const STEP = 2;

/** In percent of the table, in whole steps, together 100; the column of boxes first where there is one. */
export function widths(block: TableBlock): number[] {
  const needs = needed(block);
  const sum = needs.reduce((a, b) => a + b, 0);
  const shares = needs.map((need) => ((need / sum) * 100) / STEP);
  const whole = shares.map((share) => Math.max(2, Math.floor(share)));
  // What is left over goes to those that were cut most.
  const order = shares.map((share, index) => ({ index, cut: share - (whole[index] ?? 0) })).toSorted((a, b) => b.cut - a.cut);
  let left = 100 / STEP - whole.reduce((a, b) => a + b, 0);
  for (let turn = 0; left > 0; turn++, left--) {
    const { index } = order[turn % order.length] as { index: number };
    whole[index] = (whole[index] ?? 0) + 1;
  }
  return whole.map((each) => each * STEP);
}

export function isSmall(block: TableBlock): boolean {
  return needed(block).reduce((a, b) => a + b, 0) <= SMALL;
}

function needed({ columns, rows, ticks }: TableBlock): number[] {
  const needs = placed(columns).map((parts) => {
    const texts = parts.flatMap(({ index }) => rows.map((row) => written(row.cells[index]))).filter(Boolean);
    const lengths = texts.map((text) => text.length).sort((a, b) => a - b);
    const most = lengths[Math.floor((lengths.length - 1) * 0.9)] ?? 0;
    const words = [...parts.map(({ field }) => heading(field)), ...texts].flatMap((text) => text.split(/[\s/-]+/));
    const word = words.reduce((longest, each) => Math.max(longest, each.length), 0);
    return PADDING + Math.max(LEAST, Math.min(MOST, most), Math.min(LONG_WORD, word));
  });
  return ticks ? [TICK, ...needs] : needs;
}
