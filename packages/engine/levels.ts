/** The level at every input: from the sound, the source, its splits and loads; and what gain that needs. */
import { type Mode, microphoneDbu, type Piece, type SignalKind, type Source } from '#rig';
import {
  type Conditions,
  isBuffered,
  loadingLossDb,
  modeFor,
  type OutputState,
  type PlugState,
  ratioDb,
  type Solution,
  solveFrom,
} from './circuit';
import { size } from './complex';
import { type JointLead, metresOf } from './leads';
import { type Joint, type Line, type Network, type Socket, socket } from './network';

/** How far the loudest moment is above the usual level where nothing says: common practice, no source. */
const USUAL_CREST_DB = 20;
/** No level is beyond this many dB from 0 dBu; what is written beyond is taken as this, so that results stay finite. */
const MOST_DBU = 1e4;

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
  /** The usual level above the input's own noise, in dB; undefined where one of the two is not known. */
  readonly snrDb?: number;
}

/** A signal as it comes to the input at which a line ends. */
export interface Arrival extends Level {
  readonly line: Line;
  readonly joint: Joint;
  readonly source: Source;
  readonly kinds: readonly SignalKind[];
  /** Lost into all the loads on the source's own output, in dB. */
  readonly lossDb: number;
  /** What the input at the end of a line gets less than if its line alone were plugged in, in dB; 0 on the way. */
  readonly splitLossDb: number;
  /** Lost on the way where one leg alone of a balanced output is used, in dB. */
  readonly oneLegDb: number;
}

/** One source's outputs in use, solved. */
export interface Solved {
  readonly source: Source;
  readonly piece: Piece;
  readonly solutions: readonly Solution[];
}

export interface Levels {
  readonly arrivals: readonly Arrival[];
  readonly solved: readonly Solved[];
  /** By the id of the source. */
  solvedOf(source: string): Solved | undefined;
  /** The metres that stand behind the capacitance of a joint's lead. */
  readonly metres: (joint: Joint) => number;
  of(line: Line): Arrival | undefined;
  /** On the way: what comes to the input that a joint goes into. */
  at(joint: Joint): Arrival | undefined;
}

/** Solves every source of the rig at 1 kHz. Levels are dBu, gains dB. Pure; linear in the number of joints. */
export function levels(net: Network, leads: readonly JointLead[]): Levels {
  const lengths = new Map(leads.map((lead) => [lead.joint, metresOf(lead)]));
  const metres = (joint: Joint) => lengths.get(joint) ?? 0;
  const arrivals: Arrival[] = [];
  const passing = new Map<Joint, Arrival>();
  const solved: Solved[] = [];
  for (const source of net.rig.sources.values()) {
    const piece = net.rig.pieces.get(source.id);
    const lines = net.linesOf(source.id);
    if (!piece || lines.length === 0) continue;
    const solutions = piece.model.ports.flatMap((port) => {
      const start = socket(piece, port);
      return port.direction === 'output' && net.leaving.has(start.key) ? [solveSource(net, start, { metres })] : [];
    });
    solved.push({ source, piece, solutions });
    for (const line of lines) {
      for (const joint of line.joints) {
        if (passing.has(joint)) continue;
        const arrival = arrive(net, source, piece, line, joint, solutions, metres);
        if (arrival) passing.set(joint, arrival);
      }
      const last = line.joints.at(-1);
      if (!last || last.to.key !== line.end?.key) continue;
      // Lines can share their last plug, behind a switch; each has its own source and its own pad.
      const passed = passing.get(last);
      const arrival = passed?.line === line ? passed : arrive(net, source, piece, line, last, solutions, metres);
      if (arrival) arrivals.push(arrival);
    }
  }
  const byLine = new Map(arrivals.map((arrival) => [arrival.line, arrival]));
  const bySource = new Map(solved.map((each) => [each.source.id, each]));
  return {
    arrivals,
    solved,
    solvedOf: (source) => bySource.get(source),
    metres,
    of: (line) => byLine.get(line),
    at: (joint) => passing.get(joint),
  };
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

function arrive(
  net: Network,
  source: Source,
  piece: Piece,
  line: Line,
  joint: Joint,
  solutions: readonly Solution[],
  metres: (joint: Joint) => number,
): Arrival | undefined {
  const solution = solutions.findLast(({ plugs }) => plugs.has(joint));
  const plug = solution?.plugs.get(joint);
  if (!solution || !plug) return undefined;
  const { root } = solution;
  const ending = joint.to.key === line.end?.key;
  return {
    line,
    joint,
    source,
    kinds: plug.upstream.kinds,
    ...levelAt(net, source, piece, plug.upstream, joint.to, plug.ratio, ending && isPadded(line)),
    lossDb: loadingLossDb(root.source, root.load),
    splitLossDb: ending ? splitLossDb(net, solution, plug, metres) : 0,
    oneLegDb: oneLegDb(plug),
  };
}

/** Whether a run switches in the pad of its last input. */
export function isPadded({ run }: Line): boolean {
  return run.kind === 'input' && run.pad;
}

/** What an input makes of `ratio` times what a source gives unloaded, where it is plugged into the output `from`. */
export function levelAt(net: Network, source: Source, piece: Piece, from: OutputState, to: Socket, ratio: number, padded: boolean): Level {
  const { kinds } = from;
  const mode = modeFor(to, kinds);
  const given = givenFrom(from);
  const { modes } = given.socket.port;
  const drive = modes.find(({ kind }) => kind === mode?.kind) ?? modes.find(({ kind }) => kinds.includes(kind)) ?? modes[0];
  const loud = given.by ? statedLoudness(given.socket.piece, drive) : loudness(source, piece, drive);
  const changeDb = ratioDb(ratio) - ratioDb(size(given.emf)) - (padded ? (mode?.padDb ?? 0) : 0);
  const typicalDbu = loud && within(loud.typical + changeDb);
  const peakDbu = loud && within(loud.peak + changeDb);
  return {
    mode,
    typicalDbu,
    peakDbu,
    gain: mode && typicalDbu !== undefined && peakDbu !== undefined ? gainFor(net, mode, typicalDbu, peakDbu) : undefined,
    snrDb: mode?.noiseDbu === undefined || typicalDbu === undefined ? undefined : typicalDbu - within(mode.noiseDbu),
  };
}

/** What the other legs take from one input: its level with its own line alone, against its level with all. */
function splitLossDb(net: Network, { root, plugs }: Solution, plug: PlugState, metres: (joint: Joint) => number): number {
  const way = new Set<Joint>();
  for (let at: PlugState | undefined = plug; at; at = at.upstream.by?.plug) way.add(at.joint);
  if (way.size === plugs.size) return 0;
  const alone = solveSource(net, root.socket, { metres, plugged: (joint) => way.has(joint) });
  const without = alone.plugs.get(plug.joint);
  return without ? sinceGivenDb(without) - sinceGivenDb(plug) : 0;
}

/** What comes of a level that is known by itself, in dB: an output that states what it gives does so whatever is before it. */
function sinceGivenDb({ upstream, ratio }: PlugState): number {
  return ratioDb(ratio) - ratioDb(size(givenFrom(upstream).emf));
}

function oneLegDb(plug: PlugState): number {
  let legs = 0;
  for (let at: PlugState | undefined = plug; at; at = at.upstream.by?.plug) if (at.oneLeg) legs += 1;
  return legs * ratioDb(2);
}

/** The sound at a source's microphone, in dB SPL: as usual and at its loudest; undefined where nothing is known. */
export function soundOf(source: Source, piece: Piece): { typical: number; peak: number } | undefined {
  const typical = source.typical ?? piece.model.typical;
  const peak = source.peak ?? piece.model.peak;
  const typicalSpl = typical?.dbSpl ?? (peak?.dbSpl === undefined ? undefined : peak.dbSpl - USUAL_CREST_DB);
  if (typicalSpl === undefined) return undefined;
  // A source that states how loud it is usually, and no peak, outdoes the model's peak by as much.
  const peakSpl = source.peak?.dbSpl ?? (source.typical ? typicalSpl + USUAL_CREST_DB : (peak?.dbSpl ?? typicalSpl + USUAL_CREST_DB));
  return { typical: typicalSpl, peak: Math.max(peakSpl, typicalSpl) };
}

/** The unloaded output at the usual and at the loudest level, in dBu; undefined where nothing is known. */
export function loudness(source: Source, piece: Piece, drive: Mode | undefined): { typical: number; peak: number } | undefined {
  if (!drive) return undefined;
  if (drive.kind === 'mic' && drive.sensitivityVPerPa !== undefined) {
    const sound = soundOf(source, piece);
    return (
      sound && {
        typical: microphoneDbu(drive.sensitivityVPerPa, sound.typical),
        peak: microphoneDbu(drive.sensitivityVPerPa, sound.peak),
      }
    );
  }
  const typicalDbu = source.typical?.dbu ?? drive.levelDbu ?? piece.model.typical?.dbu;
  if (typicalDbu === undefined) return undefined;
  // What it can give at most says less of how it is played than a peak that somebody wrote down.
  const peakDbu = source.peak?.dbu ?? piece.model.peak?.dbu ?? drive.maxDbu ?? typicalDbu + USUAL_CREST_DB;
  return { typical: typicalDbu, peak: Math.max(peakDbu, typicalDbu) };
}

/** The same for an output with electronics before it that states its level: that is what comes out, whatever comes in. */
function statedLoudness({ model }: Piece, drive: Mode | undefined): { typical: number; peak: number } | undefined {
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

/** The nearest output before an input whose level is known by itself: one that states it, else the source's own. */
function givenFrom(state: OutputState): OutputState {
  let given = state;
  while (given.by && !(isBuffered(given.by.tie) && given.socket.port.modes.some(({ levelDbu }) => levelDbu !== undefined))) {
    given = given.by.plug.upstream;
  }
  return given;
}

/** Where a signal enters the tree that it goes through. */
export function rootOf(state: OutputState): OutputState {
  let root = state;
  while (root.by) root = root.by.plug.upstream;
  return root;
}
