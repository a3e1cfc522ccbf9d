/** What our gear runs on: the mains, batteries, a computer; for how long, and how much it draws. */
import type { Model, Piece, Rig } from '#rig';
import { isRadio } from './mating';
import { isTheirs } from './path';
import { isRadioSet } from './radio/transmissions';

/** It has a socket, or an aerial. A model that is not known has no ports, and may be anything. */
export function isThing(model: Model): boolean {
  return model.ports.length === 0 || model.ports.some((port) => port.connector !== undefined || isRadio(port));
}

/** What is ours and stands on the stage. A spare stays in its case. */
export function inUse(piece: Piece): boolean {
  return piece.kind !== 'house' && !isTheirs(piece) && !piece.holding?.spare && isThing(piece.model);
}

export function runsOn({ power }: Model, kind: 'battery' | 'mains' | 'usb'): boolean {
  return new RegExp(`\\b${kind}\\b`).test(power?.from ?? '');
}

export function onBatteries(model: Model): boolean {
  return runsOn(model, 'battery');
}

/** A model says one supply. Of a radio set that is the carried part’s; its receiver takes the mains: common practice, no source. */
export function onMains(piece: Piece): boolean {
  return runsOn(piece.model, 'mains') || receiverApart(piece);
}

export function receiverApart(piece: Piece): boolean {
  return isRadioSet(piece) && onBatteries(piece.model);
}

/** A computer that the rig has as a thing of its own. */
export function isComputer({ model }: Piece): boolean {
  return model.lineage.includes('computer');
}

/** What a port of USB 3 gives, in watts: 900 mA at 5 V; one of USB 2.0 500 mA, 2.5 W (USB specifications, from memory). */
export const USB_W = { two: 2.5, three: 4.5 };

/** What asks more of the computer's USB than a port gives. */
export function overUsb(rig: Pick<Rig, 'pieces'>): Piece[] {
  return [...rig.pieces.values()].filter(
    (piece) => inUse(piece) && runsOn(piece.model, 'usb') && (piece.model.power?.watts ?? 0) > USB_W.three,
  );
}

export interface Draw {
  /** The sum of what is stated. */
  readonly watts: number;
  /** What takes the mains and does not say how much. */
  readonly unstated: readonly Piece[];
  readonly stated: readonly Piece[];
}

/** What all of ours takes from the mains. */
export function drawOf(rig: Pick<Rig, 'pieces'>): Draw {
  const things = [...rig.pieces.values()].filter((piece) => inUse(piece) && onMains(piece));
  const stated = things.filter((piece) => piece.model.power?.watts !== undefined && !receiverApart(piece));
  return {
    watts: stated.reduce((sum, { model }) => sum + (model.power?.watts ?? 0), 0),
    unstated: things.filter((piece) => !stated.includes(piece)),
    stated,
  };
}
