/** How each listener is reached: by which outputs, which pack or amplifier, on which side of it, at which frequency. */
import { belongs, isOneEarpiece, type Line, type Side, type Socket, socket, socketName } from '#engine';
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
  readonly line: Line;
  readonly at?: Socket;
  readonly sender?: Piece;
  readonly side?: string;
  /** All that is heard of the line's mix, where that is stereo. */
  readonly only?: Side;
}

function heardBy(context: Context, performer: Performer, mix: Mix): Listening {
  const { rig } = context.checked;
  const lines = rig.outputs.filter(({ carries }) => carries === mix.id).flatMap(({ id }) => context.linesOf(id));
  const ways = lines.flatMap((line) => wayOf(context, line, performer) ?? []);
  const [first] = ways;
  const channels = unique(
    (ways.length > 0 ? ways.map(({ line }) => line) : lines).flatMap(({ start }) => (start ? [socketName(start)] : [])),
  );
  return {
    performer,
    mix,
    channels,
    ...(first?.at ? { at: first.at } : {}),
    ...(first?.sender ? { sender: first.sender } : {}),
    ...(first?.side ? { side: first.side } : {}),
    ...(mix.stereo && first?.only ? { only: first.only } : {}),
  };
}

function wayOf(context: Context, line: Line, performer: Performer): Way | undefined {
  const air = onAir(line);
  if (!air) {
    const at = line.open.find(({ piece, port }) => belongs(piece.for, performer) && port.modes.every(({ kind }) => kind === 'phones'));
    return at && { line, at, ...(isOneEarpiece(performer.ears) ? { only: 'left' } : {}) };
  }
  const side = line.joints.at(-1)?.to.port.id;
  const pack = context.receiversOf(air.piece.id).find((each) => each.for.includes(performer.id) && (each.hears?.port ?? side) === side);
  if (!pack) return undefined;
  const out = pack.model.ports.find(({ direction }) => direction === 'output');
  const only = pack.model.sideSelect && pack.hears?.port !== undefined ? sideOf(line) : undefined;
  return {
    line,
    sender: air.piece,
    ...(out ? { at: socket(pack, out) } : {}),
    ...(pack.hears?.port ? { side: pack.hears.port } : {}),
    ...(only ? { only } : {}),
  };
}

function sideOf({ channel }: Line): Side | undefined {
  return channel === 'left' || channel === 'right' ? channel : undefined;
}
