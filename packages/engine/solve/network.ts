/**
 * What is plugged into what: every run followed from where its signal starts to where it ends.
 *
 * Runs share what they have in common (a named DI that two runs go through is one DI with one plug in its input), and a
 * run that names no leg gets the free one that fits best: the house takes whichever side of a Y-lead is left over.
 */
import type { HouseRun, Model, Piece, Port, PortRef, Rig, Run, SignalKind } from '#rig';
import { type Kept, type Memory, memoryOf } from './memory';

/** A port of one real thing. */
export interface Socket {
  readonly key: string;
  readonly piece: Piece;
  readonly port: Port;
}

/** An output plugged into an input. */
export interface Joint {
  readonly from: Socket;
  readonly to: Socket;
  readonly runs: Run[];
  /** The output has another plug in it already: the two cannot both be there. */
  readonly clashes: boolean;
}

/** One channel of one run, joint by joint, in the direction of the signal. */
export interface Line {
  readonly run: Run;
  /** Which of the run's ports this is, from 0. */
  readonly index: number;
  /** What the signal is: a source or mix id, or a piece's where a link is taken. */
  readonly signal?: string;
  /** The source's or the mix's channel, where it has several. */
  readonly channel?: string;
  readonly joints: readonly Joint[];
  /** The sockets passed through, from the source's output to the last input. */
  readonly start?: Socket;
  readonly end?: Socket;
  /** Outputs that carry the signal on where the run ends inside a piece: a pack's air, a DI's free output. */
  readonly open: readonly Socket[];
}

/** What could not be followed as written. */
export type Snag =
  | { readonly kind: 'no-such-port'; readonly ref: PortRef; readonly piece: Piece; readonly direction: 'input' | 'output' | 'any' }
  | { readonly kind: 'no-free-leg'; readonly run: Run; readonly signal: string; readonly taken: Joint }
  | { readonly kind: 'leg-taken'; readonly run: Run; readonly ref: PortRef; readonly socket: Socket; readonly taken: Joint }
  /** A fresh piece behind another of the same model, where the same one may be meant. */
  | { readonly kind: 'second-piece'; readonly run: Run; readonly piece: Piece; readonly first: Run }
  | { readonly kind: 'nothing-comes-out'; readonly run: Run; readonly piece: Piece }
  | { readonly kind: 'not-carried'; readonly run: HouseRun; readonly mix: string }
  /** A line of the house's is one channel; the other side of a stereo mix that leaves on two outputs goes nowhere. */
  | { readonly kind: 'half-carried'; readonly run: HouseRun; readonly mix: string; readonly sides: readonly [string, string] }
  | { readonly kind: 'channel-left-out'; readonly run: Run; readonly signal: string; readonly channels: readonly string[] };

export interface Network {
  readonly rig: Rig;
  readonly lines: readonly Line[];
  readonly joints: readonly Joint[];
  readonly snags: readonly Snag[];
  /** Joints by the key of the socket they leave, and of the one they enter. */
  readonly leaving: ReadonlyMap<string, readonly Joint[]>;
  readonly entering: ReadonlyMap<string, readonly Joint[]>;
  /** What has been worked out of it. */
  readonly memory: Memory;
  /** What holds as long as that is the same which it was made of. */
  readonly kept: Kept;
  /** What has been worked out of all that can touch a run, and of nothing else: the same as long as that is. */
  memoryOf(run: Run): Memory;
  /** The same list as long as all that can touch one of them is the same. */
  linesOf(signal: string): readonly Line[];
  linesThrough(joint: Joint): readonly Line[];
}

/** Made once for each port: they are asked for again and again. */
export function socket(piece: Piece, port: Port): Socket {
  const made = memoryOf(piece).of<Port, Socket>('sockets');
  let at = made.get(port);
  if (!at) {
    at = { key: `${piece.id}.${port.id}`, piece, port };
    made.set(port, at);
  }
  return at;
}

const NO_LINES: readonly Line[] = [];

/** The lines of inputs that end at a piece, in the order of the text. */
export function inputsInto(net: Network, piece: Piece): readonly Line[] {
  return net.memory.once('inputs into', net, byEnd).get(piece) ?? NO_LINES;
}

function byEnd({ lines }: Network): ReadonlyMap<Piece, readonly Line[]> {
  const byPiece = new Map<Piece, Line[]>();
  for (const line of lines) if (line.run.kind === 'input' && line.end) push(byPiece, line.end.piece, line);
  return byPiece;
}

/** As a socket's key, where an input and an output of one name are two things. */
export function sideOf({ key, port }: Socket): string {
  return `${port.direction} ${key}`;
}

export function findPort({ model }: Piece, id: string, direction?: 'input' | 'output'): Port | undefined {
  return sidesOf(model)
    .byId.get(id)
    ?.find((port) => direction === undefined || port.direction === direction);
}

/** The ports of a model, sorted. */
interface Sides {
  readonly byId: ReadonlyMap<string, readonly Port[]>;
  readonly inputs: readonly Port[];
  readonly outputs: readonly Port[];
  /** The outputs that are made from an input, by its id. */
  readonly tied: ReadonlyMap<string, readonly Port[]>;
}

export const NO_PORTS: readonly Port[] = [];

/** Looking through all the ports of a large device for every plug in it would take the square of the time. */
export function sidesOf(model: Model): Sides {
  return memoryOf(model).once('sides', model, sorted);
}

function sorted(model: Model): Sides {
  const byId = new Map<string, Port[]>();
  const tied = new Map<string, Port[]>();
  for (const port of model.ports) {
    push(byId, port.id, port);
    if (port.direction === 'output') for (const input of new Set(port.tie?.inputs)) push(tied, input, port);
  }
  const going = (direction: Port['direction']) => model.ports.filter((port) => port.direction === direction);
  return { byId, inputs: going('input'), outputs: going('output'), tied };
}

/** Which step of a run goes through a piece, or -1. */
export function stepOf(run: Run, piece: Piece | undefined): number {
  return piece ? run.via.findIndex((via) => via.piece === piece.id || (piece.kind === 'fresh' && via.piece === piece.place)) : -1;
}

/**
 * The kinds of signal an output can give: its own modes', or that of the input it is tied to, as it arrives. Where it is tied and
 * could give several, what comes in comes out.
 */
export function kindsOut(port: Port, incoming: readonly SignalKind[]): readonly SignalKind[] {
  if (port.modes.length === 0) return incoming;
  const kinds = port.modes.map((mode) => mode.kind);
  const alike = port.tie ? kinds.filter((kind) => incoming.includes(kind)) : [];
  return alike.length > 0 ? alike : kinds;
}

export function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}
