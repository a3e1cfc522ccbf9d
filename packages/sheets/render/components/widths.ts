/** How wide the columns of a table are: by what stands in most of their cells, so that a single letter typed moves nothing. */
import { type Column, placed, type TableBlock } from '../../sheet';
import { unbroken, written } from '../words';

export const TICKS = { boxes: 'Done', numbers: 'Step' } as const;

/** In letters. */
const LEAST = 4;
const MOST = 26;
/** The second of two columns is prose more often than not, and has the room. */
const MOST_OF_TWO = 80;
const LONG_WORD = 12;
const PADDING = 2.5;
const TICK = 6;
/** So many stand in a row on a page. */
const PAGE = 104;
/** A table that needs no more letters in a row is not drawn out over the page. */
const SMALL = 50;
/** So many have room in it. */
const SMALL_PAGE = 90;
/** In percent: the style sheet has a class for each. */
const STEP = 2;

/** In percent of the table, in whole steps, together 100; the column of boxes first where there is one. */
export function widths(block: TableBlock): number[] {
  const needs = spread(block, needed(block));
  const sum = total(needs);
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
  return total(needed(block)) <= SMALL;
}

function total(needs: readonly number[]): number {
  return needs.reduce((sum, need) => sum + need, 0);
}

/** Of room that nobody needs, the boxes to tick and the numbers at the front take none: they would stand far from what they are about. */
function spread(block: TableBlock, needs: readonly number[]): number[] {
  const text = block.columns.findIndex((column) => !isNumber(column));
  const front = text < 0 ? 0 : text + (block.ticks ? 1 : 0);
  const kept = total(needs.slice(0, front));
  const room = (isSmall(block) ? SMALL_PAGE : PAGE) - kept;
  const part = Math.max(1, room / total(needs.slice(front)));
  return needs.map((need, index) => (index < front ? need : need * part));
}

/** On a screen no shorter word is broken. */
export const UNBROKEN = 16;
/** Where there is too little room, what is broken without harm gives way: sentences before words. */
function needed(block: TableBlock): number[] {
  const wishes = wished(block);
  const least = wishes.reduce((sum, wish) => sum + wish.least, 0);
  const most = wishes.reduce((sum, wish) => sum + wish.most, 0);
  const part = most > PAGE ? Math.max(0, PAGE - least) / Math.max(1, most - least) : 1;
  return wishes.map((wish) => wish.least + (wish.most - wish.least) * part);
}

export function isNumber({ number, unit }: Column): boolean {
  return number ?? unit !== undefined;
}

/** In letters: so that no usual word is broken, and so that most cells have one line. */
function wished({ columns, rows, ticks }: TableBlock, longWord = LONG_WORD): { readonly least: number; readonly most: number }[] {
  const wishes = placed(columns).map((parts) => {
    const texts = parts.flatMap(({ index }) => rows.map((row) => written(row.cells[index]))).filter(Boolean);
    const lengths = texts.map((text) => text.length).sort((a, b) => a - b);
    const usual = lengths[Math.floor((lengths.length - 1) * 0.9)] ?? 0;
    const words = [...parts.map(({ field }) => field.title), ...texts].flatMap((text) => unbroken(text).split(/[ /-]+/));
    const longest = words.reduce((most, word) => Math.max(most, word.length), 0);
    const least = Math.max(LEAST, Math.min(longWord, longest));
    return { least: least + PADDING, most: Math.max(least, Math.min(columns.length === 2 ? MOST_OF_TWO : MOST, usual)) + PADDING };
  });
  return ticks ? [{ least: TICK, most: TICK }, ...wishes] : wishes;
}
