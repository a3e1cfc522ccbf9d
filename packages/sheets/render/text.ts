/** Plain text for a terminal: aligned columns, findings under their rows. */
import stringWidth from 'string-width';
import type { Note, PatchList } from '../model';
import {
  type Field,
  fields,
  heading,
  houseSection,
  inputSection,
  isEmpty,
  leadSection,
  outputSection,
  packingSection,
  type Section,
} from './sections';
import { CAUTION_RULE, CAUTIONS, countWords, ELSEWHERE, noteText, plain, SEVERITY_WORDS, SHEET_NAME } from './words';

const GAP = '  ';
/** Where sentences are broken if nothing says how wide the terminal is. */
const SENTENCE_WIDTH = 100;
/** Longer words may be broken to make a table fit. */
const LONG_WORD = 16;
const INDENT = '    ';

/** `width` is the terminal's, in columns; without it, rows are as long as they need to be. */
export function text(list: PatchList, width?: number): string {
  const page = new Page(width === undefined ? undefined : Math.max(20, Math.floor(width)));
  page.heading(plain(list.title), '=');
  page.sentences(`${SHEET_NAME}. ${list.facts.map(plain).join(', ')}. ${countWords(list.counts)}.`);
  if (isEmpty(list)) {
    page.gap();
    page.sentences('Nothing of a rig is written yet.');
  } else {
    page.table(inputSection(list), (row) => row.findings);
    page.table(outputSection(list), (row) => row.findings);
    page.table(houseSection(list), (row) => row.findings);
    page.table(leadSection(list), (row) => row.findings);
    page.table(packingSection(list), () => []);
  }
  if (list.elsewhere.length > 0) {
    page.section(ELSEWHERE);
    for (const note of list.elsewhere) page.note(note, '');
  }
  if (list.cautions.length > 0) {
    page.section(CAUTIONS);
    page.sentences(CAUTION_RULE);
    for (const caution of list.cautions) page.item(`${caution.subject}: ${caution.text}`, '- ');
  }
  return page.toString();
}

class Page {
  private readonly lines: string[] = [];

  constructor(private readonly width: number | undefined) {}

  toString(): string {
    return `${this.lines.map((line) => line.trimEnd()).join('\n')}\n`;
  }

  gap(): void {
    this.lines.push('');
  }

  heading(words: string, rule: string): void {
    const lines = wrap(words, this.width ?? Infinity);
    this.lines.push(...lines, rule.repeat(Math.max(1, ...lines.map((line) => stringWidth(line)))));
  }

  section(title: string): void {
    this.gap();
    this.heading(title, '-');
  }

  sentences(words: string): void {
    this.lines.push(...wrap(plain(words), this.width ?? SENTENCE_WIDTH));
  }

  /** A sentence behind a mark, its further lines set in as far. */
  item(words: string, mark: string, hang = stringWidth(mark)): void {
    const [first = '', ...rest] = wrap(plain(words), Math.max(10, (this.width ?? SENTENCE_WIDTH) - hang));
    this.lines.push(mark + first, ...rest.map((line) => ' '.repeat(hang) + line));
  }

  note(note: Note, indent = INDENT): void {
    this.item(`${SEVERITY_WORDS[note.severity]}: ${noteText(note)} (${note.code})`, `${indent}! `);
  }

  table<R>(section: Section<R>, notesOf: (row: R) => readonly Note[]): void {
    this.section(section.title);
    if (section.rows.length === 0) {
      this.sentences(section.empty);
      return;
    }
    if (section.remark) {
      this.sentences(section.remark);
      this.gap();
    }
    // A column for each field where there is room; else two fields in one cell, and cells broken; else each row by itself.
    const flat = fields(section).map((field) => stacked(section, [field]));
    const folded = section.columns.map((column) => stacked(section, column.under ? [column, column.under] : [column]));
    const choices = [flat, folded].map((columns) => columns.filter((column) => column.cells.some((cell) => cell.length > 0)));
    for (const [index, columns] of choices.entries()) {
      const widths = this.fit(columns, index > 0);
      if (widths) {
        this.grid(columns, widths, section.rows.map(notesOf));
        return;
      }
    }
    for (const [index, row] of section.rows.entries()) {
      if (index > 0) this.gap();
      for (const column of flat) if (column.cells[index]?.[0]) this.item(`${column.title[0]}: ${column.cells[index][0]}`, '', 2);
      for (const note of notesOf(row)) this.note(note, '');
    }
  }

  private grid(columns: readonly TextColumn[], widths: readonly number[], notes: readonly (readonly Note[])[]): void {
    this.row(
      columns,
      columns.map((column) => column.title),
      widths,
    );
    this.lines.push(widths.map((width) => '-'.repeat(width)).join(GAP));
    for (const [index, found] of notes.entries()) {
      this.row(
        columns,
        columns.map((column) => column.cells[index] ?? []),
        widths,
      );
      for (const note of found) this.note(note);
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
    const least = mayBreak ? columns.map((column, index) => Math.min(widths[index] ?? 0, LONG_WORD, longestWord(column))) : natural;
    const room = (this.width ?? Infinity) - GAP.length * (widths.length - 1);
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

/** A column whose cells have one part or two, one below the other. Empty parts are left out. */
interface TextColumn {
  readonly title: readonly string[];
  readonly cells: readonly (readonly string[])[];
  readonly right: boolean;
}

function stacked<R>(section: Section<R>, parts: readonly Field<R>[]): TextColumn {
  return {
    title: parts.map(heading),
    cells: section.rows.map((row) => parts.map((field) => plain(String(field.of(row) ?? ''))).filter(Boolean)),
    right: parts.some((field) => field.unit !== undefined || section.columns.find((column) => column === field)?.number),
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

const GRAPHEMES = new Intl.Segmenter('en', { granularity: 'grapheme' });

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
    for (const { segment } of GRAPHEMES.segment(word)) {
      const size = stringWidth(segment);
      if (used > 0 && used + size > room) flush();
      line += segment;
      used += size;
    }
  }
  flush();
  return lines;
}
