/**
 * A table: headings again on each page, and each row with its findings whole. Every row is one cell that holds columns of its own,
 * so that what belongs together cannot come apart.
 */
import type { Content, ContentNode } from 'pdfmake';
import {
  type Column,
  groupAt,
  heading,
  onTwoLines,
  type Placed,
  placed,
  printed,
  standsOut,
  stepOf,
  type TableBlock,
  type TableRow,
  TICKS,
} from '#sheets/print';
import { columnWidths, type Need } from './columns';
import { ACCENT, LINE, type Look, MUTED } from './look';
import { noteContent, noteLines } from './notes';
import type { Tag } from './tags';
import type { Type } from './type';

/** In a cell, where nothing of ours is longer than a few. */
const MOST_LINES = 20;
const LEADING = 1.2;
/** Between two rows, in points. */
const RULE = 0.35;

export interface Setting {
  readonly type: Type;
  readonly look: Look;
  /** In points. */
  readonly width: number;
  readonly height: number;
  /** What all of it belongs to. */
  readonly tag: Tag;
  /** Drawings are set in this part of their size. */
  readonly drawings: number;
  /** The sheet's id. */
  readonly sheet: string;
}

interface Part extends Placed {
  readonly size: number;
  readonly bold: boolean;
}

/** As it is laid out: under one another in a cell, and how wide that is. */
interface Laid {
  readonly parts: readonly Part[];
  readonly width: number;
  readonly number: boolean;
  /** The heading of the row. */
  readonly names: boolean;
}

/** `need` is about what its headings and its first row take, in points. */
export function tableContent(block: TableBlock, setting: Setting): { content: ContentNode; need: number } {
  const { look } = setting;
  const gap = look.between;
  const columns = laid(block, setting, gap);
  const tick = block.ticks ? tickWidth(block, setting) : 0;
  const sum = columns.reduce((all, column) => all + column.width + gap, tick ? tick + gap : 0) - gap;
  const row = (cells: readonly Content[], first: Content | undefined): ContentNode => ({
    columns: [...(first === undefined ? [] : [first]), ...cells],
    columnGap: gap,
  });
  const table = setting.tag.add('Table');
  const headings = table.add('TR');
  const heading = () => headings.add('TH', { scope: 'Column' });
  const head = row(
    [
      ...(block.ticks ? [{ width: tick, text: TICKS[block.ticks], fontSize: look.small, bold: true, color: MUTED, tag: heading() }] : []),
      ...columns.map(({ parts, width, number }) => {
        const tag = heading();
        return {
          width,
          stack: parts.map((part, index) => headCell(part, index, setting, width, tag)),
          alignment: number ? 'right' : 'left',
        };
      }),
    ],
    undefined,
  );
  const heights = block.rows.map((entry) => rowHeight(entry, columns, setting, sum));
  const body = block.rows.map((entry, index) => {
    const group = groupAt(block.rows, index);
    const across = columns.length + (block.ticks ? 1 : 0);
    const whole = () => table.add('TR').add('TD', { span: across });
    const above = group === undefined ? undefined : groupContent(group, setting, sum, whole());
    const line = table.add('TR');
    const first = block.ticks && box(look, tick, line.add('TD'), block.ticks === 'numbers' ? stepOf(block, index) : undefined);
    const cells = columns.map((column) => cell(entry, column, setting, column.names ? line.add('TH', { scope: 'Row' }) : line.add('TD')));
    const content = row(cells, first);
    return entryContent(entry, above ? { stack: [above, content] } : content, setting, sum, whole);
  });
  const content = {
    layout: {
      hLineWidth: (at: number) => (at === 0 ? 0 : at === 1 ? 1 : RULE),
      hLineColor: (at: number) => (at === 1 ? ACCENT : LINE),
      vLineWidth: () => 0,
      paddingLeft: () => 0,
      paddingRight: () => 0,
      paddingTop: () => look.padding,
      paddingBottom: () => look.padding,
    },
    table: {
      headerRows: 1,
      keepWithHeaderRows: 1,
      dontBreakRows: true,
      widths: [sum],
      body: [[head], ...neverAlone(body, heights, setting, sum).map((each) => [each])],
    },
  };
  const first = heights.slice(0, isTogether(heights, 0, setting) ? 2 : 1);
  return { content, need: headHeight(columns, setting) + first.reduce((all, each) => all + each, 0) };
}

/** Two rows that take more of a page than this may come apart: what is saved for the eye is not worth the white. */
const MOST_TOGETHER = 0.3;

/** Whether this row and the next are not parted by the end of a page: the first two of a table, and its last two. */
function isTogether(heights: readonly number[], at: number, { height }: Setting): boolean {
  const ends = at === 0 || at === heights.length - 2;
  return ends && at + 1 < heights.length && (heights[at] ?? 0) + (heights[at + 1] ?? 0) < height * MOST_TOGETHER;
}

/** No row stands by itself at the foot of a page or at the head of the next: two that stay together are one, with the rule between them. */
function neverAlone(
  entries: readonly (readonly ContentNode[])[],
  heights: readonly number[],
  setting: Setting,
  width: number,
): readonly ContentNode[] {
  const { padding } = setting.look;
  const rule = (): ContentNode => ({
    canvas: [{ type: 'line', x1: 0, y1: 0, x2: width, y2: 0, lineWidth: RULE, lineColor: LINE }],
    margin: [0, padding + RULE / 2, 0, padding + RULE / 2],
  });
  const [first, ...others] = entries;
  const found: ContentNode[][] = first ? [[...first]] : [];
  for (const [index, next] of others.entries()) {
    const last = found.at(-1);
    // What follows its row as it can is on its own already.
    if (last?.length === 1 && next.length === 1 && isTogether(heights, index, setting)) last[0] = { stack: [...last, rule(), ...next] };
    else found.push([...next]);
  }
  return found.flat();
}

/** The heading of rows that belong together stays with the first of them. */
function groupContent(group: string, { type, look }: Setting, width: number, tag: Tag): ContentNode {
  const text = type.fitted(type.settable(group), look.text, width, 2, true);
  return { text, fontSize: look.text, bold: true, margin: [0, look.padding, 0, look.padding], tag };
}

/** One for the row and its findings; where that would not fit on a page, the findings follow as they can. */
function entryContent(
  { findings }: TableRow,
  cells: ContentNode,
  { type, look, width, height }: Setting,
  sum: number,
  below: () => Tag,
): ContentNode[] {
  const room = Math.max(sum, width * 0.8);
  const all = findings.length > 0 ? below() : undefined;
  const notes = findings.flatMap((note) => (all ? [noteContent(note, type, look, room, all.add('P'))] : []));
  const lines = findings.reduce((all, note) => all + noteLines(note, type, look, room), 0);
  const whole = lines * look.text * LEADING < height * 0.5;
  const first: ContentNode = { stack: [cells, ...(whole ? notes.map((note, at) => lower(note, at, look)) : [])] };
  return whole ? [first] : [first, ...notes];
}

function lower(note: ContentNode, at: number, { padding }: Look): ContentNode {
  return at === 0 ? { stack: [note], margin: [0, padding, 0, 0] } : note;
}

function headHeight(columns: readonly Laid[], { type, look }: Setting): number {
  const lines = columns.map(({ parts, width }) =>
    parts.reduce((all, part, index) => all + type.lines(headWords(part, index), look.small, width, index === 0, MOST_LINES).length, 0),
  );
  return Math.max(0, ...lines) * look.small * LEADING + 2 * look.padding;
}

function rowHeight(row: TableRow, columns: readonly Laid[], { type, look, width }: Setting, sum: number): number {
  const heights = columns.map(({ parts, width: wide }) =>
    parts.reduce((all, { index, size, bold }) => {
      const text = type.settable(printed(row.cells[index]));
      return all + Math.min(MOST_LINES, type.lines(text, size, wide, bold, MOST_LINES).length) * size * LEADING;
    }, 0),
  );
  const notes = row.findings.reduce((all, note) => all + noteLines(note, type, look, Math.max(sum, width * 0.8)), 0);
  return Math.max(0, ...heights) + notes * look.text * LEADING + 3 * look.padding;
}

// ---- columns ---------------------------------------------------------------------------------------

function laid(block: TableBlock, setting: Setting, gap: number): Laid[] {
  const { type, look, width } = setting;
  const parts = placed(block.columns).map((column, at) =>
    column.map((part, index) => ({
      ...part,
      size: index === 0 ? look.text : look.small,
      bold: index === 0 && standsOut(block.columns[at] as Column, block),
    })),
  );
  /** Where there is little room, headings take two lines before what stands in rows does. */
  const needs = (broken: boolean) =>
    parts.map((column): Need => {
      const widths = column.flatMap((part, index) => {
        const title = measure(headWords(part, index), type, look.small, true);
        const texts = block.rows.map((row) => type.settable(printed(row.cells[part.index]))).filter(Boolean);
        const strong = block.rows.some((row) => row.strong);
        const measured = texts.map((text) => measure(text, type, part.size, part.bold || strong));
        return [
          ...measured,
          broken ? { ...title, line: onTwoLines(headWords(part, index), (words) => measure(words, type, look.small, true).line) } : title,
        ];
      });
      return {
        least: Math.max(look.text * 2, ...widths.map(({ word }) => word)),
        most: Math.max(look.text * 2, ...widths.map(({ line }) => line)),
        number: column.every(({ number }) => number),
      };
    });
  const taken = gap * (parts.length - 1) + (block.ticks ? tickWidth(block, setting) + gap : 0);
  const room = width - taken;
  const whole = needs(false);
  const fits = whole.reduce((sum, { most }) => sum + most, 0) <= room;
  const widths = columnWidths(fits ? whole : needs(true), room);
  return parts.map((column, index) => ({
    parts: column,
    width: widths[index] ?? 0,
    number: column[0]?.number ?? false,
    names: block.columns[index]?.names === true,
  }));
}

function measure(text: string, type: Type, size: number, bold: boolean): { word: number; line: number } {
  // Rounding must not break a line that fits.
  const word = text.split(' ').reduce((most, each) => Math.max(most, type.width(each, size, bold)), 0);
  return { word: word + 0.5, line: type.width(text, size, bold) + 0.5 };
}

function headWords({ field }: Placed, index: number): string {
  return index === 0 ? heading(field) : heading(field).replace(/^\p{Lu}(?!\p{Lu})/u, (letter) => letter.toLowerCase());
}

// ---- cells -----------------------------------------------------------------------------------------

function headCell(part: Part, index: number, { type, look }: Setting, width: number, tag: Tag): ContentNode {
  const text = type.fitted(headWords(part, index), look.small, width, MOST_LINES, index === 0);
  return { text, fontSize: look.small, bold: index === 0, color: MUTED, tag };
}

function cell(row: TableRow, { parts, width, number }: Laid, { type, look }: Setting, tag: Tag): ContentNode {
  const texts = parts.map((part) => type.settable(printed(row.cells[part.index])));
  const empty = texts.every((text) => text === '');
  const stack = parts.flatMap((part, index): Content[] => {
    const bold = part.bold || (row.strong === true && index === 0);
    // A dash keeps the second line a second line.
    if (texts[index] === '') return index === 0 && !empty ? [{ text: '–', fontSize: part.size, color: MUTED, tag }] : [];
    const text = type.fitted(texts[index] ?? '', part.size, width, MOST_LINES, bold);
    return [{ text, fontSize: part.size, bold, color: index === 0 ? undefined : MUTED, tag }];
  });
  return { width, stack: stack.length > 0 ? stack : [{ text: ' ', fontSize: look.text }], alignment: number ? 'right' : 'left' };
}

// ---- boxes to tick with a pen ----------------------------------------------------------------------

function tickWidth(block: TableBlock, { type, look }: Setting): number {
  const { ticks, rows } = block;
  const title = type.width(ticks ? TICKS[ticks] : '', look.small, true);
  const number = ticks === 'numbers' ? look.text * 0.4 + type.width(`${stepOf(block, rows.length - 1)}`, look.text) : 0;
  return Math.max(title, look.text + number) + 1;
}

function box({ text }: Look, width: number, tag: Tag, step: number | undefined): ContentNode {
  const side = text * 0.85;
  const figure = tag.add('Figure', { alt: 'box to tick' });
  const canvas = [{ type: 'rect', x: 0.4, y: text * 0.2, w: side, h: side, lineWidth: 0.7, tag: figure }];
  if (step === undefined) return { width, canvas };
  return {
    width,
    columns: [
      { width: text, canvas },
      { width: '*', text: `${step}`, fontSize: text, alignment: 'right', tag },
    ],
  };
}
