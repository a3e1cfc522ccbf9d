/** The blocks of a sheet, under one another. */
import type { Content, ContentNode } from 'pdfmake';
import {
  type Block,
  CAUTION_RULE,
  type CautionsBlock,
  type Drawing,
  type DrawingBlock,
  type FormBlock,
  type NotesBlock,
  svgFile,
  type TableBlock,
} from '#sheets/print';
import { inVisualOrder } from './direction';
import { LINE, MUTED } from './look';
import { noteContent } from './notes';
import { mm } from './paper';
import { FAMILY } from './press';
import { type Setting, tableContent } from './table';
import type { Type } from './type';

const MOST_LINES = 40;
/** Columns have so much between them, in parts of the letters' size. */
const BETWEEN = 3;

/** `taken` is what stands above the first block of a sheet, in points; nothing for the others. */
export function blockContent(block: Block, setting: Setting, taken: number | undefined): ContentNode {
  const gap = taken !== undefined ? setting.look.gap * 0.8 : setting.look.gap;
  return { stack: contentOf(block, setting, taken ?? 0), margin: [0, gap, 0, 0] };
}

function contentOf(block: Block, outer: Setting, taken: number): Content[] {
  const setting = { ...outer, tag: outer.tag.add('Sect') };
  const head = headOf(block, setting);
  switch (block.kind) {
    case 'table':
      return block.rows.length === 0 ? together(head, [empty(block, setting)]) : tableWithHead(block, head, setting);
    case 'drawing':
      return [{ unbreakable: true, stack: [head, picture(block, setting, taken)] }];
    case 'form':
      return together(head, lines(block, setting));
    case 'notes':
      return together(head, notes(block, setting));
    case 'cautions':
      return together(head, cautions(block, setting));
  }
}

/** Its heading takes so much room with it that the first row follows on the same page; the table then stands in that room. */
function tableWithHead(block: TableBlock, head: ContentNode, setting: Setting): Content[] {
  const { content, need } = tableContent(block, setting);
  const room = Math.min(need, setting.height * 0.6);
  return [
    { unbreakable: true, stack: [head, { text: '', fontSize: 0.1, margin: [0, 0, 0, room] }] },
    { stack: [content], margin: [0, -room, 0, 0] },
  ];
}

/** A heading stays with the first of what it stands over. */
function together(head: Content, [first, ...more]: readonly Content[]): Content[] {
  return [{ unbreakable: true, stack: [head, ...(first === undefined ? [] : [first])] }, ...more];
}

function headOf(block: Block, setting: Setting): ContentNode {
  const { type, look, width, tag, sheet } = setting;
  const remark = block.kind === 'cautions' ? CAUTION_RULE : block.remark;
  if (look.runIn && remark)
    return {
      ...behind(setting, block.title, look.heading, remark, {
        subject: { tag: tag.add('H2'), outline: true, outlineText: block.title, outlineParentId: sheet },
        words: { color: MUTED, tag: tag.add('P') },
      }),
      margin: [0, 0, 0, 1],
    };
  return {
    stack: [
      {
        text: settled(type, block.title, look.heading, width, true),
        fontSize: look.heading,
        bold: true,
        tag: tag.add('H2'),
        outline: true,
        outlineText: block.title,
        outlineParentId: sheet,
      },
      ...(remark
        ? [{ text: settled(type, remark, look.text, width), fontSize: look.text, color: MUTED, margin: [0, 1, 0, 0], tag: tag.add('P') }]
        : []),
    ],
    margin: [0, 0, 0, block.kind === 'table' ? 1 : look.padding],
  };
}

/** About as high as it comes out. */
function headHeight(block: Block, { type, look, width }: Setting): number {
  const lines = block.remark ? type.lines(block.remark, look.text, width).length : 0;
  return look.heading * 1.25 + lines * look.text * 1.25 + look.padding;
}

function empty(block: TableBlock, { type, look, width, tag }: Setting): ContentNode {
  return { text: settled(type, block.empty, look.text, width), fontSize: look.text, color: MUTED, tag: tag.add('P') };
}

// ---- drawings --------------------------------------------------------------------------------------

/** The first on a sheet is set this much smaller, if that brings it on the page with the title. */
const STILL_READ = 0.8;

function picture(block: DrawingBlock, setting: Setting, taken: number): ContentNode {
  const { title, drawing, description } = block;
  const { type, width, height } = setting;
  const room = height - headHeight(block, setting) - setting.look.gap;
  const scaleIn = (high: number) => Math.min(1, width / mm(drawing.width), high / mm(drawing.height));
  const beside = scaleIn(room - taken);
  const scale = (beside >= STILL_READ * scaleIn(room) ? beside : scaleIn(room)) * setting.drawings;
  return {
    svg: svgFile(settableDrawing(drawing, type), type.settable(title), type.settable(description)),
    width: mm(drawing.width) * scale,
    height: mm(drawing.height) * scale,
    font: FAMILY,
    tag: setting.tag.add('Figure', { alt: description }),
  };
}

/** With words that the type can set. They were fitted for wider letters. */
export function settableDrawing(drawing: Drawing, type: Type): Drawing {
  return {
    ...drawing,
    shapes: drawing.shapes.map((shape) => (shape.kind === 'words' ? { ...shape, text: inVisualOrder(type.settable(shape.text)) } : shape)),
  };
}

// ---- lines to fill in ------------------------------------------------------------------------------

function lines({ fields }: FormBlock, { type, look, width, tag }: Setting): Content[] {
  const between = look.text * BETWEEN;
  const part = (width - between * (look.beside - 1)) / look.beside;
  const label = Math.min(
    part * (look.runIn ? 0.58 : 0.4),
    Math.max(...fields.map(({ title }) => type.width(title, look.text) + look.text)),
  );
  const line = part - label;
  const all = tag.add('L');
  return rowsOf(
    fields
      .map(({ title, value = '' }) => ({ title, value, item: all.add('LI') }))
      .map(({ title, value, item }) => ({
        width: part,
        columns: [
          { width: label, text: settled(type, title, look.text, label - 2), fontSize: look.text, color: MUTED, tag: item.add('Lbl') },
          {
            width: line,
            stack: [
              { text: settled(type, value, look.text, line) || ' ', fontSize: look.text, tag: item.add('LBody') },
              { canvas: [{ type: 'line', x1: 0, y1: 1, x2: line, y2: 1, lineWidth: 0.6, lineColor: LINE }] },
            ],
          },
        ],
        columnGap: 0,
        margin: [0, look.padding * 1.4, 0, 0],
      })),
    between,
    look.beside,
  );
}

// ---- findings and cautions -------------------------------------------------------------------------

function notes(block: NotesBlock, { type, look, width, tag }: Setting): Content[] {
  const all = tag.add('L');
  return block.notes.map((note) => ({
    unbreakable: true,
    stack: [noteContent(note, type, look, width, all.add('LI').add('LBody'))],
  }));
}

/** Words behind their subject, over the whole width. */
function behind(
  { type, look, width }: Setting,
  subject: string,
  size: number,
  text: string,
  parts: { readonly subject: object; readonly words: object },
): ContentNode {
  const bold = type.settable(subject);
  // Measured as if all of it were as large and bold as the subject; the library breaks the lines.
  const whole = settled(type, `${subject} ${text}`, Math.max(size, look.text), width, true).replace(/\n/g, ' ');
  return {
    text: [
      { text: bold, bold: true, fontSize: size, ...parts.subject },
      { text: `  ${whole.slice(bold.length).trim()}`, ...parts.words },
    ],
    fontSize: look.text,
  };
}

/** `Mains: never …`, a line each. */
function runIn(block: CautionsBlock, setting: Setting): Content[] {
  const all = setting.tag.add('L');
  return block.cautions.map(({ subject, text }) => {
    const item = all.add('LI');
    return behind(setting, subject, setting.look.text, text, { subject: { tag: item.add('Lbl') }, words: { tag: item.add('LBody') } });
  });
}

function cautions(block: CautionsBlock, setting: Setting): Content[] {
  const { type, look, width, tag } = setting;
  if (look.runIn) return runIn(block, setting);
  const between = look.text * BETWEEN;
  const beside = Math.min(look.beside, block.cautions.length);
  const part = (width - between * (beside - 1)) / beside;
  const all = tag.add('L');
  const items = block.cautions.map(({ subject, text }) => {
    const item = all.add('LI');
    const words = settled(type, text, look.text, part);
    return {
      lines: 2 + words.split('\n').length,
      content: {
        stack: [
          { text: settled(type, subject, look.text, part, true), fontSize: look.text, bold: true, tag: item.add('Lbl') },
          { text: words, fontSize: look.text, tag: item.add('LBody') },
        ],
        margin: [0, 0, 0, look.text * 0.6],
      },
    };
  });
  const columns = inColumns(items, beside).map((column) => ({ width: part, stack: column.map(({ content }) => content) }));
  return [{ unbreakable: true, stack: [{ columns, columnGap: between }] }];
}

/** One after another down so many columns, none much longer than the others. */
function inColumns<T extends { readonly lines: number }>(items: readonly T[], count: number): T[][] {
  const columns: T[][] = [];
  let left = items.reduce((sum, { lines }) => sum + lines, 0);
  let column: T[] = [];
  let height = 0;
  for (const item of items) {
    const share = left / (count - columns.length);
    if (column.length > 0 && columns.length < count - 1 && height + item.lines / 2 > share) {
      columns.push(column);
      left -= height;
      [column, height] = [[], 0];
    }
    column.push(item);
    height += item.lines;
  }
  return [...columns, column];
}

/** So many beside each other, whole. */
function rowsOf(contents: readonly ContentNode[], gap: number, beside: number): ContentNode[] {
  const rows: ContentNode[] = [];
  for (let index = 0; index < contents.length; index += beside)
    rows.push({ unbreakable: true, stack: [{ columns: contents.slice(index, index + beside), columnGap: gap }] });
  return rows;
}

function settled(type: Type, text: string, size: number, width: number, bold = false): string {
  return type.fitted(type.settable(text), size, width, MOST_LINES, bold);
}
