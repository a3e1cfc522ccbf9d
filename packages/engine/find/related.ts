/** Other places that a finding is about. */

import type { Place } from '#rig';
import { BESIDE } from '../words/beside';

export interface Related {
  readonly place: Place;
  readonly says: string;
}

/** Where a source is written, beside what is found behind it. */
export function madeHere(source: { readonly label: string; readonly place: Place }): Related {
  return { place: source.place, says: BESIDE.madeHere(source.label) };
}
