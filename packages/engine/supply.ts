/**
 * Phantom power as it is on the night: what needs it, which input supplies it, and what each line's input has to do.
 *
 * It travels the leads backwards: through parallel legs and resistive pads, not through transformers or electronics,
 * and only over three contacts (IEC 61938).
 */
import { CONNECTORS, type Piece, type Port } from '#rig';
import { type Joint, type Line, type Network, type Socket, socket } from './network';
import { isNeedy, needsPhantom, supplyOf } from './ports';

/** A way by which phantom power could come to what needs it: a line, backwards from its end. */
export interface Way {
  readonly line: Line;
  readonly end: Socket;
  readonly last: Joint;
  /** The first piece, from the end, that lets none through. */
  readonly block?: Piece;
  /** How the input at the end supplies it, if it can. */
  readonly supply?: 'each' | 'shared';
}

/** What needs phantom power, with at least one way by which it could come. */
export interface Needy {
  readonly piece: Piece;
  readonly ways: readonly Way[];
  /** The way by which it does come: by one of our inputs where it can, else by the house's. */
  readonly supplier?: Way;
}

/** An input with its supply switched on. */
export interface Live {
  readonly socket: Socket;
  readonly because: Piece;
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
  /** Whether something on this line needs it. */
  needed(line: Line): boolean;
  /** Whether it would get from the end of this line all the way to the source. */
  passes(line: Line): boolean;
}

/** Works out where phantom power has to be on. Linear in the number of joints. */
export function supplies(net: Network): Supplies {
  const needy = [...needyOf(net)].map(([piece, ways]): Needy => ({ piece, ways, supplier: supplierAmong(ways) }));
  const live = new Map<string, Live>();
  const byLine = new Map<Line, Needy>();
  for (const each of needy) {
    // A DI on the way is what needs it there, whatever is before it.
    for (const { line } of each.ways) if (each.piece.kind !== 'source' || !byLine.has(line)) byLine.set(line, each);
    const end = each.supplier?.end;
    if (!end) continue;
    live.set(end.key, { socket: end, because: each.piece, own: true });
    for (const neighbour of bankOf(end)) {
      if (!live.has(neighbour.key)) live.set(neighbour.key, { socket: neighbour, because: each.piece, own: false });
    }
  }
  const of = (line: Line): Supply => {
    const here = line.end && live.get(line.end.key);
    if (here?.own) return 'on';
    const need = byLine.get(line);
    if (need && !need.supplier) return 'missing';
    if (need?.supplier) {
      if (here && need.ways.some((way) => way.line === line && canSupply(way))) return 'on';
      return need.supplier.line.run.kind === 'house' ? 'house' : 'elsewhere';
    }
    if (here) return 'shared';
    return line.end && supplyOf(line.end.port) ? 'off' : 'none';
  };
  return { needy, live, of, needed: (line) => byLine.has(line), passes: (line) => line.joints.length > 0 && blockOn(line) === undefined };
}

/** Microphones, and DIs and the like with electronics, which are fed back down their own output. */
function needyOf(net: Network): Map<Piece, Way[]> {
  const found = new Map<Piece, Way[]>();
  const add = (piece: Piece, way: Way) => {
    const ways = found.get(piece);
    if (ways) ways.push(way);
    else found.set(piece, [way]);
  };
  for (const line of net.lines) {
    const last = line.joints.at(-1);
    if (line.run.kind === 'output' || !last || !line.end || last.to.key !== line.end.key) continue;
    const way = (from: number): Way => ({
      line,
      end: line.end as Socket,
      last,
      block: blockOn(line, from),
      supply: supplyOf((line.end as Socket).port),
    });
    const source = net.rig.pieces.get(line.signal ?? '');
    if (source?.kind === 'source' && isNeedy(source)) add(source, way(-1));
    for (const [index, { from }] of line.joints.entries()) {
      if (from.piece.kind !== 'source' && needsPhantom(from.port)) add(from.piece, way(index));
    }
  }
  return found;
}

function supplierAmong(ways: readonly Way[]): Way | undefined {
  const able = ways.filter(canSupply);
  return able.find((way) => way.line.run.kind === 'input') ?? able[0];
}

function canSupply(way: Way): boolean {
  return way.supply !== undefined && way.block === undefined && !way.line.joints.some((joint) => joint.clashes);
}

/**
 * The first piece on a line, seen from its end, that phantom power does not get through. `from` is the joint that leaves
 * what needs it, or -1 where that is the source.
 */
export function blockOn(line: Line, from = -1): Piece | undefined {
  for (let at = line.joints.length - 1; at >= Math.max(0, from); at--) {
    const joint = line.joints[at] as Joint;
    const { tie } = joint.from.port;
    if (at > from && tie && tie.how !== 'parallel' && tie.how !== 'switch') return joint.from.piece;
    if (!carriesThree(joint)) return joint.from.piece;
  }
  return undefined;
}

function carriesThree(joint: Joint): boolean {
  const poles = (port: Port) => (port.connector === undefined ? 0 : CONNECTORS[port.connector].poles);
  return poles(joint.from.port) >= 3 && poles(joint.to.port) >= 3;
}

/** The other inputs on the same phantom switch. */
function bankOf(end: Socket): Socket[] {
  if (supplyOf(end.port) !== 'shared') return [];
  return end.piece.model.ports
    .filter((port) => port.direction === 'input' && port.bank === end.port.bank && port.id !== end.port.id && supplyOf(port) === 'shared')
    .map((port) => socket(end.piece, port));
}
