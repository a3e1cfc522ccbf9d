/** How each listener is reached: by which outputs, which pack or amplifier, on which side of it, at which frequency. */
import { isOneEarpiece, type Line, type Side, type Socket, seatsFor, socket, socketName, waysOfMix } from '#engine';
import type { Mix, Performer, Piece } from '#rig';
import type { Context } from './context';
import { unique } from './draft';
import { onAir } from './path';

export interface Listening {
  readonly performer: Performer;
  readonly mix: Mix;
  /** The outputs that it leaves by: `Interface 3`. */
  readonly channels: readonly string[];
  /** What the earphones are plugged into; nothing where that is not settled. */
  readonly at?: Socket;
  /** The loudspeakers that it is heard by where nothing is plugged in. */
  readonly loudspeakers: readonly Piece[];
  /** What sends to it, by radio. */
  readonly sender?: Piece;
  /** One side of a sender with two, for a pack that takes one. */
  readonly side?: string;
  /** The one side of a stereo mix that is all they hear: by a pack that takes one, or by one earpiece. */
  readonly only?: Side;
}

/** One for each mix of each performer, in the order of the rig. Those whose mix goes nowhere yet have no channel. */
export function listeningOf(context: Context): Listening[] {
  const { rig } = context.checked;
  return [...rig.performers.values()].flatMap((performer) =>
    [...rig.mixes.values()].filter((mix) => mix.for.includes(performer.id)).map((mix) => heardBy(context, performer, mix)),
  );
}

interface Way {
  readonly lines: readonly Line[];
  readonly at?: Socket;
  readonly sender?: Piece;
  readonly side?: string;
  /** All that is heard of the line's mix, where that is stereo. */
  readonly only?: Side;
}

function heardBy(context: Context, performer: Performer, mix: Mix): Listening {
  const { rig } = context.checked;
  const lines = rig.outputs.filter(({ carries }) => carries === mix.id).flatMap(({ id }) => context.linesOf(id));
  const air = lines.flatMap((line) => byAir(context, line, performer) ?? []);
  const way: Way = air[0] ? { ...air[0], lines: air.flatMap((each) => each.lines) } : (byWire(context, performer, mix) ?? { lines });
  const { at, sender, side, only } = way;
  const channels = unique(way.lines.flatMap(({ start }) => (start ? [socketName(start)] : [])));
  return {
    performer,
    mix,
    channels,
    loudspeakers: at ? [] : loudspeakersOf(context, mix),
    ...(at ? { at } : {}),
    ...(sender ? { sender } : {}),
    ...(side ? { side } : {}),
    ...(mix.stereo && only ? { only } : {}),
  };
}

function loudspeakersOf({ checked: { network } }: Context, mix: Mix): Piece[] {
  return unique(waysOfMix(network, mix).flatMap(({ end, how }) => (how === 'loudspeaker' ? end.piece : [])));
}

function byWire({ checked }: Context, performer: Performer, mix: Mix): Way | undefined {
  const seat = seatsFor(checked.network, performer.id, mix.id).find(({ at: { port } }) => port.direction === 'output');
  return seat && { lines: seat.lines, at: seat.at, ...(isOneEarpiece(performer.ears) ? { only: 'left' } : {}) };
}

function byAir(context: Context, line: Line, performer: Performer): Way | undefined {
  const air = onAir(line);
  if (!air) return undefined;
  const side = line.joints.at(-1)?.to.port.id;
  const pack = context.receiversOf(air.piece.id).find((each) => each.for.includes(performer.id) && (each.hears?.port ?? side) === side);
  if (!pack) return undefined;
  const out = pack.model.ports.find(({ direction }) => direction === 'output');
  const only = pack.model.sideSelect && pack.hears?.port !== undefined ? sideOf(line) : undefined;
  return {
    lines: [line],
    sender: air.piece,
    ...(out ? { at: socket(pack, out) } : {}),
    ...(pack.hears?.port ? { side: pack.hears.port } : {}),
    ...(only ? { only } : {}),
  };
}

function sideOf({ channel }: Line): Side | undefined {
  return channel === 'left' || channel === 'right' ? channel : undefined;
}
