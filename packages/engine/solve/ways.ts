/** The ways of a mix: what comes to the gear that makes it, by links that carry several channels, and where it comes out. */
import type { Mix, Piece, Port } from '#rig';
import { isRadio } from './mating';
import type { Line, Network, Socket } from './network';

/** One way in which a mix comes out of the rig. */
export interface Way {
  readonly mix: Mix;
  readonly line: Line;
  readonly end: Socket;
  /** By a loudspeaker: a wedge, for whoever wears no earphones. */
  readonly how: 'radio' | 'phones' | 'loudspeaker' | 'other';
}

/** The same list as long as all that can touch one of them is the same. */
export function waysOf(net: Network): readonly Way[] {
  return net.memory.once('ways', undefined, () => findWays(net));
}

function findWays(net: Network): readonly Way[] {
  const ways = waysAmong(net, net.lines);
  return net.kept.once('ways', undefined, ways, () => ways);
}

/** Those of one mix. */
export function waysOfMix(net: Network, mix: Mix): Way[] {
  return waysAmong(net, net.linesOf(mix.id));
}

function waysAmong(net: Network, lines: readonly Line[]): Way[] {
  const ways: Way[] = [];
  for (const line of lines) {
    if (line.run.kind !== 'output') continue;
    const way = net.memoryOf(line.run).once('way', line, () => wayOf(net, line));
    if (way) ways.push(way);
  }
  return ways;
}

function wayOf(net: Network, line: Line): Way | undefined {
  const mix = net.rig.mixes.get(line.signal ?? '');
  const ends = line.open.length > 0 ? line.open : line.end ? [line.end] : [];
  const [first] = ends;
  if (!mix || !first) return undefined;
  const radio = ends.find((end) => isRadio(end.port));
  const phones = ends.find((end) => drivesEarphones(net, end));
  const bare = ends.every(({ piece }) => piece.model.lineage.includes('loudspeaker')) ? 'loudspeaker' : 'other';
  return { mix, line, end: radio ?? phones ?? first, how: radio ? 'radio' : phones ? 'phones' : bare };
}

export function drivesEarphones(net: Network, at: Socket): boolean {
  return driverOf(net, at)?.port.modes.some(({ kind }) => kind === 'phones') === true;
}

/** The output that drives a socket: itself, or what feeds it where it only passes the signal on. */
export function driverOf(net: Network, at: Socket): Socket | undefined {
  const last = backToDriver(net, at).at(-1);
  return last && isDriver(last.port) ? last : undefined;
}

/** What is somebody's where a way ends: what is plugged into, or what drives it. Gear that makes mixes makes them for all, whoever it is beside. */
export function ownedBy(net: Network, at: Socket): Piece | undefined {
  return backToDriver(net, at).find(({ piece }) => piece.for.length > 0 && !piece.model.mixes)?.piece;
}

/** From a socket back to what drives it, as far as anything feeds it. */
function backToDriver(net: Network, at: Socket): readonly Socket[] {
  const back = new Map<string, Socket>();
  for (let now: Socket | undefined = at; now && !back.has(now.key); ) {
    const { key, piece, port }: Socket = now;
    back.set(key, now);
    if (isDriver(port)) break;
    const inputs: readonly string[] = port.direction === 'input' ? [port.id] : (port.tie?.inputs ?? []);
    now = inputs.flatMap((id) => net.entering.get(`${piece.id}.${id}`) ?? [])[0]?.from;
  }
  return [...back.values()];
}

/** A leg of plain wire that says what it carries, and of no drive of its own, drives nothing. */
function isDriver({ direction, modes, tie }: Port): boolean {
  const wire = tie?.how === 'parallel' && modes.every(({ maxDbu, impedanceOhm }) => maxDbu === undefined && impedanceOhm === undefined);
  return direction === 'output' && modes.length > 0 && !wire;
}

/** Whether a receiver plays what is sent this way: its transmitter, and its side where it is set to one. */
export function isTunedTo({ hears }: Piece, { line, end, how }: Way): boolean {
  if (how !== 'radio' || hears?.piece !== end.piece.id) return false;
  return hears.port === undefined || hears.port === line.joints.at(-1)?.to.port.id;
}

/** How what lands on some gear comes to a device. */
export interface Route {
  /** From the gear it lands on to the last before the device; nothing where it lands on the device itself. */
  readonly gear: readonly Piece[];
  /** Every link on the way carries numbers, so that a level stays what it was. */
  readonly digital: boolean;
}

/**
 * The gear whose inputs come into a device by a link that carries several channels, directly or by way of other gear, by the
 * gear's id; the device itself is the first. Each device is worked out once, and what is found is the same as long as the links are.
 */
export function router(net: Network): (device: string) => ReadonlyMap<string, Route> {
  return net.memory.once('routes', undefined, () => makeRouter(net));
}

function makeRouter(net: Network): (device: string) => ReadonlyMap<string, Route> {
  const direct = new Map<string, Line[]>();
  for (const line of net.lines) {
    if (line.run.kind !== 'input' || line.run.takes?.kind !== 'gear') continue;
    const lines = direct.get(line.run.to.piece);
    if (lines) lines.push(line);
    else direct.set(line.run.to.piece, [line]);
  }
  const known = new Map<string, ReadonlyMap<string, Route>>();
  return (device) => {
    const there = known.get(device);
    if (there) return there;
    const routes = new Map<string, Route>([[device, { gear: [], digital: true }]]);
    const links: Line[] = [];
    for (const [to, route] of routes) {
      for (const link of direct.get(to) ?? []) {
        const { run, end } = link;
        links.push(link);
        const from = run.kind === 'input' && run.takes ? net.rig.pieces.get(run.takes.id) : undefined;
        if (!from || routes.has(from.id)) continue;
        const digital = route.digital && end?.port.modes.some((mode) => mode.kind === 'digital') === true;
        routes.set(from.id, { gear: [from, ...route.gear], digital });
      }
    }
    const kept = net.kept.once('routes', device, links, () => routes);
    known.set(device, kept);
    return kept;
  };
}
