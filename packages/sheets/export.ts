/** Sheets as files. Their names come from what the sheets are, never from what somebody has written. */
import { svgFile } from './draw/svg';
import { type RenderOptions, renderSheet, renderSheets } from './render';
import { tablesOf } from './render/csv';
import type { Sheet } from './sheet';

/** What a file can be, with how its name ends. */
export const EXPORT_ENDINGS = { html: '.html', markdown: '.md', csv: '.csv', svg: '.svg', text: '.txt' } as const;
export type ExportFormat = keyof typeof EXPORT_ENDINGS;
export const EXPORT_FORMATS = Object.keys(EXPORT_ENDINGS) as readonly ExportFormat[];

export interface SheetFile {
  /** `patch-list.html`; of a drawing that is not the only one of its sheet, `levels-mic.svg`: letters, digits, dashes and the ending. */
  readonly name: string;
  readonly text: string;
}

/** A file for each sheet; as CSV, for each of its tables as well; as SVG, for each drawing, and none for a sheet without one. Pure: the same sheets give the same bytes. */
export function filesOf(sheets: readonly Sheet<string>[], format: ExportFormat): SheetFile[] {
  const ending = EXPORT_ENDINGS[format];
  // A spreadsheet reads a file as one table; the whole sheet stands beside them.
  if (format === 'csv')
    return sheets.flatMap((sheet) => [
      { name: `${sheet.id}${ending}`, text: renderSheet(sheet, format) },
      ...tablesOf(sheet).map(({ id, text }) => ({ name: `${sheet.id}-${id}${ending}`, text })),
    ]);
  if (format !== 'svg') return sheets.map((sheet) => ({ name: `${sheet.id}${ending}`, text: renderSheet(sheet, format) }));
  return sheets.flatMap((sheet) => {
    const drawings = sheet.blocks.flatMap((block) => (block.kind === 'drawing' ? [block] : []));
    return drawings.map(({ id, title, drawing, description }) => ({
      name: `${sheet.id}${drawings.length > 1 ? `-${id}` : ''}${ending}`,
      text: svgFile(drawing, `${sheet.title}: ${title.toLowerCase()}`, description),
    }));
  });
}

/** All of them as one file. Nothing as SVG, unless they have one drawing between them. */
export function oneFileOf(sheets: readonly Sheet<string>[], format: ExportFormat, options?: RenderOptions): string | undefined {
  if (format !== 'svg') return renderSheets(sheets, format, options);
  const files = filesOf(sheets, format);
  return files.length === 1 ? files[0]?.text : undefined;
}
