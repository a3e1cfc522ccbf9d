/**
 * A source's signal through its tree of leads, splits, pads and loads, solved as a linear circuit at one frequency.
 *
 * Outputs are visited in the order in which the signal reaches them; loads are added up on the way back, Thévenin's
 * equivalents (an EMF behind an impedance) are made on the way out. On a tree that is exact. Volts are for 1 V unloaded at
 * the source; impedances are ohms, loads siemens. Transformers are ideal but for the winding resistance given as their
 * output's impedance (voltage n:1, impedance n²:1). A passive pad is two resistors.
 *
 * A balanced line output is two halves, each with half the EMF and half the impedance against earth, and as far as copper leads
 * from it there are two wires to solve: a balanced input hangs between the two, an unbalanced one on the hot wire alone, and its
 * lead leaves the cold one open. A pad has half its series resistance in each wire. A winding knows no earth: of a `floating`
 * output, and behind a transformer, the lead joins the cold wire to the screen, and all there is comes to one contact. Of an unbalanced
 * output the cold wire is earth: a pad from there to an unbalanced input has earth at both ends of it, and only the half of its series
 * resistance that is in the hot wire counts. Exact for one such pad; of two in a row the earth between them is taken as perfect.
 */
import { CONNECTORS, type Mode, type Model, type Port, type SignalKind, type Tie } from '#rig';
import { type Complex, ONE, over, plus, real, scaled, size, times, ZERO } from './complex';
import { memoryOf } from './memory';
import { type Joint, kindsOut, type Network, type Socket, socket } from './network';
import {
  behind,
  both,
  fromHot,
  halfInEach,
  hotOhms,
  hotVolts,
  loaded,
  NO_LOAD,
  onlyBetween,
  type PairMatrix,
  type PairSource,
  voltsBetween,
  without,
} from './pair';

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

/** The signal on one output: the EMF and impedance seen from it, and all that is plugged into it as the load. */
export interface OutputState extends PairSource {
  readonly socket: Socket;
  readonly kinds: readonly SignalKind[];
  readonly load: PairMatrix;
  /** Volts between its two wires for 1 V unloaded at the source's own output. */
  readonly ratio: number;
  /** What brought the signal to the piece, and how the output comes about; none at the source. */
  readonly by?: { readonly plug: PlugState; readonly tie: Tie };
  /** The nearest output whose level is known by itself: one with electronics before it that states it, else the source's own. */
  readonly given: OutputState;
  /** Its cold wire is earth where the signal is driven, or where it comes into the piece. */
  readonly earthed: boolean;
  /** The output that drives both wires against earth: itself, or the one that copper leads from. None on other lines. */
  readonly halves?: OutputState;
}

/** The signal at one input. */
export interface PlugState {
  readonly joint: Joint;
  readonly upstream: OutputState;
  /** Its load: the lead, the input and what is behind it. */
  readonly load: PairMatrix;
  /** Volts across the input for 1 V unloaded at the source's own output. */
  readonly ratio: number;
  /** One leg of a balanced output drives it: half the level. */
  readonly oneLeg: boolean;
  /** Of the plugs from the source to this one: how many there are, and how many of them are driven by one leg. */
  readonly passed: number;
  readonly oneLegs: number;
}

/** What would come to an input by its own line alone, for 1 V unloaded at the source's own output. */
export interface Alone {
  readonly ratio: number;
  /** Unloaded, at the output before it whose level is known by itself. */
  readonly given: number;
}

export interface Solution {
  readonly root: OutputState;
  /** By the key of the output. */
  readonly outputs: ReadonlyMap<string, OutputState>;
  readonly plugs: ReadonlyMap<Joint, PlugState>;
  /** As if nothing but the way from the source to a plug were plugged in; worked out for all of them when first asked for. */
  alone(joint: Joint): Alone | undefined;
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
  reflected: PairMatrix;
  given: Node;
  halves?: Node;
  /** Copper leads from it to an unbalanced input, whose lead earths the cold wire. */
  earthsBehind: boolean;
}

const UNSOLVED = { emf: voltsBetween(ZERO), source: NO_LOAD, load: NO_LOAD, ratio: 0 };

/** Every output and input that gets what `start` gives. Linear in what is plugged in and in the ports of it. */
export function solveFrom(
  net: Network,
  start: Socket,
  kinds: readonly SignalKind[],
  drive: Drive | undefined,
  conditions: Conditions = {},
): Solution {
  const { hz = LEVEL_HZ, metres, plugged } = conditions;
  const root = outputNode(start, kinds);
  root.emf = voltsBetween(ONE);
  root.source = inSeries(root, driveOf(drive, hz));
  const nodes = new Map<string, Node>([[start.key, root]]);
  const plugs = new Map<Joint, Plug>();
  for (const node of nodes.values()) {
    for (const joint of net.leaving.get(node.socket.key) ?? []) {
      if (plugged && !plugged(joint)) continue;
      const oneLeg = usesOneLeg(node, joint.to);
      const own = leadLoad(metres?.(joint) ?? 0, node.kinds, hz);
      const { passed, oneLegs } = node.by?.plug ?? { passed: 0, oneLegs: 0 };
      const before = { passed: passed + 1, oneLegs: oneLegs + (oneLeg ? 1 : 0) };
      const plug: Plug = { joint, upstream: node, oneLeg, ...before, below: [], own, load: NO_LOAD, ratio: 0 };
      let pads = 0;
      for (const { port, tie } of madeFrom(joint.to)) {
        const next = socket(joint.to.piece, port);
        if (nodes.has(next.key)) continue;
        const below = outputNode(next, kindsOut(port, node.kinds), { plug, tie });
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
    node.earthsBehind = node.plugs.some(earthsCold);
    for (const plug of node.plugs) {
      plug.load = plug.below.reduce((load, below) => both(load, below.reflected), onlyBetween(plug.own));
      node.load = both(node.load, onOutput(plug, plug.load));
    }
    node.reflected = reflected(node, node.load);
  }
  for (const node of outward) {
    if (node.by) comeOut(node, node.by.plug, node.by.tie);
    const volts = loaded(node, node.load).emf;
    node.ratio = size(volts.between);
    const onHot = size(hotVolts(volts));
    for (const plug of node.plugs) plug.ratio = plug.oneLeg ? onHot : node.ratio;
  }
  let known: ReadonlyMap<Joint, Alone> | undefined;
  const alone = (joint: Joint) => {
    known ??= eachAlone(outward);
    return known.get(joint);
  };
  return { root, outputs: nodes, plugs, alone };
}

/** The outputs in the order in which the signal reaches them. What all lines have in common is gone through once. */
function eachAlone(outward: readonly Node[]): ReadonlyMap<Joint, Alone> {
  const sources = new Map<Node, PairSource>();
  const found = new Map<Joint, Alone>();
  for (const node of outward) {
    if (node.plugs.length === 0) continue;
    const from = node.by ? outOfIdle(node, node.by, sources, found) : node;
    sources.set(node, from);
    const given = size((sources.get(node.given) ?? node.given).emf.between);
    for (const plug of node.plugs) {
      const { emf } = loaded(from, onOutput(plug, idleLoad(plug)));
      found.set(plug.joint, { ratio: size(plug.oneLeg ? hotVolts(emf) : emf.between), given });
    }
  }
  return found;
}

/** What comes out of an output while nothing is plugged into the others of its piece. */
function outOfIdle(
  node: Node,
  { plug, tie }: NonNullable<Node['by']>,
  sources: ReadonlyMap<Node, PairSource>,
  found: ReadonlyMap<Joint, Alone>,
): PairSource {
  if (isBuffered(tie)) return buffered(node, tie, found.get(plug.joint)?.ratio ?? 0);
  const beside = without(idleLoad(plug), idleReflected(node));
  return wired(node, plug, tie, loaded(sources.get(plug.upstream) ?? plug.upstream, onOutput(plug, beside)));
}

/** A lead and an input with nothing plugged in behind it. */
function idleLoad({ own, below, padOhm }: Plug): PairMatrix {
  // Only a pad is a load by itself.
  return padOhm === undefined ? onlyBetween(own) : below.reduce((load, each) => both(load, idleReflected(each)), onlyBetween(own));
}

function idleReflected(node: Node): PairMatrix {
  return node.by && isPad(node.by.tie) ? reflected(node, NO_LOAD) : NO_LOAD;
}

function outputNode(at: Socket, kinds: readonly SignalKind[], by?: Node['by']): Node {
  const earthed = isEarthed(at, by);
  const unsolved: Omit<Node, 'given'> = { socket: at, kinds, by, earthed, earthsBehind: false, plugs: [], reflected: NO_LOAD, ...UNSOLVED };
  const node = unsolved as Node;
  node.halves = halvesOf(node);
  const stated = by && isBuffered(by.tie) && at.port.modes.some(({ levelDbu }) => levelDbu !== undefined);
  node.given = !by || stated ? node : by.plug.upstream.given;
  return node;
}

interface MadeFrom {
  readonly port: Port;
  readonly tie: Tie;
}

/** The outputs that are made from an input. Looking through all the ports of a large device for every plug would take the square of the time. */
function madeFrom({ piece: { model }, port }: Socket): readonly MadeFrom[] {
  return (
    memoryOf(model)
      .once('made from', undefined, () => byInput(model))
      .get(port.id) ?? NOTHING
  );
}

function byInput(model: Model): ReadonlyMap<string, readonly MadeFrom[]> {
  const made = new Map<string, MadeFrom[]>();
  for (const output of model.ports) {
    const { tie } = output;
    for (const input of new Set(tie?.inputs)) {
      const list = made.get(input) ?? [];
      if (tie) list.push({ port: output, tie });
      made.set(input, list);
    }
  }
  return made;
}

const NOTHING: readonly MadeFrom[] = [];

/** What a load behind a plug is for the output that it is plugged into. */
function onOutput({ oneLeg }: PlugState, load: PairMatrix): PairMatrix {
  return oneLeg ? fromHot(load.between) : load;
}

/** An impedance in the way of what comes out of an output. */
function inSeries({ halves }: Pick<OutputState, 'halves'>, whole: Complex): PairMatrix {
  return halves ? halfInEach(whole) : onlyBetween(whole);
}

/** The series resistance of a pad, as far as it is in the way: between earth and earth the half in the cold wire is not. */
function ofPad(from: Pick<OutputState, 'halves' | 'earthed'>, { seriesOhm }: Pad, earthsBehind: boolean): PairMatrix {
  return inSeries(from, real(!from.halves && from.earthed && earthsBehind ? seriesOhm / 2 : seriesOhm));
}

/** One wire against the other, or the hot one alone against earth, as they are seen from a plug. */
function oneSource({ emf, source }: PairSource, oneLeg: boolean): Source {
  return oneLeg ? { emf: hotVolts(emf), source: hotOhms(source) } : { emf: emf.between, source: source.between };
}

/** An EMF behind an impedance. */
interface Source {
  readonly emf: Complex;
  readonly source: Complex;
}

function asPair({ emf, source }: Source): PairSource {
  return { emf: voltsBetween(emf), source: onlyBetween(source) };
}

/** An output without one of the leads that are plugged into it. */
export function unplugged(plug: PlugState): OutputState {
  const { upstream } = plug;
  const load = without(upstream.load, onOutput(plug, plug.load));
  return { ...upstream, load, ratio: size(loaded(upstream, load).emf.between) };
}

/** What would come to an input by one more lead out of an output, for 1 V unloaded at the source's own output. */
export function ratioAt(from: OutputState, to: Socket, metres: number, pad?: Pad): number {
  let seen = loaded(from, from.load);
  if (pad) seen = afterPad(seen, pad, ofPad(from, pad, isUnbalanced(from, to)));
  const { emf, source } = oneSource(seen, usesOneLeg(from, to));
  const load = plus(leadLoad(metres, from.kinds), real(ownLoad(to, from.kinds)));
  return size(over(emf, plus(ONE, times(source, load))));
}

/** What comes out of an output of a piece, from what comes in and what its other outputs take. */
function comeOut(node: Node, plug: Plug, tie: Tie): void {
  const { upstream } = plug;
  const { emf, source } = isBuffered(tie)
    ? buffered(node, tie, plug.ratio)
    : wired(node, plug, tie, loaded(upstream, without(upstream.load, onOutput(plug, node.reflected))));
  node.emf = emf;
  node.source = source;
}

/** Out of electronics, with so many volts at their input. */
function buffered(node: Node, tie: Tie, ratio: number): PairSource {
  const gain = 10 ** (within(tie.gainDb - tie.padDb, -MOST_DB, MOST_DB) / 20);
  return {
    emf: voltsBetween(real(within(ratio * gain, 1 / MOST, MOST))),
    source: inSeries(node, real(ohmsWithin(modeOhm(node.socket.port) ?? USUAL_DRIVE_OHM))),
  };
}

/** Through wire, a pad or a winding, from what is seen at the input with all else in place. */
function wired(node: Node, plug: Plug, tie: Tie, before: PairSource): PairSource {
  let seen = node.halves ? before : asPair(oneSource(before, plug.oneLeg));
  const pad = padOf(plug, tie);
  if (pad) seen = afterPad(seen, pad, ofPad(node, pad, node.earthsBehind));
  if (tie.how !== 'transformer') return seen;
  const turns = turnsOf(tie);
  const { emf, source } = oneSource(seen, false);
  return asPair({ emf: scaled(emf, 1 / turns), source: plus(scaled(source, 1 / turns ** 2), real(windingOf(node.socket.port))) });
}

/** What an output adds to the load at the input it is made from with a load on it, in siemens. */
function reflected(node: Node, load: PairMatrix): PairMatrix {
  const { by } = node;
  if (!by || isBuffered(by.tie)) return NO_LOAD;
  const { plug, tie } = by;
  let seen = load;
  if (tie.how === 'transformer') {
    const { between } = behind(onlyBetween(real(windingOf(node.socket.port))), load);
    seen = onlyBetween(scaled(between, 1 / turnsOf(tie) ** 2));
  }
  const pad = padOf(plug, tie);
  return pad ? behind(ofPad(node, pad, node.earthsBehind), both(seen, shunt(pad))) : seen;
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

function shunt({ shuntOhm }: Pad): PairMatrix {
  return onlyBetween(real(1 / shuntOhm));
}

function afterPad({ emf, source }: PairSource, pad: Pad, series: PairMatrix): PairSource {
  return loaded({ emf, source: both(source, series) }, shunt(pad));
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

/** The mode of a port that suits the kinds a signal comes as; for an instrument without one of its own the one for lines, as its jack does; else the first. */
export function modeFor(at: Socket, kinds: readonly SignalKind[]): Mode | undefined {
  const { modes } = at.port;
  const used = modes.find((mode) => kinds.includes(mode.kind));
  if (used) return used;
  return (kinds.includes('instrument') ? modes.find(({ kind }) => kind === 'line') : undefined) ?? modes[0];
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
export function usesOneLeg(from: OutputState, to: Socket): boolean {
  const { halves } = from;
  if (!halves) return false;
  const mode = modeFor(to, from.kinds);
  return isUnbalanced(from, to) && drivesHalves(modeFor(halves.socket, mode ? [mode.kind] : halves.kinds));
}

/** Whether the lead from an output to an input has two contacts in use, of which the cold one is earth. */
function isUnbalanced(from: OutputState, to: Socket): boolean {
  const mode = modeFor(to, from.kinds);
  return (
    isTwoPole(to.port) ||
    (from.socket.port.modes.length === 0 && isTwoPole(from.socket.port)) ||
    (mode !== undefined && !mode.balanced && (mode.kind === 'line' || mode.kind === 'mic' || mode.kind === 'instrument'))
  );
}

/** Whether a lead, or copper behind it, earths the cold wire. Not through a transformer, nor through electronics. */
function earthsCold({ upstream, joint, below }: Plug): boolean {
  return (
    isUnbalanced(upstream, joint.to) ||
    below.some(({ by, earthsBehind }) => earthsBehind && by !== undefined && !isBuffered(by.tie) && by.tie.how !== 'transformer')
  );
}

function isEarthed({ port }: Socket, by: Node['by']): boolean {
  if (!by || isBuffered(by.tie)) return isTwoPole(port) || (port.modes.length > 0 && port.modes.every(({ balanced }) => !balanced));
  if (by.tie.how === 'transformer') return false;
  const { upstream, joint } = by.plug;
  return upstream.earthed || isUnbalanced(upstream, joint.to);
}

function halvesOf(node: Node): Node | undefined {
  const { socket: at, by } = node;
  // What passes the signal on drives as what is before it does.
  if (by && !isBuffered(by.tie)) return by.tie.how === 'transformer' || by.plug.oneLeg ? undefined : by.plug.upstream.halves;
  return !isTwoPole(at.port) && at.port.modes.some(drivesHalves) ? node : undefined;
}

function drivesHalves(mode: Mode | undefined): boolean {
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
