/** Sheets as text, Markdown, CSV or a document of their own. */
import { withoutFailing } from '../failed';
import { bound } from '../shared/bound';
import type { Sheet } from '../sheet';
import { csv } from './csv';
import { html } from './html';
import { markdown } from './markdown';
import { text } from './text';

export const SHEET_FORMATS = ['text', 'markdown', 'csv', 'html'] as const;
export type SheetFormat = (typeof SHEET_FORMATS)[number];

export interface RenderOptions {
  /** For text: the columns of the terminal, 80 where there is none. */
  readonly width?: number;
}

/** Columns of a text that goes into a file or another program: as many as a page of letters has. */
const NO_TERMINAL = 80;

/** Pure: the same sheet gives the same text, byte for byte. Lines end in LF, in CSV in CR LF with a byte order mark in front. */
export function renderSheet(sheet: Sheet<string>, format: SheetFormat, options: RenderOptions = {}): string {
  return renderSheets([sheet], format, options);
}

/** Sheets of one rig under one another, as one text. One that cannot be written says so in its place. */
export function renderSheets(sheets: readonly Sheet<string>[], format: SheetFormat, options: RenderOptions = {}): string {
  try {
    return rendered(sheets, format, options);
  } catch {
    return rendered(
      withoutFailing(sheets, (sheet) => void rendered([sheet], format, options)),
      format,
      options,
    );
  }
}

function rendered(sheets: readonly Sheet<string>[], format: SheetFormat, options: RenderOptions): string {
  switch (format) {
    case 'text':
      return text(cautionedOnce(sheets), options.width ?? NO_TERMINAL);
    case 'markdown':
      return markdown(cautionedOnce(sheets));
    case 'csv':
      return csv(cautionedOnce(sheets));
    case 'html':
      return html(sheets);
  }
}

/** Without a page in front, the first of several sheets says what others would say again. */
function cautionedOnce(all: readonly Sheet<string>[]): readonly Sheet<string>[] {
  const { cautions, sheets } = bound(all);
  const [first, ...more] = sheets;
  if (all.length < 2 || !cautions || !first) return all;
  // The patch list has them in few words; in front of it they stand in full.
  const said = new Set(first.id === 'patch-list' ? cautions.cautions.map(({ subject }) => subject) : []);
  const own = first.blocks
    .flatMap((block) => (block.kind === 'cautions' ? block.cautions : []))
    .filter(({ subject }) => !said.has(subject));
  const rest = first.blocks.filter(({ kind }) => kind !== 'cautions');
  return [{ ...first, blocks: [...rest, { ...cautions, cautions: [...cautions.cautions, ...own] }] }, ...more];
}
