/** How wide the columns of a table are: by what stands in most of their cells, so that a single letter typed moves nothing. */
import { widthOf } from '../../draw/words';
import { crowded, type Need, onTwoLines } from '../../shared/columns';
import { onceEach } from '../../shared/onceEach';
import { type Column, heading, placed, standsOut, type TableBlock, type TableRow } from '../../sheet';
import { unbroken, written } from '../words';

export const TICKS = { boxes: 'Done', numbers: 'Step' } as const;

/** All in the size of the letters in a row, as they are on a page. */
const LEAST = 2.2;
/** Longer words are broken where there is too little room. */
const LONG_WORD = 8;
/** What stands below is set smaller. */
const UNDER = 0.88;
/** So many of the cells of a column have one line, if there is room. */
const MOST_CELLS = 0.95;
/** On both sides of a column. */
const PADDING = 0.9;
const NUMBER_PADDING = 1;
const TICK = 3.4;
/** So much is as wide as a page, and as one on which letters are smaller and closer. */
const PAGE = 62;
const DENSE_PAGE = 70;
/** A table that needs no more is not drawn out over the page. */
const SMALL = 30;
/** So much room is in it. */
const SMALL_PAGE = 53;
/** In percent: the style sheet has a class for each. */
const STEP = 2;

/** How a table is laid out. */
export interface Layout {
  /** In percent of the table, in whole steps, together 100; the column of boxes first where there is one. */
  readonly shares: readonly number[];
  /** The same for a grid, in CSS. A table takes from its words how much a column has at least; a grid is told. `--letter` and `--beside` are the style sheet's. */
  readonly tracks: string;
  /** Needs so little that it is not drawn out over the page. */
  readonly small: boolean;
  /** In `rem`: on a screen that has less room, each row of the table is a card. The style sheet has a class for each step. */
  readonly cardsBelow: number;
  /** It may be wider than its room where it is no cards. */
  readonly moved: boolean;
}

export function layoutOf(block: TableBlock, dense = false): Layout {
  const texts = textsOf(block);
  const wishes = wished(block, texts);
  const small = total(needed(wishes, PAGE)) <= SMALL;
  const page = dense ? DENSE_PAGE : PAGE;
  const needs = spread(block, needed(wishes, page), small ? SMALL_PAGE : page);
  const words = wordsOf(block, texts);
  const least = unbrokenWidth(block, words) * NARROW;
  const step = Math.ceil(least / CARDS.step) * CARDS.step;
  const shares = inSteps(needs);
  return {
    shares,
    tracks: shares
      .map((share, at) => `minmax(calc(${(words[at] ?? 0).toFixed(2)} * var(--letter) + 2 * var(--beside)), ${share}fr)`)
      .join(' '),
    small,
    cardsBelow: Math.min(CARDS.most, Math.max(CARDS.least, step)),
    moved: least > CARDS.most,
  };
}

/** What stands in the cells of each field, by its place in a row, unbroken; what is empty is left out. */
function textsOf({ rows, columns }: TableBlock): readonly (readonly string[])[] {
  const fields = placed(columns).flat();
  const texts = rows.map(textsIn);
  return fields.map(({ index }) => texts.flatMap((row) => row[index] || []));
}

/** Once each: most rows are in the next state of their table as well. */
const textsIn = onceEach((row: TableRow) => row.cells.map((cell) => unbroken(written(cell))));

function inSteps(needs: readonly number[]): number[] {
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

function total(needs: readonly number[]): number {
  return needs.reduce((sum, need) => sum + need, 0);
}

/** Of room that nobody needs, the boxes to tick and the numbers at the front take none: they would stand far from what they are about. */
function spread(block: TableBlock, needs: readonly number[], width: number): number[] {
  const text = block.columns.findIndex((column) => !isNumber(column));
  const front = text < 0 ? 0 : text + (block.ticks ? 1 : 0);
  const kept = total(needs.slice(0, front));
  const room = width - kept;
  const part = Math.max(1, room / total(needs.slice(front)));
  return needs.map((need, index) => (index < front ? need : need * part));
}

/** On a screen no shorter word is broken. */
export const UNBROKEN = 16;

function needed(wishes: readonly Need[], page: number): number[] {
  const most = wishes.map((wish) => wish.most);
  return total(most) > page ? crowded(wishes, page) : most;
}

export function isNumber({ number, unit }: Column): boolean {
  return number ?? unit !== undefined;
}

/** What stands beside a number keeps clear of it, by so much. */
function apart(columns: readonly Column[], at: number): number {
  const [before, column] = [columns[at - 1], columns[at]];
  return before && column && isNumber(before) && !isNumber(column) ? NUMBER_PADDING : 0;
}

/** So that no usual word is broken, and so that most cells have one line and most headings two. */
function wished(block: TableBlock, cells: readonly (readonly string[])[]): Need[] {
  const { columns, ticks } = block;
  const wishes = placed(columns).map((parts, at) => {
    const wishes = parts.map(({ index, field }, under) => {
      const bold = under === 0 && standsOut(columns[at] as Column, block);
      const size = under === 0 ? 1 : UNDER;
      const texts = byLength(cells[index] ?? []);
      const usual = texts[Math.floor((texts.length - 1) * MOST_CELLS)] ?? '';
      const word = longest([...new Set(texts)].flatMap((text) => text.split(BREAKS)));
      const title = longest(heading(field).split(BREAKS));
      return {
        least: Math.max(Math.min(LONG_WORD, widthOf(word, size, bold)), widthOf(title, UNDER, under === 0)),
        most: Math.max(
          widthOf(usual, size, bold),
          onTwoLines(unbroken(heading(field)), (words) => widthOf(words, UNDER, under === 0)),
        ),
      };
    });
    const least = Math.max(LEAST, ...wishes.map((wish) => wish.least));
    const beside = PADDING + apart(columns, at);
    return { least: least + beside, most: Math.max(least, ...wishes.map((wish) => wish.most)) + beside };
  });
  return ticks ? [{ least: TICK, most: TICK }, ...wishes] : wishes;
}

/** Where there is more room, a table that needs more still is better moved sideways than read card by card. */
export const CARDS = { least: 26, most: 44, step: 2 } as const;
/** The letters of a table in narrow room, in `rem`, and some for a typeface wider than the one that is measured. */
const NARROW = 0.8125 * 1.14;
/** On both sides of a column there. */
const NARROW_PADDING = 0.5;

/** Of the longest word of each column that stays whole on a screen; the column of boxes first where there is one. */
function wordsOf(block: TableBlock, cells: readonly (readonly string[])[]): number[] {
  const { columns, ticks } = block;
  const needs = placed(columns).map((parts, at) => {
    const column = columns[at] as Column;
    const words = parts.flatMap(({ index, field }, under) => {
      const size = under === 0 ? 1 : UNDER;
      const bold = under === 0 && standsOut(column, block);
      return [
        ...wholeWords(cells[index] ?? []).map((word) => widthOf(word, size, bold)),
        ...wholeWords([unbroken(heading(field))]).map((word) => widthOf(word, UNDER, under === 0)),
      ];
    });
    return Math.max(0, ...words) + apart(columns, at);
  });
  return ticks ? [TICK - NARROW_PADDING, ...needs] : needs;
}

/** So that all are beside one another. */
function unbrokenWidth({ columns, ticks }: TableBlock, words: readonly number[]): number {
  return total(words) + (columns.length + (ticks ? 1 : 0)) * NARROW_PADDING;
}

/** Each once: in a long table most come again and again. */
function wholeWords(texts: readonly string[]): string[] {
  const words = new Set([...new Set(texts)].flatMap((text) => text.split(WORD_ENDS)));
  return [...words].filter((word) => word.length <= UNBROKEN);
}

const BREAKS = /[ /-]+/;
/** A word keeps the hyphen or the slash after which it may be broken. */
const WORD_ENDS = /[^\S\u00a0]+|(?<=[/-])(?=\p{L})/u;

function longest(words: readonly string[]): string {
  return words.reduce((most, word) => (word.length >= most.length ? word : most), '');
}

function byLength(texts: readonly string[]): string[] {
  return texts.toSorted((a, b) => a.length - b.length);
}
