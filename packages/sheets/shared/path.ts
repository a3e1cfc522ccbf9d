/** A line told in words: through which gear a signal comes, and by which of its sockets. */
import { arrives, isRadio, type Joint, type Line, mustNotBe, type Network, type Socket, signalLabel, socketName, wholePath } from '#engine';
import type { Port, Rig, Taken } from '#rig';

/** Nothing real goes through more gear than this; a slip can. */
const MOST_NAMED = 12;

/** `Bass DI thru`, `Y-lead`: the leg is named where another leg of the same gear gives something else. */
export function legName({ piece, port }: Socket): string {
  const outputs = piece.model.ports.filter((other) => other.direction === 'output');
  return outputs.every((other) => sameLeg(other, port)) ? piece.label : `${piece.label} ${port.id}`;
}

function sameLeg(a: Port, b: Port): boolean {
  if (a.id === b.id) return true;
  return (
    a.tie !== undefined &&
    a.tie.how === b.tie?.how &&
    a.tie.inputs.join() === b.tie.inputs.join() &&
    a.connector === b.connector &&
    a.modes.length === b.modes.length
  );
}

/** The gear that a signal comes through before its last lead: `Bass DI thru → House DI`. `direct` where there is none. */
export function legs(path: readonly Joint[], options: { readonly device?: boolean } = {}): string {
  const names = path.flatMap(({ from }, index) => {
    if (from.piece.kind === 'source') return [];
    if (index > 0 || from.port.tie !== undefined) return [legName(from)];
    return options.device ? [socketName(from)] : [];
  });
  if (names.length > MOST_NAMED) return [...names.slice(0, 3), `… ${names.length - 6} more …`, ...names.slice(-3)].join(' → ');
  if (names.length > 0) return names.join(' → ');
  const start = path[0]?.from;
  if (!start) return '';
  const outputs = start.piece.model.ports.filter((port) => port.direction === 'output' && !port.separate);
  return outputs.length > 1 && !start.port.separate ? `its ${start.port.id} output` : 'direct';
}

/** Where the signal of an output leaves by radio. */
export function onAir(line: Line): Socket | undefined {
  return line.open.find((open) => isRadio(open.port));
}

/** Whether a lead on the way of a line must not be made. */
export function isForbidden(network: Network, line: Line | undefined): boolean {
  return arrives(line) && wholePath(network, line).some(mustNotBe);
}

interface AtPort {
  readonly piece: string;
  readonly port: string;
}

/** Compares ports: by gear as declared, then as its model has them. What is not known comes last. */
export function portOrder(rig: Rig, direction: 'input' | 'output'): (a: AtPort, b: AtPort) => number {
  const rank = new Map([...rig.pieces.keys()].map((id, index) => [id, index]));
  const gear = (at: AtPort) => rank.get(at.piece) ?? rank.size;
  const port = (at: AtPort) => {
    const ports = rig.pieces.get(at.piece)?.model.ports.filter((other) => other.direction === direction) ?? [];
    const index = ports.findIndex((other) => other.id === at.port);
    return index < 0 ? ports.length : index;
  };
  return (a, b) => gear(a) - gear(b) || port(a) - port(b);
}

/** `Electronic kit left`; `Expander optical` where a link is taken. */
export function signalWords(rig: Rig, taken: Taken, line: Line | undefined): string {
  const port = line?.channel ?? (taken.kind === 'gear' ? taken.port : undefined);
  return [signalLabel(rig, taken.id), port ?? ''].join(' ').trim();
}
