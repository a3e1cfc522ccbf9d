/** Whether what a performer wears in their ears reaches the socket it is plugged into. */
import type { Mix, Model, OutputRun, Performer, Position, Rig } from '#rig';
import { floorLength, type JointLead, placed, reach, reaches, stockLength, wayAlong } from './leads';
import { type Line, type Network, push, type Socket } from './network';
import { type Seat, seatsOf, tailOf } from './seats';
import { type Way, waysOf } from './ways';

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
  const seats = seatsOf(net);
  return net.kept.once('short earphones', undefined, [seats, ways, performers, settings, ...places], () => {
    const placeOf = new Map(ways.map(({ line }, index) => [line, places[index]]));
    return findShort(net.rig, seats, placeOf);
  });
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

function findShort(
  rig: Rig,
  all: ReadonlyMap<string, readonly Seat[]>,
  placeOf: ReadonlyMap<Line, Position | undefined>,
): ShortEarphones[] {
  const byListener = new Map<Performer, (readonly Seat[])[]>();
  for (const seats of all.values()) if (seats[0]) push(byListener, seats[0].performer, seats);
  return [...rig.performers.values()].flatMap((performer) => {
    const { at, ears: model } = performer;
    if (!at) return [];
    const { tailM, assumed } = tailOf(performer);
    const short = (byListener.get(performer) ?? []).flatMap((mine): ShortEarphones[] => {
      const seats = mine.filter((seat) => seat.at.port.direction === 'output');
      const known = seats.flatMap((seat) => {
        const from = seat.lines[0] && placeOf.get(seat.lines[0]);
        return from ? [{ seat, from, wayM: wayAlong(from, at) ?? 0 }] : [];
      });
      // The nearest, where all places are known; of those that are equally near their own, which is the first.
      const [first, ...others] = known;
      if (!first || known.length < seats.length) return [];
      const { seat, from, wayM } = others.reduce((best, each) => (each.wayM < best.wayM ? each : best), first);
      const run = seat.lines[0]?.run;
      if (reaches(tailM, reach(from, at) ?? 0) || run?.kind !== 'output') return [];
      const extensionM = stockLength(rig, (floorLength(from, at) ?? 0) - tailM);
      return [{ performer, mix: seat.mix, run, socket: seat.at, model, tailM, assumed, wayM, extensionM }];
    });
    // They plug in once: one lead to one piece of gear is one thing to cure, however many mixes come out of it.
    return short.filter(({ socket }, index) => short.findIndex((each) => each.socket.piece === socket.piece) === index);
  });
}

/** One earpiece on a plug of its own, which gets what is on the tip: the left of what is stereo. */
export function isOneEarpiece(ears: Model | undefined): boolean {
  return ears?.ports.some(({ direction, modes }) => direction === 'input' && modes.some(({ channels }) => channels === 1)) === true;
}
