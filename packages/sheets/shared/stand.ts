/** Which microphones stand on something. */
import { isRadioSet } from '#engine';
import type { Piece } from '#rig';

/** A microphone that is clipped to nothing and carried by nobody; no rig says more. */
export function isOnStand(piece: Piece): boolean {
  return (
    piece.kind === 'source' &&
    !isRadioSet(piece) &&
    !piece.model.lineage.includes('clip-on-mic') &&
    piece.model.ports.some(({ modes }) => modes.some(({ sensitivityVPerPa }) => sensitivityVPerPa !== undefined))
  );
}
