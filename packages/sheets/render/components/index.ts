/** The sheets' components, for whoever shows them on a screen. */
export { isEmpty, SHEET_IDS, SHEET_NAMES } from '../../sheet';
export type { Interaction } from './interaction';
export { Sheet } from './Sheet';
