/** A rig that says there is no house, and lines or mixes in it that go there all the same. */
import { runName } from '../solve/naming';
import type { Network } from '../solve/network';
import { BESIDE } from '../words/beside';
import { type Finding, finding } from './finding';

export function noHouse({ rig }: Network): Finding[] {
  const { noHouse: said } = rig;
  if (said === undefined) return [];
  const mixes = said === 'none' ? [...rig.mixes.values()].filter(({ house }) => house) : [];
  if (rig.house.length + mixes.length === 0) return [];
  return [
    finding(
      'house/not-there',
      'house',
      { said, lines: rig.house.map((run) => runName(rig, run)), mixes: mixes.map(({ label }) => label) },
      {
        about: [...rig.house, ...mixes].map(({ id }) => id),
        related: [...rig.house, ...mixes].slice(0, 6).map(({ place }) => ({ place, says: BESIDE.toHouse })),
        fixes: rig.house.length === 0 ? [{ kind: 'rewrite', place: 'house', with: 'ours' }] : [],
      },
    ),
  ];
}
