/** A line from where its signal is made, and who the gear on it belongs to. */
import type { Piece, SignalKind } from '#rig';
import type { Joint, Line, Network } from './network';

// Everybody asks for the same ones, and where one signal goes through many splits they are long.
const KNOWN = new WeakMap<Network, Map<Line, readonly Joint[]>>();

/** All joints from where the signal is made. A line that takes a leg of a split starts there; what feeds the split is added. */
export function wholePath(net: Network, line: Line): readonly Joint[] {
  const known = KNOWN.get(net) ?? new Map<Line, readonly Joint[]>();
  KNOWN.set(net, known);
  const path = known.get(line) ?? findPath(net, line);
  known.set(line, path);
  return path;
}

function findPath(net: Network, line: Line): readonly Joint[] {
  // From its end, so that what is found goes last.
  const path = line.joints.toReversed();
  const seen = new Set(path);
  for (let first = path.at(-1); first; first = path.at(-1)) {
    const { piece, port } = first.from;
    // A link is taken from this piece, whatever comes into it.
    if (piece.id === line.signal) break;
    const before = (port.tie?.inputs ?? [])
      .flatMap((input) => net.entering.get(`${piece.id}.${input}`) ?? [])
      .filter((joint) => !seen.has(joint));
    const next = before.find((joint) => net.linesThrough(joint).some((other) => other.signal === line.signal)) ?? before[0];
    if (!next) break;
    seen.add(next);
    path.push(next);
  }
  return path.reverse();
}

/** Whether a line of an input or of the house reaches the socket it is meant for. */
export function arrives(line: Line | undefined): line is Line {
  return line?.end !== undefined && line.joints.at(-1)?.to.key === line.end.key;
}

/** The kinds a signal comes as at the end of a path: those of the last output that gives one of its own. */
export function kindsAt(path: readonly Joint[]): readonly SignalKind[] {
  const last = path.findLast((joint) => joint.from.port.modes.length > 0);
  return last?.from.port.modes.map((mode) => mode.kind) ?? [];
}

/** Whether a piece belongs to the house. A fresh piece does where its model says so. */
export function isTheirs(piece: Piece): boolean {
  return piece.kind === 'house' || piece.holding?.how === 'theirs';
}
