/** Who hears a mix by a loudspeaker, a wedge, with nothing in the ears. */
import type { Network } from './network';
import { seatsOf } from './seats';
import { waysOf } from './ways';

/** The ids of these performers. Whoever has a pack or a phones socket of their own besides is none of them. */
export function withOpenEars(net: Network): ReadonlySet<string> {
  const ways = waysOf(net);
  const seats = seatsOf(net);
  const { pieces } = net.rig;
  return net.kept.once('open ears', undefined, [ways, seats, pieces], () => {
    const packs = [...pieces.values()].flatMap(({ hears, for: people }) => (hears ? people : []));
    const seated = [...seats.values()].flat().flatMap(({ own, performer }) => (own ? performer.id : []));
    const closed = new Set([...packs, ...seated]);
    return new Set(ways.flatMap(({ mix, how }) => (how === 'loudspeaker' ? mix.for.filter((id) => !closed.has(id)) : [])));
  });
}
