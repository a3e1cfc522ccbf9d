/** What a plan brings or puts on the air gets a frequency that is clear of all that is there, where there is one; what has one keeps it. */
import { chooseSome, type Left } from '#engine';
import type { Piece } from '#rig';
import type { Assembled } from './assemble';

/** A set that stays without a frequency; `crowded` where all that it tunes is too near to others. */
export interface Untuned {
  readonly piece: Piece;
  readonly why: Left['why'] | 'crowded';
}

export interface Tuned {
  /** The same where nothing is to be set. */
  readonly assembled: Assembled;
  readonly untuned: readonly Untuned[];
}

export function tuned(assembled: Assembled): Tuned {
  const { rig, gear } = assembled;
  const { choices, left } = chooseSome(rig, new Set([...gear.map(({ piece }) => piece.id), ...usedWithout(assembled)]));
  const untuned = [
    ...left.map(({ set, why }): Untuned => ({ piece: set.piece, why })),
    ...choices.flatMap(({ set, hz }): Untuned[] => (hz === undefined ? [{ piece: set.piece, why: 'crowded' }] : [])),
  ];
  const pieces = new Map(rig.pieces);
  for (const { set, hz } of choices) if (hz !== undefined) pieces.set(set.piece.id, { ...set.piece, onHz: hz });
  if (choices.every(({ hz }) => hz === undefined)) return { assembled, untuned };
  const fresh = gear.map((each) => ({ ...each, piece: pieces.get(each.piece.id) ?? each.piece }));
  return { assembled: { ...assembled, rig: { ...rig, pieces }, gear: fresh }, untuned };
}

/** Ids of what was there already, has no frequency, and is in use from now on. */
function usedWithout({ rig, inputs, outputs }: Assembled): string[] {
  const sources = inputs.flatMap(({ choice: { wanted } }) => (wanted.houseOnly ? [] : [wanted.source.id]));
  const used = new Set([...sources, ...outputs.flatMap(({ run }) => run.via.map(({ piece }) => piece))]);
  return [...used].filter((id) => rig.pieces.get(id)?.onHz === undefined);
}
