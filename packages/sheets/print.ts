/** What it takes to set sheets on paper, beside the sheets themselves. */
export { svgFile } from './draw/svg';
export type * from './drawing';
export { failedSheet } from './failed';
export type { LabelPage } from './labels/pages';
export { TICKS } from './render/components/widths';
export { SEVERITY_SHAPES } from './render/severityShapes';
export { CAUTION_RULE, countWords, draftWords, fingerprintWords, kindOf, NOTHING, printed, unbroken } from './render/words';
export { bound } from './shared/bound';
export { crowded, type Need, onTwoLines, sum } from './shared/columns';
export { type Extent, nearlyEmpty } from './shared/extent';
export { graphemes } from './shared/graphemes';
export type { Caution, Note } from './shared/model';
export { CONTENTS } from './shared/titles';
export * from './sheet';
