/** What findings can be cured by, as edits of text, where there is no editor. */
import type { Analysis, Located } from '../analysis';
import type { RigServices } from '../module';
import type { Cure } from './edits';
import { QuickFixes } from './fix/quickFixes';
import type { RigEditorServices } from './services';
import { Shelf } from './shelf';
import { Things } from './things';

export type { Cure };

/** Each was tried and does away with its finding; the likeliest first. */
export function curesFor(services: RigServices): (analysis: Analysis, located: Located) => Cure[] {
  // Of an editor's services they need these two alone.
  const whole: RigEditorServices = Object.create(services, { editor: { get: () => ({ Things: things, Shelf: shelf }) } });
  const things = new Things(whole);
  const shelf = new Shelf(whole);
  const fixes = new QuickFixes(whole);
  return (analysis, located) => fixes.offers(analysis, located).map(({ cure }) => cure);
}
