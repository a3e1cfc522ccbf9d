/**
 * Phantom power as it is on the night: what needs it, which input supplies it, and what each line's input has to do.
 *
 * It travels the leads backwards: through parallel legs and resistive pads, not through transformers or electronics,
 * and only over three contacts (IEC 61938).
 */
import type { InputRun, Piece, Run } from '#rig';
import { findPort, type Joint, type Line, type Network, type Socket, socket } from './network';
import { wholePath } from './path';
import { bearingOn, phantomVolts } from './phantomVolts';
import { blockOn } from './phantomWires';
import { isNeedy, needsPhantom, supplyOf } from './ports';

/** A way by which phantom power could come to what needs it: a line, backwards from its end. */
export interface Way {
  readonly line: Line;
  /** All its joints, from where the signal is made. */
  readonly path: readonly Joint[];
  /** The output that needs it. */
  readonly from: Socket;
  readonly end: Socket;
  readonly last: Joint;
  /** The first piece, from the end, that lets none through. */
  readonly block?: Piece;
  /** How the input at the end supplies it, if it can. */
  readonly supply?: 'each' | 'shared';
  /** The rig says that it stays off there. */
  readonly off: boolean;
}

/** What needs phantom power, with at least one way by which it could come. */
export interface Needy {
  readonly piece: Piece;
  readonly ways: readonly Way[];
  /** The way by which it does come: by one of our inputs where it can, else by the house's. */
  readonly supplier?: Way;
  /** All ways by which it comes, whether meant or by a switch that is on for a neighbour. */
  readonly suppliers: readonly Way[];
  /** Amperes; undefined where its model does not say. */
  readonly drawsA?: number;
  /** What is left at it, in volts, where it comes. A current that is not stated is taken as the most that P48 allows. */
  readonly volts?: number;
}

/** An input with its supply switched on. */
export interface Live {
  readonly socket: Socket;
  /** What it is on for; nothing where only the rig says so. */
  readonly because?: Piece;
  /** For what is plugged into it, and not only because a neighbour on the same switch needs it. */
  readonly own: boolean;
}

/**
 * `on`: for this line. `shared`: on for a neighbour on the same switch. `off`: could be on, and nothing here needs it.
 * `house`, `elsewhere`: this line needs it, and the house's socket or another input of ours supplies it. `missing`: needed,
 * and it comes from nowhere. `none`: not needed and not to be had.
 */
export type Supply = 'on' | 'shared' | 'off' | 'house' | 'elsewhere' | 'missing' | 'none';

export interface Supplies {
  readonly needy: readonly Needy[];
  /** By the key of the input. */
  readonly live: ReadonlyMap<string, Live>;
  /** What the input at which a line ends has to do about phantom power. */
  of(line: Line): Supply;
  /** What on this line needs it, with who supplies it and the volts that are left there. */
  needyOn(line: Line): Needy | undefined;
  /** Whether something on this line needs it. */
  needed(line: Line): boolean;
  /** Whether it would get from the end of this line all the way to the source. */
  passes(line: Line): boolean;
}

/** Works out where phantom power has to be on. Linear in the number of joints. */
export function supplies(net: Network): Supplies {
  const told = toldOf(net.rig.inputs);
  const found = needyOf(net, told);
  const suppliers = new Map(found.map((each) => [each, supplierAmong(each.ways, told)]));
  const live = liveInputs(net, found, suppliers, told);
  const needy = found.map(({ piece, ways }, index): Needy => {
    const supplier = suppliers.get(found[index] as Found);
    const all = ways.filter((way) => isOpen(way) && live.has(way.end.key));
    const from = (supplier ?? ways[0])?.from;
    return {
      piece,
      ways,
      supplier,
      suppliers: [...all.filter((way) => way === supplier), ...all.filter((way) => way !== supplier)],
      drawsA: from?.port.modes.find((mode) => mode.phantom === 'needed')?.drawsA,
      volts: from && all.length > 0 ? voltsAt(net, from, (ways[0] as Way).line.run, live) : undefined,
    };
  });
  const byLine = new Map<Line, Needy>();
  for (const each of needy) {
    // A DI on the way is what needs it there, whatever is before it.
    for (const { line } of each.ways) if (each.piece.kind !== 'source' || !byLine.has(line)) byLine.set(line, each);
  }
  const of = (line: Line): Supply => {
    const here = line.end && live.get(line.end.key);
    if (here?.own) return 'on';
    const need = byLine.get(line);
    if (need && need.suppliers.length === 0) return 'missing';
    if (need?.supplier) {
      if (here && need.suppliers.some((way) => way.line === line)) return need.supplier.line === line ? 'on' : 'shared';
      return need.supplier.line.run.kind === 'house' ? 'house' : 'elsewhere';
    }
    if (here) return 'shared';
    return line.end && supplyOf(line.end.port) ? 'off' : 'none';
  };
  return {
    needy,
    live,
    of,
    needyOn: (line) => byLine.get(line),
    needed: (line) => byLine.has(line),
    passes: (line) => line.joints.length > 0 && blockOn(wholePath(net, line)) === undefined,
  };
}

/** `run`: one that comes by there. */
function voltsAt(net: Network, at: Socket, run: Run, live: ReadonlyMap<string, Live>): number | undefined {
  const memory = net.memoryOf(run);
  const inputs = memory.once('phantom power can come from', at, () => bearingOn(net, at));
  return net.kept.once('volts', at, [memory, ...inputs.map((key) => live.has(key))], () => phantomVolts(net, at, (key) => live.has(key)));
}

/** What the rig says of inputs itself, by their keys: `on` where two runs that share a plug say both. */
function toldOf(runs: readonly InputRun[]): ReadonlyMap<string, 'on' | 'off'> {
  const told = new Map<string, 'on' | 'off'>();
  for (const { to, phantom } of runs) {
    for (const port of phantom ? to.ports : []) {
      const key = `${to.piece}.${port}`;
      if (phantom && told.get(key) !== 'on') told.set(key, phantom);
    }
  }
  return told;
}

interface Found {
  readonly piece: Piece;
  readonly ways: Way[];
}

/** Microphones, and DIs and the like with electronics, which are fed back down their own output. */
function needyOf(net: Network, told: ReadonlyMap<string, 'on' | 'off'>): Found[] {
  const found = new Map<string, Found>();
  for (const line of net.lines) {
    const { end } = line;
    const last = line.joints.at(-1);
    if (line.run.kind === 'output' || !last || !end || last.to.key !== end.key) continue;
    const known = net.memoryOf(line.run).of<Line, readonly Way[]>('phantom power comes by');
    let ways = known.get(line);
    if (!ways) {
      // Whoever says that it is off at its end is in the same part of the rig.
      ways = waysAlong(net, line, end, last, told.get(end.key) === 'off');
      known.set(line, ways);
    }
    for (const way of ways) {
      const key = channelOf(way.from);
      const there = found.get(key);
      if (there) there.ways.push(way);
      else found.set(key, { piece: way.from.piece, ways: [way] });
    }
  }
  return [...found.values()];
}

const NO_WAYS: readonly Way[] = [];

function waysAlong(net: Network, line: Line, end: Socket, last: Joint, off: boolean): readonly Way[] {
  const path = wholePath(net, line);
  const supply = supplyOf(end.port);
  const ways: Way[] = [];
  const add = (from: Socket, at: number) => ways.push({ line, path, from, end, last, block: blockOn(path, at), supply, off });
  const source = net.rig.pieces.get(line.signal ?? '');
  const first = path[0];
  if (source?.kind === 'source' && isNeedy(source) && first?.from.piece === source) add(first.from, -1);
  for (let index = 0; index < path.length; index++) {
    const { from } = path[index] as Joint;
    if (from.port.modes.length > 0 && from.piece.kind !== 'source' && needsPhantom(from.port)) add(from, index);
  }
  return ways.length > 0 ? ways : NO_WAYS;
}

/** Outputs of one piece that are fed as one: those of one channel. A stereo box needs power for each of its two. */
function channelOf({ piece, port }: Socket): string {
  return `${piece.id}/${port.separate ? port.id : (port.tie?.inputs.join() ?? '')}`;
}

function supplierAmong(ways: readonly Way[], told: ReadonlyMap<string, 'on' | 'off'>): Way | undefined {
  const able = ways.filter(canSupply);
  const ours = able.filter((way) => way.line.run.kind === 'input');
  return ours.find((way) => told.get(way.end.key) === 'on') ?? ours[0] ?? able[0];
}

/** Whether phantom power that is on at the end of a way would reach what needs it. */
function isOpen(way: Way): boolean {
  return way.supply !== undefined && way.block === undefined && !way.path.some((joint) => joint.clashes);
}

/** Whether it may be switched on there for this. */
export function canSupply(way: Way): boolean {
  return isOpen(way) && !way.off;
}

function liveInputs(
  net: Network,
  needy: readonly Found[],
  suppliers: ReadonlyMap<Found, Way | undefined>,
  told: ReadonlyMap<string, 'on' | 'off'>,
): ReadonlyMap<string, Live> {
  const live = new Map<string, Live>();
  for (const each of needy) {
    const end = suppliers.get(each)?.end;
    if (end && !live.has(end.key)) live.set(end.key, { socket: end, because: each.piece, own: true });
  }
  for (const { to } of told.size > 0 ? net.rig.inputs : []) {
    for (const id of to.ports) {
      const key = `${to.piece}.${id}`;
      if (told.get(key) !== 'on' || live.has(key)) continue;
      const piece = net.rig.pieces.get(to.piece);
      const port = piece && findPort(piece, id, 'input');
      if (port && supplyOf(port)) live.set(key, { socket: socket(piece, port), own: true });
    }
  }
  const banks = new Set<string>();
  for (const { socket: end, because } of [...live.values()]) {
    const bank = `${end.piece.id}/${end.port.bank}`;
    if (banks.has(bank)) continue;
    banks.add(bank);
    for (const neighbour of bankOf(end)) {
      if (!live.has(neighbour.key)) live.set(neighbour.key, { socket: neighbour, because, own: false });
    }
  }
  return live;
}

/** The other inputs on the same phantom switch. */
function bankOf(end: Socket): Socket[] {
  if (supplyOf(end.port) !== 'shared') return [];
  return end.piece.model.ports
    .filter((port) => port.direction === 'input' && port.bank === end.port.bank && port.id !== end.port.id && supplyOf(port) === 'shared')
    .map((port) => socket(end.piece, port));
}
