/** Phantom power as it has to be set on the night: what each line's input does, for microphones and for DIs that need it. */
import type { Piece } from '#rig';
import type { Line, Network } from './network';
import { bankOf, carriesThree, supplyOf } from './phantom';
import { needsPhantom } from './ports';

/**
 * `on`: for this line. `shared`: on for a neighbour on the same switch. `off`: could be on, and nothing here needs it.
 * `house`, `elsewhere`: this line needs it, and the house's socket or another input of ours supplies it. `missing`: needed,
 * and it comes from nowhere. `none`: not needed and not to be had.
 */
export type Supply = 'on' | 'shared' | 'off' | 'house' | 'elsewhere' | 'missing' | 'none';

export interface Supplies {
  /** What the input at which a line ends has to do about phantom power. */
  of(line: Line): Supply;
  /** Whether something on this line needs it. */
  needed(line: Line): boolean;
}

/** Where phantom power has to be on. One input of ours supplies a microphone where it can; else the house's does. */
export function supplies(net: Network): Supplies {
  const ways = new Map<Piece, Line[]>();
  for (const line of net.lines) {
    const needy = needyOn(net, line)?.piece;
    if (!needy || line.run.kind === 'output') continue;
    const lines = ways.get(needy);
    if (lines) lines.push(line);
    else ways.set(needy, [line]);
  }
  /** Inputs that are on, and whether for a line of their own. */
  const on = new Map<string, boolean>();
  const served = new Map<Piece, Line>();
  for (const [piece, lines] of ways) {
    const able = lines.filter((line) => reaches(net, line));
    const supplier = able.find((line) => line.run.kind === 'input') ?? able[0];
    if (!supplier?.end) continue;
    served.set(piece, supplier);
    on.set(supplier.end.key, true);
    for (const neighbour of bankOf(supplier.end)) if (!on.has(neighbour.key)) on.set(neighbour.key, false);
  }
  const of = (line: Line): Supply => {
    const end = line.end;
    const needy = needyOn(net, line)?.piece;
    const state = end && on.get(end.key);
    if (state === true) return 'on';
    const supplier = needy && served.get(needy);
    if (needy && !supplier) return 'missing';
    if (supplier && !(state === false && reaches(net, line))) return supplier.run.kind === 'house' ? 'house' : 'elsewhere';
    if (supplier) return 'on';
    if (state === false) return 'shared';
    return end && supplyOf(end.port) ? 'off' : 'none';
  };
  return { of, needed: (line) => needyOn(net, line) !== undefined };
}

/** What needs power on a line: a DI or the like on the way, else the source. `from` is the joint that leaves it. */
function needyOn(net: Network, line: Line): { piece: Piece; from: number } | undefined {
  const at = line.joints.findLastIndex((joint) => joint.from.piece.kind !== 'source' && needsPhantom(joint.from.port));
  const joint = line.joints[at];
  if (joint) return { piece: joint.from.piece, from: at };
  const source = net.rig.pieces.get(line.signal ?? '');
  const needs = source?.kind === 'source' && source.model.ports.some((port) => port.direction === 'output' && needsPhantom(port));
  return source && needs ? { piece: source, from: -1 } : undefined;
}

/** Whether the input at the end of a line can power what needs it: nothing in between stops it, and the plugs are in. */
function reaches(net: Network, line: Line): boolean {
  const needy = needyOn(net, line);
  const { end, joints } = line;
  if (!needy || !end || !supplyOf(end.port) || joints.at(-1)?.to.key !== end.key) return false;
  return joints.every((joint, index) => {
    if (joint.clashes) return false;
    if (index < needy.from) return true;
    const tie = index > needy.from ? joint.from.port.tie : undefined;
    return carriesThree(joint) && (tie === undefined || tie.how === 'parallel' || tie.how === 'switch');
  });
}
