/** Plain text for a terminal: aligned columns, findings under their rows. */
import stringWidth from 'string-width';
import { graphemes } from '../shared/graphemes';
import type { Note } from '../shared/model';
import { type Block, groupAt, heading, isEmpty, type Placed, placed, type Sheet, type TableBlock, type TableRow } from '../sheet';
import { CAUTION_RULE, headWords, kindOf, NOTHING, noteText, plain, printed, unbroken, withTicks } from './words';

const GAP = '  ';
/** Longer words may be broken to make a table fit. */
const LONG_WORD = 16;
const INDENT = '    ';
const LINE_TO_WRITE_ON = '_'.repeat(24);

/** `width` is the terminal's, in columns. */
export function text(sheets: readonly Sheet<string>[], width: number): string {
  const page = new Page(Math.max(20, Math.floor(width)));
  for (const [index, sheet] of sheets.entries()) {
    if (index > 0) {
      page.gap();
      page.gap();
    }
    page.heading(plain(sheets.length > 1 ? `${sheet.title}: ${sheet.name}` : sheet.title), '=');
    page.sentences(headWords(sheet, sheets.length === 1));
    if (isEmpty(sheet)) {
      page.gap();
      page.sentences(NOTHING);
    }
    for (const block of sheet.blocks) draw(page, block);
  }
  return page.toString();
}

function draw(page: Page, block: Block): void {
  page.section(plain(block.title));
  if (block.kind === 'table') {
    page.table(withTicks(block, '[ ]'));
    return;
  }
  if (block.remark) page.sentences(block.remark);
  switch (block.kind) {
    case 'drawing':
      page.sentences(block.description);
      break;
    case 'form':
      for (const { title, value } of block.fields) page.item(`${title}: ${value || LINE_TO_WRITE_ON}`, '- ');
      break;
    case 'notes':
      for (const note of block.notes) page.note(note, '');
      break;
    case 'cautions':
      page.sentences(CAUTION_RULE);
      for (const caution of block.cautions) page.item(`${caution.subject}: ${caution.text}`, '- ');
      break;
  }
}

class Page {
  private readonly lines: string[] = [];

  constructor(private readonly width: number) {}

  toString(): string {
    return `${this.lines.map((line) => line.trimEnd().replaceAll('\u00a0', ' ')).join('\n')}\n`;
  }

  gap(): void {
    this.lines.push('');
  }

  heading(words: string, rule: string): void {
    const lines = wrap(words, this.width);
    this.lines.push(...lines, rule.repeat(Math.max(1, ...lines.map((line) => stringWidth(line)))));
  }

  section(title: string): void {
    this.gap();
    this.heading(title, '-');
  }

  sentences(words: string): void {
    this.lines.push(...wrap(unbroken(plain(words)), this.width));
  }

  /** A sentence behind a mark, its further lines set in as far. */
  item(words: string, mark: string, hang = stringWidth(mark)): void {
    const [first = '', ...rest] = wrap(unbroken(plain(words)), Math.max(10, this.width - hang));
    this.lines.push(mark + first, ...rest.map((line) => ' '.repeat(hang) + line));
  }

  note(note: Note, indent = INDENT): void {
    this.item(`${kindOf(note)}: ${noteText(note)} (${note.code})`, `${indent}! `);
  }

  table(block: TableBlock): void {
    const { rows } = block;
    if (rows.length === 0) {
      this.sentences(block.empty);
      return;
    }
    if (block.remark) {
      this.sentences(block.remark);
      this.gap();
    }
    // A column for each field where there is room; else two fields in one cell, and cells broken; else two columns in one; else each row by itself.
    const parts = placed(block.columns);
    const flat = parts.flat().map((part) => stacked(rows, [part]));
    const choices = [
      () => flat,
      () => parts.map((column) => stacked(rows, column)),
      () => paired(shownIn(rows, parts)).map((columns) => stacked(rows, columns.flat(), true)),
    ];
    for (const [index, choice] of choices.entries()) {
      const columns = choice().filter((column) => column.cells.some((cell) => cell.length > 0));
      const widths = this.fit(columns, index > 0);
      if (widths) {
        this.grid(
          columns,
          widths,
          rows.map((row, at) => ({ group: groupAt(rows, at), notes: row.findings })),
        );
        return;
      }
    }
    for (const [index, row] of rows.entries()) {
      if (index > 0) this.gap();
      const group = groupAt(rows, index);
      if (group !== undefined) this.sentences(`${group}:`);
      for (const column of flat) if (column.cells[index]?.[0]) this.item(`${column.title[0]}: ${column.cells[index][0]}`, '', 2);
      for (const note of row.findings) this.note(note, '');
    }
  }

  private grid(columns: readonly TextColumn[], widths: readonly number[], rows: readonly Around[]): void {
    this.row(
      columns,
      columns.map((column) => column.title),
      widths,
    );
    this.lines.push(widths.map((width) => '-'.repeat(width)).join(GAP));
    for (const [index, { group, notes }] of rows.entries()) {
      if (group !== undefined) this.sentences(`${group}:`);
      this.row(
        columns,
        columns.map((column) => column.cells[index] ?? []),
        widths,
      );
      for (const note of notes) this.note(note);
    }
  }

  private row(columns: readonly TextColumn[], cells: readonly (readonly string[])[], widths: readonly number[]): void {
    const wrapped = cells.map((cell, column) => cell.flatMap((part) => wrap(part, widths[column] ?? 0)));
    const height = Math.max(1, ...wrapped.map((lines) => lines.length));
    for (let line = 0; line < height; line++) {
      this.lines.push(
        wrapped.map((lines, column) => pad(lines[line] ?? '', widths[column] ?? 0, columns[column]?.right ?? false)).join(GAP),
      );
    }
  }

  /** Takes from the widest column until the table fits, without breaking words that are not too long; undefined where it cannot. */
  private fit(columns: readonly TextColumn[], mayBreak: boolean): number[] | undefined {
    const natural = columns.map((column) =>
      [column.title, ...column.cells].flat().reduce((most, part) => Math.max(most, stringWidth(part)), 0),
    );
    const widths = [...natural];
    const least = mayBreak
      ? columns.map((column, index) => Math.min(widths[index] ?? 0, LONG_WORD, column.names ? LONG_WORD : longestWord(column)))
      : natural;
    const room = this.width - GAP.length * (widths.length - 1);
    for (let sum = widths.reduce((a, b) => a + b, 0); sum > room; sum--) {
      const spare = widths.map((width, index) => width - (least[index] ?? 0));
      const widest = widths.reduce(
        (best, width, index) => ((spare[index] ?? 0) > 0 && (best < 0 || width > (widths[best] ?? 0)) ? index : best),
        -1,
      );
      if (widest < 0) return undefined;
      widths[widest] = (widths[widest] ?? 0) - 1;
    }
    return widths;
  }
}

/** What stands above a row, and below it. */
interface Around {
  readonly group: string | undefined;
  readonly notes: readonly Note[];
}

/** A column whose cells have one part or two, one below the other. Empty parts are left out. */
interface TextColumn {
  readonly title: readonly string[];
  readonly cells: readonly (readonly string[])[];
  readonly right: boolean;
  /** What a row is called is read at a glance. */
  readonly names: boolean;
}

/** Without those in which nothing stands. */
function shownIn(rows: readonly TableRow[], columns: readonly (readonly Placed[])[]): (readonly Placed[])[] {
  return columns.filter((column) => column.some(({ index }) => rows.some((row) => printed(row.cells[index]) !== '')));
}

/** Two and two under one another, behind the one that names the row. */
function paired<T>([first, ...others]: readonly T[]): T[][] {
  const pairs = others.flatMap((_, index) => (index % 2 === 0 ? [others.slice(index, index + 2)] : []));
  return first === undefined ? [] : [[first], ...pairs];
}

/** `apart`: what is empty keeps its line, so that nothing is read as what stands above it. */
function stacked(rows: readonly TableRow[], parts: readonly Placed[], apart = false): TextColumn {
  return {
    names: parts.some(({ field }) => 'names' in field && field.names === true),
    title: parts.map(({ field }) => plain(heading(field))),
    cells: rows.map((row) => {
      const cell = parts.map(({ index }) => unbroken(plain(printed(row.cells[index]))));
      return apart ? cell.slice(0, cell.findLastIndex(Boolean) + 1) : cell.filter(Boolean);
    }),
    right: parts.some(({ number }) => number),
  };
}

function longestWord(column: TextColumn): number {
  const words = [column.title, ...column.cells].flat().flatMap((part) => part.split(' '));
  return words.reduce((most, word) => Math.max(most, stringWidth(word)), 0);
}

function pad(cell: string, width: number, right: boolean): string {
  const room = ' '.repeat(Math.max(0, width - stringWidth(cell)));
  return right ? room + cell : cell + room;
}

/** Breaks at spaces; a word that is longer than a line is broken where it has to be, never inside a letter. */
function wrap(words: string, width: number): string[] {
  const room = Math.max(1, width);
  const lines: string[] = [];
  let line = '';
  let used = 0;
  const flush = () => {
    lines.push(line);
    line = '';
    used = 0;
  };
  for (const word of words.split(' ')) {
    const length = stringWidth(word);
    if (used > 0 && used + 1 + length > room) flush();
    if (used > 0) {
      line += ' ';
      used++;
    }
    if (length <= room - used) {
      line += word;
      used += length;
      continue;
    }
    for (const segment of graphemes(word)) {
      const size = stringWidth(segment);
      if (used > 0 && used + size > room) flush();
      line += segment;
      used += size;
    }
  }
  flush();
  return lines;
}
