/** Sheets on paper: each begins a page, with its title, and every page says which of which sheet it is. */
import type { Content, ContentNode, Size } from 'pdfmake';
import { countWords, draftWords, failedSheet, fingerprintWords, isEmpty, NOTHING, type Sheet } from '#sheets/print';
import { blockContent } from './blocks';
import { ACCENT, look, MUTED } from './look';
import { areaOf, lies, margins, mm, type Paper, sizeOf, TOP_MM } from './paper';
import type { Document, Press } from './press';
import type { Setting } from './table';
import { MISSING_RULE, type Type } from './type';

export interface PdfOptions {
  readonly paper: Paper;
}

/** What is meant for one page is set smaller until it is one; nothing on it is smaller than 7.5 pt, which is still read easily. */
const SCALES = [1, 0.94, 7.5 / 8.5] as const;

/** Real text in embedded type; the same sheets give the same bytes. A sheet that cannot be set says so in its place. */
export async function sheetsPdf(press: Press, sheets: readonly Sheet<string>[], options: PdfOptions): Promise<Uint8Array> {
  return pressed(press, sheets, options).catch(async () => {
    const set: Sheet<string>[] = [];
    for (const sheet of sheets)
      set.push(
        await pressed(press, [sheet], options).then(
          () => sheet,
          (problem) => failedSheet(sheet, problem),
        ),
      );
    return pressed(press, set, options);
  });
}

async function pressed(press: Press, sheets: readonly Sheet<string>[], { paper }: PdfOptions): Promise<Uint8Array> {
  const type = await press.type();
  const set: SetSheet[] = [];
  for (const sheet of sheets) set.push(setSheet(sheet, type, paper, sheet.dense ? await scaleFor(press, sheet, type, paper) : 1));
  return press.bytes(document(set, type, paper));
}

async function scaleFor(press: Press, sheet: Sheet<string>, type: Type, paper: Paper): Promise<number> {
  for (const scale of SCALES) if ((await press.pages(document([setSheet(sheet, type, paper, scale)], type, paper))) === 1) return scale;
  // It does not fit on one: then it may be read easily.
  return 1;
}

/** What the head of a sheet takes, in lines of its title: a little more than it mostly does. */
const HEAD_LINES = 3.6;

interface SetSheet {
  readonly sheet: Sheet<string>;
  readonly wide: boolean;
  /** Knows its page once the pages are laid out. */
  readonly head: ContentNode;
  readonly content: readonly Content[];
}

function setSheet(sheet: Sheet<string>, type: Type, paper: Paper, scale: number): SetSheet {
  const wide = lies(sheet.blocks.flatMap((block) => (block.kind === 'drawing' ? [block.drawing] : [])));
  const { width, height } = areaOf(paper, wide);
  const setting: Setting = { type, look: look(scale, sheet.dense), width, height };
  type.missed = false;
  const head = headContent(sheet, setting);
  const blocks: Content[] = sheet.blocks.map((block, index) =>
    blockContent(block, setting, index === 0 ? HEAD_LINES * setting.look.title : undefined),
  );
  const small = { fontSize: setting.look.text, color: MUTED, margin: [0, setting.look.gap, 0, 0] };
  if (isEmpty(sheet)) blocks.unshift({ text: NOTHING, ...small });
  if (type.missed) blocks.push({ text: MISSING_RULE, ...small });
  return { sheet, wide, head, content: blocks };
}

function headContent({ name, title, facts: all, occasion = [], counts }: Sheet<string>, { type, look, width }: Setting): ContentNode {
  const facts = [...occasion, ...all];
  const words = (text: string, size: number, bold = false) => type.fitted(type.settable(text), size, width, 6, bold);
  return {
    stack: [
      { text: name, fontSize: look.text, bold: true, color: ACCENT },
      { text: words(title, look.title, true), fontSize: look.title, bold: true },
      ...(facts.length > 0 ? [{ text: words(facts.join(' · '), look.text), fontSize: look.text, color: MUTED, margin: [0, 2, 0, 0] }] : []),
      ...(counts ? [{ text: `${countWords(counts)}.`, fontSize: look.text, bold: true, margin: [0, 2, 0, 0] }] : []),
    ],
  };
}

function document(set: readonly SetSheet[], type: Type, paper: Paper): Document {
  const first = set[0];
  const title = first ? `${first.sheet.title}: ${set.length === 1 ? first.sheet.name.toLowerCase() : 'sheets'}` : '';
  const content = set.map(({ head, wide, content }, index): ContentNode => {
    const turn = index === 0 ? {} : { pageBreak: 'before', pageOrientation: wide ? 'landscape' : 'portrait' };
    return { stack: [head, ...content], ...turn };
  });
  const starts = () => content.map((_, index) => set[index]?.head.positions?.[0]?.pageNumber ?? 1);
  /** Which sheet a page belongs to, and where it is in it. */
  const at = (page: number, pages: number) => {
    const all = starts();
    const index = Math.max(
      0,
      all.findLastIndex((start) => start <= page),
    );
    const start = all[index] ?? 1;
    return { sheet: set[index]?.sheet, number: page - start + 1, count: (all[index + 1] ?? pages + 1) - start };
  };
  const [side] = margins(paper);
  const { small } = look(1);
  const room = (size: Size) => size.width - 2 * side;
  return {
    title,
    source: { paper, sheets: set.map(({ sheet }) => sheet) },
    pageSize: { ...sizeOf(paper) },
    pageMargins: margins(paper),
    pageOrientation: first?.wide ? 'landscape' : 'portrait',
    content,
    // The first page of a sheet has its title already.
    header: (page, pages, size) => {
      const { sheet, number } = at(page, pages);
      if (!sheet) return '';
      const draft = draftWords(sheet);
      const title = {
        text: number === 1 ? ' ' : oneLine(type, sheet.title, small, room(size), true),
        fontSize: small,
        bold: true,
        margin: [side, draft === undefined ? mm(TOP_MM) / 2 - small / 2 : 3, side, 0],
      };
      return draft === undefined
        ? title
        : { stack: [band(oneLine(type, draft, BAND, room(size) - BAND, true), size, side), number === 1 ? '' : title] };
    },
    footer: (page, pages, size) => {
      const { sheet, number, count } = at(page, pages);
      if (!sheet) return '';
      const where = [fingerprintWords(sheet), `${sheet.name}, ${number} of ${count}`].filter(Boolean).join(' · ');
      const width = room(size) * 0.55;
      return {
        columns: [
          { width, text: oneLine(type, [sheet.title, ...(sheet.occasion ?? [])].join(' · '), small, width) },
          { width: '*', text: where, alignment: 'right' },
        ],
        fontSize: small,
        color: MUTED,
        margin: [side, small, side, 0],
      };
    },
  };
}

/** In points: the letters of the band that a draft has across the top of each page. */
const BAND = 9;

/** Heavy and black, so that it is seen on a copy of a copy. */
function band(words: string, { width }: Size, side: number): ContentNode {
  const height = BAND * 1.9;
  return {
    stack: [
      { canvas: [{ type: 'rect', x: 0, y: 0, w: width - 2 * side, h: height, color: '#000' }] },
      { text: words, fontSize: BAND, bold: true, color: '#fff', margin: [BAND / 2, -height + BAND * 0.4, 0, 0] },
    ],
    margin: [side, mm(TOP_MM) * 0.2, side, 0],
  };
}

function oneLine(type: Type, text: string, size: number, width: number, bold = false): string {
  return type.fitted(type.settable(text), size, width, 1, bold);
}
