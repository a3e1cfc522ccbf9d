/**
 * The way of a signal as a graph that can be walked both ways: from a source through what it is plugged into, into the mixes,
 * out of the outputs and to those who hear it. One step at a time, so that gear plugged round in a circle does no harm.
 */
import type { Mix, Piece, Place, Rig, Run } from '#rig';
import type { Levels } from './levels';
import { isRadio } from './mating';
import { signalLabel } from './naming';
import { type Joint, type Line, type Network, type Socket, socket, stepOf } from './network';
import { seatedAt } from './seats';

export type Stop =
  | { readonly kind: 'source' | 'mix' | 'performer' | 'gear'; readonly id: string }
  /** A signal at an input, by the input's key. */
  | { readonly kind: 'arrives'; readonly signal: string; readonly at: string }
  /** A mix at the output of the device that makes it. */
  | { readonly kind: 'leaves'; readonly signal: string; readonly at: string }
  /** A receiver, and the mix it hears. */
  | { readonly kind: 'pack'; readonly signal: string; readonly at: string };

export interface Step {
  readonly stop: Stop;
  /** Where it is written that one goes into the other. */
  readonly written?: Place;
}

export function stopKey(stop: Stop): string {
  return 'id' in stop ? `${stop.kind} ${stop.id}` : `${stop.kind} ${stop.signal} ${stop.at}`;
}

export class SignalPath {
  readonly rig: Rig;

  constructor(
    private readonly net: Network,
    private readonly levels: Levels,
  ) {
    this.rig = net.rig;
  }

  /** Where it goes from here. */
  next(stop: Stop): Step[] {
    return distinct(this.onward(stop));
  }

  /** Where it comes from. */
  before(stop: Stop): Step[] {
    return distinct(this.back(stop));
  }

  // ---- onward ------------------------------------------------------------------------------------

  private onward(stop: Stop): Step[] {
    switch (stop.kind) {
      case 'source': {
        const piece = this.rig.pieces.get(stop.id);
        return piece ? this.plugged(piece, stop.id) : [];
      }
      case 'mix':
        return this.ways(stop.id).flatMap(({ run, start }) =>
          start ? [{ stop: { kind: 'leaves', signal: stop.id, at: start.key }, written: `${run.id}/carries` } as const] : [],
        );
      case 'leaves': {
        const joints = this.net.leaving.get(stop.at) ?? [];
        const ends = this.ways(stop.signal).filter((line) => line.start?.key === stop.at && line.joints.length === 0);
        return [...joints.map((joint) => arrival(joint, stop.signal)), ...(ends.length > 0 ? this.listeners(stop.signal, ends) : [])];
      }
      case 'arrives':
        return this.through(stop.signal, stop.at);
      case 'pack':
        return this.people(stop.signal, this.rig.pieces.get(stop.at));
      case 'gear':
        return this.outOf(stop.id);
      case 'performer':
        return [];
    }
  }

  private through(signal: string, at: string): Step[] {
    const here = this.net.entering.get(at)?.[0]?.to;
    if (!here) return [];
    const { piece, port } = here;
    const tied = piece.model.ports.filter((each) => each.direction === 'output' && each.tie?.inputs.includes(port.id));
    const steps = tied.flatMap((each) => this.net.leaving.get(socket(piece, each).key) ?? []).map((joint) => arrival(joint, signal));
    if (this.rig.mixes.has(signal)) {
      const ends = this.ways(signal).filter((line) => line.joints.at(-1)?.to.key === at);
      return ends.length > 0 ? [...steps, ...this.heard(signal, here, ends)] : steps;
    }
    if (!this.lands(at)) return steps;
    const linked = this.links(piece.id).map((joint) => arrival(joint, signal));
    return [...steps, ...linked, ...this.mixesAt(signal, here, steps.length + linked.length > 0)];
  }

  /** The mixes that have a signal which lands here: those that this piece makes, and those that nothing makes yet. */
  private mixesAt(signal: string, { piece }: Socket, goesOn: boolean): Step[] {
    return [...this.rig.mixes.values()].flatMap((mix) => {
      const send = mix.sends.find((each) => each.source === signal);
      if (!send) return [];
      const devices = this.devicesOf(mix);
      const makes = devices.length === 0 ? !goesOn : devices.includes(piece.id);
      return makes ? [{ stop: { kind: 'mix', id: mix.id } as const, written: send.place }] : [];
    });
  }

  /** Who hears a mix that ends at this input: by the air from here, or by a wire. */
  private heard(mix: string, { piece, port }: Socket, ends: readonly Line[]): Step[] {
    if (!piece.model.ports.some((each) => each.direction === 'output' && isRadio(each))) return this.listeners(mix, ends, piece);
    return this.receivers(piece.id, port.id).map((pack) => ({
      stop: { kind: 'pack', signal: mix, at: pack.id },
      written: pack.hears?.place,
    }));
  }

  /** Those who can plug in where these lines come out; where nobody can, those whom the mix is for. */
  private listeners(mix: string, ends: readonly Line[], piece?: Piece): Step[] {
    const seated = ends.flatMap((line) => seatedAt(this.net, line));
    const written = this.rig.mixes.get(mix)?.place;
    if (seated.length === 0) return this.people(mix, piece);
    return seated.map(({ performer: { id } }) => ({ stop: { kind: 'performer', id }, written }));
  }

  /** Those whom a mix is for; only those whose gear it is, where it is somebody's. */
  private people(mix: string, piece?: Piece): Step[] {
    const all = this.rig.mixes.get(mix);
    if (!all) return [];
    const owners = piece?.for ?? [];
    return (owners.length > 0 ? owners : all.for).map((id) => ({ stop: { kind: 'performer', id }, written: all.place }));
  }

  private outOf(id: string): Step[] {
    const piece = this.rig.pieces.get(id);
    if (!piece) return [];
    const starts = new Map<string, string>();
    for (const { run, start, signal } of this.net.lines) {
      if (run.kind === 'output' && start?.piece.id === id && signal !== undefined) starts.set(start.key, signal);
    }
    const leaves = [...starts].map(([at, signal]): Step => ({ stop: { kind: 'leaves', signal, at } }));
    const others = this.joints(piece, 'output').filter((joint) => !starts.has(joint.from.key));
    const wearers = piece.hears ? piece.for.map((each): Step => ({ stop: { kind: 'performer', id: each }, written: piece.place })) : [];
    return [...leaves, ...others.map((joint) => arrival(joint, this.signalOn(joint))), ...wearers];
  }

  private plugged(piece: Piece, signal: string): Step[] {
    return this.joints(piece, 'output').map((joint) => arrival(joint, signal));
  }

  // ---- back --------------------------------------------------------------------------------------

  private back(stop: Stop): Step[] {
    switch (stop.kind) {
      case 'source':
        return [];
      case 'performer':
        return [...this.rig.mixes.values()].flatMap((mix) => this.endsOf(mix.id).filter((step) => this.leadsTo(step.stop, stop)));
      case 'pack': {
        const pack = this.rig.pieces.get(stop.at);
        return pack ? this.inputsHeard(pack).filter(({ stop: each }) => 'signal' in each && each.signal === stop.signal) : [];
      }
      case 'leaves':
        return [{ stop: { kind: 'mix', id: stop.signal }, written: this.ways(stop.signal)[0]?.run.place }];
      case 'mix':
        return (this.rig.mixes.get(stop.id)?.sends ?? []).flatMap((send) =>
          this.landings(send.source, stop).map((each) => ({ stop: each, written: send.place })),
        );
      case 'arrives':
        return (this.net.entering.get(stop.at) ?? []).flatMap((joint) =>
          this.feeding(joint, stop.signal).map((each) => ({ stop: each, written: writtenAt(joint) })),
        );
      case 'gear': {
        const piece = this.rig.pieces.get(stop.id);
        if (!piece) return [];
        const air = piece.hears ? this.inputsHeard(piece) : [];
        return [
          ...this.joints(piece, 'input').flatMap((joint) =>
            this.feeding(joint, this.signalOn(joint)).map((each) => ({ stop: each, written: writtenAt(joint) })),
          ),
          ...air,
        ];
      }
    }
  }

  /** What feeds a joint with a signal: its source, the output of a device, or an input of the gear that it comes through. */
  private feeding(joint: Joint, signal: string): Stop[] {
    const { piece, port, key } = joint.from;
    if (piece.kind === 'source') return [{ kind: 'source', id: piece.id }];
    const start = this.net.lines.find((line) => line.run.kind === 'output' && line.start?.key === key && line.signal === signal);
    if (start?.signal !== undefined) return [{ kind: 'leaves', signal: start.signal, at: key }];
    const inputs = port.tie ? port.tie.inputs.map((input) => `${piece.id}.${input}`) : this.landingsOn(piece);
    const arrivals = inputs.flatMap((at) =>
      (this.net.entering.get(at) ?? []).flatMap((each) =>
        this.signalsOn(each).map((name): Stop => ({ kind: 'arrives', signal: name, at })),
      ),
    );
    const same = arrivals.filter((each) => 'signal' in each && each.signal === signal);
    return same.length > 0 ? same : arrivals;
  }

  /** Where a source comes into what makes a mix. Where it does not, the source itself. */
  private landings(source: string, mix: Stop): Stop[] {
    const stops: Stop[] = [];
    const queue: Stop[] = [{ kind: 'source', id: source }];
    const seen = new Set<string>();
    const goal = stopKey(mix);
    for (const stop of queue) {
      if (seen.has(stopKey(stop))) continue;
      seen.add(stopKey(stop));
      for (const { stop: each } of this.onward(stop)) {
        if (stopKey(each) === goal) stops.push(stop);
        else if (each.kind === 'arrives') queue.push(each);
      }
    }
    return stops.length > 0 ? stops : [{ kind: 'source', id: source }];
  }

  /** The last stops of a mix before its listeners. */
  private endsOf(mix: string): Step[] {
    return this.ways(mix).flatMap((line): Step[] => {
      const { joints, start, run } = line;
      const last = joints.at(-1)?.to;
      if (!last) return start ? [{ stop: { kind: 'leaves', signal: mix, at: start.key }, written: run.place }] : [];
      const packs = this.heard(mix, last, [line]).filter(({ stop }) => stop.kind === 'pack');
      return packs.length > 0 ? packs : [{ stop: { kind: 'arrives', signal: mix, at: last.key }, written: run.place }];
    });
  }

  private leadsTo(stop: Stop, goal: Stop): boolean {
    return this.onward(stop).some((step) => stopKey(step.stop) === stopKey(goal));
  }

  /** What a receiver hears: the inputs of its transmitter, or the one of its side. */
  private inputsHeard({ hears }: Piece): Step[] {
    const transmitter = hears && this.rig.pieces.get(hears.piece);
    if (!transmitter) return [];
    return this.joints(transmitter, 'input')
      .filter(({ to }) => hears.port === undefined || hears.port === to.port.id)
      .map((joint) => ({ stop: { kind: 'arrives', signal: this.signalOn(joint), at: joint.to.key }, written: hears.place }));
  }

  // ---- what is there -----------------------------------------------------------------------------

  /** How a mix leaves the devices that make it. */
  ways(mix: string): Line[] {
    return this.net.linesOf(mix).filter((line) => line.run.kind === 'output');
  }

  private devicesOf(mix: Mix): string[] {
    return this.ways(mix.id).flatMap((line) => line.start?.piece.id ?? []);
  }

  private joints(piece: Piece, direction: 'input' | 'output'): Joint[] {
    const at = direction === 'input' ? this.net.entering : this.net.leaving;
    return piece.model.ports
      .filter((port) => port.direction === direction)
      .flatMap((port) => at.get(socket(piece, port).key) ?? [])
      .filter((joint) => (direction === 'input' ? joint.to : joint.from).piece.id === piece.id);
  }

  private receivers(transmitter: string, side: string): Piece[] {
    return [...this.rig.pieces.values()].filter(
      ({ hears }) => hears?.piece === transmitter && (hears.port === undefined || hears.port === side),
    );
  }

  /** Whether a line of ours ends at this input, as it does on the gear that mixes. */
  private lands(at: string): boolean {
    return (this.net.entering.get(at) ?? []).some((joint) =>
      this.net.linesThrough(joint).some((line) => line.run.kind === 'input' && line.end?.key === at),
    );
  }

  private landingsOn(piece: Piece): string[] {
    return this.joints(piece, 'input').flatMap((joint) => (this.lands(joint.to.key) ? [joint.to.key] : []));
  }

  /** Links that carry on what lands on a piece, where none of its outputs is tied to that input. */
  private links(piece: string): Joint[] {
    return this.net.linesOf(piece).flatMap((line) => {
      const first = line.joints[0];
      return first && first.from.piece.id === piece && !first.from.port.tie ? [first] : [];
    });
  }

  private signalOn(joint: Joint): string {
    return this.signalsOn(joint)[0] ?? '';
  }

  /** The sources and mixes on a joint. On a link they are all that lands on the gear which it comes from. */
  private signalsOn(joint: Joint): string[] {
    const found = new Set<string>();
    const seen = new Set<Joint>();
    const queue = [joint];
    for (const each of queue) {
      if (seen.has(each)) continue;
      seen.add(each);
      for (const { signal } of this.net.linesThrough(each)) {
        if (signal === undefined) continue;
        const gear = this.rig.pieces.get(signal);
        if (gear?.kind === 'gear') queue.push(...this.joints(gear, 'input'));
        else found.add(signal);
      }
    }
    return [...found];
  }

  // ---- where a statement leads -------------------------------------------------------------------

  /** The stops that a run ends at, or starts from where it is an output. */
  endsOfRun(run: Run): Stop[] {
    return this.net.lines.flatMap((line): Stop[] => {
      if (line.run !== run || line.signal === undefined) return [];
      if (run.kind === 'output') return line.start ? [{ kind: 'leaves', signal: line.signal, at: line.start.key }] : [];
      const last = line.joints.at(-1);
      return last ? this.signalsOn(last).map((signal) => ({ kind: 'arrives', signal, at: last.to.key })) : [];
    });
  }

  /** The stops of a run at the gear of one of its steps. */
  stopsAtStep(run: Run, index: number): Stop[] {
    return this.net.lines.flatMap((line): Stop[] => {
      if (line.run !== run || line.signal === undefined) return [];
      return line.joints
        .filter((joint) => stepOf(run, joint.to.piece) === index)
        .flatMap((joint) => this.signalsOn(joint).map((signal) => ({ kind: 'arrives', signal, at: joint.to.key })));
    });
  }

  // ---- how it is called --------------------------------------------------------------------------

  /** The socket of a stop, where it is one. */
  socketOf(stop: Stop): Socket | undefined {
    if (stop.kind === 'arrives') return this.net.entering.get(stop.at)?.[0]?.to;
    if (stop.kind !== 'leaves') return undefined;
    return this.ways(stop.signal).find((line) => line.start?.key === stop.at)?.start;
  }

  /** The plug that brings the signal of a stop. */
  jointAt(stop: Stop): Joint | undefined {
    if (stop.kind !== 'arrives') return undefined;
    const joints = this.net.entering.get(stop.at) ?? [];
    return joints.find((joint) => this.signalsOn(joint).includes(stop.signal)) ?? joints[0];
  }

  labelOf(signal: string): string {
    return signalLabel(this.rig, signal);
  }

  /** Its usual level there; of what is taken from gear by its name, where nothing else comes with it. */
  levelDbu(stop: Stop): number | undefined {
    const joint = this.jointAt(stop);
    const arrival = joint && this.levels.at(joint);
    if (stop.kind !== 'arrives' || !joint || !arrival) return undefined;
    return arrival.source.id === stop.signal || this.signalsOn(joint).length === 1 ? arrival.typicalDbu : undefined;
  }
}

function arrival(joint: Joint, signal: string): Step {
  return { stop: { kind: 'arrives', signal, at: joint.to.key }, written: writtenAt(joint) };
}

/** Where the line that makes a joint says so: at the gear it goes into, or else where the line ends. */
export function writtenAt({ runs, to }: Joint): Place | undefined {
  const run = runs[0];
  if (!run) return undefined;
  const step = stepOf(run, to.piece);
  if (step >= 0) return `${run.id}/via.${step}`;
  return run.kind === 'input' ? `${run.id}/port` : run.place;
}

/** A stop that is come to in several ways is one stop. */
function distinct(steps: readonly Step[]): Step[] {
  const found = new Map<string, Step>();
  for (const step of steps) if (!found.has(stopKey(step.stop))) found.set(stopKey(step.stop), step);
  return [...found.values()];
}
