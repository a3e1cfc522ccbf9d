/**
 * A source's signal through its tree of leads, splits and loads, solved as a resistive circuit.
 *
 * Outputs are visited in the order in which the signal reaches them; loads are added up on the way back, voltages on the
 * way out. On a tree that is the exact Thevenin solution. Levels are dBu; impedances are ohms; transformers are ideal
 * but for the winding resistance given as their output's impedance (voltage n:1, impedance n²:1).
 */
import type { Mode, SignalKind, Tie } from '#rig';
import { type Joint, kindsOut, type Network, type Socket, socket } from './network';

/** Loads where a port states none: common practice, no source. */
const USUAL_LOAD_OHM: Readonly<Partial<Record<SignalKind, number>>> = { mic: 2_000, line: 10_000, instrument: 1_000_000 };
const USUAL_DRIVE_OHM = 150;

export interface Drive {
  /** Unloaded, in volts. */
  readonly emfV: number;
  readonly impedanceOhm: number;
}

/** The signal on one output, with all its loads connected. */
export interface OutputState {
  readonly socket: Socket;
  readonly kinds: readonly SignalKind[];
  /** Volts across it for 1 V unloaded at the source's own output. */
  readonly ratio: number;
  /** Siemens: everything plugged in downstream. */
  readonly load: number;
  /** The joint that brought the signal to the piece, and the output that it left; none at the source. */
  readonly by?: { readonly joint: Joint; readonly upstream: OutputState; readonly tie: Tie };
}

interface Node {
  readonly socket: Socket;
  readonly kinds: readonly SignalKind[];
  readonly by?: { readonly joint: Joint; readonly upstream: Node; readonly tie: Tie };
  readonly below: Node[];
  load: number;
  ratio: number;
}

/** Every output that carries what `start` gives, by its key. `driveOhm` is the source's own impedance. */
export function solveFrom(net: Network, start: Socket, kinds: readonly SignalKind[], driveOhm: number): ReadonlyMap<string, OutputState> {
  const root: Node = { socket: start, kinds, below: [], load: 0, ratio: 1 };
  const nodes = new Map<string, Node>([[start.key, root]]);
  for (const node of nodes.values()) {
    for (const joint of net.leaving.get(node.socket.key) ?? []) {
      for (const port of joint.to.piece.model.ports) {
        if (!port.tie?.inputs.includes(joint.to.port.id)) continue;
        const next = socket(joint.to.piece, port);
        if (nodes.has(next.key)) continue;
        const below: Node = {
          socket: next,
          kinds: kindsOut(port, node.kinds),
          by: { joint, upstream: node, tie: port.tie },
          below: [],
          load: 0,
          ratio: 0,
        };
        node.below.push(below);
        nodes.set(next.key, below);
      }
    }
  }
  const outward = [...nodes.values()];
  for (const node of outward.toReversed()) {
    let load = 0;
    for (const joint of net.leaving.get(node.socket.key) ?? []) load += ownLoad(joint.to, node.kinds);
    for (const below of node.below) load += reflected(below);
    node.load = load;
  }
  for (const node of outward) {
    if (!node.by) {
      node.ratio = 1 / (1 + driveOhm * node.load);
      continue;
    }
    const { upstream, tie } = node.by;
    if (isBuffered(tie)) {
      const gain = 10 ** ((tie.gainDb - tie.padDb) / 20);
      node.ratio = (upstream.ratio * gain) / (1 + driveOf(node) * node.load);
    } else if (tie.how === 'transformer') {
      node.ratio = upstream.ratio / tie.ratio / (1 + windingOf(node) * node.load);
    } else {
      node.ratio = upstream.ratio;
    }
  }
  return nodes as ReadonlyMap<string, OutputState>;
}

/** What one output of a piece adds to the load on the output that feeds the piece, in siemens. */
function reflected(node: Node): number {
  const tie = node.by?.tie;
  if (!tie || isBuffered(tie)) return 0;
  if (tie.how !== 'transformer') return node.load;
  return node.load === 0 ? 0 : 1 / (tie.ratio ** 2 * (windingOf(node) + 1 / node.load));
}

/** An electronic stage or a pad: what hangs behind it does not load what is before it. */
export function isBuffered(tie: Tie): boolean {
  return tie.how === 'active' || tie.padDb > 0;
}

function windingOf(node: Node): number {
  return node.socket.port.modes[0]?.impedanceOhm ?? 0;
}

function driveOf(node: Node): number {
  return node.socket.port.modes[0]?.impedanceOhm ?? USUAL_DRIVE_OHM;
}

/** The load an input is by itself, in siemens. An input without modes only passes the signal on. */
export function ownLoad(input: Socket, kinds: readonly SignalKind[]): number {
  const mode = modeFor(input, kinds);
  if (!mode) return 0;
  const ohm = mode.impedanceOhm ?? USUAL_LOAD_OHM[mode.kind];
  return ohm === undefined ? 0 : 1 / ohm;
}

/** The mode of a port that suits the kinds a signal comes as; else the first. */
export function modeFor(at: Socket, kinds: readonly SignalKind[]): Mode | undefined {
  const { modes } = at.port;
  return modes.find((mode) => kinds.includes(mode.kind)) ?? modes[0];
}

/** The voltage lost into a load, in dB: positive. */
export function loadingLossDb(driveOhm: number, load: number): number {
  return 20 * Math.log10(1 + driveOhm * load);
}

/** Where a capacitive source into a resistance falls by 3 dB: 1 / (2 pi R C), in Hz. */
export function cornerHz(capacitanceF: number, ohm: number): number {
  return 1 / (2 * Math.PI * ohm * capacitanceF);
}

/** What a first-order high-pass takes away at a frequency, in dB: positive. */
export function highPassLossDb(corner: number, hz: number): number {
  return 10 * Math.log10(1 + (corner / hz) ** 2);
}
