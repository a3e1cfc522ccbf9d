/** What a line would bring if its last lead were plugged into another port, came from another output, or had a pad in it. */
import type { Piece, Port } from '#rig';
import { type OutputState, type PlugState, padResistors, ratioAt, type Solution, unplugged } from '../solve/circuit';
import { type Arrival, isPadded, type Level, type Levels, levelAt, rootOf, type Solved, solveSource } from '../solve/levels';
import { carriesSpeakerLevel, mates } from '../solve/mating';
import { kindsOut, type Network, type Socket, socket } from '../solve/network';
import { canTake, demandOf, freeInputs, gives48V, isHarmed, needsPhantom } from '../solve/ports';
import type { Fix } from './fix';
import { fits, stands } from './gainStands';
import { isMovable, moveFix } from './move';

/** What the library's pad takes away, and what it shows to what is before it. */
export const PAD_DB = 20;
const PAD_OHM = 1_000;
const MOST = 3;
/** Of the lines to swap with, so that a rig in which everything is wrong is told of as fast as any other. */
const MOST_LOOKED_AT = 24;

/** A way to put a level right, as the port, source or output it is about, and as an edit. */
export interface Cure {
  readonly name: string;
  readonly fix: Fix;
}

/** What many lines ask for, looked up once. */
export class Around {
  private readonly free = new Map<string, readonly Port[]>();
  private ending: Map<string, Arrival[]> | undefined;

  constructor(
    readonly net: Network,
    readonly levels: Levels,
  ) {}

  freeInputs(piece: Piece): readonly Port[] {
    let free = this.free.get(piece.id);
    if (!free) {
      free = freeInputs(this.net, piece);
      this.free.set(piece.id, free);
    }
    return free;
  }

  endingAt(piece: Piece): readonly Arrival[] {
    if (!this.ending) {
      this.ending = new Map();
      for (const arrival of this.levels.arrivals) {
        const { id } = arrival.joint.to.piece;
        const list = this.ending.get(id);
        if (list) list.push(arrival);
        else this.ending.set(id, [arrival]);
      }
    }
    return this.ending.get(piece.id) ?? [];
  }
}

export class Elsewhere {
  private readonly net: Network;
  private readonly levels: Levels;
  private readonly plug: PlugState | undefined;
  private readonly from: OutputState | undefined;

  constructor(
    private readonly around: Around,
    private readonly solved: Solved,
    private readonly arrival: Arrival,
  ) {
    this.net = around.net;
    this.levels = around.levels;
    this.plug = plugOf(solved, arrival);
    this.from = this.plug && unplugged(this.plug);
  }

  /** Free ports of the same gear where the gain fits. */
  moves(): Cure[] {
    const { run } = this.arrival.line;
    if (run.kind !== 'input' || !this.isOwn() || !isMovable(run)) return [];
    const demand = demandOf(this.net, this.arrival.line);
    const { piece } = this.arrival.joint.to;
    const harmed = isHarmed(this.solved.piece);
    const found: Cure[] = [];
    for (const port of this.around.freeInputs(piece)) {
      if (found.length === MOST) break;
      // A port like this one does no better.
      if (port.modes.every((mode) => mode === this.arrival.mode) || !canTake(port, demand) || (harmed && gives48V(port))) continue;
      const level = this.at(socket(piece, port));
      if (level && fits(level, demand.kinds)) found.push({ name: port.id, fix: moveFix(run, port.id, level) });
    }
    return found;
  }

  /** Lines of other sources that would fit on this port while this one fits on theirs. */
  swaps(): Cure[] {
    const { line, joint } = this.arrival;
    if (!this.isOwn()) return [];
    const found: Cure[] = [];
    const { run } = line;
    if (run.kind !== 'input' || !isMovable(run)) return [];
    const demand = demandOf(this.net, line);
    let looked = 0;
    for (const other of this.around.endingAt(joint.to.piece)) {
      if (found.length === 2 || looked === MOST_LOOKED_AT) break;
      const { run: otherRun } = other.line;
      if (otherRun.kind !== 'input' || other.mode === this.arrival.mode || other.joint.to.key === joint.to.key) continue;
      looked += 1;
      if (!isMovable(otherRun) || other.source === this.arrival.source || other.joint.runs.length > 1) continue;
      if (!canTake(other.joint.to.port, demand) || !canTake(joint.to.port, demandOf(this.net, other.line))) continue;
      const mine = this.at(other.joint.to);
      const solved = this.levels.solvedOf(other.source.id);
      if (!mine || !solved || !fits(mine, this.arrival.kinds) || !stands(run, mine)) continue;
      const theirs = new Elsewhere(this.around, solved, other).at(joint.to);
      if (!theirs || !fits(theirs, other.kinds) || !stands(otherRun, theirs)) continue;
      const ports = [joint.to.port.id, other.joint.to.port.id] as const;
      found.push({ name: other.source.label, fix: { kind: 'swap', run: run.id, other: otherRun.id, ports } });
    }
    return found;
  }

  /** Other outputs with the same signal, of the source or of the last box, that nothing is plugged into and that fit better. */
  taps(): Cure[] {
    const { joint, line } = this.arrival;
    const { run } = line;
    const { piece } = joint.from;
    const isSource = piece.id === this.solved.piece.id;
    const step = run.via.length - 1;
    if (!this.isOwn() || run.kind !== 'input' || isSource !== step < 0 || !isMovable(run)) return [];
    // Somebody else has the other side already, and would be moved.
    const others = piece.model.ports.some((port) => port !== joint.from.port && this.net.leaving.has(socket(piece, port).key));
    if (others || joint.from.port.separate) return [];
    let without: Solution | undefined;
    return piece.model.ports.flatMap((port): Cure[] => {
      if (port.direction !== 'output' || port === joint.from.port || port.separate || carriesSpeakerLevel(port)) return [];
      if (!mates(port, joint.to.port) || (needsPhantom(port) && !gives48V(joint.to.port))) return [];
      if (!isSource) without ??= this.solvedWithout();
      const at = socket(piece, port);
      const state = isSource ? solveSource(this.net, at, { plugged: () => false }).root : without?.outputs.get(at.key);
      const level = state && this.at(joint.to, { state });
      if (!level || !fits(level, kindsOut(port, this.arrival.kinds)) || !stands(run, level)) return [];
      const name = `${piece.name ?? (isSource ? piece.label : piece.model.id)}.${port.id}`;
      const fix: Fix = isSource
        ? { kind: 'rewrite', place: `${run.id}/takes`, with: name }
        : { kind: 'replace-step', step: `${run.id}/via.${step}`, with: name };
      return [{ name, fix }];
    });
  }

  /** Everything as it is but for this line's last lead, which can be what loads the other outputs of its piece. */
  private solvedWithout(): Solution | undefined {
    const { joint } = this.arrival;
    const { metres } = this.levels;
    return this.plug && solveSource(this.net, rootOf(this.plug.upstream).socket, { metres, plugged: (each) => each !== joint });
  }

  /** A pad in the line, just before its end. */
  pad(): Cure[] {
    const { run } = this.arrival.line;
    const level = this.at(this.arrival.joint.to, { padded: true });
    if (!level || !this.isOwn() || run.kind === 'output' || !fits(level, this.arrival.kinds) || !stands(run, level)) return [];
    return [{ name: 'pad-20', fix: { kind: 'add-step', run: run.id, model: 'pad-20', where: 'last' } }];
  }

  /** What would arrive at another input, by the same lead. */
  at(to: Socket, { state = this.from, padded = false }: { state?: OutputState; padded?: boolean } = {}): Level | undefined {
    if (!state) return undefined;
    const { joint, line } = this.arrival;
    const ratio = ratioAt(state, to, this.levels.metres(joint), padded ? padResistors(PAD_OHM, PAD_DB) : undefined);
    return levelAt(this.net, state, to, ratio, isPadded(line));
  }

  /** Behind a switch, a plug is not of one line alone. */
  private isOwn(): boolean {
    return this.arrival.joint.runs.length === 1;
  }
}

export function plugOf(solved: Solved, arrival: Arrival): PlugState | undefined {
  return solved.solutions.findLast(({ plugs }) => plugs.has(arrival.joint))?.plugs.get(arrival.joint);
}
