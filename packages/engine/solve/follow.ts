/** Every run followed from where its signal starts to where it ends. */
import { freshId, type HouseRun, type InputRun, type OutputRun, type Piece, type Port, type PortRef, type Rig, type Run } from '#rig';
import { type Carrier, Carriers } from './carriers';
import { Kept, Memory } from './memory';
import {
  findPort,
  type Joint,
  kindsOut,
  type Line,
  type Network,
  NO_PORTS,
  push,
  type Snag,
  type Socket,
  sidesOf,
  socket,
} from './network';

/** What one run has added to what was there when its turn came. */
export interface Step {
  readonly run: Run;
  /** Outputs go first, then who says most of the way. */
  readonly turn: number;
  readonly joints: readonly Joint[];
  readonly snags: readonly Snag[];
}

/** What comes of following the runs of a rig, or of a part of it. */
export interface Followed {
  /** In the order in which the runs had their turns. */
  readonly steps: readonly Step[];
  /** In the order in which the runs are written. */
  readonly lines: readonly Line[];
  readonly bySignal: ReadonlyMap<string, readonly Line[]>;
  readonly byJoint: ReadonlyMap<Joint, readonly Line[]>;
  /** What has been worked out of it. */
  readonly memory: Memory;
}

class Follower {
  readonly steps: Step[] = [];
  readonly lines: Line[] = [];
  private readonly joints: Joint[] = [];
  private readonly snags: Snag[] = [];
  private readonly leaving = new Map<string, Joint[]>();
  private readonly entering = new Map<string, Joint[]>();
  /** The lines of each mix that leave an output of ours and go on. */
  private readonly carrying = new Map<string, Line[]>();
  /** For each signal and channel, the outputs that carry it, with the kind they carry. */
  private readonly carriers = new Map<string, Carriers>();
  /** What comes out behind each input, by its key and the kinds that come in. */
  private readonly outcomes = new Map<string, Carriers>();

  constructor(private readonly rig: Rig) {}

  follow(): void {
    for (const run of this.rig.outputs) this.step(run, 0, () => this.output(run));
    const taking: (InputRun | HouseRun)[] = [...this.rig.inputs, ...this.rig.house];
    // Who says the way goes first; who says nothing takes what is left.
    const going = new Set(taking.flatMap((run) => (run.takes && run.via.length > 0 ? [`${run.takes.id}.${run.takes.port ?? ''}`] : [])));
    const turns: (InputRun | HouseRun)[][] = [[], [], []];
    for (const run of taking) turns[this.turn(run, going)]?.push(run);
    turns.forEach((runs, turn) => {
      for (const run of runs) this.step(run, turn + 1, () => this.take(run));
    });
    const rank = ranks(this.rig);
    this.lines.sort((a, b) => (rank.get(a.run) ?? 0) - (rank.get(b.run) ?? 0) || a.index - b.index);
  }

  private step(run: Run, turn: number, taken: () => void): void {
    const [joints, snags] = [this.joints.length, this.snags.length];
    taken();
    this.steps.push({ run, turn, joints: this.joints.slice(joints), snags: this.snags.slice(snags) });
  }

  /** `going`: the outputs, and the sources as a whole, that other runs take through something. */
  private turn({ takes, via }: InputRun | HouseRun, going: ReadonlySet<string>): number {
    if (via.length > 0 || !takes) return 0;
    if (takes.port === undefined) return 2;
    const piece = this.rig.pieces.get(takes.id);
    const whole = piece && findPort(piece, takes.port, 'output')?.separate === true && going.has(`${takes.id}.`);
    return whole || going.has(`${takes.id}.${takes.port}`) ? 1 : 0;
  }

  // ---- runs --------------------------------------------------------------------------------------

  private output(run: OutputRun): void {
    const device = this.rig.pieces.get(run.from.piece);
    if (!device) return;
    const mix = run.carries === undefined ? undefined : this.rig.mixes.get(run.carries);
    run.from.ports.forEach((id, index) => {
      const port = findPort(device, id, 'output');
      if (!port) {
        this.snags.push({
          kind: 'no-such-port',
          ref: { piece: device.id, port: id, place: run.from.place },
          piece: device,
          direction: 'output',
        });
        return;
      }
      const channel = mix?.stereo && run.from.ports.length > 1 ? ['left', 'right'][index] : undefined;
      const start = socket(device, port);
      const carrier = { socket: start, kinds: kindsOut(port, ['line']) };
      const carriers = this.carriersOf(mix?.id ?? run.id, channel);
      carriers.set(carrier);
      this.walk(run, index, mix?.id, channel, this.among([carrier]), run.via, undefined, carriers);
    });
  }

  private take(run: InputRun | HouseRun): void {
    const ends = this.ends(run);
    const taken = run.takes;
    if (!taken) return;
    const channels = this.channels(run, ends.length);
    if (channels === undefined) return;
    // A house line that takes a stereo signal whole is still one line.
    ends.forEach((end, index) => {
      const channel = channels[Math.min(index, channels.length - 1)];
      const carriers = this.carriersOf(taken.id, channel?.name);
      for (const output of channel?.outputs ?? []) carriers.add(output);
      const start = channel?.start ? this.among([...channel.start, ...this.behind(channel.start, carriers)]) : carriers;
      this.walk(run, index, taken.id, channel?.name, start, run.via, end, carriers);
    });
  }

  /** Outputs on which a signal goes on behind those it starts from, as far as they are plugged in: the other sides of a split. */
  private behind(start: readonly Carrier[], carriers: Carriers): Carrier[] {
    const reached = new Set(start.map(({ socket }) => socket.key));
    return [...carriers].filter(({ socket: { key, piece, port } }) => {
      if (reached.has(key)) return false;
      const behind = port.tie?.inputs.some((id) => this.entering.get(`${piece.id}.${id}`)?.some(({ from }) => reached.has(from.key)));
      if (behind) reached.add(key);
      return behind;
    });
  }

  private ends(run: InputRun | HouseRun): (Socket | undefined)[] {
    if (run.kind === 'house') {
      const piece = this.rig.pieces.get(run.piece);
      const port = piece?.model.ports.find((candidate) => candidate.direction === 'input');
      return [piece && port ? socket(piece, port) : undefined];
    }
    const device = this.rig.pieces.get(run.to.piece);
    if (!device) return run.to.ports.map(() => undefined);
    return run.to.ports.map((id) => {
      const port = findPort(device, id, 'input');
      if (port) return socket(device, port);
      this.snags.push({
        kind: 'no-such-port',
        ref: { piece: device.id, port: id, place: run.to.place },
        piece: device,
        direction: 'input',
      });
      return undefined;
    });
  }

  /** The channels a run takes, each with the outputs it may start from; undefined where nothing can be taken. */
  private channels(run: InputRun | HouseRun, count: number): Channel[] | undefined {
    const taken = run.takes;
    if (!taken) return undefined;
    if (taken.kind === 'mix') return this.mixChannels(run, taken.id, taken.port);
    const piece = this.rig.pieces.get(taken.id);
    if (!piece) return undefined;
    const outputs = piece.model.ports.filter((port) => port.direction === 'output');
    const carry = (port: Port) => ({ socket: socket(piece, port), kinds: kindsOut(port, []) });
    if (taken.port !== undefined) {
      const port = outputs.find((candidate) => candidate.id === taken.port);
      if (!port) {
        this.snags.push({
          kind: 'no-such-port',
          ref: { piece: piece.id, port: taken.port, place: taken.place },
          piece,
          direction: 'output',
        });
        return undefined;
      }
      if (port.separate) return [{ name: port.id, outputs: [carry(port)] }];
      return [{ name: undefined, outputs: outputs.filter((o) => !o.separate).map(carry), start: [carry(port)] }];
    }
    const separate = outputs.filter((port) => port.separate);
    if (separate.length === 0) return [{ name: undefined, outputs: outputs.map(carry) }];
    if (separate.length > count) {
      this.snags.push({ kind: 'channel-left-out', run, signal: taken.id, channels: separate.map((port) => port.id) });
    }
    return separate.slice(0, count).map((port) => ({ name: port.id, outputs: [carry(port)] }));
  }

  private mixChannels(run: InputRun | HouseRun, mix: string, side: string | undefined): Channel[] | undefined {
    const all = this.carrying.get(mix) ?? [];
    const byWire = all.filter(({ open }) => open.some(isForDesk));
    // What is for ears alone is taken where the mix comes out nowhere else: that is told there.
    const carrying = byWire.length > 0 ? byWire : all;
    const chosen = side === undefined ? carrying : carrying.filter((line) => line.channel === side);
    if (chosen.length === 0) {
      if (run.kind === 'house') this.snags.push({ kind: 'not-carried', run, mix });
      return undefined;
    }
    const [first, second] = new Set(chosen.flatMap(({ channel }) => channel ?? []));
    if (run.kind === 'house' && first !== undefined && second !== undefined) {
      const other = this.rig.house.some(({ takes }) => takes?.id === mix && takes.port === second);
      if (!other) this.snags.push({ kind: 'half-carried', run, mix, sides: [first, second] });
    }
    return chosen.map((line) => {
      const outputs = line.open.map((open) => ({ socket: open, kinds: kindsOut(open.port, ['line']) }));
      return { name: line.channel, outputs, start: outputs };
    });
  }

  // ---- one line ----------------------------------------------------------------------------------

  private walk(
    run: Run,
    index: number,
    signal: string | undefined,
    channel: string | undefined,
    start: Carriers,
    via: readonly PortRef[],
    end: Socket | undefined,
    carriers: Carriers,
  ): void {
    const joints: Joint[] = [];
    let candidates = start;
    let named: PortRef | undefined;
    for (const [position, step] of via.entries()) {
      const piece = this.rig.pieces.get(freshId(step.piece, index)) ?? this.rig.pieces.get(step.piece);
      if (!piece) continue;
      const through = this.through(step, piece, index, candidates);
      if (!through) return this.finish(run, index, signal, channel, joints, candidates, false);
      const joint = this.plug(run, signal, candidates, through.input, named);
      if (joint) {
        joints.push(joint);
        this.lookTwice(run, joint);
      }
      const incoming = (joint && carriers.get(joint.from.key)?.kinds) ?? [];
      const carrier = (port: Port) => ({ socket: socket(piece, port), kinds: kindsOut(port, incoming) });
      const { key, port: into } = through.input;
      const tied = tiedOutputs(piece, into.id);
      candidates =
        through.outputs === tied
          ? this.outcome(`${key} ${incoming.join()}`, () => tied.map(carrier))
          : this.among(through.outputs.map(carrier));
      carriers.addBehind(key, () => tied.map(carrier));
      named = through.outputNamed ? step : undefined;
      const last = position === via.length - 1;
      if (candidates.size === 0 && (!last || end)) {
        // The other channel ends there as well.
        if (!this.snags.some((snag) => snag.kind === 'nothing-comes-out' && snag.run === run && snag.piece === piece))
          this.snags.push({ kind: 'nothing-comes-out', run, piece });
        return this.finish(run, index, signal, channel, joints, NOBODY, false);
      }
    }
    if (end) {
      const joint = this.plug(run, signal, candidates, end, named);
      if (joint) joints.push(joint);
      return this.finish(run, index, signal, channel, joints, NOBODY, true, end);
    }
    this.finish(run, index, signal, channel, joints, candidates, true);
  }

  /** `via active-di` in two lines is two DIs, one behind the other; a DI behind a DI in one line is hardly meant either. */
  private lookTwice(run: Run, joint: Joint): void {
    const { from, to } = joint;
    if (from.piece.kind !== 'fresh' || to.piece.kind !== 'fresh' || from.piece.model.id !== to.piece.model.id) return;
    const feeding = from.piece.model.ports.flatMap((port) => this.entering.get(socket(from.piece, port).key) ?? [])[0];
    const owner = feeding?.runs[0];
    if (!owner || joint.runs[0] !== run) return;
    // Y-leads one behind the other make three of one: in one line that is meant.
    if (owner === run && from.port.modes.length === 0 && to.piece.model.ports.every((port) => port.modes.length === 0)) return;
    this.snags.push({ kind: 'second-piece', run, piece: to.piece, first: owner });
  }

  private finish(
    run: Run,
    index: number,
    signal: string | undefined,
    channel: string | undefined,
    joints: readonly Joint[],
    candidates: Iterable<Carrier>,
    whole: boolean,
    end?: Socket,
  ): void {
    const ending = run.kind === 'output' ? Array.from(candidates, (carrier) => carrier.socket) : [];
    const start = joints[0]?.from ?? ending[0];
    const open = whole ? ending : [];
    const line: Line = { run, index, signal, channel, joints, start, end: end ?? joints.at(-1)?.to, open };
    this.lines.push(line);
    if (signal !== undefined && open.length > 0) push(this.carrying, signal, line);
  }

  /** The input a step goes in by and the outputs it may leave by. */
  private through(
    step: PortRef,
    piece: Piece,
    index: number,
    candidates: Carriers,
  ): { input: Socket; outputs: readonly Port[]; outputNamed: boolean } | undefined {
    const { inputs } = sidesOf(piece.model);
    if (step.port !== undefined) {
      const input = findPort(piece, step.port, 'input');
      const output = findPort(piece, step.port, 'output');
      if (!input && !output) {
        this.snags.push({ kind: 'no-such-port', ref: step, piece, direction: 'any' });
        return undefined;
      }
      if (input && output) {
        const tied = tiedOutputs(piece, input.id);
        const outputs = tied.some((port) => port.id === output.id) ? [output] : tied;
        return { input: socket(piece, input), outputs, outputNamed: outputs.length === 1 };
      }
      if (input) return { input: socket(piece, input), outputs: tiedOutputs(piece, input.id), outputNamed: false };
      const feeding = inputs.filter((port) => output?.tie?.inputs.includes(port.id));
      const chosen = this.chooseInput(piece, feeding, index, candidates);
      return chosen && output ? { input: chosen, outputs: [output], outputNamed: true } : undefined;
    }
    const chosen = this.chooseInput(piece, inputs, index, candidates);
    return chosen && { input: chosen, outputs: tiedOutputs(piece, chosen.port.id), outputNamed: false };
  }

  private chooseInput(piece: Piece, inputs: readonly Port[], index: number, candidates: Carriers): Socket | undefined {
    const sockets = inputs.map((port) => socket(piece, port));
    const shared = sockets.find((s) => this.entering.get(s.key)?.some((joint) => candidates.has(joint.from.key)));
    if (shared) return shared;
    const free = sockets.filter((s) => !this.entering.has(s.key));
    const fitting = free.find((s) => candidates.mate(s.port));
    // A fresh pair's second line goes into the second input: the first is no longer free by then.
    return fitting ?? free[0] ?? sockets[Math.min(index, sockets.length - 1)];
  }

  /** Plugs the best candidate into an input, or finds that it already is. */
  private plug(run: Run, signal: string | undefined, candidates: Carriers, to: Socket, named: PortRef | undefined): Joint | undefined {
    const there = this.entering.get(to.key)?.find((joint) => candidates.has(joint.from.key));
    if (there) {
      if (!there.runs.includes(run)) there.runs.push(run);
      return there;
    }
    const best = candidates.best(to.port);
    if (!best) return undefined;
    const taken = this.leaving.get(best.socket.key)?.[0];
    if (taken && signal !== undefined) {
      if (named) this.snags.push({ kind: 'leg-taken', run, ref: named, socket: best.socket, taken });
      // With another signal in it, it is two plugs in one socket further up, and told there.
      else if (taken.runs.some((other) => signalOf(other) === signal)) this.snags.push({ kind: 'no-free-leg', run, signal, taken });
    }
    const joint: Joint = { from: best.socket, to, runs: [run], clashes: taken !== undefined };
    this.joints.push(joint);
    push(this.leaving, best.socket.key, joint);
    push(this.entering, to.key, joint);
    return joint;
  }

  private carriersOf(signal: string, channel: string | undefined): Carriers {
    const key = `${signal}/${channel ?? ''}`;
    const carriers = this.carriers.get(key) ?? this.among([]);
    this.carriers.set(key, carriers);
    return carriers;
  }

  private outcome(key: string, carriers: () => Iterable<Carrier>): Carriers {
    const known = this.outcomes.get(key) ?? this.among(carriers());
    this.outcomes.set(key, known);
    return known;
  }

  private among(carriers: Iterable<Carrier>): Carriers {
    return new Carriers(this.leaving, carriers);
  }
}

const NOBODY: readonly Carrier[] = [];

function signalOf(run: Run): string | undefined {
  return run.kind === 'output' ? run.carries : run.takes?.id;
}

interface Channel {
  readonly name: string | undefined;
  readonly outputs: readonly Carrier[];
  /** Where the run must start, where it names it; otherwise any output that carries the channel. */
  readonly start?: readonly Carrier[];
}

function tiedOutputs({ model }: Piece, input: string): readonly Port[] {
  return sidesOf(model).tied.get(input) ?? NO_PORTS;
}

/** The place of each run in a rig: inputs before the house's lines and outputs last. */
export function ranks({ inputs, house, outputs }: Rig): ReadonlyMap<Run, number> {
  const rank = new Map<Run, number>();
  for (const runs of [inputs, house, outputs]) for (const run of runs) rank.set(run, rank.size);
  return rank;
}

/** Follows every run of a rig. Linear in the number of runs and ports; never throws. */
export function follow(rig: Rig): Followed {
  const follower = new Follower(rig);
  follower.follow();
  const { steps, lines } = follower;
  const bySignal = new Map<string, Line[]>();
  const byJoint = new Map<Joint, Line[]>();
  for (const line of lines) {
    if (line.signal !== undefined) push(bySignal, line.signal, line);
    for (const joint of line.joints) push(byJoint, joint, line);
  }
  return { steps, lines, bySignal, byJoint, memory: new Memory() };
}

/** One network of all that was followed, of a whole rig at once. */
export function networkAtOnce(rig: Rig, followed: Followed): Network {
  const { steps, lines, bySignal } = followed;
  return network(rig, steps, lines, bySignal, new Kept(), () => followed);
}

/** A plug for a desk: no socket for earphones, and nothing on the air. */
function isForDesk({ port }: Socket): boolean {
  return kindsOut(port, ['line']).every((kind) => kind !== 'phones' && kind !== 'radio');
}

/** One network of all that was followed, of each part of a rig by itself. `rank`: the place of each run. */
export function networkOf(
  rig: Rig,
  parts: readonly { readonly followed: Followed }[],
  kept: Kept,
  rank: ReadonlyMap<Run, number>,
  followedOf: (run: Run) => Followed | undefined,
): Network {
  const rankOf = ({ run }: Step | Line) => rank.get(run) ?? 0;
  const steps: Step[] = [];
  const lines: Line[] = [];
  const bySignal = new Map<string, readonly Line[]>();
  for (const { followed } of parts) {
    for (const step of followed.steps) steps.push(step);
    for (const line of followed.lines) lines.push(line);
    // All lines of one signal are in one part.
    for (const [signal, those] of followed.bySignal) bySignal.set(signal, those);
  }
  steps.sort((a, b) => a.turn - b.turn || rankOf(a) - rankOf(b));
  lines.sort((a, b) => rankOf(a) - rankOf(b) || a.index - b.index);
  return network(rig, steps, lines, bySignal, kept, followedOf);
}

const NO_LINES: readonly Line[] = [];

function network(
  rig: Rig,
  steps: readonly Step[],
  lines: readonly Line[],
  bySignal: ReadonlyMap<string, readonly Line[]>,
  kept: Kept,
  followedOf: (run: Run) => Followed | undefined,
): Network {
  const memory = new Memory();
  const joints: Joint[] = [];
  const snags: Snag[] = [];
  for (const step of steps) {
    for (const joint of step.joints) joints.push(joint);
    for (const snag of step.snags) snags.push(snag);
  }
  const leaving = new Map<string, Joint[]>();
  const entering = new Map<string, Joint[]>();
  for (const joint of joints) {
    push(leaving, joint.from.key, joint);
    push(entering, joint.to.key, joint);
  }
  return {
    rig,
    lines,
    joints,
    snags,
    leaving,
    entering,
    memory,
    kept,
    memoryOf: (run) => followedOf(run)?.memory ?? memory,
    linesOf: (signal) => bySignal.get(signal) ?? NO_LINES,
    linesThrough: (joint) => followedOf(joint.runs[0] as Run)?.byJoint.get(joint) ?? NO_LINES,
  };
}
