/**
 * Whose clock everything digital runs by. What comes in over an optical or a coaxial lead, or into a socket for a clock alone (BNC), brings its sender's clock with it, and a receiver can follow
 * one at a time (common practice, no source): so in all that such leads join there is one master, and the others follow it, step by step.
 * A computer follows the gear that it is plugged into.
 */
import { CONNECTORS, type Piece, type Port } from '#rig';
import type { Joint, Network } from './network';
import { inUse } from './power';

export interface Following {
  readonly piece: Piece;
  /** The lead that the clock comes by. */
  readonly by: Joint;
}

export interface Clock {
  /** What keeps the time: what nothing brings a clock to; where each has one from another, what makes the mixes. */
  readonly master: Piece;
  /** In the order in which they are set. */
  readonly follows: readonly Following[];
  /** Others that keep a time of their own and send it to what follows the master. */
  readonly others: readonly Following[];
}

/** One for each group of gear that digital leads join. Pure. */
export function clocksOf(net: Network): readonly Clock[] {
  const links = net.joints.filter(({ from, to }) => isClocked(from.port) && isClocked(to.port) && from.piece !== to.piece);
  return net.kept.once('clocks', undefined, links, () => clocksBy(links));
}

function clocksBy(links: readonly Joint[]): Clock[] {
  const groups = grouped(links);
  return groups.map((group) => {
    const pieces = [...new Set(group.flatMap(({ from, to }) => [from.piece, to.piece]))];
    const free = pieces.filter((piece) => !group.some(({ to }) => to.piece === piece));
    const master = free[0] ?? pieces.find(({ model }) => model.mixes !== undefined) ?? (pieces[0] as Piece);
    const follows: Following[] = [];
    const set = new Set([master]);
    const queue = [master];
    for (const at of queue) {
      for (const by of group) {
        const { piece } = by.to;
        if (by.from.piece !== at || set.has(piece)) continue;
        set.add(piece);
        queue.push(piece);
        follows.push({ piece, by });
      }
    }
    const others = free.slice(1).flatMap((piece): Following[] => {
      const by = group.find(({ from }) => from.piece === piece);
      return by ? [{ piece, by }] : [];
    });
    return { master, follows, others };
  });
}

/** What runs by the rate of the rig and does not have it, as far as it states its rates. */
export function withoutRate({ rig }: Network): Piece[] {
  const { rateHz } = rig.settings;
  return [...rig.pieces.values()].filter((piece) => {
    const { ratesHz } = piece.model;
    return inUse(piece) && ratesHz !== undefined && !ratesHz.includes(rateHz);
  });
}

/** The rates that all of it has, in rising order. */
export function commonRates({ rig }: Network): number[] {
  const all = [...rig.pieces.values()].filter(inUse).flatMap(({ model }) => (model.ratesHz ? [model.ratesHz] : []));
  return (all[0] ?? []).filter((rate) => all.every((rates) => rates.includes(rate))).toSorted((a, b) => a - b);
}

function isClocked({ connector, modes }: Port): boolean {
  const family = connector && CONNECTORS[connector].family;
  return (family === 'optical' || family === 'coaxial' || family === 'bnc') && modes.some(({ kind }) => kind === 'digital');
}

/** Links that have gear in common, directly or not. */
function grouped(links: readonly Joint[]): Joint[][] {
  const groups: { readonly pieces: Set<Piece>; readonly links: Joint[] }[] = [];
  for (const link of links) {
    const ends = [link.from.piece, link.to.piece];
    const touching = groups.filter(({ pieces }) => ends.some((end) => pieces.has(end)));
    const [first, ...more] = touching;
    const group = first ?? { pieces: new Set<Piece>(), links: [] };
    if (!first) groups.push(group);
    for (const other of more) {
      for (const piece of other.pieces) group.pieces.add(piece);
      group.links.push(...other.links);
      groups.splice(groups.indexOf(other), 1);
    }
    for (const end of ends) group.pieces.add(end);
    group.links.push(link);
  }
  return groups.map((group) => group.links);
}
