/** The level at every input: from the sound, the source, its splits and loads; and what gain that needs. */
import { type Mode, microphoneDbu, type Piece, type Rig, type Run, type SignalKind, type Source } from '#rig';
import { type Conditions, modeFor, type OutputState, type PlugState, ratioDb, type Solution, solveFrom } from './circuit';
import { size } from './complex';
import { powerSum } from './decibels';
import { type JointLead, metresOf } from './leads';
import { type Joint, type Line, type Network, type Socket, socket } from './network';
import { isDigital } from './ports';

/** How far the loudest moment is above the usual level where nothing says: common practice, no source. */
const USUAL_CREST_DB = 20;
/** No level is beyond this many dB from 0 dBu; what is written beyond is taken as this, so that results stay finite. */
const MOST_DBU = 1e4;
/** From where a converter, or what else is behind the gain, clips down to its noise, where the input does not state it: common practice, no source. */
const CONVERTER_DB = 110;
/**
 * The noise of a microphone with electronics as sound, in dB SPL, where it does not state it; others have that of their resistance, in the
 * input's figure. Common practice, no source.
 */
const SELF_NOISE_SPL = 20;

export interface Gain {
  /** The gain to set, within the port's range, in dB. */
  readonly setDb: number;
  /** What the signal asks for, in dB, whether or not the port has it. */
  readonly wantedDb: number;
  /** Above the loudest peak at `setDb`, in dB; less than nothing clips. */
  readonly headroomDb: number;
  /** By how much even the highest gain is too low, or even the lowest too high, in dB; else 0. */
  readonly shortDb: number;
  readonly hotDb: number;
}

/** What an input gets of a signal, and what it makes of it. */
export interface Level {
  /** How the input is used. */
  readonly mode?: Mode;
  readonly typicalDbu?: number;
  readonly peakDbu?: number;
  readonly gain?: Gain;
  /** All noise at the input at the gain to set, as if it came in with the signal. */
  readonly noiseDbu?: number;
  /** The usual level above that noise, in dB; undefined where one of the two is not known. */
  readonly snrDb?: number;
}

/** What a line takes: a source, or gear that is plugged in by its name. */
export type Taken = Pick<Source, 'id' | 'label' | 'place' | 'typical' | 'peak' | 'lowestHz' | 'highestHz'>;

/** A signal as it comes to the input at which a line ends. */
export interface Arrival extends Level {
  readonly line: Line;
  readonly joint: Joint;
  readonly source: Taken;
  readonly kinds: readonly SignalKind[];
  /** Lost into all the loads on the source's own output, in dB. */
  readonly lossDb: number;
  /** What the input at the end of a line gets less than if its line alone were plugged in, in dB; 0 on the way. */
  readonly splitLossDb: number;
  /** Lost on the way where one leg alone of a balanced output is used, in dB. */
  readonly oneLegDb: number;
}

/** What is taken, and the outputs from which its signal comes, solved. */
export interface Solved {
  readonly source: Taken;
  readonly piece: Piece;
  /** From its own outputs; of gear that only passes on or changes what comes into it, from those of the sources. */
  readonly solutions: readonly Solution[];
  /** Where its lines end. */
  readonly arrivals: readonly Arrival[];
}

/** The levels of a part of a rig. */
export interface PartLevels {
  readonly solved: readonly Solved[];
  readonly byLine: ReadonlyMap<Line, Arrival>;
  /** What comes to the input that a joint goes into. */
  readonly passing: ReadonlyMap<Joint, Arrival>;
  /** The metres that stand behind the capacitance of a joint's lead. */
  readonly metres: ReadonlyMap<Joint, number>;
}

export interface Levels {
  readonly arrivals: readonly Arrival[];
  readonly solved: readonly Solved[];
  /** By the id of what is taken. */
  solvedOf(source: string): Solved | undefined;
  /** The metres that stand behind the capacitance of a joint's lead. */
  readonly metres: (joint: Joint) => number;
  of(line: Line): Arrival | undefined;
  /** On the way: what comes to the input that a joint goes into. */
  at(joint: Joint): Arrival | undefined;
}

/** Solves every source, and all gear that is taken, at 1 kHz. Levels are dBu, gains dB. Pure; linear in the number of joints. */
export function levels(net: Network, leads: readonly JointLead[]): PartLevels {
  const lengths = new Map(leads.map((lead) => [lead.joint, metresOf(lead)]));
  const { rig } = net;
  const solver = new Solver(net, (joint) => lengths.get(joint) ?? 0);
  const passing = new Map<Joint, Arrival>();
  const byLine = new Map<Line, Arrival>();
  const solved: Solved[] = [];
  for (const source of takenFrom(rig)) {
    const piece = rig.pieces.get(source.id);
    const lines = net.linesOf(source.id);
    if (!piece || lines.length === 0) continue;
    const solutions = piece.kind === 'source' ? solver.all(piece) : solver.taken(piece);
    const arrivals: Arrival[] = [];
    for (const line of lines) {
      for (const joint of line.joints) {
        if (passing.has(joint)) continue;
        const arrival = arrive(net, source, line, joint, solutions);
        if (arrival) passing.set(joint, arrival);
      }
      const last = line.joints.at(-1);
      if (!last || last.to.key !== line.end?.key) continue;
      // Lines can share their last plug, behind a switch; each has its own source and its own pad.
      const passed = passing.get(last);
      const arrival = passed?.line === line ? passed : arrive(net, source, line, last, solutions);
      if (!arrival) continue;
      arrivals.push(arrival);
      byLine.set(line, arrival);
    }
    solved.push({ source, piece, solutions, arrivals });
  }
  return { solved, byLine, passing, metres: lengths };
}

/** Sources first: what they bring to gear is then known. */
function takenFrom({ sources, pieces }: Rig): Taken[] {
  const taken: Taken[] = [...sources.values()];
  for (const piece of pieces.values()) if (piece.kind === 'gear') taken.push(piece);
  return taken;
}

/** The levels of all parts, in the order of the whole. `partOf`: those of the part that a run is in. */
export function levelsOf(rig: Rig, parts: readonly PartLevels[], partOf: (run: Run | undefined) => PartLevels | undefined): Levels {
  const bySource = new Map<string, Solved>();
  for (const part of parts) for (const each of part.solved) bySource.set(each.source.id, each);
  const solved: Solved[] = [];
  const arrivals: Arrival[] = [];
  for (const { id } of takenFrom(rig)) {
    const each = bySource.get(id);
    if (!each) continue;
    solved.push(each);
    for (const arrival of each.arrivals) arrivals.push(arrival);
  }
  return {
    arrivals,
    solved,
    solvedOf: (source) => bySource.get(source),
    metres: (joint) => partOf(joint.runs[0])?.metres.get(joint) ?? 0,
    of: (line) => partOf(line.run)?.byLine.get(line),
    at: (joint) => partOf(joint.runs[0])?.passing.get(joint),
  };
}

/** Solves each output once, and knows what reaches the outputs behind it. */
class Solver {
  private readonly reaching = new Map<string, Solution[]>();
  private readonly followed = new Set<string>();

  constructor(
    private readonly net: Network,
    private readonly metres: (joint: Joint) => number,
  ) {}

  /** Every output of a source that something is plugged into. */
  all(piece: Piece): readonly Solution[] {
    return piece.model.ports.flatMap((port) => {
      const start = socket(piece, port);
      return port.direction === 'output' && this.net.leaving.has(start.key) ? [this.solve(start)] : [];
    });
  }

  /** What comes to the outputs of gear that lines take by its name. What is digital has no level. */
  taken(piece: Piece): readonly Solution[] {
    const solutions = new Set<Solution>();
    for (const { from } of new Set(this.net.linesOf(piece.id).flatMap(({ joints: [first] }) => first ?? []))) {
      if (from.piece === piece && !isDigital(from.port)) for (const solution of this.reach(from)) solutions.add(solution);
    }
    return [...solutions];
  }

  private reach(start: Socket): readonly Solution[] {
    if (!this.reaching.has(start.key)) this.follow(start);
    // Plugged round in a circle, it has no beginning.
    if (!this.reaching.has(start.key)) this.solve(start);
    return this.reaching.get(start.key) ?? [];
  }

  private follow(start: Socket): void {
    const back = [start];
    for (const at of back) {
      if (this.followed.has(at.key) || this.reaching.has(at.key)) continue;
      this.followed.add(at.key);
      const before = (at.port.tie?.inputs ?? []).flatMap((input) => this.net.entering.get(`${at.piece.id}.${input}`) ?? []);
      if (before.length === 0) this.solve(at);
      else back.push(...before.map(({ from }) => from));
    }
  }

  private solve(start: Socket): Solution {
    const solution = solveSource(this.net, start, { metres: this.metres });
    for (const key of solution.outputs.keys()) {
      const there = this.reaching.get(key);
      if (there) there.push(solution);
      else this.reaching.set(key, [solution]);
    }
    return solution;
  }
}

/** A source's output with what is plugged into it. */
export function solveSource(net: Network, start: Socket, conditions: Conditions): Solution {
  const { modes } = start.port;
  return solveFrom(
    net,
    start,
    modes.map((mode) => mode.kind),
    modes[0],
    conditions,
  );
}

function arrive(net: Network, source: Taken, line: Line, joint: Joint, solutions: readonly Solution[]): Arrival | undefined {
  const ending = joint.to.key === line.end?.key;
  const padded = ending && isPadded(line);
  const coming = solutions.flatMap((solution) => {
    const plug = solution.plugs.get(joint);
    return plug ? [{ solution, plug, level: levelAt(net, plug.upstream, joint.to, plug.ratio, padded) }] : [];
  });
  const last = coming.at(-1);
  if (!last) return undefined;
  const { solution, plug } = last;
  const level = coming.length === 1 || net.rig.sources.has(source.id) ? last.level : levelOfAll(net, joint, coming);
  const own = net.rig.sources.has(source.id) ? solution.root : ownOutput(plug, source.id);
  return {
    line,
    joint,
    source,
    kinds: plug.upstream.kinds,
    ...level,
    lossDb: ratioDb(size(own.emf.between)) - ratioDb(own.ratio),
    splitLossDb: ending ? splitLossDb(solution, plug) : 0,
    oneLegDb: oneLegDb(plug),
  };
}

/** The output of what is taken on the way to a plug. */
function ownOutput({ upstream }: PlugState, taken: string): OutputState {
  let at = upstream;
  while (at.by && at.socket.piece.id !== taken) at = at.by.plug.upstream;
  return at;
}

/** What several sources come to that are mixed or switched in gear before an input. Not known where one of them is not. */
function levelOfAll(net: Network, joint: Joint, coming: readonly { plug: PlugState; level: Level }[]): Level {
  // Behind an output that states its level they are one.
  const apart = new Map(coming.map(({ plug, level }) => [plug.upstream.given.socket.key, level]));
  const [first, ...more] = [...apart.values()] as [Level, ...Level[]];
  const { mode } = first;
  if (more.length === 0) return first;
  const each = [first, ...more].flatMap(({ typicalDbu, peakDbu }) =>
    typicalDbu === undefined || peakDbu === undefined ? [] : [{ typicalDbu, peakDbu }],
  );
  if (each.length <= more.length) return { mode };
  const all = switched(net, joint.from) ? (dbus: number[]) => Math.max(...dbus) : (dbus: number[]) => powerSum(dbus) ?? 0;
  return asTaken(net, mode, all(each.map(({ typicalDbu }) => typicalDbu)), all(each.map(({ peakDbu }) => peakDbu)));
}

/** Whether what comes together before an output does so in a switch, one at a time. */
function switched(net: Network, output: Socket): boolean {
  const seen = new Set<string>();
  for (let at: Socket | undefined = output; at && !seen.has(at.key); ) {
    seen.add(at.key);
    const { piece, port }: Socket = at;
    const before: Joint[] = (port.tie?.inputs ?? []).flatMap((input) => net.entering.get(`${piece.id}.${input}`) ?? []);
    if (before.length > 1) return port.tie?.how === 'switch';
    at = before[0]?.from;
  }
  return false;
}

/** Whether a run switches in the pad of its last input. */
export function isPadded({ run }: Line): boolean {
  return run.kind === 'input' && run.pad;
}

/** Whether there is a level that nothing in the rig says. Numbers have none. */
export function isUnstated({ kinds, mode, typicalDbu }: Pick<Arrival, 'kinds' | 'mode' | 'typicalDbu'>): boolean {
  const analogue = (kind: SignalKind | undefined) => kind === undefined || (kind !== 'digital' && kind !== 'radio');
  return typicalDbu === undefined && analogue(mode?.kind) && (kinds.length === 0 || kinds.some(analogue));
}

/** What an input makes of `ratio` times what a source gives unloaded, where it is plugged into the output `from`. */
export function levelAt(net: Network, from: OutputState, to: Socket, ratio: number, padded: boolean): Level {
  const { kinds } = from;
  const mode = modeFor(to, kinds);
  if (mode?.kind === 'digital' || isDigital(from.socket.port)) return { mode };
  const loud = given(net, from, mode?.kind);
  if (!loud) return { mode };
  const changeDb = ratioDb(ratio) - ratioDb(size(from.given.emf.between)) - (padded ? (mode?.padDb ?? 0) : 0);
  return asTaken(net, mode, within(loud.typical + changeDb), within(loud.peak + changeDb), loud.self && within(loud.self + changeDb));
}

/** How loud the nearest output is whose level is known by itself, unloaded. */
function given(net: Network, { given, kinds }: OutputState, kind: SignalKind | undefined): Loudest | undefined {
  const { piece, port } = given.socket;
  const drive = port.modes.find((mode) => mode.kind === kind) ?? port.modes.find((mode) => kinds.includes(mode.kind)) ?? port.modes[0];
  return given.by ? statedLoudness(piece, drive) : loudness(net.rig.sources.get(piece.id), piece, drive);
}

/** The peaks that an output would have to give, before anything loads it, and the most that it can, in dBu; undefined where one is not known. */
export function loudestOut(net: Network, from: OutputState): { peakDbu: number; maxDbu: number } | undefined {
  const mode = from.socket.port.modes.find(({ kind }) => from.kinds.includes(kind));
  const loud = given(net, from, mode?.kind);
  if (mode?.maxDbu === undefined || !loud) return undefined;
  return { peakDbu: within(loud.peak + ratioDb(size(from.emf.between)) - ratioDb(size(from.given.emf.between))), maxDbu: mode.maxDbu };
}

function asTaken(net: Network, mode: Mode | undefined, typicalDbu: number, peakDbu: number, selfDbu?: number): Level {
  const gain = mode && gainFor(net, mode, typicalDbu, peakDbu);
  const noiseDbu = noiseFor(mode, gain, selfDbu);
  return {
    mode,
    typicalDbu,
    peakDbu,
    gain,
    noiseDbu,
    snrDb: noiseDbu === undefined ? undefined : typicalDbu - noiseDbu,
  };
}

/**
 * All the noise at an input as if it came in with the signal, in dBu: its own, which is stated with a source before it; that of its
 * converter, which is nearer the less gain is before it; and the microphone's. Undefined where the input states none.
 */
function noiseFor(mode: Mode | undefined, gain: Gain | undefined, selfDbu: number | undefined): number | undefined {
  if (mode?.noiseDbu === undefined) return undefined;
  const converter =
    gain && mode.maxDbu !== undefined
      ? [within(mode.maxDbu) - (gain.setDb - within(mode.gainDb?.low ?? 0)) - within(mode.dynamicRangeDb ?? CONVERTER_DB)]
      : [];
  return powerSum([within(mode.noiseDbu), ...converter, ...(selfDbu === undefined ? [] : [selfDbu])]);
}

/**
 * What the other legs take from one input: its level with its own line alone, against its level with all. Both by what comes of a
 * level that is known by itself: an output that states what it gives does so whatever is before it.
 */
function splitLossDb(solution: Solution, plug: PlugState): number {
  if (plug.passed === solution.plugs.size) return 0;
  const alone = solution.alone(plug.joint);
  if (!alone) return 0;
  return ratioDb(alone.ratio) - ratioDb(alone.given) - (ratioDb(plug.ratio) - ratioDb(size(plug.upstream.given.emf.between)));
}

function oneLegDb({ oneLegs }: PlugState): number {
  return oneLegs * ratioDb(2);
}

type Loud = Pick<Source, 'typical' | 'peak'>;

interface Loudest {
  readonly typical: number;
  readonly peak: number;
  /** The noise of the microphone itself. */
  readonly self?: number;
}

/** The sound at a source's microphone, in dB SPL: as usual and at its loudest; undefined where nothing is known. */
export function soundOf(source: Loud | undefined, piece: Piece): Loudest | undefined {
  const typical = source?.typical ?? piece.model.typical;
  const peak = source?.peak ?? piece.model.peak;
  const typicalSpl = typical?.dbSpl ?? (peak?.dbSpl === undefined ? undefined : peak.dbSpl - USUAL_CREST_DB);
  if (typicalSpl === undefined) return undefined;
  // A source that states how loud it is usually, and no peak, outdoes the model's peak by as much.
  const peakSpl = source?.peak?.dbSpl ?? (source?.typical ? typicalSpl + USUAL_CREST_DB : (peak?.dbSpl ?? typicalSpl + USUAL_CREST_DB));
  return { typical: typicalSpl, peak: Math.max(peakSpl, typicalSpl) };
}

/** What a microphone gives in a room without any sound, in dBu; undefined where it is no more than the input's own figure has in it. */
function selfNoiseDbu({ selfNoiseDbSpl, phantom }: Mode, sensitivityVPerPa: number): number | undefined {
  const dbSpl = selfNoiseDbSpl ?? (phantom === 'needed' ? SELF_NOISE_SPL : undefined);
  return dbSpl === undefined ? undefined : microphoneDbu(sensitivityVPerPa, dbSpl);
}

/** The unloaded output at the usual and at the loudest level, in dBu; undefined where nothing is known. */
function loudness(source: Loud | undefined, piece: Piece, drive: Mode | undefined): Loudest | undefined {
  if (!drive) return undefined;
  if (drive.kind === 'mic' && drive.sensitivityVPerPa !== undefined) {
    const sound = soundOf(source, piece);
    return (
      sound && {
        typical: microphoneDbu(drive.sensitivityVPerPa, sound.typical),
        peak: microphoneDbu(drive.sensitivityVPerPa, sound.peak),
        self: selfNoiseDbu(drive, drive.sensitivityVPerPa),
      }
    );
  }
  const typicalDbu = source?.typical?.dbu ?? drive.levelDbu ?? piece.model.typical?.dbu;
  if (typicalDbu === undefined) return undefined;
  // What it can give at most says less of how it is played than a peak that somebody wrote down.
  const peakDbu = source?.peak?.dbu ?? piece.model.peak?.dbu ?? drive.maxDbu ?? typicalDbu + USUAL_CREST_DB;
  return { typical: typicalDbu, peak: Math.max(peakDbu, typicalDbu) };
}

/** The same for an output with electronics before it that states its level: that is what comes out, whatever comes in. */
function statedLoudness({ model }: Piece, drive: Mode | undefined): Loudest | undefined {
  const typical = drive?.levelDbu;
  if (typical === undefined) return undefined;
  return { typical, peak: Math.max(model.peak?.dbu ?? drive?.maxDbu ?? typical + USUAL_CREST_DB, typical) };
}

/**
 * The gain for an input, in dB. The input clips at `max` at its lowest gain, and at max - (g - lowest) at gain g.
 * The usual level keeps the rig's headroom below that, the loudest peak its margin; the lower gain of the two is right.
 */
export function gainFor(net: Network, mode: Mode, typicalDbu: number, peakDbu: number): Gain | undefined {
  if (mode.maxDbu === undefined) return undefined;
  const { headroomDb, marginDb } = net.rig.settings;
  const range = { low: within(mode.gainDb?.low ?? 0), high: within(mode.gainDb?.high ?? 0) };
  const ceiling = within(mode.maxDbu) + range.low;
  const wantedDb = Math.min(ceiling - within(headroomDb) - typicalDbu, ceiling - within(marginDb) - peakDbu);
  const setDb = Math.max(range.low, Math.min(wantedDb, range.high));
  return {
    setDb,
    wantedDb,
    headroomDb: ceiling - setDb - peakDbu,
    shortDb: Math.max(0, wantedDb - range.high),
    hotDb: Math.max(0, range.low - (ceiling - peakDbu)),
  };
}

function within(db: number): number {
  return Math.min(Math.max(db, -MOST_DBU), MOST_DBU);
}

/** Where a signal enters the tree that it goes through. */
export function rootOf(state: OutputState): OutputState {
  let root = state;
  while (root.by) root = root.by.plug.upstream;
  return root;
}
