/**
 * Mixes as signals: how loud each bus is, what leaves by each output, and what comes to everything plugged in behind it.
 *
 * Full scale (0 dBFS) of an input is the level at which it clips at its gain; of an output it is its `max`. Sums are of powers, as
 * for sounds that have nothing to do with each other; peaks seldom meet, so their power sum is an estimate of the mix's peak.
 */
import type { Mix, Mode, Rig, Send, Settings } from '#rig';
import { modeFor, type PlugState, ratioDb, type Solution, solveFrom } from './circuit';
import { size } from './complex';
import { powerSum } from './decibels';
import type { Arrival, Levels } from './levels';
import { isRadio } from './mating';
import { type Joint, kindsOut, type Line, type Network, type Socket } from './network';
import { type Route, router } from './ways';

/** Usual and loudest, in dB of one kind. */
export interface Loud {
  readonly typical: number;
  readonly peak: number;
}

export type Side = 'left' | 'right';

/** What one send gives to one side of a mix, in dBFS. */
export interface Contribution extends Loud {
  readonly send: Send;
  /** The input that it comes in by, where it is known: two sources behind a switch never play at once. */
  readonly input?: string;
  /** By how many dB its input cuts its peaks off: that input's gain is to be mended first. */
  readonly cutDb: number;
  /** Its level is not known and is taken to be lined up like the others. */
  readonly assumed: boolean;
}

/** One side of a mix; a mono mix has one without a name. */
export interface Bus {
  readonly side?: Side;
  /** The sum, in dBFS; nothing where nothing is sent to it. The peak can be above 0: the mix then clips. */
  readonly level?: Loud;
  /** Loudest first. */
  readonly from: readonly Contribution[];
}

/** A mix on its way out of a device. */
export interface Leaving {
  readonly line: Line;
  /** In dBu, unloaded; a peak is at most what the output gives. */
  readonly level: Loud;
  /** By how many dB the mix has to come down so that nothing is cut off at the output itself. */
  readonly cutDb: number;
}

export interface MixLevels {
  readonly mix: Mix;
  readonly sides: readonly Bus[];
  readonly leaving: readonly Leaving[];
}

/** A mix as it comes to the input that a joint goes into, in dBu. */
export interface Passing extends Loud {
  readonly joint: Joint;
  readonly mode?: Mode;
  readonly leaving: Leaving;
  /** What electronics drive the joint with at the loudest, before anything loads it, and the most that they can, in dBu. */
  readonly out?: { readonly peakDbu: number; readonly maxDbu: number };
}

export interface Buses {
  readonly all: readonly MixLevels[];
  of(mix: string): MixLevels | undefined;
  at(joint: Joint): Passing | undefined;
}

/**
 * What a side gets of a sound that is panned, in dB: constant power, -3.01 dB on each side in the middle (common practice, no
 * source). -100 is fully left, 100 fully right; minus infinity on the side that gets nothing.
 */
export function panDb(panPercent: number, side: Side): number {
  const turned = ((panPercent + 100) / 200) * (Math.PI / 2);
  const share = side === 'left' ? Math.cos(turned) : Math.sin(turned);
  return share < 1e-9 ? Number.NEGATIVE_INFINITY : 20 * Math.log10(share);
}

/** What a side of a stereo sound keeps when it is panned: all of it in the middle, and less where it is turned away from. */
export function balanceDb(panPercent: number, side: Side): number {
  return Math.min(0, panDb(panPercent, side) - panDb(0, side));
}

/** A level at an input in dBFS, at a gain in dB within the input's range: it clips at max - (gain - lowest). */
export function dbfsOf(dbu: number, maxDbu: number, lowestDb: number, gainDb: number): number {
  return dbu - (maxDbu - (gainDb - lowestDb));
}

export function buses(net: Network, levels: Levels): Buses {
  const all: MixLevels[] = [];
  const byMix = new Map<string, MixLevels>();
  const passing = new Map<Joint, Passing>();
  for (const mix of net.rig.mixes.values()) {
    const { levels: loud, passing: passed } = busOf(net, levels, mix);
    all.push(loud);
    byMix.set(mix.id, loud);
    for (const each of passed) if (!passing.has(each.joint)) passing.set(each.joint, each);
  }
  return { all, of: (mix) => byMix.get(mix), at: (joint) => passing.get(joint) };
}

interface Bussed {
  readonly levels: MixLevels;
  readonly passing: readonly Passing[];
}

/** A mix hangs on its own lines, on those by which what is sent to it comes in, and on what comes to the gear that it leaves. */
function busOf(net: Network, levels: Levels, mix: Mix): Bussed {
  const routes = router(net);
  const lines = net.linesOf(mix.id);
  const of: unknown[] = [net.rig.settings, lines];
  for (const { run, start } of lines) if (run.kind === 'output' && start) of.push(routes(start.piece.id));
  for (const { source } of mix.sends) of.push(net.linesOf(source));
  return net.kept.once('bus', mix, of, () => {
    const carried = lines.filter(({ run, start }) => run.kind === 'output' && start);
    const reach = carried.length === 0 ? undefined : merged(carried.map(({ start }) => routes((start as Socket).piece.id)));
    const sent = mix.sends.map((send) => ({ send, lines: landings(net, send, reach) }));
    const sides = (mix.stereo ? (['left', 'right'] as const) : [undefined]).map((side): Bus => {
      const from = sent.flatMap((each) => contributed(net.rig, levels, each.send, each.lines, reach, side));
      return { side, level: summed(from), from: from.sort((a, b) => b.peak - a.peak) };
    });
    const leaving = carried.flatMap((line) => leavingBy(net, line, sides) ?? []);
    return { levels: { mix, sides, leaving }, passing: follow(net, levels, mix, leaving) };
  });
}

/** What lands there comes to the mix as numbers, so that its level stays what it was. */
function isSteady(reach: ReadonlyMap<string, Route> | undefined, piece: string): boolean {
  return !reach || reach.get(piece)?.digital === true;
}

/** What comes to any of several devices; the nearest way counts. */
function merged(reaches: readonly ReadonlyMap<string, Route>[]): ReadonlyMap<string, Route> {
  const [first, ...more] = reaches;
  if (!first || more.every((each) => each === first)) return first ?? new Map();
  return new Map(reaches.toReversed().flatMap((each) => [...each]));
}

/** The lines by which a send's source comes to the mix, one for each of its channels that is wanted. */
export function landings(net: Network, send: Send, reach: ReadonlyMap<string, Route> | undefined): Line[] {
  const lines = net.linesOf(send.source).filter(({ run }) => run.kind === 'input' && (!reach || reach.has(run.to.piece)));
  const named = send.channel === undefined ? lines : lines.filter(({ channel }) => channel === send.channel);
  const wanted = named.length > 0 ? named : lines.filter(({ channel }) => channel === undefined);
  // Plugged in twice, it still has one fader.
  return wanted.filter((line, index) => wanted.findIndex(({ channel }) => channel === line.channel) === index);
}

/** What one of the lines by which a send comes gives to a side of the mix, in dB: what is stereo itself stays left and right. */
export function shareDb({ panPercent }: Send, lines: readonly Line[], { channel }: Line, side: Side): number {
  const stereo = lines.length === 2 && lines.every((line) => line.channel === 'left' || line.channel === 'right');
  if (!stereo) return panDb(panPercent, side);
  return channel === side ? balanceDb(panPercent, side) : Number.NEGATIVE_INFINITY;
}

function contributed(
  rig: Rig,
  levels: Levels,
  send: Send,
  lines: readonly Line[],
  reach: ReadonlyMap<string, Route> | undefined,
  side: Side | undefined,
): Contribution[] {
  return lines.flatMap((line) => {
    const levelDb = send.levelDb + (side === undefined ? 0 : shareDb(send, lines, line, side));
    if (!Number.isFinite(levelDb) || line.run.kind !== 'input') return [];
    const come = isSteady(reach, line.run.to.piece) ? comingIn(line, levels.of(line)) : undefined;
    const { typical, peak, cutDb } = come ?? { ...linedUp(rig.settings), cutDb: 0 };
    return [{ send, input: line.end?.key, typical: typical + levelDb, peak: peak + levelDb, cutDb, assumed: come === undefined }];
  });
}

/** Of what has no figures (a channel of a computer): set so that it keeps the rig's headroom and margin (common practice, no source). */
function linedUp({ headroomDb, marginDb }: Settings): Loud {
  return { typical: -Math.max(headroomDb, marginDb), peak: -marginDb };
}

/** How loud a source is in dBFS behind the input it is plugged into, at the gain that is written or else the gain to set. */
function comingIn({ run }: Line, arrival: Arrival | undefined): (Loud & { cutDb: number }) | undefined {
  const { mode, typicalDbu, peakDbu, gain } = arrival ?? {};
  if (run.kind !== 'input' || !mode || mode.maxDbu === undefined || typicalDbu === undefined || peakDbu === undefined || !gain)
    return undefined;
  const { low, high } = mode.gainDb ?? { low: 0, high: 0 };
  const gainDb = Math.max(low, Math.min(run.gainDb ?? gain.setDb, high));
  const { maxDbu } = mode;
  const level = (dbu: number) => dbfsOf(dbu, maxDbu, low, gainDb);
  const peak = level(peakDbu);
  // What the input itself cuts off goes no further.
  return { typical: Math.min(0, level(typicalDbu)), peak: Math.min(0, peak), cutDb: Math.max(0, peak) };
}

/** Sources on one input, behind a switch, count once: the loudest. */
export function summed(from: readonly Contribution[]): Loud | undefined {
  const byInput = new Map<string, Loud>();
  from.forEach(({ input, typical, peak }, index) => {
    const key = input ?? String(index);
    const there = byInput.get(key);
    byInput.set(key, there ? { typical: Math.max(typical, there.typical), peak: Math.max(peak, there.peak) } : { typical, peak });
  });
  const loud = [...byInput.values()];
  const typical = powerSum(loud.map((each) => each.typical));
  const peak = powerSum(loud.map((each) => each.peak));
  return typical === undefined || peak === undefined ? undefined : { typical, peak };
}

function leavingBy({ rig }: Network, line: Line, sides: readonly Bus[]): Leaving | undefined {
  const { start, run } = line;
  const full = start?.port.modes[0]?.maxDbu;
  if (full === undefined || run.kind !== 'output') return undefined;
  // A mono mix is the same on every output; both sides of a stereo one can leave by one output with two channels.
  const wide = (start?.port.modes[0]?.channels ?? 1) >= 2 && run.from.ports.length === 1;
  const stereo = rig.mixes.get(run.carries ?? '')?.stereo === true;
  const levels = sides
    .filter(
      ({ side }, index) => side === undefined || wide || (stereo && (line.channel === undefined ? index === 0 : side === line.channel)),
    )
    .flatMap(({ level }) => level ?? []);
  if (levels.length === 0) return undefined;
  const typical = Math.max(...levels.map((each) => each.typical));
  const peak = Math.max(...levels.map((each) => each.peak));
  return { line, level: { typical: full + Math.min(0, typical), peak: full + Math.min(0, peak) }, cutDb: Math.max(0, peak) };
}

/** From each output on through everything that is plugged in, ours and the house's. */
function follow(net: Network, levels: Levels, mix: Mix, leaving: readonly Leaving[]): Passing[] {
  const passing = new Map<Joint, Passing>();
  const solved = new Map<string, { plugs: Solution['plugs']; leaving: Leaving }>();
  for (const each of leaving) {
    const start = each.line.start as Socket;
    if (solved.has(start.key) || !net.leaving.has(start.key)) continue;
    const { plugs } = solveFrom(net, start, kindsOut(start.port, ['line']), start.port.modes[0], { metres: levels.metres });
    solved.set(start.key, { plugs, leaving: each });
  }
  for (const line of net.linesOf(mix.id)) {
    for (const joint of line.joints) {
      if (passing.has(joint) || isRadio(joint.to.port)) continue;
      for (const { plugs, leaving: each } of solved.values()) {
        const plug = plugs.get(joint);
        if (!plug) continue;
        const changeDb = ratioDb(plug.ratio);
        const mode = modeFor(joint.to, plug.upstream.kinds);
        const { typical, peak } = each.level;
        const out = drivenOut(plug, peak);
        passing.set(joint, { joint, mode, leaving: each, typical: typical + changeDb, peak: peak + changeDb, out });
        break;
      }
    }
  }
  return [...passing.values()];
}

/** Of an output with electronics before it that passes on what comes in. What states its level gives that, whatever comes in; phones have a knob. */
function drivenOut({ upstream }: PlugState, peakDbu: number): Passing['out'] {
  const { socket, kinds, by, given, emf } = upstream;
  const mode = socket.port.modes.find(({ kind }) => kinds.includes(kind));
  if (by?.tie.how !== 'active' || given.by || mode?.maxDbu === undefined || mode.kind === 'phones') return undefined;
  return { peakDbu: peakDbu + ratioDb(size(emf.between)), maxDbu: mode.maxDbu };
}
