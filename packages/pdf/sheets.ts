/** Sheets on paper: each begins a page, with its title, and every page says which of which sheet it is. */
import type { Content, ContentNode, Size } from 'pdfmake';
import {
  bareWords,
  bound,
  type CautionsBlock,
  CONTENTS,
  countWords,
  draftWords,
  type Extent,
  failedSheet,
  fingerprintWords,
  isEmpty,
  NOTHING,
  nearlyEmpty,
  type Sheet,
} from '#sheets/print';
import { blockContent } from './blocks';
import { ACCENT, type Density, look, MUTED } from './look';
import { areaOf, lies, margins, mm, type Paper, sizeOf, TOP_MM } from './paper';
import type { Document, Press } from './press';
import type { Setting } from './table';
import { Tag } from './tags';
import { MISSING_RULE, type Type } from './type';

export interface PdfOptions {
  readonly paper: Paper;
}

/** What has to take less room is set smaller; nothing in it is smaller than 7.5 pt, which is still read easily. */
const SCALES = [1, 0.94, 7.5 / 8.5] as const;
/** And what is drawn on a page, after the letters. */
const DRAWN = [1, 0.92, 0.85, 0.78] as const;

interface Scale {
  readonly text: number;
  readonly drawings: number;
  /** Else as the sheet is meant. */
  readonly density?: Density;
}

const WHOLE: Scale = { text: 1, drawings: 1 };

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
  const type = press.type();
  const set = bound(sheets);
  // What has nothing to show takes no page of a set: its contents say so.
  const full = set.sheets.filter((sheet) => bareWords(sheet) === undefined);
  // A page of its own for the contents of a few would be nearly empty.
  const several = (set.sheets.length > FEW || set.cautions !== undefined) && full.length > 0;
  const made = (several ? full : set.sheets).map((sheet) => setSheet(sheet, type, paper, scaleFor(press, sheet, type, paper)));
  const front = several ? frontOf(made, set.sheets, set.cautions, type, paper) : undefined;
  return press.bytes(document(front ? [front, ...made] : made, type, paper));
}

/**
 * What is meant for one page is made smaller until it is one. Any other sheet is set closer, then smaller, only where that saves a last page with
 * next to nothing on it; so is what cannot be one page.
 */
function scaleFor(press: Press, sheet: Sheet<string>, type: Type, paper: Paper): Scale {
  const extent = (scale: Scale) => press.extent(document([setSheet(sheet, type, paper, scale)], type, paper));
  const whole = extent(WHOLE);
  if (whole.pages === 1 || (!sheet.dense && !nearlyEmpty(whole))) return WHOLE;
  const scales = sheet.dense ? onOnePage(sheet) : SCALES.map((text): Scale => ({ text, drawings: 1, density: 'close' }));
  const fewer: { readonly scale: Scale; readonly made: Extent }[] = [];
  for (const scale of scales) {
    const made = extent(scale);
    if (made.pages === 1 || (!sheet.dense && made.pages < whole.pages && !nearlyEmpty(made))) return scale;
    if (made.pages < whole.pages) fewer.push({ scale, made });
  }
  // Where that does not help it is to be read easily.
  if (!nearlyEmpty(whole)) return WHOLE;
  return (fewer.find(({ made }) => !nearlyEmpty(made)) ?? fewer[0])?.scale ?? WHOLE;
}

/** Letters of tables are made smaller first, then what white there is; what is drawn has smaller letters already and comes last. */
function onOnePage({ blocks }: Sheet<string>): Scale[] {
  const text = SCALES.at(-1) ?? 1;
  const drawn = blocks.some(({ kind }) => kind === 'drawing') ? DRAWN : [1];
  return [
    ...SCALES.slice(1).map((text) => ({ text, drawings: 1 })),
    ...drawn.map((drawings): Scale => ({ text, drawings, density: 'tight' })),
  ];
}

/** What the head of a sheet takes, in lines of its title: a little more than it mostly does. */
const HEAD_LINES = 3.6;

interface SetSheet {
  readonly sheet: Sheet<string>;
  readonly wide: boolean;
  /** Knows its page once the pages are laid out. */
  readonly head: ContentNode;
  readonly content: readonly Content[];
  /** What is what on it. */
  readonly tag: Tag;
  /** The band across a draft: told once, on the first page. */
  readonly draft?: { readonly words: string; readonly tag: Tag };
}

function setSheet(sheet: Sheet<string>, type: Type, paper: Paper, scale: Scale): SetSheet {
  const wide = lies(sheet.blocks.flatMap((block) => (block.kind === 'drawing' ? [block.drawing] : [])));
  const { width, height } = areaOf(paper, wide);
  const tag = new Tag('Sect');
  const words = draftWords(sheet);
  const draft = words === undefined ? undefined : { words, tag: tag.add('P') };
  const setting: Setting = {
    type,
    look: look(scale.text, scale.density ?? (sheet.dense ? 'dense' : 'open')),
    width,
    height,
    tag,
    drawings: scale.drawings,
    sheet: sheet.id,
  };
  type.missed = false;
  const head = headContent(sheet, setting);
  const blocks: Content[] = sheet.blocks.map((block, index) =>
    blockContent(block, setting, index === 0 ? HEAD_LINES * setting.look.title : undefined),
  );
  const small = () => ({ fontSize: setting.look.text, color: MUTED, margin: [0, setting.look.gap, 0, 0], tag: tag.add('P') });
  if (sheet.id !== FRONT && isEmpty(sheet)) blocks.unshift({ text: NOTHING, ...small() });
  if (type.missed) blocks.push({ text: MISSING_RULE, ...small() });
  return { sheet, wide, head, content: blocks, tag, draft };
}

function headContent(
  { id, name, title, facts: all, occasion = [], counts, dense }: Sheet<string>,
  { type, look, width, tag }: Setting,
): ContentNode {
  const facts = [...occasion, ...all];
  const words = (text: string, size: number, bold = false) => type.fitted(type.settable(text), size, width, 6, bold);
  const heading = tag.add('H1');
  // On one line where there is room for both, and every line counts.
  const line = type.settable(`${facts.join(' · ')} · ${counts ? countWords(counts) : ''}.`);
  const beside = dense === true && facts.length > 0 && counts !== undefined && type.width(line, look.text, true) <= width;
  return {
    stack: [
      {
        id,
        text: name,
        fontSize: look.text,
        bold: true,
        color: ACCENT,
        tag: heading,
        outline: true,
        outlineText: name,
      },
      { text: words(title, look.title, true), fontSize: look.title, bold: true, tag: heading },
      ...(facts.length > 0 && !beside
        ? [{ text: words(facts.join(' · '), look.text), fontSize: look.text, color: MUTED, margin: [0, 2, 0, 0], tag: tag.add('P') }]
        : []),
      ...(counts || beside
        ? [
            {
              text: [
                ...(beside ? [{ text: `${type.settable(facts.join(' · '))} · `, color: MUTED }] : []),
                { text: counts ? `${countWords(counts)}.` : '', bold: true },
              ],
              fontSize: look.text,
              margin: [0, 2, 0, 0],
              tag: tag.add('P'),
            },
          ]
        : []),
    ],
  };
}

/** The page before a set: what is in it and where, and what holds for all of it. */
function frontOf(
  set: readonly SetSheet[],
  sheets: readonly Sheet<string>[],
  cautions: CautionsBlock | undefined,
  type: Type,
  paper: Paper,
): SetSheet | undefined {
  const [first] = set;
  if (!first) return undefined;
  const { title, occasion, fingerprint, draft, facts } = first.sheet;
  const counts = set.find(({ sheet }) => sheet.counts)?.sheet.counts;
  const blocks = cautions ? [cautions] : [];
  const front = setSheet({ id: FRONT, name: CONTENTS, title, occasion, fingerprint, draft, facts, counts, blocks }, type, paper, WHOLE);
  const { text, padding, gap } = look(1);
  const list = new Tag('TOC');
  // Before what stands below it.
  front.tag.children.splice(front.tag.children.length - blocks.length, 0, list);
  const { width } = areaOf(paper, false);
  const rows = sheets.map((sheet): ContentNode => {
    const { id, name } = sheet;
    const entry = list.add('TOCI');
    const bare = bareWords(sheet);
    if (bare !== undefined)
      return {
        columns: [
          { width: width * 0.5, text: name, tag: entry },
          { width: '*', text: bare, color: MUTED, tag: entry },
        ],
        fontSize: text * 1.15,
        margin: [0, padding, 0, 0],
      };
    const link = entry.add('Link');
    return {
      columns: [
        { width: width * 0.5, text: name, tag: link, goTo: id },
        { width: text * 4, pageReference: id, alignment: 'right', tag: link },
      ],
      fontSize: text * 1.15,
      margin: [0, padding, 0, 0],
    };
  });
  return { ...front, content: [{ stack: rows, margin: [0, gap, 0, 0] }, ...front.content] };
}

const FEW = 4;
const FRONT = 'contents';

function document(set: readonly SetSheet[], type: Type, paper: Paper): Document {
  const first = set[0];
  const one = set.length === 1;
  const title = first ? `${first.sheet.title}: ${one ? first.sheet.name.toLowerCase() : 'sheets'}` : '';
  const content = set.map(({ head, wide, content }, index): ContentNode => {
    const turn = index === 0 ? {} : { pageBreak: 'before', pageOrientation: wide ? 'landscape' : 'portrait' };
    return { stack: [head, ...content], ...turn };
  });
  const root = new Tag('Document');
  root.children.push(...set.map(({ tag }) => tag));
  const starts = () => content.map((_, index) => set[index]?.head.positions?.[0]?.pageNumber ?? 1);
  /** Which sheet a page belongs to, and where it is in it. */
  const at = (page: number, pages: number) => {
    const all = starts();
    const index = Math.max(
      0,
      all.findLastIndex((start) => start <= page),
    );
    const start = all[index] ?? 1;
    return { made: set[index], number: page - start + 1, count: (all[index + 1] ?? pages + 1) - start };
  };
  const [side] = margins(paper);
  const { small } = look(1);
  const room = (size: Size) => size.width - 2 * side;
  return {
    title,
    root,
    source: { paper, sheets: set.map(({ sheet }) => sheet) },
    pageSize: { ...sizeOf(paper) },
    pageMargins: margins(paper),
    pageOrientation: first?.wide ? 'landscape' : 'portrait',
    content,
    // The first page of a sheet has its title already.
    header: (page, pages, size) => {
      const { made, number } = at(page, pages);
      if (!made) return '';
      const { sheet, draft } = made;
      const title = {
        text: number === 1 ? ' ' : oneLine(type, sheet.title, small, room(size), true),
        fontSize: small,
        bold: true,
        margin: [side, draft === undefined ? mm(TOP_MM) / 2 - small / 2 : UNDER_BAND, side, 0],
      };
      if (draft === undefined) return title;
      const words = oneLine(type, draft.words, BAND, room(size) - BAND, true);
      return { stack: [band(words, size, side, number === 1 ? draft.tag : undefined), number === 1 ? '' : title] };
    },
    footer: (page, pages, size) => {
      const { made, number, count } = at(page, pages);
      if (!made) return '';
      const { sheet } = made;
      const running = one ? '' : `page ${page} of ${pages}`;
      const where = [fingerprintWords(sheet), `${sheet.name}, ${number} of ${count}`, running].filter(Boolean).join(' · ');
      const width = room(size) - type.width(where, small) - 2 * small;
      const [first, second] = footLines(type, [sheet.title, ...(sheet.occasion ?? [])], small, width);
      const beside = {
        columns: [
          { width, text: oneLine(type, first, small, width) },
          { width: '*', text: where, alignment: 'right' },
        ],
      };
      return {
        stack: second === '' ? [beside] : [beside, { text: oneLine(type, second, small, room(size)) }],
        fontSize: small,
        color: MUTED,
        // Two lines are as far from the edge of the paper as home printers need.
        margin: [side, second === '' ? small : 0, side, 0],
      };
    },
  };
}

/** Whom to ask is of use only when all of it is there: what does not fit whole beside the page's number gets a line of its own. */
function footLines(type: Type, parts: readonly string[], size: number, width: number): [string, string] {
  const joined = (some: readonly string[]) => some.join(' · ');
  let count = parts.length;
  while (count > 1 && type.width(type.settable(joined(parts.slice(0, count))), size) > width) count--;
  return [joined(parts.slice(0, count)), joined(parts.slice(count))];
}

/** In points: the letters of the band that a draft has across the top of each page. */
const BAND = 9;
/** From the line of those to what stands under the band. */
const UNDER_BAND = 7;

/** Heavy and black, so that it is seen on a copy of a copy. */
function band(words: string, { width }: Size, side: number, tag: Tag | undefined): ContentNode {
  const height = BAND * 1.9;
  return {
    stack: [
      { canvas: [{ type: 'rect', x: 0, y: 0, w: width - 2 * side, h: height, color: '#000' }] },
      { text: words, fontSize: BAND, bold: true, color: '#fff', tag, margin: [BAND / 2, -height + BAND * 0.4, 0, 0] },
    ],
    margin: [side, mm(TOP_MM) * 0.2, side, 0],
  };
}

function oneLine(type: Type, text: string, size: number, width: number, bold = false): string {
  return type.fitted(type.settable(text), size, width, 1, bold);
}
