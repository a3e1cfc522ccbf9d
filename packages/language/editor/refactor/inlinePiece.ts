/** The other way round: a piece of gear that is named in one line only becomes an unnamed piece of that line. */
import { listeners, placed, samePlace, socket } from '#engine';
import type * as ast from '../../generated/ast';
import { type Here, type Refactoring, statementOf, viaOf } from './here';
import { feederOf, rename } from './newGear';

export function inlinePiece(here: Here): Refactoring[] {
  const { statement } = here;
  const gear = statement && gearAt(here, statement);
  const model = gear?.model?.ref;
  const lines = gear && here.linesOf(gear);
  if (!gear || !model || !lines || !here.isReadable() || !here.isSound(gear)) return [];
  const { Symbols } = here.services.rig;
  // The model's name in a step would mean gear of that name.
  if (Symbols.find(here.document, 'Gear', model.name) || Symbols.of(here.document).twins.some(({ name }) => name === gear.name)) return [];
  const namings = here.services.editor.Things.occurrences({ kind: 'declared', node: gear }).filter(({ declares }) => !declares);
  const [naming, another] = namings;
  const step = naming?.node.$type === 'Step' ? (naming.node as ast.Step) : undefined;
  const run = step && statementOf(step);
  if (!step || !run || another || naming?.document !== here.document) return [];
  if (!losesNothing(here, gear, run)) return [];
  const replaced = rename(here.layout, step, model.name);
  const removed = here.layout.remove(gear.$cstNode?.offset ?? 0, gear.$cstNode?.end ?? 0);
  if (!replaced || here.document.textDocument.getText(removed.range).includes('#')) return [];
  return [
    {
      title: `Write ${model.name} in the line instead of ${gear.name}, and delete ${gear.name}`,
      kind: 'refactor.inline.gear',
      edit: { changes: { [here.document.uri.toString()]: [removed, replaced] } },
    },
  ];
}

/** The gear whose line this is, or that the cursor is on in a line. */
function gearAt(here: Here, statement: ast.Statement): ast.Gear | undefined {
  if (statement.$type === 'Gear') return statement;
  const step = viaOf(statement)?.steps.find(({ $cstNode: cst }) => cst && cst.offset <= here.start && cst.end >= here.end);
  const target = step?.target?.ref;
  return target?.$type === 'Gear' && here.file.statements.includes(target) ? target : undefined;
}

/** An unnamed piece has no clauses, lies with who listens to it or where its signal comes from, and is one for each channel of its line. */
function losesNothing(here: Here, gear: ast.Gear, run: ast.Statement): boolean {
  const { checked, lowered } = here.analysis;
  const piece = lowered.rig.pieces.get(`gear:${gear.name}`);
  if (!checked || !piece || gear.clauses.some(({ $type }) => $type !== 'At')) return false;
  const feeder = feederOf(here.analysis, piece);
  const heard = listeners(checked.network);
  const there = heard.has(piece.id) ? heard.get(piece.id)?.at : feeder && placed(checked.rig, feeder);
  if (!samePlace(piece.at, there)) return false;
  const place = here.placeOf(run);
  const input = lowered.rig.inputs.find(({ id }) => id === place);
  const output = lowered.rig.outputs.find(({ id }) => id === place);
  const channels = (input?.to ?? output?.from)?.ports.length ?? 1;
  const inputs = piece.model.ports.filter(({ direction }) => direction === 'input');
  if (channels > 1 && inputs.length < channels) return false;
  // Two alike without a name, one behind the other, read as a slip.
  const joints = piece.model.ports.flatMap((port) => {
    const { key } = socket(piece, port);
    return [...(checked.network.entering.get(key) ?? []), ...(checked.network.leaving.get(key) ?? [])];
  });
  return joints.every(({ from, to }) => [from.piece, to.piece].every((each) => each.kind !== 'fresh' || each.model.id !== piece.model.id));
}
