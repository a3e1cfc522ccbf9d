/** The sheets' components, for whoever shows them on a screen. */
export { failedSheet } from '../../failed';
export { isEmpty, TAB_IDS, TAB_NAMES, type TabId } from '../../sheet';
export { allBoxes } from './boxes';
export type { Interaction, RowsNear, Zooms } from './interaction';
export { AnyBlock, Draft, Head, Sheet } from './Sheet';
export { TickBar } from './TickBar';
