/** Gives an unnamed piece in a `via` a name: a `gear` line, and the name in the step. */
import { freshId } from '#rig';
import { type Here, type Refactoring, viaOf } from './here';
import { nameEach } from './nameEach';
import { gearLine, kindOf, nameFor, rename, whereFrom } from './newGear';

export function namePieces(here: Here): Refactoring[] {
  const { statement } = here;
  const steps = statement && viaOf(statement)?.steps;
  if (!statement || !steps) return [];
  const unnamed = steps.filter((step) => step.target?.ref?.$type === 'Model');
  const pointed = unnamed.filter(({ $cstNode: cst }) => cst && cst.offset <= here.end && cst.end >= here.start);
  const [step, more] = pointed.length > 0 ? pointed : unnamed;
  if (!step || more) return [];
  const model = step.target?.ref;
  const place = `${here.placeOf(statement)}/via.${steps.indexOf(step)}`;
  const { pieces } = here.analysis.lowered.rig;
  const piece = pieces.get(place);
  if (!piece || model?.$type !== 'Model' || piece.model.id !== model.name) return [];
  // A box for each channel is more than one piece, and one name is one piece.
  if (pieces.has(freshId(place, 1))) return nameEach(here, statement, step, place);
  const named = nameFor(here.services, step, statement);
  const edits = [gearLine(here.layout, here.file, named, model, whereFrom(here.analysis, piece)), rename(here.layout, step, named.name)];
  return edits.every((edit) => edit !== undefined)
    ? [
        {
          title: `Give the ${kindOf(model)} a name: ${named.name}`,
          kind: 'refactor.extract.gear',
          edit: { changes: { [here.document.uri.toString()]: edits } },
        },
      ]
    : [];
}
