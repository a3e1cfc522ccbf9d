/** Two lines that change ports. */
import type { Piece, Port } from '#rig';
import { signalLabel } from '../solve/naming';
import { inputsInto, type Line, type Network } from '../solve/network';
import { askedBy, canTake, type Demand, demandOf, takenBy } from '../solve/ports';
import type { Fix } from './fix';

/** So many are offered: nobody reads a list to its end. */
const MOST_SWAPS = 2;

/** Two lines on one piece of gear that would each be right on the other's port. */
export function swaps(net: Network, line: Line): Fix[] {
  const { run, end } = line;
  if (run.kind !== 'input' || run.to.ports.length !== 1 || !end) return [];
  const mine = demandOf(net, line);
  const found: { readonly place: number; readonly fix: Fix }[] = [];
  for (const group of alikeOn(net, end.piece)) {
    // Of all that are alike one is asked.
    const [{ port, demand }] = group;
    if (!canTake(port, mine) || !canTake(end.port, demand)) continue;
    let taken = 0;
    for (const { line: other, place } of group) {
      if (taken === MOST_SWAPS) break;
      if (other.run === run || other.end?.key === end.key || !other.end) continue;
      found.push({ place, fix: { kind: 'swap', run: run.id, other: other.run.id, ports: [end.port.id, other.end.port.id] } });
      taken += 1;
    }
  }
  return found
    .sort((a, b) => a.place - b.place)
    .slice(0, MOST_SWAPS)
    .map(({ fix }) => fix);
}

/** What these would change ports with, as it is called. */
export function swappedWith({ rig }: Network, fixes: readonly Fix[]): string[] {
  return fixes.flatMap((fix) => (fix.kind === 'swap' ? signalLabel(rig, rig.inputs.find(({ id }) => id === fix.other)?.takes?.id) : []));
}

/** Lines that ask the same of a port and are on ports that take the same. */
type Alike = [Movable, ...Movable[]];

interface Movable {
  readonly line: Line;
  /** Among those of its piece, in the order of the text. */
  readonly place: number;
  readonly port: Port;
  readonly demand: Demand;
}

/** The lines that could be moved on a piece, by what they ask and where they are: those of a desk are hundreds and of few kinds. */
function alikeOn(net: Network, piece: Piece): readonly Alike[] {
  const lines = inputsInto(net, piece);
  return net.kept.once('alike', piece, lines, () => alike(net, lines));
}

function alike(net: Network, lines: readonly Line[]): readonly Alike[] {
  const groups = new Map<string, Alike>();
  for (const [place, line] of lines.entries()) {
    const { run, end, joints } = line;
    if (run.kind !== 'input' || run.to.ports.length !== 1 || !end || joints.length === 0) continue;
    const movable = { line, place, port: end.port, demand: demandOf(net, line) };
    const key = `${askedBy(movable.demand)} on ${takenBy(end.port)}`;
    const group = groups.get(key);
    if (group) group.push(movable);
    else groups.set(key, [movable]);
  }
  return [...groups.values()];
}
