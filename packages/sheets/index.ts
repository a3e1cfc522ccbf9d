export { leadLength, wholeDown } from './figures';
export type * from './model';
export { patchList } from './patchList';
export { type RenderOptions, renderPatchList, SHEET_FORMATS, type SheetFormat } from './render';
