/** The lead for every joint: its ends, whether it is balanced, its length from where things stand. */
import type { Performer, Piece, Position, Rig, SignalKind } from '#rig';
import { boxed, isMovable } from '../cure/cures';
import { leadId } from '../find/about';
import { sides } from '../find/connectors/sides';
import { type Finding, type Fix, finding } from '../find/finding';
import { type Lead, leadBetween, mates } from './mating';
import { runName, socketName } from './naming';
import { type Joint, type Network, type Socket, socket, stepOf } from './network';
import { freePortsFor } from './ports';
import { waysOf } from './ways';

/** Above this an unbalanced lead hums and dulls: common practice, no source. */
const LONG_UNBALANCED_M = 6;
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

export function connectors(net: Network, all: readonly JointLead[]): Finding[] {
  const shortTails = tailsAlike(all);
  return all.flatMap((each) => {
    const { joint, lead } = each;
    const run = joint.runs[0];
    if (!run) return [];
    const step = stepOf(run, joint.to.piece);
    const end = run.kind === 'input' ? `${run.id}/port` : run.kind === 'house' ? `${run.id}/takes` : run.place;
    const place = step >= 0 ? `${run.id}/via.${step}` : end;
    const names = { from: socketName(joint.from), to: socketName(joint.to), run: runName(net.rig, run) };
    const about = [leadId(joint.from, joint.to)];
    if (!mates(joint.from.port, joint.to.port)) {
      const movable = run.kind === 'input' && step < 0 && isMovable(run);
      const free = movable
        ? freePortsFor(
            net,
            joint,
            joint.from.port.modes.map((mode) => mode.kind),
          )
        : [];
      const fixes: Fix[] = free.slice(0, 3).map((port) => ({ kind: 'move', run: run.id, port }));
      return [
        finding('connectors/no-mate', place, { ...names, ends: [joint.from.port.connector, joint.to.port.connector] }, { about, fixes }),
      ];
    }
    const needed = each.needsM;
    const found = sides(net, joint, place);
    const alike = shortTails.get(each);
    const wayM = wayAlong(each.fromAt, each.toAt);
    if (alike && each.ownM !== undefined && each.lengthM !== undefined && wayM !== undefined) {
      found.push(
        finding(
          'connectors/tail-too-short',
          place,
          {
            ...names,
            fixedTo: fixedTo(joint),
            box: joint[fixedTo(joint)].piece.label,
            count: alike.length,
            tailM: each.ownM,
            wayM,
            riseM: RISE_M,
            extensionM: each.lengthM,
          },
          { about: alike.map((other) => leadId(other.joint.from, other.joint.to)) },
        ),
      );
    }
    const kind = joint.from.port.modes[0]?.kind;
    if (
      lead &&
      !lead.balanced &&
      each.ownM === undefined &&
      needed !== undefined &&
      needed > LONG_UNBALANCED_M &&
      (kind === 'mic' || kind === 'instrument' || kind === 'line')
    ) {
      found.push(
        finding(
          'connectors/long-unbalanced',
          place,
          { ...names, neededM: needed, limitM: LONG_UNBALANCED_M },
          {
            about,
            // A DI makes a microphone level of it, so the line has to end where one is wanted.
            fixes:
              joint.from.piece.kind === 'source' && kind !== 'mic'
                ? boxed(net, net.linesThrough(joint)[0], 'first').filter((fix) => fix.kind === 'add-step')
                : [],
          },
        ),
      );
    }
    return found;
  });
}

function fixedTo({ from }: Joint): 'from' | 'to' {
  return from.port.tailM === undefined ? 'to' : 'from';
}

/**
 * The first of the leads that are fixed to one box, are as long as each other, end in one place and do not reach it, with all of
 * them: a box is moved, or its extensions are brought, once for all.
 */
function tailsAlike(all: readonly JointLead[]): ReadonlyMap<JointLead, readonly JointLead[]> {
  const byBox = new Map<string, [JointLead, ...JointLead[]]>();
  for (const each of all) {
    if (each.ownM === undefined || each.lengthM === undefined || !mates(each.joint.from.port, each.joint.to.port)) continue;
    const { piece } = each.joint[fixedTo(each.joint)];
    const key = JSON.stringify([piece.id, each.ownM, each.fromAt, each.toAt]);
    const alike = byBox.get(key);
    if (alike) alike.push(each);
    else byBox.set(key, [each]);
  }
  return new Map([...byBox.values()].map((alike) => [alike[0], alike]));
}
