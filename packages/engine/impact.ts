/**
 * What our rig does to each line of the house's, and how many of them have to be re-plugged for us.
 *
 * A line of theirs and the lines of ours that carry the same signal run together from the source to the piece at which they
 * part. What stands before that piece makes the sound, for us as for them; what stands there or behind it decides.
 */
import type { HouseRun, InputRun, Piece } from '#rig';
import type { Levels } from './levels';
import type { Joint, Line, Network, Socket } from './network';
import { arrives, isTheirs, kindsAt, wholePath } from './path';
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
  /** One for each line of ours on the same output of the source. */
  readonly partings: readonly Parting[];
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
  /** How much lower the signal is at their socket while our rig is plugged in, in dB. Switched off it costs as much, or more. */
  readonly lossDb?: number;
}

export interface HouseImpact {
  /** In the order of the text. A line that cannot be followed to its end, or shares a plug with another, is not there. */
  readonly lines: readonly HouseLine[];
  /** How many lines the house has that are its own: all but those that we bring. */
  readonly theirs: number;
  readonly replugged: readonly HouseLine[];
  of(run: HouseRun): HouseLine | undefined;
}

/** Pure; linear in the number of joints, times the lines of ours that take the same source. */
export function houseImpact(net: Network, levels: Levels, supplies: Supplies): HouseImpact {
  const landings = new Set(net.rig.inputs.map((run) => run.to.piece));
  const isDevice = (piece: Piece) => landings.has(piece.id) || piece.model.mixes !== undefined;
  const byRun = new Map(net.lines.map((line) => [line.run.id, line]));
  const fed = fedByUs(supplies);
  const lines = net.rig.house.flatMap((run): HouseLine[] => {
    const found = lineOf(run, byRun.get(run.id), { net, levels, isDevice, fed });
    return found ? [found] : [];
  });
  const known = new Map(lines.map((each) => [each.run, each]));
  return {
    lines,
    theirs: net.rig.house.filter((run) => known.get(run)?.how !== 'brought').length,
    replugged: lines.filter((each) => each.replugged),
    of: (run) => known.get(run),
  };
}

interface Looking {
  readonly net: Network;
  readonly levels: Levels;
  readonly isDevice: (piece: Piece) => boolean;
  readonly fed: ReadonlyMap<Piece, Extract<Cause, { kind: 'phantom' }>>;
}

function lineOf(run: HouseRun, line: Line | undefined, looking: Looking): HouseLine | undefined {
  const { net, levels, isDevice } = looking;
  const nothing = { run, line, partings: [], causes: [], replugged: false };
  if (run.ownMic) return { ...nothing, how: 'untouched' };
  const taken = net.rig.pieces.get(run.takes?.id ?? '');
  if (run.takes?.kind === 'mix' || (taken && taken.kind === 'gear' && !isTheirs(taken))) return { ...nothing, how: 'brought' };
  if (!taken || !arrives(line)) return undefined;
  const path = wholePath(net, line);
  if (path.some((joint) => joint.clashes || (net.leaving.get(joint.from.key)?.length ?? 0) > 1)) return undefined;
  const partings: { parting: Parting; at: number }[] = [];
  let otherOutput: Socket | undefined;
  for (const ours of net.linesOf(taken.id)) {
    if (ours.run.kind !== 'input' || !arrives(ours) || isTheirs(ours.end?.piece as Piece)) continue;
    const parted = part(path, wholePath(net, ours), ours.run, isDevice);
    if (parted) partings.push(parted);
    else otherOutput ??= wholePath(net, ours)[0]?.from;
  }
  const common = partings.length === 0 ? path.length : Math.min(...partings.map(({ at }) => at));
  const causes = causesOn(path, common, looking);
  const parted = partings.map(({ parting }) => parting);
  const how: Touch =
    causes.length > 0
      ? 'dependent'
      : parted.length === 0
        ? 'untouched'
        : parted.every((parting) => parting.isolator)
          ? 'isolated'
          : 'tapped';
  return {
    run,
    line,
    how,
    partings: parted,
    causes,
    otherOutput: parted.length === 0 ? otherOutput : undefined,
    replugged: parted.some((parting) => parting.forUs),
    lossDb: parted.length === 0 ? undefined : levels.of(line)?.splitLossDb,
  };
}

/** Where a line of ours leaves theirs; undefined where the two have different outputs of the source. `at`: after so many joints. */
function part(
  theirs: readonly Joint[],
  ours: readonly Joint[],
  input: InputRun,
  isDevice: Looking['isDevice'],
): { parting: Parting; at: number } | undefined {
  let at = 0;
  while (at < theirs.length && theirs[at] === ours[at]) at++;
  const last = theirs[at - 1];
  const leg = theirs[at]?.from;
  if (!last || !leg) return undefined;
  const { piece } = last.to;
  const isolator = [...ours.slice(at), ...theirs.slice(at)].find(({ from }) => from.port.tie?.isolated)?.from.piece;
  const forUs = !isTheirs(piece) && (isDevice(piece) || !makesOver(leg, theirs.slice(0, at)));
  return { parting: { piece, theirs: leg, ours: ours[at]?.from, input, isolator, forUs }, at };
}

/** Whether an output gives another kind of signal than came in: a DI's own, where its thru only passes on. */
function makesOver(leg: Socket, before: readonly Joint[]): boolean {
  const { modes } = leg.port;
  const incoming = kindsAt(before);
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
