/** A line from where its signal is made, and who the gear on it belongs to. */
import type { Piece, SignalKind } from '#rig';
import { type Joint, kindsOut, type Line, type Network } from './network';

/** All joints from where the signal is made. A line that takes a leg of a split starts there; what feeds the split is added. */
export function wholePath(net: Network, line: Line): readonly Joint[] {
  const known = net.memoryOf(line.run).of<Line, readonly Joint[]>('whole paths');
  let path = known.get(line);
  if (!path) {
    path = findPath(net, line);
    known.set(line, path);
  }
  return path;
}

function findPath(net: Network, { run, joints, signal }: Line): readonly Joint[] {
  const [first] = joints;
  if (!first) return [];
  // What is before a joint, by the signal: where one goes through many splits that is long, and much the same for each of its lines.
  const ways = net.memoryOf(run).once('ways to a joint', signal, () => new Map<Joint, readonly Joint[]>());
  const way = ways.get(first) ?? wayTo(net, first, signal, [first], ways);
  ways.set(first, way);
  // Plugged round in a circle, the line itself comes before its own start.
  return [...(joints.some((joint) => way.includes(joint)) ? wayTo(net, first, signal, joints) : way), ...joints];
}

/** The joints before one, without those of a line; `known` are the ways to others, where that is the joint alone. */
function wayTo(
  net: Network,
  to: Joint,
  signal: string | undefined,
  line: readonly Joint[],
  known?: ReadonlyMap<Joint, readonly Joint[]>,
): readonly Joint[] {
  // From its end, so that what is found goes last.
  const way: Joint[] = [];
  const seen = new Set(line);
  for (let first = to; ; ) {
    const { piece, port } = first.from;
    // A link is taken from this piece, whatever comes into it.
    if (piece.id === signal) break;
    const before = (port.tie?.inputs ?? [])
      .flatMap((input) => net.entering.get(`${piece.id}.${input}`) ?? [])
      .filter((joint) => !seen.has(joint));
    const next = before.find((joint) => net.linesThrough(joint).some((other) => other.signal === signal)) ?? before[0];
    if (!next) break;
    seen.add(next);
    way.push(next);
    const rest = known?.get(next);
    if (rest && !rest.some((joint) => seen.has(joint))) return [...rest, ...way.reverse()];
    first = next;
  }
  return way.reverse();
}

/** Whether a line of an input or of the house reaches the socket it is meant for. */
export function arrives(line: Line | undefined): line is Line {
  return line?.end !== undefined && line.joints.at(-1)?.to.key === line.end.key;
}

/** The kinds a signal comes as at the end of a path: those of the last output that gives one of its own, by what comes into it. */
export function kindsAt(path: readonly Joint[]): readonly SignalKind[] {
  return path.reduce<readonly SignalKind[]>((kinds, { from }) => kindsOut(from.port, kinds), []);
}

/** Whether a piece belongs to the house. A fresh piece does where its model says so. */
export function isTheirs(piece: Piece): boolean {
  return piece.kind === 'house' || piece.holding?.how === 'theirs';
}
