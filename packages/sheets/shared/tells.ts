/** Parts of statements that rows tell of, where these are told apart from the rest. */
import type { Piece, Place } from '#rig';

/** The frequency of a set. */
export function frequencyAt({ id }: Pick<Piece, 'id'>): Place {
  return `${id}/on`;
}

/** Which transmitter a pack hears, and which side of it. */
export function hearingAt({ id }: Pick<Piece, 'id'>): Place {
  return `${id}/hears`;
}

/** What is set at the input where a line ends. */
export function gainAt(line: Place): Place[] {
  return [`${line}/gain`, `${line}/pad`];
}
