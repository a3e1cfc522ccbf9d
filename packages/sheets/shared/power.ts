/** What our gear runs on: the mains, batteries, a computer. */
import { arrives, inUse, isComputer, isTheirs, isThing, onMains, receiverApart, runsOn } from '#engine';
import type { Piece, Position } from '#rig';
import type { Context } from './context';

/** What of a piece goes into the socket of the mains. */
export function onMainsAs(piece: Piece): string {
  return receiverApart(piece) ? `receiver of ${piece.label}` : piece.label;
}

/** A source that is no thing of its own: it plays inside our computer. */
export function isInComputer(piece: Piece): boolean {
  return piece.kind === 'source' && !isTheirs(piece) && !isThing(piece.model);
}

export interface Computer {
  /** What plays inside it; where nothing does, what draws its power from it. */
  readonly serves: readonly Piece[];
  /** The gear that it is plugged into. */
  readonly beside?: Piece;
}

/** The rig does not write its computer: it is there where something plays inside it, or runs on its USB. */
export function computerOf({ checked: { rig }, linesOf }: Context): Computer | undefined {
  const pieces = [...rig.pieces.values()];
  const fed = pieces.filter((piece) => inUse(piece) && runsOn(piece.model, 'usb'));
  const inside = pieces.filter(isInComputer);
  if (fed.length + inside.length === 0) return undefined;
  const into = rig.inputs
    .filter(({ takes }) => inside.some(({ id }) => id === takes?.id))
    .flatMap(({ id }) => linesOf(id).flatMap((line) => (arrives(line) && line.end ? [line.end.piece] : [])));
  return { serves: inside.length > 0 ? inside : fed, beside: fed[0] ?? into[0] };
}

export interface MainsSocket {
  readonly label: string;
  /** Of the computer, the gear beside it. */
  readonly piece?: Piece;
  readonly computer: boolean;
}

/** One for each thing of ours that takes the mains, the computer last. What draws its power from the computer counts with it. */
export function mainsSockets(context: Context): MainsSocket[] {
  const things = [...context.checked.rig.pieces.values()].filter((piece) => inUse(piece) && onMains(piece));
  // One that the rig has as a thing of its own is among them, or on its battery.
  const written = [...context.checked.rig.pieces.values()].some((piece) => inUse(piece) && isComputer(piece));
  const computer = written ? undefined : computerOf(context);
  return [
    ...things.map((piece) => ({ label: onMainsAs(piece), piece, computer: false })),
    ...(computer ? [{ label: 'computer', piece: computer.beside, computer: true }] : []),
  ];
}

/** Where pieces are plugged in, as the leads have it: fresh pieces have no place of their own. */
export function standing(leads: Context['checked']['leads']): ReadonlyMap<Piece, Position> {
  const found = new Map<Piece, Position>();
  for (const { joint, fromAt, toAt } of leads) {
    if (fromAt) found.set(joint.from.piece, fromAt);
    if (toAt) found.set(joint.to.piece, toAt);
  }
  return found;
}
