/** Cures that more than one subject offers: other ports, a swap of two lines, a box in between, a way out for a mix. */
import type { Piece } from '#rig';
import type { Fix } from './fix';

/** Another kind of microphone for a source that is taken by one. */
export function otherMicrophone({ id, kind, model }: Piece, other: string): Fix[] {
  const changes = kind === 'source' && model.lineage.includes('microphone') && !model.lineage.includes(other);
  return changes ? [{ kind: 'set-model', piece: id, model: other }] : [];
}
