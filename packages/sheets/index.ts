export { ALL_SHEETS, type SheetOptions, sheetOf, sheetsOf } from './all';
export type * from './drawing';
export { EXPORT_ENDINGS, EXPORT_FORMATS, type ExportFormat, filesOf, oneFileOf, type SheetFile } from './export';
export { leadLength, wholeDown } from './figures';
export type * from './model';
export { patchList } from './patchList';
export { patchSheet, patchSheetOf } from './patchSheet';
export { type RenderOptions, renderSheet, renderSheets, SHEET_FORMATS, type SheetFormat } from './render';
export { fields, isEmpty, placesOf, SHEET_IDS, SHEET_NAMES, type Sheet, type SheetId } from './sheet';
