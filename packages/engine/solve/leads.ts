/** The lead for every joint: its ends, whether it is balanced, its length from where things stand. */
import type { Performer, Piece, Position, Rig, SignalKind } from '#rig';
import { type Lead, leadBetween } from './mating';
import { type Joint, type Network, type Socket, socket } from './network';
import { waysOf } from './ways';

/** Leads follow edges, hang and are coiled: common practice, no source. */
export const SLACK_FACTOR = 1.2;
export const SLACK_M = 2;
/** Up from the floor to a socket or an ear, of a lead that is as long as it is: common practice, no source. */
export const RISE_M = 1;

export interface JointLead {
  readonly joint: Joint;
  /** Undefined inside a machine, by radio, or where nothing joins the two. */
  readonly lead?: Lead;
  /** As what the signal runs on it, as far as it is known: what is passed on is of the kind that came in. */
  readonly kind?: SignalKind;
  /** Metres along the floor with slack; undefined where a place is not known. */
  readonly needsM?: number;
  /** The length to take, from those that can be had. Undefined where unknown, or where the gear brings its own. */
  readonly lengthM?: number;
  /** The gear's own lead, in metres, where it has one. */
  readonly ownM?: number;
  /** Where its two ends are, as far as it is known. */
  readonly fromAt?: Position;
  readonly toAt?: Position;
}

/** A lead for each joint, in the order of the joints. Lengths are metres. */
export function leads(net: Network): JointLead[] {
  const kinds = new Map<Joint, SignalKind | undefined>();
  const places = new Map(worn(net));
  return net.joints.map((joint) => {
    const kind = kindOn(net, joint, kinds);
    const [fromAt, toAt] = [joint.from, joint.to].map(({ piece }) => whereIs(net, piece, places));
    const needsM = floorLength(fromAt, toAt);
    const reachM = reach(fromAt, toAt);
    const own = joint.from.port.tailM ?? joint.to.port.tailM;
    const lead = leadBetween(joint.from.port, joint.to.port, kind);
    const known = { joint, lead, kind, needsM, ownM: own, fromAt, toAt };
    if (own !== undefined && (reachM === undefined || reaches(own, reachM) || sameHouse(joint))) return known;
    const wanted = needsM === undefined ? undefined : needsM - (own ?? 0);
    return { ...known, lengthM: wanted === undefined ? undefined : stockLength(net.rig, wanted) };
  });
}

/** Metres of lead between the two, as far as they are known: what is not known counts as none. */
export function metresOf({ lead, lengthM, ownM }: JointLead): number {
  return lead ? (lengthM ?? 0) + (ownM ?? 0) : 0;
}

function sameHouse(joint: Joint): boolean {
  return joint.from.piece.holding?.how === 'theirs' && joint.to.piece.kind === 'house';
}

/** Two that are not known count as one. */
export function samePlace(one: Position | undefined, other: Position | undefined): boolean {
  return one?.x === other?.x && one?.y === other?.y;
}

function kindOn(net: Network, joint: Joint, known: Map<Joint, SignalKind | undefined>): SignalKind | undefined {
  const passing: Joint[] = [];
  let kind: SignalKind | undefined;
  for (let at: Joint | undefined = joint; at; ) {
    if (known.has(at)) {
      kind = known.get(at);
      break;
    }
    // Until more is known: what is plugged round in a circle is of no kind.
    known.set(at, undefined);
    passing.push(at);
    const { piece, port }: Socket = at.from;
    const wanted = at.to.port.modes.map((mode) => mode.kind);
    if (port.modes.length > 0) {
      kind = port.modes.find((mode) => wanted.includes(mode.kind))?.kind ?? port.modes[0]?.kind;
      break;
    }
    const before: Joint | undefined = (port.tie?.inputs ?? []).flatMap((input) => net.entering.get(`${piece.id}.${input}`) ?? [])[0];
    if (!before && !net.rig.sources.has(piece.id)) kind = wanted[0];
    at = before;
  }
  for (const each of passing) known.set(each, kind);
  return kind;
}

/** |dx| + |dy|, because leads follow edges. Undefined where one of the two is not known. */
export function wayAlong(from: Position | undefined, to: Position | undefined): number | undefined {
  return from && to && Math.abs(from.x - to.x) + Math.abs(from.y - to.y);
}

/** What to buy: the way along the edges, with slack. Undefined where one of the two is not known. */
export function floorLength(from: Position | undefined, to: Position | undefined): number | undefined {
  const way = wayAlong(from, to);
  return way === undefined ? undefined : way * SLACK_FACTOR + SLACK_M;
}

/** What a lead that there is has to reach: the way along the edges, and up; nothing in one place, as on one body or in one rack. */
export function reach(from: Position | undefined, to: Position | undefined): number | undefined {
  const way = wayAlong(from, to);
  return way === undefined || samePlace(from, to) ? way : way + RISE_M;
}

/** Whether a lead of so many metres does. */
export function reaches(ownM: number, reachM: number): boolean {
  return reachM <= ownM + 1e-9;
}

/** The shortest length that can be had and is enough; beyond the longest, the least number of the longest joined. */
export function stockLength(rig: Rig, needed: number): number {
  const { lengthsM } = rig.settings;
  const longest = lengthsM.at(-1) ?? needed;
  return lengthsM.find((length) => length >= needed - 1e-9) ?? Math.ceil(needed / longest) * longest;
}

/**
 * By piece, who listens to what ends at their ears: the pack on the belt, the amplifier beside the chair, the earphones. Whose they are
 * is known where the mix is for one person alone, else undefined.
 */
export function listeners(net: Network): Map<string, Performer | undefined> {
  const known = new Map<string, Performer | undefined>();
  for (const { mix, line, how } of waysOf(net)) {
    if (how !== 'phones') continue;
    const listener = mix.for.length === 1 ? net.rig.performers.get(mix.for[0] ?? '') : undefined;
    for (const { to } of line.joints.toReversed()) {
      known.set(to.piece.id, listener);
      if (!isEarphones(to.piece)) break;
    }
  }
  return known;
}

/** Such pieces without a name are with their listener. */
function* worn(net: Network): Generator<[string, Position | undefined]> {
  for (const [id, listener] of listeners(net)) {
    const piece = net.rig.pieces.get(id);
    if (piece?.kind === 'fresh') yield [id, piece.at ?? listener?.at];
  }
}

/** It takes what drives ears, and gives nothing on. */
function isEarphones({ model }: Piece): boolean {
  return (
    model.ports.length > 0 &&
    model.ports.every(({ direction, modes }) => direction === 'input' && modes.some(({ kind }) => kind === 'phones'))
  );
}

/**
 * Where a piece stands: its own place or its player's. A fresh piece lies where its signal comes from: at the player, or at
 * the device that a mix leaves. `known` keeps what was found.
 */
function whereIs(net: Network, piece: Piece, known: Map<string, Position | undefined>): Position | undefined {
  const passed: string[] = [];
  let at: Piece | undefined = piece;
  let found: Position | undefined;
  while (at && found === undefined) {
    if (known.has(at.id)) {
      found = known.get(at.id);
      break;
    }
    // Until more is known: gear that is plugged round in a circle is nowhere.
    known.set(at.id, undefined);
    passed.push(at.id);
    found = placed(net.rig, at);
    const here: Piece = at;
    at =
      here.kind === 'fresh' ? here.model.ports.flatMap((port) => net.entering.get(socket(here, port).key) ?? [])[0]?.from.piece : undefined;
  }
  for (const id of passed) known.set(id, found);
  return found;
}

export function placed(rig: Rig, piece: Piece): Position | undefined {
  if (piece.at) return piece.at;
  const source = rig.sources.get(piece.id);
  if (source?.by) return rig.performers.get(source.by)?.at;
  const owner = piece.for[0];
  return owner === undefined ? undefined : rig.performers.get(owner)?.at;
}
