/** Sheets as text, Markdown, CSV or a document of their own. */
import { withoutFailing } from '../failed';
import type { Sheet } from '../sheet';
import { csv } from './csv';
import { html } from './html';
import { markdown } from './markdown';
import { text } from './text';

export const SHEET_FORMATS = ['text', 'markdown', 'csv', 'html'] as const;
export type SheetFormat = (typeof SHEET_FORMATS)[number];

export interface RenderOptions {
  /** For text: the columns of the terminal. Without it, rows are as long as they need to be. */
  readonly width?: number;
}

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
      return text(sheets, options.width);
    case 'markdown':
      return markdown(sheets);
    case 'csv':
      return csv(sheets);
    case 'html':
      return html(sheets);
  }
}
