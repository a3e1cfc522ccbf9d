/** A patch list as text, Markdown, CSV or a document of its own. */
import type { PatchList } from '../model';
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

/** Pure: the same list gives the same text, byte for byte. Lines end in LF, in CSV in CR LF with a byte order mark in front. */
export function renderPatchList(list: PatchList, format: SheetFormat, options: RenderOptions = {}): string {
  switch (format) {
    case 'text':
      return text(list, options.width);
    case 'markdown':
      return markdown(list);
    case 'csv':
      return csv(list);
    case 'html':
      return html(list);
  }
}
