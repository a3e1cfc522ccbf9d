/** A line from where its signal is made, and who the gear on it belongs to. */
import type { Piece, SignalKind } from '#rig';
import type { Joint, Line, Network } from './network';

/** All joints from where the signal is made. A line that takes a leg of a split starts there; what feeds the split is added. */
export function wholePath(net: Network, line: Line): readonly Joint[] {
  const path = [...line.joints];
  const seen = new Set(path);
  for (let first = path[0]; first; first = path[0]) {
    const { piece, port } = first.from;
    // A link is taken from this piece, whatever comes into it.
    if (piece.id === line.signal) break;
    const before = (port.tie?.inputs ?? [])
      .flatMap((input) => net.entering.get(`${piece.id}.${input}`) ?? [])
      .filter((joint) => !seen.has(joint));
    const next = before.find((joint) => net.linesThrough(joint).some((other) => other.signal === line.signal)) ?? before[0];
    if (!next) break;
    seen.add(next);
    path.unshift(next);
  }
  return path;
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
