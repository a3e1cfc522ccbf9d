/** What a plan brings on the air gets a frequency that is clear of all that is there, where there is one. */
import { chooseSome } from '#engine';
import type { Assembled } from './assemble';

/** The same where nothing is to be set. */
export function tuned(assembled: Assembled): Assembled {
  const { rig, gear } = assembled;
  const { choices } = chooseSome(rig, new Set(gear.map(({ piece }) => piece.id)));
  const pieces = new Map(rig.pieces);
  for (const { set, hz } of choices) if (hz !== undefined) pieces.set(set.piece.id, { ...set.piece, onHz: hz });
  if (choices.every(({ hz }) => hz === undefined)) return assembled;
  return { ...assembled, rig: { ...rig, pieces }, gear: gear.map((each) => ({ ...each, piece: pieces.get(each.piece.id) ?? each.piece })) };
}
