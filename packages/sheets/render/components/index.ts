/** The sheet's components, for whoever shows it on a screen. */
export { isEmpty } from '../sections';
export { type Interaction, Sheet } from './Sheet';
