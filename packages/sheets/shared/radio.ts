/** What goes by radio: the sheets count it in one way. */
import { isRadio } from '#engine';
import type { Piece } from '#rig';

/** What sends, whoever it belongs to: radio microphones and transmitters. A pack only listens. */
export function isOnAir(piece: Piece): boolean {
  return piece.holding?.how !== 'spare' && (piece.onHz !== undefined || sends(piece));
}

function sends(piece: Piece): boolean {
  if (piece.hears) return false;
  return isRadioSet(piece) || piece.model.ports.some((port) => port.direction === 'output' && isRadio(port));
}

/** A carried part and its receiver, as one thing: a radio microphone, an instrument link. */
export function isRadioSet({ kind, model }: Piece): boolean {
  return kind === 'source' && model.tunesHz !== undefined;
}
