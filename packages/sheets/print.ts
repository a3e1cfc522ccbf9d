/** What it takes to set sheets on paper, beside the sheets themselves. */
export { svgFile } from './draw/svg';
export type * from './drawing';
export { failedSheet } from './failed';
export { graphemes } from './graphemes';
export type { LabelPage } from './label/pages';
export type { Caution, Note } from './model';
export { TICKS } from './render/components/widths';
export { SEVERITY_SHAPES } from './render/severityShapes';
export { CAUTION_RULE, countWords, kindOf, NOTHING, printed } from './render/words';
export * from './sheet';
