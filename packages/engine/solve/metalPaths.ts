/**
 * Metal paths between our ground and the house's: where the two are on different mains, a current flows through each of them
 * and hums.
 *
 * Ours is earthed where gear of ours runs on the mains, or on a computer's USB, whose charger is a path too; microphones and
 * passive boxes float. A lead joins the grounds of both its ends (pin 1, the sleeve); radio and optical links do not, nor do
 * transformers and what else is isolated, as long as a ground lift there is set to lift. Common practice, no source.
 */
import type { Model, Piece, Port } from '#rig';
import { mustNotBe } from './mating';
import { memoryOf } from './memory';
import { type Joint, type Line, type Network, type Socket, sideOf, socket } from './network';
import { arrives, isTheirs } from './path';
import { contactsOf } from './phantomWires';

/** One way through metal from the house to earthed gear of ours. */
export interface MetalPath {
  /** A line of the house's, or one of ours that goes through, into or out of something of theirs. */
  readonly line: Line;
  /** The socket of theirs at which it starts. */
  readonly at: Socket;
  /** Gear of ours that the mains earths. */
  readonly earth: Piece;
  /** The leads, from the house's end to ours. */
  readonly joints: readonly Joint[];
  /** The last of them: the lead at which to isolate, on our side. */
  readonly isolate: Joint;
  /** A lead with two contacts among them, whose shield is the signal's own return: what flows there is heard. */
  readonly unbalanced: boolean;
}

/**
 * Line by line in the order of the text: from each line the nearest earth, and each lead to an earth from the line nearest to it, so
 * that none is left out where lines meet on their way. Linear in the number of joints and of the leads told.
 */
export function metalPaths(net: Network): MetalPath[] {
  const ends = new Map<string, { readonly line: Line; readonly at: Socket; readonly paths: Map<Piece, MetalPath> }>();
  const begin = (line: Line, at: Socket) => {
    if (isTheirEnd(at) && !ends.has(sideOf(at))) ends.set(sideOf(at), { line, at, paths: new Map() });
  };
  for (const line of net.lines) {
    if (line.run.kind !== 'output' && !arrives(line)) continue;
    for (const { from, to } of line.joints) {
      begin(line, from);
      begin(line, to);
    }
  }
  if (ends.size === 0) return [];
  const add = (start: Socket, earth: Piece, joints: readonly Joint[]) => {
    const end = ends.get(sideOf(start));
    const isolate = joints.at(-1);
    if (!end || !isolate || end.paths.has(earth)) return;
    end.paths.set(earth, { line: end.line, at: end.at, earth, joints, isolate, unbalanced: joints.some((joint) => contactsOf(joint) < 3) });
  };
  const fromEarths = new Spread(net, earthedSockets(net));
  for (const { at } of ends.values()) {
    const joints: Joint[] = [];
    let step = fromEarths.to(at);
    for (; step?.before && step.joint; step = step.before) joints.push(step.joint);
    if (step) add(at, step.at.piece, joints);
  }
  const starts = [...ends.values()].map(({ at }) => at);
  for (const last of new Spread(net, starts).steps) {
    if (!isEarth(last.at)) continue;
    const joints: Joint[] = [];
    let step = last;
    for (; step.before && step.joint; step = step.before) joints.push(step.joint);
    add(step.at, last.at.piece, joints.reverse());
  }
  return [...ends.values()].flatMap(({ paths }) => [...paths.values()]);
}

/** A socket at which a line meets the house's ground: where it ends or starts at their desk, and what of theirs it goes through. */
function isTheirEnd({ piece, port }: Socket): boolean {
  return isTheirGround(piece) && !isIsolated(port);
}

function earthedSockets(net: Network): Socket[] {
  const sockets = new Map<string, Socket>();
  for (const { from, to } of net.joints) {
    if (isEarth(from)) sockets.set(sideOf(from), from);
    if (isEarth(to)) sockets.set(sideOf(to), to);
  }
  return [...sockets.values()];
}

/** A socket that metal was followed to, and by which lead from where; one that it starts from by none. */
interface Step {
  readonly at: Socket;
  readonly joint?: Joint;
  readonly before?: Step;
}

/** All sockets that have metal to one of some, each with the shortest way to it, as far as the first ground. */
class Spread {
  /** In the order in which they are met. */
  readonly steps: Step[] = [];
  private readonly met = new BySide<Step>();
  private readonly walked = new BySide<true>();

  constructor(
    private readonly net: Network,
    starts: readonly Socket[],
  ) {
    for (const at of starts) this.meet({ at });
    for (const step of this.steps) this.goOn(step);
  }

  to(at: Socket): Step | undefined {
    return this.met.get(at);
  }

  private meet(step: Step): void {
    this.met.set(step.at, step);
    this.steps.push(step);
  }

  private goOn(step: Step): void {
    const { at, before } = step;
    // One that belongs to ground starts at its own socket alone.
    if (!before) this.goFrom(at, step);
    else if (!isTheirGround(at.piece) && !isEarth(at)) {
      // The metal of a piece is walked once, whichever way it is reached.
      for (const port of within(at.piece, at.port)) if (!this.goFrom(socket(at.piece, port), step)) break;
    }
  }

  /** False where it has been gone from before. */
  private goFrom(at: Socket, step: Step): boolean {
    if (this.walked.get(at)) return false;
    this.walked.set(at, true);
    const out = at.port.direction === 'output';
    for (const joint of (out ? this.net.leaving : this.net.entering).get(at.key) ?? NO_JOINTS) {
      const next = out ? joint.to : joint.from;
      if (joint.clashes || mustNotBe(joint) || contactsOf(joint) < 2 || this.met.get(next)) continue;
      this.meet({ at: next, joint, before: step });
    }
    return true;
  }
}

const NO_JOINTS: readonly Joint[] = [];

/** By sockets, of which an input and an output of one name are two. */
class BySide<V> {
  private readonly inputs = new Map<string, V>();
  private readonly outputs = new Map<string, V>();

  get({ key, port }: Socket): V | undefined {
    return (port.direction === 'input' ? this.inputs : this.outputs).get(key);
  }

  set({ key, port }: Socket, value: V): void {
    (port.direction === 'input' ? this.inputs : this.outputs).set(key, value);
  }
}

/** What a port has metal to inside its piece, itself too; in the same order whichever of them is asked. */
function within({ model }: Piece, port: Port): readonly Port[] {
  return (isIsolated(port) ? undefined : groupsOf(model).get(port)) ?? [port];
}

/** The ports of a model that metal joins, each with its group. Looking through all of a large device for every plug would take the square of the time. */
function groupsOf(model: Model): ReadonlyMap<Port, readonly Port[]> {
  return memoryOf(model).once('metal', undefined, () => grouped(model));
}

function grouped(model: Model): ReadonlyMap<Port, readonly Port[]> {
  const ports = model.ports.filter((port) => !isIsolated(port));
  const groups = new Map<Port, readonly Port[]>();
  // The sockets of one device share its chassis; those of a passive box are joined only where they are tied.
  if (!isPassive(model)) {
    for (const port of ports) groups.set(port, ports);
    return groups;
  }
  const beside = new Map<Port, Port[]>(ports.map((port) => [port, []]));
  const inputs = new Map(ports.flatMap((port) => (port.direction === 'input' ? [[port.id, port] as const] : [])));
  for (const output of ports) {
    for (const id of output.direction === 'output' ? (output.tie?.inputs ?? []) : []) {
      const input = inputs.get(id);
      if (!input) continue;
      beside.get(input)?.push(output);
      beside.get(output)?.push(input);
    }
  }
  for (const port of ports) {
    if (groups.has(port)) continue;
    const group = new Set([port]);
    for (const each of group) for (const next of beside.get(each) ?? []) group.add(next);
    const list = [...group];
    for (const each of list) groups.set(each, list);
  }
  return groups;
}

function isIsolated({ direction, tie }: Port): boolean {
  return direction === 'output' && tie?.isolated === true;
}

/** All its outputs are only wired, or wound, from its inputs. */
function isPassive({ ports }: Model): boolean {
  const outputs = ports.filter((port) => port.direction === 'output');
  return outputs.length > 0 && outputs.every(({ tie }) => tie !== undefined && tie.how !== 'active');
}

function onMains({ model }: Piece): boolean {
  return model.power?.from === 'mains' || model.power?.from === 'usb';
}

function isEarthed(piece: Piece): boolean {
  return onMains(piece) && !isTheirs(piece);
}

/** A socket that the mains earths. */
function isEarth({ piece, port }: Socket): boolean {
  return isEarthed(piece) && !isIsolated(port);
}

function isTheirGround(piece: Piece): boolean {
  return piece.kind === 'house' || (isTheirs(piece) && (onMains(piece) || piece.model.lineage.includes('desk')));
}
