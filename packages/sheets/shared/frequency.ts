/** The frequency of a set, as every sheet tells it. */
import { hertz, isHopping } from '#engine';
import type { Piece } from '#rig';

/** What a set does that no frequency is set of: on every sheet the same words. */
export const HOPS = 'looks for free channels';

/** Nothing where the rig has yet to say. */
export function frequencyOf(piece: Pick<Piece, 'model' | 'onHz'>): string | undefined {
  if (!isHopping(piece)) return piece.onHz === undefined ? undefined : hertz(piece.onHz);
  const { tunesHz } = piece.model;
  return [tunesHz && `${Number((tunesHz.low / 1e9).toFixed(1))} GHz`, HOPS].filter(Boolean).join(', ');
}

/** In the band that wireless networks are in, too. */
export function isAmongNetworks(piece: Piece): boolean {
  const { tunesHz } = piece.model;
  return isHopping(piece) && tunesHz !== undefined && tunesHz.low < 2.5e9 && tunesHz.high > 2.4e9;
}
