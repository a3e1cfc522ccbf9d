/** Whether what a performer wears in their ears reaches the socket it is plugged into. */
import type { Mix, Model, OutputRun, Performer, Position } from '#rig';
import { floorLength, type JointLead, placed, reach, reaches, stockLength, wayAlong } from './leads';
import { type Network, push, type Socket } from './network';
import { type Way, waysOf } from './ways';

/** The most that a lead of earphones or headphones has as a rule, for those that say nothing of theirs: common practice, no source. */
const USUAL_TAIL_M = 3;

export interface ShortEarphones {
  readonly performer: Performer;
  readonly mix: Mix;
  readonly run: OutputRun;
  readonly socket: Socket;
  /** Nothing where the rig does not say what they wear. */
  readonly model?: Model;
  readonly tailM: number;
  /** Nothing says how long their lead is. */
  readonly assumed: boolean;
  /** Metres along the edges of the floor. */
  readonly wayM: number;
  /** The length to take, from those that can be had. */
  readonly extensionM: number;
}

/**
 * Of each performer's mixes, those that no socket of theirs can be reached for. Nothing is said where
 * one of the places is not known, nor of a socket that is worn.
 */
export function shortEarphones(net: Network, joined: readonly JointLead[]): readonly ShortEarphones[] {
  const { performers, settings } = net.rig;
  const ways = waysOf(net);
  const places = placesOf(net, joined, ways);
  return net.kept.once('short earphones', undefined, [ways, performers, settings, ...places], () => findShort(net, ways, places));
}

/** Where the gear stands that each way ends at. */
function placesOf(net: Network, joined: readonly JointLead[], ways: readonly Way[]): readonly (Position | undefined)[] {
  let stands: Map<string, Position> | undefined;
  return ways.map(({ end: { piece } }) => {
    const known = placed(net.rig, piece);
    if (known) return known;
    // As its leads say.
    stands ??= standsOf(joined);
    return stands.get(piece.id);
  });
}

function standsOf(joined: readonly JointLead[]): Map<string, Position> {
  const stands = new Map<string, Position>();
  for (const { joint, fromAt, toAt } of joined) {
    if (fromAt) stands.set(joint.from.piece.id, fromAt);
    if (toAt) stands.set(joint.to.piece.id, toAt);
  }
  return stands;
}

function findShort(net: Network, all: readonly Way[], places: readonly (Position | undefined)[]): ShortEarphones[] {
  const placeOf = new Map(all.map((way, index) => [way, places[index]]));
  /** Sockets that somebody has already: of two that are equally near, the next one takes the other. */
  const taken = new Set<string>();
  const heardBy = new Map<string, Way[]>();
  for (const way of all) {
    if (way.how !== 'phones' || way.end.port.direction !== 'output') continue;
    for (const listener of new Set(way.mix.for)) push(heardBy, listener, way);
  }
  return [...net.rig.performers.values()].flatMap((performer) => {
    const { at, ears: model } = performer;
    if (!at) return [];
    const stated = model?.ports.find(({ direction, tailM }) => direction === 'input' && tailM !== undefined)?.tailM;
    const tailM = stated ?? USUAL_TAIL_M;
    const mine = (heardBy.get(performer.id) ?? []).filter(({ end }) => belongs(end.piece.for, performer));
    const short = [...new Set(mine.map(({ mix }) => mix))].flatMap((mix): ShortEarphones[] => {
      const away = mine.filter((way) => way.mix === mix).map((way) => ({ way, from: placeOf.get(way) }));
      // The nearest, where all places are known.
      const known = away.flatMap(({ way, from }) => (from ? [{ way, from, wayM: wayAlong(from, at) ?? 0 }] : []));
      const [first, ...others] = known;
      if (!first || known.length < away.length) return [];
      const isBetter = (one: typeof first, other: typeof first) =>
        one.wayM < other.wayM || (one.wayM === other.wayM && taken.has(other.way.end.key) && !taken.has(one.way.end.key));
      const { way, from, wayM } = others.reduce((best, each) => (isBetter(each, best) ? each : best), first);
      taken.add(way.end.key);
      const { run } = way.line;
      if (reaches(tailM, reach(from, at) ?? 0) || run.kind !== 'output') return [];
      const extensionM = stockLength(net.rig, (floorLength(from, at) ?? 0) - tailM);
      return [{ performer, mix, run, socket: way.end, model, tailM, assumed: stated === undefined, wayM, extensionM }];
    });
    // They plug in once: one lead to one piece of gear is one thing to cure, however many mixes come out of it.
    return short.filter(({ socket }, index) => short.findIndex((each) => each.socket.piece === socket.piece) === index);
  });
}

/** Two on one mix have a pack each, and it says for whom; what says nothing is for all. */
export function belongs(owners: readonly string[], performer: Performer): boolean {
  return owners.length === 0 || owners.includes(performer.id);
}

/** One earpiece on a plug of its own, which gets what is on the tip: the left of what is stereo. */
export function isOneEarpiece(ears: Model | undefined): boolean {
  return ears?.ports.some(({ direction, modes }) => direction === 'input' && modes.some(({ channels }) => channels === 1)) === true;
}
