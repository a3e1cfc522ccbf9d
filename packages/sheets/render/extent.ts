/**
 * About how much of its pages a sheet takes that a browser prints. No browser tells that before it prints, and none sets a sheet closer by itself:
 * so it is reckoned, by the widths of the letters that are shipped. Lengths are in mm, and as in the style sheet of the page.
 */
import { widthOf, wordsOf } from '../draw/words';
import type { Extent } from '../shared/extent';
import { type Block, type Column, groupAt, heading, placed, type Sheet, standsOut, type TableBlock, type TableRow } from '../sheet';
import { isNumber, layoutOf, TICKS } from './components/widths';
import { CAUTION_RULE, countWords, draftWords, headFacts, noteText, printed, unbroken } from './words';

/** How close a sheet is set: the style sheet has a property for each. */
export interface Closeness {
  /** Above and below what stands in a row. */
  readonly padding: number;
  /** Above a block. */
  readonly gap: number;
  /** Of lines, in parts of the size of their letters. */
  readonly leading: number;
}

/** What is not broken over two pages, and how much of what follows has to be on its page. */
export interface Piece {
  readonly height: number;
  readonly with?: number;
  /** What stands above it where it is the first on a page. */
  readonly again?: number;
}

const PT = 25.4 / 72;
const REM = 25.4 / 6;
const TEXT = 8.2 * PT;
const SMALL = 7.5 * PT;
const SMALL_LEADING = 1.2;
const WIDTH = 186;

/** All of a sheet, piece by piece. */
export function pieces(sheet: Sheet<string>, closeness: Closeness): Piece[] {
  return [{ height: headHeight(sheet, closeness) }, ...sheet.blocks.flatMap((block) => blockPieces(block, closeness))];
}

/** On pages that have so much room from top to bottom; of the last, how much of it is taken. */
export function extent(all: readonly Piece[], room: number): Extent {
  let pages = 1;
  let used = 0;
  for (const { height, with: more = 0, again = 0 } of all) {
    if (used > 0 && used + height + more > room) {
      pages += 1;
      used = again;
    }
    used += height;
    // What is higher than a page goes on.
    const over = Math.max(0, Math.ceil(used / room) - 1);
    pages += over;
    used -= over * room;
  }
  return { pages, last: used / room };
}

function linesIn(text: string, width: number, size: number, bold = false): number {
  if (text === '') return 0;
  let lines = 1;
  let at = 0;
  for (const word of wordsOf(unbroken(text)).flatMap((each) => each.split(/(?<=[^\s/–—-][/–—-])(?=\p{L})/u))) {
    const wide = widthOf(word, size, bold);
    if (at > 0 && at + wide > width) {
      lines += 1;
      at = 0;
    }
    lines += Math.max(0, Math.ceil(wide / width) - 1);
    at += wide + widthOf(' ', size, bold);
  }
  return lines;
}

function headHeight(sheet: Sheet<string>, { leading }: Closeness): number {
  const facts = headFacts(sheet);
  const line = TEXT * leading;
  const room = facts.reduce((sum, fact) => sum + widthOf(fact, TEXT) + 1.1 * REM, 0);
  return (
    (draftWords(sheet) === undefined ? 0 : 1.65 * REM + 1 + line) +
    0.8125 * REM * 1.2 +
    linesIn(sheet.title, WIDTH, 15 * PT, true) * 15 * PT * 1.2 +
    (facts.length > 0 ? 0.35 * REM + Math.ceil(room / WIDTH) * line : 0) +
    (sheet.counts ? 0.35 * REM + linesIn(countWords(sheet.counts), WIDTH, TEXT, true) * line : 0) +
    0.25 * REM
  );
}

function blockPieces(block: Block, closeness: Closeness): Piece[] {
  const { gap, leading } = closeness;
  const line = TEXT * leading;
  const said = block.kind === 'cautions' ? CAUTION_RULE : block.kind === 'table' && block.rows.length === 0 ? block.empty : block.remark;
  const head = gap + 11 * PT * 1.3 + (said ? 0.15 * REM + linesIn(said, WIDTH, TEXT) * line : 0);
  switch (block.kind) {
    case 'table':
      return block.rows.length === 0 ? [{ height: head }] : tablePieces(block, head, closeness);
    case 'drawing': {
      const { width, height } = block.drawing;
      return [{ height: head + 0.75 * REM + height * Math.min(1, WIDTH / width) }];
    }
    case 'form': {
      const rows = Math.ceil(block.fields.length / 2);
      return [{ height: head + 0.5 * REM, with: line }, ...Array.from({ length: rows }, () => ({ height: 0.6 * REM + TEXT * 1.45 }))];
    }
    case 'notes':
      return [
        { height: head + 0.5 * REM, with: line },
        ...block.notes.map((note) => ({ height: noteHeight(noteText(note), WIDTH, line) })),
      ];
    case 'cautions':
      return block.cautions.map(({ subject, text }, index) => ({
        height: (index === 0 ? head + 1 : 0) + 0.6 + linesIn(`${subject}: ${text}`, WIDTH, TEXT) * line,
      }));
  }
}

function noteHeight(text: string, width: number, line: number): number {
  return linesIn(`Warning: ${text} some-where/some-what`, width - 1.35 * REM, TEXT) * line + 0.4 * REM;
}

/** A heading takes so much with it. */
const WITH_HEADING = 21;

function tablePieces(block: TableBlock, head: number, { padding, leading }: Closeness): Piece[] {
  const { columns, rows, ticks } = block;
  const { shares, small } = layoutOf(block);
  const whole = small ? Math.min(WIDTH, 40 * REM) : WIDTH;
  const first = ticks ? 1 : 0;
  const parts = placed(columns);
  const sizes = [TEXT, SMALL] as const;
  const bold = (row: TableRow, at: number, under: number) =>
    under === 0 && (row.strong === true || standsOut(columns[at] as Column, block));
  const inner = columns.map((column, at) => {
    const before = columns[at - 1];
    const apart = before && isNumber(before) && !isNumber(column) ? REM - 1.1 : 0;
    // No word is broken for want of room.
    const words = (parts[at] ?? []).flatMap(({ index, field }, under) => [
      ...wordsOf(heading(field)).map((word) => widthOf(word, SMALL, under === 0)),
      ...rows.flatMap((row) =>
        wordsOf(printed(row.cells[index])).map((word) => widthOf(word, sizes[under] ?? SMALL, bold(row, at, under))),
      ),
    ]);
    return Math.max(((shares[at + first] ?? 0) / 100) * whole - 2.2 - apart, ...words);
  });
  const line = TEXT * leading;
  const lineUnder = SMALL * SMALL_LEADING;
  const headings = columns.map((column, at) =>
    [column, column.under].reduce(
      (sum, field, under) => sum + (field ? linesIn(heading(field), inner[at] ?? 0, SMALL, under === 0) : 0),
      0,
    ),
  );
  const again = Math.max(ticks ? linesIn(TICKS[ticks], 100, SMALL) : 0, ...headings) * lineUnder + 1.4;
  const rowHeight = (row: TableRow, index: number) => {
    const cells = parts.map((cell, at) =>
      cell.reduce((sum, part, under) => {
        const text = printed(row.cells[part.index]);
        return sum + linesIn(text, inner[at] ?? 0, sizes[under] ?? SMALL, bold(row, at, under)) * (under === 0 ? line : lineUnder);
      }, 0),
    );
    const group = groupAt(rows, index) === undefined ? 0 : 0.75 * REM + line;
    const notes = row.findings.reduce((sum, note) => sum + noteHeight(noteText(note), whole - REM, line), 0);
    return Math.max(line, ...cells) + 2 * padding + 0.26 + group + (notes > 0 ? notes + 0.2 * REM : 0);
  };
  return [
    { height: head + 1 + again, with: Math.max(0, WITH_HEADING - again) },
    ...rows.map((row, index) => ({ height: rowHeight(row, index), again })),
  ];
}
