/**
 * The voltage that phantom power leaves at what it feeds: a network of resistors, worked out exactly.
 *
 * P48: 48 V (44 to 52 V) behind 6.81 kohm in each of the two signal wires, 10 mA at most (IEC 61938, values as several public
 * descriptions report them). Both wires carry it side by side, so that each resistor counts half. What is fed draws a constant
 * current. Volts, amperes, ohms.
 */
import type { Model, Piece, Port, Tie } from '#rig';
import { memoryOf } from './memory';
import { type Network, type Socket, sideOf, socket } from './network';
import { contactsOf, endsInJackHalf } from './phantomWires';
import { needsPhantom, passesPhantom, supplyOf } from './ports';

const P48_V = 48;
const P48_LOWEST_V = 44;
const P48_LEG_OHM = 6_810;
/** The most that a microphone may draw. */
export const P48_MOST_A = 0.01;
/** Of a pad that states no impedance, as for its loss: common practice, no source. */
const USUAL_PAD_OHM = 1_000;

/** What P48 leaves at a current at the very least, with its voltage as low as it may be. */
export function guaranteedVolts(currentA: number): number {
  return P48_LOWEST_V - (currentA * P48_LEG_OHM) / 2;
}

/**
 * The volts between both signal wires and the shield at an output that is fed, for a set of inputs (by key) whose supply is
 * on; undefined where none of them reaches it. Less than nothing means that the current cannot be had.
 */
export function phantomVolts(net: Network, at: Socket, isLive: (key: string) => boolean): number | undefined {
  const circuit = new Circuit();
  const seen = new Set([sideOf(at)]);
  const queue = [at];
  const visit = (next: Socket, from: Socket, legOhm: number) => {
    circuit.join(sideOf(from), sideOf(next), legOhm / 2);
    if (seen.has(sideOf(next))) return;
    seen.add(sideOf(next));
    queue.push(next);
  };
  for (const here of queue) {
    const { piece, port } = here;
    if (port.direction === 'output') {
      if (needsPhantom(port)) circuit.draw(sideOf(here), port.modes.find((mode) => mode.phantom === 'needed')?.drawsA ?? P48_MOST_A);
      for (const joint of net.leaving.get(here.key) ?? []) {
        if (!joint.clashes && contactsOf(joint) >= 3 && !endsInJackHalf(net, joint)) visit(joint.to, here, 0);
      }
      // Back through a switch there is one way at a time, and it is the one that led here.
      if (port.tie?.how !== 'parallel' || !passesPhantom(port.tie)) continue;
      for (const id of port.tie.inputs) {
        const input = piece.model.ports.find((each) => each.id === id && each.direction === 'input');
        if (input) visit(socket(piece, input), here, padLegOhm(piece, port.tie));
      }
    } else {
      if (isLive(here.key) && supplyOf(port)) circuit.supply(sideOf(here), P48_V, P48_LEG_OHM / 2);
      for (const joint of net.entering.get(here.key) ?? []) if (!joint.clashes && contactsOf(joint) >= 3) visit(joint.from, here, 0);
      for (const output of wiredFrom(piece.model).get(port.id) ?? [])
        visit(socket(piece, output), here, padLegOhm(piece, output.tie as Tie));
    }
  }
  return circuit.voltsAt(sideOf(at));
}

/** The inputs, by key, whose supply bears on what is left at an output. */
export function bearingOn(net: Network, at: Socket): string[] {
  const keys: string[] = [];
  phantomVolts(net, at, (key) => {
    keys.push(key);
    return false;
  });
  return keys;
}

/** The outputs that are joined to each input by wire, by the input's id. */
function wiredFrom(model: Model): ReadonlyMap<string, readonly Port[]> {
  return memoryOf(model).once('wired', undefined, () => byWire(model));
}

function byWire(model: Model): ReadonlyMap<string, readonly Port[]> {
  const found = new Map<string, Port[]>();
  for (const port of model.ports) {
    if (port.direction !== 'output' || !port.tie || !passesPhantom(port.tie)) continue;
    for (const id of port.tie.inputs) found.set(id, [...(found.get(id) ?? []), port]);
  }
  return found;
}

/** The series resistance of a pad in each wire. What it has between the two wires carries none of this. */
export function padLegOhm(piece: Piece, tie: Tie): number {
  if (tie.padDb <= 0) return 0;
  const input = piece.model.ports.find((port) => port.direction === 'input' && tie.inputs.includes(port.id));
  const ohm = input?.modes[0]?.impedanceOhm ?? USUAL_PAD_OHM;
  return (ohm * (1 - 10 ** (-tie.padDb / 20))) / 2;
}

/** Points joined by resistors, with supplies and steady currents at some of them. */
class Circuit {
  private readonly same = new Map<string, string>();
  /** By their two ends, as each is met from both. */
  private readonly resistors = new Map<string, { readonly a: string; readonly b: string; readonly ohm: number }>();
  private readonly supplies: { readonly at: string; readonly volts: number; readonly ohm: number }[] = [];
  private readonly draws: { readonly at: string; readonly currentA: number }[] = [];

  join(a: string, b: string, ohm: number): void {
    if (ohm > 0) this.resistors.set([a, b].sort().join('|'), { a, b, ohm });
    else if (this.pointOf(a) !== this.pointOf(b)) this.same.set(this.pointOf(b), this.pointOf(a));
  }

  supply(at: string, volts: number, ohm: number): void {
    this.supplies.push({ at, volts, ohm });
  }

  draw(at: string, currentA: number): void {
    this.draws.push({ at, currentA });
  }

  /**
   * Eliminates one point after the other, the least connected first, until only the one asked for is left: exact, and on a
   * tree without any further resistors. Undefined where no supply reaches it.
   */
  voltsAt(key: string): number | undefined {
    const points = new Map<string, Point>();
    const point = (at: string): Point => {
      const id = this.pointOf(at);
      const there = points.get(id) ?? { siemens: 0, amperes: 0, to: new Map<string, number>() };
      points.set(id, there);
      return there;
    };
    for (const { at, volts, ohm } of this.supplies) {
      const here = point(at);
      here.siemens += 1 / ohm;
      here.amperes += volts / ohm;
    }
    for (const { at, currentA } of this.draws) point(at).amperes -= currentA;
    const tie = (a: string, b: string, siemens: number) => {
      points.get(a)?.to.set(b, (points.get(a)?.to.get(b) ?? 0) + siemens);
      points.get(b)?.to.set(a, (points.get(b)?.to.get(a) ?? 0) + siemens);
    };
    for (const { a, b, ohm } of this.resistors.values()) {
      const [from, to] = [this.pointOf(a), this.pointOf(b)];
      point(a);
      point(b);
      if (from !== to) tie(from, to, 1 / ohm);
    }
    const asked = this.pointOf(key);
    point(key);
    while (points.size > 1) {
      const [id, gone] = [...points].reduce((least, each) =>
        each[0] !== asked && (least[0] === asked || each[1].to.size < least[1].to.size) ? each : least,
      );
      points.delete(id);
      const all = [...gone.to.values()].reduce((sum, each) => sum + each, gone.siemens);
      const neighbours = [...gone.to];
      for (const [index, [other, siemens]] of neighbours.entries()) {
        const there = points.get(other);
        if (!there) continue;
        there.to.delete(id);
        there.siemens += (siemens * gone.siemens) / all;
        there.amperes += (siemens * gone.amperes) / all;
        for (const [further, its] of neighbours.slice(index + 1)) tie(other, further, (siemens * its) / all);
      }
    }
    const left = points.get(asked);
    return left && left.siemens > 0 ? left.amperes / left.siemens : undefined;
  }

  private pointOf(key: string): string {
    let at = key;
    for (let next = this.same.get(at); next !== undefined; next = this.same.get(at)) at = next;
    return at;
  }
}

interface Point {
  /** To a fixed voltage, and the current that this and what is drawn bring in. */
  siemens: number;
  amperes: number;
  readonly to: Map<string, number>;
}
