/**
 * A source's signal through its tree of leads, splits, pads and loads, solved as a linear circuit at one frequency.
 *
 * Outputs are visited in the order in which the signal reaches them; loads are added up on the way back, Thévenin's
 * equivalents (an EMF behind an impedance) are made on the way out. On a tree that is exact. Volts are for 1 V unloaded at
 * the source; impedances are ohms, loads siemens. Transformers are ideal but for the winding resistance given as their
 * output's impedance (voltage n:1, impedance n²:1). A passive pad is two resistors.
 *
 * A balanced output of which one leg alone is used gives half its EMF behind half its impedance, and what hangs on that leg
 * is for the whole output half the load: exact for a symmetrical output with one lead on it.
 */
import { CONNECTORS, type Mode, type Model, type Port, type SignalKind, type Tie } from '#rig';
import { type Complex, minus, ONE, over, plus, real, scaled, size, times, ZERO } from './complex';
import { type Joint, kindsOut, type Network, type Socket, socket } from './network';

/** Loads where a port states none: common practice, no source. */
const USUAL_LOAD_OHM: Readonly<Partial<Record<SignalKind, number>>> = { mic: 2_000, line: 10_000, instrument: 1_000_000 };
const USUAL_DRIVE_OHM = 150;
const USUAL_PAD_OHM = 1_000;
/** Of a lead's, between its conductors. 50 to 150 pF are usual: common practice, no source. */
export const LEAD_F_PER_M = 100e-12;
/** Where levels are solved: the usual frequency to state them for. */
export const LEVEL_HZ = 1_000;

/** What a source's output has in series. */
export type Drive = Pick<Mode, 'impedanceOhm' | 'inductanceH' | 'capacitanceF'>;

export interface Conditions {
  /** 1 kHz where it is not said. */
  readonly hz?: number;
  /** How long the lead of a joint is; without it, leads are of no length. */
  readonly metres?: (joint: Joint) => number;
  /** What is plugged in: everything where it is not said. */
  readonly plugged?: (joint: Joint) => boolean;
}

/** An EMF behind an impedance, and what it drives. */
export interface Thevenin {
  readonly emf: Complex;
  readonly source: Complex;
  readonly load: Complex;
  /** Volts across the load for 1 V unloaded at the source's own output. */
  readonly ratio: number;
}

/** The signal on one output: the EMF and impedance seen from it, and all that is plugged into it as the load. */
export interface OutputState extends Thevenin {
  readonly socket: Socket;
  readonly kinds: readonly SignalKind[];
  /** What brought the signal to the piece, and how the output comes about; none at the source. */
  readonly by?: { readonly plug: PlugState; readonly tie: Tie };
}

/** The signal at one input: the EMF and impedance seen from it with all else in place; the load is lead, input and what is behind it. */
export interface PlugState extends Thevenin {
  readonly joint: Joint;
  readonly upstream: OutputState;
  /** One leg of a balanced output drives it: half the level. */
  readonly oneLeg: boolean;
}

export interface Solution {
  readonly root: OutputState;
  /** By the key of the output. */
  readonly outputs: ReadonlyMap<string, OutputState>;
  readonly plugs: ReadonlyMap<Joint, PlugState>;
}

type Writable<T> = { -readonly [K in keyof T]: T[K] };

interface Plug extends Writable<PlugState> {
  readonly upstream: Node;
  readonly below: Node[];
  /** Lead and input by themselves. */
  own: Complex;
  /** Ohms that a pad in the input shows; undefined where there is none. */
  padOhm?: number;
}

interface Node extends Writable<OutputState> {
  readonly by?: { readonly plug: Plug; readonly tie: Tie };
  readonly plugs: Plug[];
  /** What it adds to the load at the input it is made from. */
  reflected: Complex;
}

const UNSOLVED = { emf: ZERO, source: ZERO, load: ZERO, ratio: 0 };

/** Every output and input that gets what `start` gives. Linear in what is plugged in and in the ports of it. */
export function solveFrom(
  net: Network,
  start: Socket,
  kinds: readonly SignalKind[],
  drive: Drive | undefined,
  conditions: Conditions = {},
): Solution {
  const { hz = LEVEL_HZ, metres, plugged } = conditions;
  const root: Node = { socket: start, kinds, plugs: [], reflected: ZERO, ...UNSOLVED, emf: ONE, source: driveOf(drive, hz) };
  const nodes = new Map<string, Node>([[start.key, root]]);
  const plugs = new Map<Joint, Plug>();
  for (const node of nodes.values()) {
    for (const joint of net.leaving.get(node.socket.key) ?? []) {
      if (plugged && !plugged(joint)) continue;
      const oneLeg = usesOneLeg(node, joint.to);
      const own = leadLoad(metres?.(joint) ?? 0, node.kinds, hz);
      const plug: Plug = { joint, upstream: node, oneLeg, below: [], own, ...UNSOLVED };
      let pads = 0;
      for (const { port, tie } of madeFrom(joint.to)) {
        const next = socket(joint.to.piece, port);
        if (nodes.has(next.key)) continue;
        const below: Node = {
          socket: next,
          kinds: kindsOut(port, node.kinds),
          by: { plug, tie },
          plugs: [],
          reflected: ZERO,
          ...UNSOLVED,
        };
        if (isPad(tie)) pads += 1;
        plug.below.push(below);
        nodes.set(next.key, below);
      }
      // Several pads on one input show its impedance together.
      if (pads > 0) plug.padOhm = pads * padOhmOf(joint.to, node.kinds);
      else plug.own = plus(own, real(ownLoad(joint.to, node.kinds)));
      node.plugs.push(plug);
      plugs.set(joint, plug);
    }
  }
  const outward = [...nodes.values()];
  for (const node of outward.toReversed()) {
    for (const plug of node.plugs) {
      plug.load = plug.below.reduce((load, below) => plus(load, below.reflected), plug.own);
      node.load = plus(node.load, legLoad(plug));
    }
    node.reflected = reflected(node);
  }
  for (const node of outward) {
    if (node.by) comeOut(node, node.by.plug, node.by.tie);
    node.ratio = across(node, node.load);
    for (const plug of node.plugs) {
      const seen = seenBeside(node, minus(node.load, legLoad(plug)), plug.oneLeg);
      plug.emf = seen.emf;
      plug.source = seen.source;
      plug.ratio = across(plug, plug.load);
    }
  }
  return { root, outputs: nodes, plugs };
}

interface MadeFrom {
  readonly port: Port;
  readonly tie: Tie;
}

/** Looking through all the ports of a large device for every plug in it would take the square of the time. */
const MADE_FROM = new WeakMap<Model, ReadonlyMap<string, readonly MadeFrom[]>>();

/** The outputs that are made from an input. */
function madeFrom({ piece: { model }, port }: Socket): readonly MadeFrom[] {
  let byInput = MADE_FROM.get(model);
  if (!byInput) {
    const made = new Map<string, MadeFrom[]>();
    for (const output of model.ports) {
      const { tie } = output;
      for (const input of new Set(tie?.inputs)) {
        const list = made.get(input) ?? [];
        if (tie) list.push({ port: output, tie });
        made.set(input, list);
      }
    }
    byInput = made;
    MADE_FROM.set(model, made);
  }
  return byInput.get(port.id) ?? NOTHING;
}

const NOTHING: readonly MadeFrom[] = [];

/** What an input's lead adds to the output that it is plugged into. */
function legLoad(plug: Plug): Complex {
  return plug.oneLeg ? scaled(plug.load, 0.5) : plug.load;
}

/** What is seen from a plug in an output with `rest` on it as well. */
export function seenBeside(from: Pick<Thevenin, 'emf' | 'source'>, rest: Complex, oneLeg: boolean): Pick<Thevenin, 'emf' | 'source'> {
  const divided = plus(ONE, times(from.source, rest));
  const share = oneLeg ? 0.5 : 1;
  return { emf: scaled(over(from.emf, divided), share), source: scaled(over(from.source, divided), share) };
}

/** Volts across a load. */
export function across({ emf, source }: Pick<Thevenin, 'emf' | 'source'>, load: Complex): number {
  return size(over(emf, plus(ONE, times(source, load))));
}

/** What comes out of an output of a piece, from what comes in and what its other outputs take. */
function comeOut(node: Node, plug: Plug, tie: Tie): void {
  if (isBuffered(tie)) {
    const gain = 10 ** (within(tie.gainDb - tie.padDb, -MOST_DB, MOST_DB) / 20);
    node.emf = real(within(plug.ratio * gain, 1 / MOST, MOST));
    node.source = real(ohmsWithin(modeOhm(node.socket.port) ?? USUAL_DRIVE_OHM));
    return;
  }
  let { emf, source } = seenBeside(plug, minus(plug.load, node.reflected), false);
  const pad = padOf(plug, tie);
  if (pad) ({ emf, source } = afterPad({ emf, source }, pad));
  if (tie.how === 'transformer') {
    const turns = turnsOf(tie);
    emf = scaled(emf, 1 / turns);
    source = plus(scaled(source, 1 / turns ** 2), real(windingOf(node.socket.port)));
  }
  node.emf = emf;
  node.source = source;
}

/** What an output adds to the load at the input it is made from, in siemens. */
function reflected(node: Node): Complex {
  const { by, load } = node;
  if (!by || isBuffered(by.tie)) return ZERO;
  const { plug, tie } = by;
  let seen = load;
  if (tie.how === 'transformer') seen = scaled(inSeries(windingOf(node.socket.port), load), 1 / turnsOf(tie) ** 2);
  const pad = padOf(plug, tie);
  return pad ? inSeries(pad.seriesOhm, plus(seen, real(1 / pad.shuntOhm))) : seen;
}

/** A resistance before a load, as one load: 1 / (R + 1/Y). */
function inSeries(ohm: number, load: Complex): Complex {
  return over(load, plus(ONE, scaled(load, ohm)));
}

/** An electronic stage: what hangs behind it does not load what is before it. */
export function isBuffered(tie: Tie): boolean {
  return tie.how === 'active';
}

// ---- pads ----------------------------------------------------------------------------------------

export interface Pad {
  readonly seriesOhm: number;
  readonly shuntOhm: number;
}

/** The two resistors that show `ohm` and take `lossDb`, with nothing behind them. */
export function padResistors(ohm: number, lossDb: number): Pad {
  const shuntOhm = ohmsWithin(ohm / 10 ** (within(lossDb, 0, MOST_DB) / 20));
  return { seriesOhm: Math.max(0, ohm - shuntOhm), shuntOhm };
}

export function afterPad({ emf, source }: Pick<Thevenin, 'emf' | 'source'>, pad: Pad): Pick<Thevenin, 'emf' | 'source'> {
  const before = plus(source, real(pad.seriesOhm));
  const whole = plus(before, real(pad.shuntOhm));
  return { emf: over(scaled(emf, pad.shuntOhm), whole), source: over(scaled(before, pad.shuntOhm), whole) };
}

function isPad(tie: Tie): boolean {
  return tie.padDb > 0 && !isBuffered(tie);
}

function padOf(plug: Plug, tie: Tie): Pad | undefined {
  return isPad(tie) && plug.padOhm !== undefined ? padResistors(plug.padOhm, tie.padDb) : undefined;
}

function padOhmOf(input: Socket, kinds: readonly SignalKind[]): number {
  return ohmsWithin(modeFor(input, kinds)?.impedanceOhm ?? USUAL_PAD_OHM);
}

// ---- figures of ports ----------------------------------------------------------------------------

function driveOf(drive: Drive | undefined, hz: number): Complex {
  const omega = 2 * Math.PI * hz;
  const henry = within(drive?.inductanceH ?? 0, 0, 1e6);
  const capacitor = drive?.capacitanceF === undefined ? 0 : 1 / (omega * within(drive.capacitanceF, 1e-15, 1));
  return { re: drive?.impedanceOhm === undefined ? 0 : ohmsWithin(drive.impedanceOhm), im: omega * henry - capacitor };
}

/** What a lead puts across the signal. Light and radio have none, and neither has what is inside a machine. */
export function leadLoad(metres: number, kinds: readonly SignalKind[], hz = LEVEL_HZ): Complex {
  if (metres === 0 || kinds.includes('digital') || kinds.includes('radio')) return ZERO;
  return { re: 0, im: 2 * Math.PI * hz * LEAD_F_PER_M * within(metres, 0, 1e6) };
}

function modeOhm(port: Port): number | undefined {
  return port.modes[0]?.impedanceOhm;
}

function windingOf(port: Port): number {
  const ohm = modeOhm(port);
  return ohm === undefined ? 0 : ohmsWithin(ohm);
}

function turnsOf(tie: Tie): number {
  return within(tie.ratio, 1e-4, 1e4);
}

/** The load an input is by itself, in siemens. An input without modes only passes the signal on. */
export function ownLoad(input: Socket, kinds: readonly SignalKind[]): number {
  const mode = modeFor(input, kinds);
  if (!mode) return 0;
  const ohm = mode.impedanceOhm ?? USUAL_LOAD_OHM[mode.kind];
  return ohm === undefined ? 0 : 1 / ohmsWithin(ohm);
}

/** The mode of a port that suits the kinds a signal comes as; else the first. */
export function modeFor(at: Socket, kinds: readonly SignalKind[]): Mode | undefined {
  const { modes } = at.port;
  return modes.find((mode) => kinds.includes(mode.kind)) ?? modes[0];
}

/** No figure of a circuit is beyond these; what is written beyond them is taken as them, so that results stay finite. */
const MOST = 1e60;
const MOST_DB = 400;

function ohmsWithin(ohm: number): number {
  return within(ohm, 1e-6, 1e15);
}

function within(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), high);
}

// ---- balanced and unbalanced ---------------------------------------------------------------------

/**
 * Whether an input takes one leg alone of a balanced line output whose two legs are each driven: it gets half the level,
 * 6.02 dB less (common practice, no source). A winding, a microphone and an output said to be `floating` give all of it.
 */
export function usesOneLeg(from: Pick<OutputState, 'socket' | 'kinds' | 'by'>, to: Socket): boolean {
  const mode = modeFor(to, from.kinds);
  const takesOne =
    isTwoPole(to.port) ||
    (from.socket.port.modes.length === 0 && isTwoPole(from.socket.port)) ||
    (mode !== undefined && !mode.balanced && (mode.kind === 'line' || mode.kind === 'mic' || mode.kind === 'instrument'));
  return takesOne && drivesBothLegs(from, mode?.kind);
}

function drivesBothLegs(from: Pick<OutputState, 'socket' | 'kinds' | 'by'>, kind: SignalKind | undefined): boolean {
  let at = from;
  // What passes the signal on drives as what is before it does.
  while (at.socket.port.modes.length === 0) {
    if (!at.by || at.by.plug.oneLeg || at.by.tie.how === 'transformer' || isBuffered(at.by.tie)) return false;
    at = at.by.plug.upstream;
  }
  if (at.by?.tie.how === 'transformer' || isTwoPole(at.socket.port)) return false;
  const mode = modeFor(at.socket, kind === undefined ? at.kinds : [kind]);
  return mode?.kind === 'line' && mode.balanced && !mode.floating;
}

function isTwoPole({ connector }: Port): boolean {
  return connector !== undefined && CONNECTORS[connector].poles < 3;
}

// ---- decibels ------------------------------------------------------------------------------------

/** A ratio of voltages in dB; far below anything heard where there is nothing at all. */
export function ratioDb(ratio: number): number {
  return 20 * Math.log10(within(ratio, 1e-100, 1e100));
}

/** The voltage lost into a load, in dB: positive, but where a coil and a lead ring together. */
export function loadingLossDb(source: Complex, load: Complex): number {
  return ratioDb(size(plus(ONE, times(source, load))));
}
