/**
 * What our rig does to each line of the house's, and how many of them have to be re-plugged for us.
 *
 * A line of theirs and the lines of ours that carry the same signal run together from the source to the piece at which they
 * part. What stands before that piece makes the sound, for us as for them; what stands there or behind it decides.
 */
import type { HouseRun, InputRun, Piece, Rig, SignalKind } from '#rig';
import type { Levels } from './levels';
import type { Joint, Line, Network, Socket } from './network';
import { arrives, isTheirs, wholePath } from './path';
import { needsPhantom } from './ports';
import type { Needy, Supplies } from './supply';

/**
 * - `untouched`: nothing of our rig stands in it or hangs on it.
 * - `tapped`: our rig hangs on it by copper. It works with our rig unplugged.
 * - `isolated`: a transformer, or electronics that isolate, stand between it and our rig. It works with our rig unplugged.
 * - `dependent`: it goes silent with our power or our plug.
 * - `brought`: it carries a mix or a link of ours, and was never theirs.
 */
export type Touch = 'untouched' | 'tapped' | 'isolated' | 'dependent' | 'brought';

/** What of ours a line of theirs cannot do without. */
export type Cause =
  /** A microphone or a DI on it has its phantom power from an input of ours. */
  | { readonly kind: 'phantom'; readonly needy: Needy; readonly input: InputRun; readonly from: Socket }
  /**
   * Its signal goes through electronics of ours. `power` is what they run on, as their model says. `sounds`: everybody who takes
   * the source takes it behind them (a pedal, the player's own amplifier), so that they make the sound as the instrument does.
   */
  | { readonly kind: 'power'; readonly piece: Piece; readonly power: string | undefined; readonly sounds: boolean }
  /** Its signal goes through what our own lines land on: an interface, an expander, a mixer. */
  | { readonly kind: 'device'; readonly piece: Piece };

/** Where a line of theirs and one of ours go separate ways. */
export interface Parting {
  readonly piece: Piece;
  /** The leg that each leaves by. Ours has none where it ends in the piece itself. */
  readonly theirs: Socket;
  readonly ours?: Socket;
  readonly input: InputRun;
  /** What keeps the metal of the two apart, on either side. */
  readonly isolator?: Piece;
  /** The piece is ours and there for our sake: without us their plug would not go into it. See `HouseLine.replugged`. */
  readonly forUs: boolean;
}

export interface HouseLine {
  readonly run: HouseRun;
  readonly line?: Line;
  readonly how: Touch;
  /** How many lines of ours are on the same output of the source, and where each of them parts; worked out when asked for. */
  readonly parted: number;
  readonly partings: readonly Parting[];
  /** The same for one of our runs. */
  partingFrom(input: InputRun): Parting | undefined;
  /** Of a dependent line. */
  readonly causes: readonly Cause[];
  /** Of an untouched line: the output of the same source that we take instead. */
  readonly otherOutput?: Socket;
  /**
   * A line of theirs whose plug would go straight from the source, or from a DI or a split that is there anyway, to their stage
   * box, and now has to go into something of ours first: our Y-lead, our split, our DI's thru.
   *
   * Not re-plugged: their own microphone; a source of ours that they alone take; another output of the source than we take; a
   * line that parts from ours in their own split or DI; the output proper of a DI of ours (it makes of an instrument what their
   * box takes, and would stand there without us); a mix that we bring.
   */
  readonly replugged: boolean;
  /** What it then goes into. */
  readonly into?: Piece;
  /** How much lower the signal is at their socket while our rig is plugged in, in dB. Switched off it costs as much, or more. */
  readonly lossDb?: number;
}

export interface HouseImpact {
  /** In the order of the text. A line that cannot be followed to its end, or shares a plug with another, is not there. */
  readonly lines: readonly HouseLine[];
  /** How many lines the house has, those that we bring among them; one that several sources come by is one. */
  readonly count: number;
  /** Of each line the first of what comes by it. */
  readonly replugged: readonly HouseLine[];
  of(run: HouseRun): HouseLine | undefined;
}

/** Pure; linear in the number of joints. Only of one source the lines of theirs are held against those of ours. */
export function houseImpact(net: Network, levels: Levels, supplies: Supplies): HouseImpact {
  const landings = new Set<string>();
  for (const run of net.rig.inputs) landings.add(run.to.piece);
  const isDevice = (piece: Piece) => landings.has(piece.id) || piece.model.mixes !== undefined;
  const byRun = new Map<string, Line>();
  for (const line of net.lines) if (line.run.kind === 'house') byRun.set(line.run.id, line);
  const fed = fedByUs(supplies);
  const known = new Map<string, readonly OurWay[]>();
  const ours = (source: string) => {
    const there = known.get(source) ?? oursOf(net, source);
    known.set(source, there);
    return there;
  };
  const looking: Looking = { net, levels, isDevice, fed, ours };
  const lines = net.rig.house.flatMap((run): HouseLine[] => {
    const line = byRun.get(run.id);
    const found = net.kept.once('house line', run, hangingOn(run, line, looking), () => lineOf(run, line, looking));
    return found ? [found] : [];
  });
  const first = new Set(houseLines(net.rig));
  const byHouse = new Map(lines.map((each) => [each.run, each]));
  return {
    lines,
    count: first.size,
    replugged: lines.filter((each) => each.replugged && first.has(each.run)),
    of: (run) => byHouse.get(run),
  };
}

/** Of each line of the house's its first statement: one that several sources come by, one at a time, has several. */
export function houseLines({ house }: Rig): HouseRun[] {
  const seen = new Set<string>();
  return house.filter(({ piece }) => !seen.has(piece) && seen.add(piece));
}

function oursOf(net: Network, source: string): OurWay[] {
  return net.linesOf(source).flatMap((line) => {
    const { run, end } = line;
    return run.kind === 'input' && arrives(line) && end ? [{ run, path: wholePath(net, line), onTheirs: isTheirs(end.piece) }] : [];
  });
}

interface Looking {
  readonly net: Network;
  readonly levels: Levels;
  readonly isDevice: (piece: Piece) => boolean;
  readonly fed: ReadonlyMap<Piece, Extract<Cause, { kind: 'phantom' }>>;
  /** Our lines that take a source and arrive. */
  readonly ours: (source: string) => readonly OurWay[];
}

interface OurWay {
  readonly run: InputRun;
  readonly path: readonly Joint[];
  /** It ends in gear of theirs, as a monitor desk: where it parts from a line of theirs in a split of theirs, nothing of ours is in either. */
  readonly onTheirs: boolean;
}

/** What a line of theirs is told by, besides what is in its part of the rig: what of the gear on its way is a device, and fed by us. */
function hangingOn(run: HouseRun, line: Line | undefined, { net, isDevice, fed }: Looking): readonly unknown[] {
  const of: unknown[] = [net.memoryOf(run), line];
  for (const { from, to } of line ? wholePath(net, line) : []) of.push(isDevice(from.piece), isDevice(to.piece), fed.get(from.piece));
  return of;
}

const NOTHING_OF_OURS = { parted: 0, partings: [], partingFrom: () => undefined, causes: [], replugged: false };

function lineOf(run: HouseRun, line: Line | undefined, looking: Looking): HouseLine | undefined {
  const { net, levels, isDevice } = looking;
  if (run.ownMic) return { ...NOTHING_OF_OURS, run, line, how: 'untouched' };
  const taken = net.rig.pieces.get(run.takes?.id ?? '');
  if (run.takes?.kind === 'mix' || (taken && taken.kind === 'gear' && !isTheirs(taken)))
    return { ...NOTHING_OF_OURS, run, line, how: 'brought' };
  if (!taken || !arrives(line)) return undefined;
  const path = wholePath(net, line);
  if (path.some((joint) => joint.clashes || (net.leaving.get(joint.from.key)?.length ?? 0) > 1)) return undefined;
  const theirs = theirWay(path, isDevice);
  const ours = looking.ours(taken.id).filter((our) => !our.onTheirs || partsInOurs(theirs, our));
  let [parted, common, isolated] = [0, path.length, true];
  let otherOutput: Socket | undefined;
  let into: Piece | undefined;
  // Every line of theirs is held against every one of ours: no more than has to be is done for each.
  for (const our of ours) {
    const at = leavesAt(theirs, our.path);
    if (at === undefined) {
      otherOutput ??= our.path[0]?.from;
      continue;
    }
    parted += 1;
    common = Math.min(common, at);
    isolated &&= isolatorBehind(theirs, our.path, at) !== undefined;
    if (theirs.forUs[at]) into ??= theirs.path[at - 1]?.to.piece;
  }
  const causes = causesOn(path, common, looking);
  let partings: readonly Parting[] | undefined;
  return {
    run,
    line,
    how: causes.length > 0 ? 'dependent' : parted === 0 ? 'untouched' : isolated ? 'isolated' : 'tapped',
    parted,
    get partings() {
      partings ??= ours.flatMap((our) => part(theirs, our) ?? []);
      return partings;
    },
    partingFrom: (input) => {
      for (const our of ours) {
        const parting = our.run === input ? part(theirs, our) : undefined;
        if (parting) return parting;
      }
      return undefined;
    },
    causes,
    otherOutput: parted === 0 ? otherOutput : undefined,
    replugged: into !== undefined,
    into,
    lossDb: parted === 0 ? undefined : levels.of(line)?.splitLossDb,
  };
}

/** A path of theirs, as lines of ours leave it: what holds for each place at which they may, after so many joints. */
interface TheirWay {
  readonly path: readonly Joint[];
  /** The first piece from there on that isolates. */
  readonly isolators: readonly (Piece | undefined)[];
  readonly forUs: readonly boolean[];
}

function theirWay(path: readonly Joint[], isDevice: Looking['isDevice']): TheirWay {
  const isolators: (Piece | undefined)[] = [];
  for (let at = path.length - 1; at >= 0; at--) isolators[at] = isolatorAt(path[at] as Joint) ?? isolators[at + 1];
  let incoming: readonly SignalKind[] = [];
  const forUs = path.map((joint, at) => {
    const before = path[at - 1];
    if (before && before.from.port.modes.length > 0) incoming = before.from.port.modes.map(({ kind }) => kind);
    return before !== undefined && !isTheirs(before.to.piece) && (isDevice(before.to.piece) || !makesOver(joint.from, incoming));
  });
  return { path, isolators, forUs };
}

const isolatorAt = ({ from }: Joint) => (from.port.tie?.isolated ? from.piece : undefined);

/** After how many joints a line of ours leaves theirs; undefined where the two have different outputs of the source. */
function leavesAt({ path }: TheirWay, ours: readonly Joint[]): number | undefined {
  // From its end: what two lines have in common can be long, and what they have not seldom is.
  let at = ours.length;
  while (at > 0 && path[at - 1] !== ours[at - 1]) at--;
  return at > 0 && at < path.length ? at : undefined;
}

function partsInOurs(theirs: TheirWay, { path }: OurWay): boolean {
  const at = leavesAt(theirs, path);
  const piece = at === undefined ? undefined : theirs.path[at - 1]?.to.piece;
  return piece !== undefined && !isTheirs(piece);
}

/** What keeps the metal of the two apart behind the place where they part, on either side. */
function isolatorBehind({ isolators }: TheirWay, ours: readonly Joint[], at: number): Piece | undefined {
  for (let index = at; index < ours.length; index++) {
    const isolator = isolatorAt(ours[index] as Joint);
    if (isolator) return isolator;
  }
  return isolators[at];
}

function part(theirs: TheirWay, { run, path: ours }: OurWay): Parting | undefined {
  const at = leavesAt(theirs, ours);
  const piece = theirs.path[(at ?? 0) - 1]?.to.piece;
  const leg = theirs.path[at ?? 0]?.from;
  if (at === undefined || !piece || !leg) return undefined;
  const isolator = isolatorBehind(theirs, ours, at);
  return { piece, theirs: leg, ours: ours[at]?.from, input: run, isolator, forUs: theirs.forUs[at] === true };
}

/** Whether an output gives another kind of signal than came in: a DI's own, where its thru only passes on. */
function makesOver({ port: { modes } }: Socket, incoming: readonly SignalKind[]): boolean {
  return modes.length > 0 && !modes.some((mode) => incoming.includes(mode.kind));
}

/** `common`: so many joints of the path are those of all lines of ours, too. */
function causesOn(path: readonly Joint[], common: number, { isDevice, fed }: Looking): Cause[] {
  const causes = new Map<Piece, Cause>();
  for (const [index, { from }] of path.entries()) {
    const { piece, port } = from;
    const phantom = needsPhantom(port) ? fed.get(piece) : undefined;
    if (phantom) causes.set(piece, phantom);
    if (phantom || index === 0 || port.tie?.how !== 'active' || isTheirs(piece)) continue;
    const power = piece.model.power?.from;
    if (isDevice(piece)) causes.set(piece, { kind: 'device', piece });
    // Fed down its own output, by whoever is there; `none` is taken at its word.
    else if (!needsPhantom(port) && power !== 'phantom' && power !== 'none')
      causes.set(piece, { kind: 'power', piece, power, sounds: index < common });
  }
  return [...causes.values()];
}

/** What has its phantom power from an input of ours. */
function fedByUs(supplies: Supplies): Looking['fed'] {
  const fed = new Map<Piece, Extract<Cause, { kind: 'phantom' }>>();
  for (const needy of supplies.needy) {
    const run = needy.supplier?.line.run;
    const from = needy.supplier?.end;
    if (run?.kind === 'input' && from && !isTheirs(from.piece)) fed.set(needy.piece, { kind: 'phantom', needy, input: run, from });
  }
  return fed;
}
