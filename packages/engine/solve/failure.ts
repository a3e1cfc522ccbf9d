/**
 * What falls silent when one thing breaks or loses its power: who hears nothing, which sounds are gone from the mixes, what the audience loses,
 * on the house's lines or over our own loudspeakers; and the quickest way round.
 */
import { type HouseRun, isSame, type Mix, type Performer, type Piece, type Port, type SignalKind, type Source } from '#rig';
import { landings, type Side, shareDb } from './buses';
import { type Lead, leadBetween, mates } from './mating';
import { type Joint, kindsOut, type Line, type Network, push, type Socket, socket } from './network';
import { isTheirs, wholePath } from './path';
import { isHarmed, needsPhantom, supplyOf } from './ports';
import { inUse, isThing, onMains, runsOn } from './power';
import { belongs, seatedAt } from './seats';
import { supplies } from './supply';
import { isTunedTo, ownedBy, type Route, router, waysOf } from './ways';

/** The quickest way round with what is on stage. */
export type Round =
  | { readonly kind: 'spare'; readonly piece: Piece }
  /** One of the same kind that nothing is plugged into. */
  | { readonly kind: 'idle'; readonly piece: Piece }
  /** Earphones on a lead, in an output for them that nothing is plugged into. */
  | { readonly kind: 'phones'; readonly at: Socket }
  /** Without it: one plug straight into the next socket; `lead` where neither of the two that are there already has the ends for it. */
  | { readonly kind: 'straight'; readonly from: Socket; readonly to: Socket; readonly lead?: Lead };

export interface Failure {
  /** What fails: a piece, a lead, or all that one supply feeds. */
  readonly of:
    | { readonly piece: Piece }
    | { readonly joint: Joint }
    | { readonly supply: 'mains' | 'computer'; readonly pieces: readonly Piece[] };
  /** Those who hear nothing at all any more. */
  readonly deaf: readonly Performer[];
  /** Sounds that no mix for ears has any more; none where everybody is deaf. */
  readonly sources: readonly Source[];
  /** Of what has two sides, those of which one is gone: who hears one alone, and what comes in one alone. */
  readonly oneSided: { readonly performers: readonly Performer[]; readonly sources: readonly Source[] };
  /** Those on which nothing comes any more. */
  readonly house: readonly HouseRun[];
  /** Of our own loudspeakers, where there are any: how many of them nothing comes out of any more. */
  readonly silent: 'all' | 'some' | 'none';
  /** Mixes for the audience of which only a part is gone. */
  readonly thinned: readonly Thinned[];
  readonly round: readonly Round[];
}

export interface Thinned {
  readonly sources: readonly Source[];
  /** Of which one side is gone. */
  readonly halves: readonly Source[];
  /** The lines that take the mix; none where the loudspeakers are ours. */
  readonly house: readonly HouseRun[];
}

type Lost = Omit<Failure, 'of' | 'round'>;

/** By what a source comes to a mixer: a line, and the gear behind the input that it lands on. */
type Coming = readonly [Line, readonly Piece[]];
type Comings = ReadonlyMap<string, readonly Coming[]>;

/** A mix for the audience as it leaves on some of its lines: all of it, or one side. */
interface Played {
  readonly mix: Mix;
  readonly channel: string | undefined;
  /** Of each source in it. */
  readonly comings: Comings;
}

/** How a performer hears something: the line to it, and what is worn. */
interface HearingWay {
  readonly line: Line;
  readonly worn?: Piece;
}

/** Of everything of ours whose failing is heard, in the order of the rig; then of every lead. Pure. */
export class Failures {
  private readonly ways: ReadonlyMap<string, readonly HearingWay[]>;
  /** Of each source that a mix for ears has. */
  private readonly comings: Comings;
  private readonly forAudience: readonly Played[];
  /** What it leaves by where the loudspeakers are ours. */
  private readonly loud: readonly Line[];

  /** The lines that stand in a piece, or run over a lead, anywhere from where their signal is made. */
  private readonly standing = new Map<Piece | Joint, Line[]>();
  /** What is worn, and the gear behind the inputs that sounds land on. */
  private readonly worn: ReadonlySet<Piece>;
  private readonly bearing: ReadonlySet<Piece>;

  private readonly linesOf = new Map<string, Line[]>();

  constructor(private readonly net: Network) {
    for (const line of net.lines) {
      push(this.linesOf, line.run.id, line);
      for (const each of standingIn(net, line)) push(this.standing, each, line);
    }
    this.ways = heardBy(net);
    const mixes = [...net.rig.mixes.values()];
    this.comings = comingsOf(
      net,
      mixes.filter((mix) => mix.for.length > 0),
    );
    this.forAudience = mixes.flatMap((mix) => (mix.house ? playedOf(net, mix) : []));
    const out = net.rig.noHouse === 'ours' ? mixes.flatMap(({ id, house }) => (house ? net.linesOf(id) : [])) : [];
    this.loud = out.filter(({ run }) => run.kind === 'output');
    this.worn = new Set([...this.ways.values()].flat().flatMap(({ worn }) => worn ?? []));
    this.bearing = new Set(
      [this.comings, ...this.forAudience.map(({ comings }) => comings)].flatMap((each) =>
        [...each.values()].flat().flatMap(([, gear]) => gear),
      ),
    );
  }

  pieces(): Failure[] {
    const { rig } = this.net;
    const things = [...rig.pieces.values()].filter((piece) => (inUse(piece) || isLent(piece)) && piece.kind !== 'source');
    return things.flatMap((piece) => {
      const lost = this.lost(new Set([piece]));
      // What only the house hears of its own gear is not ours to tell.
      return lost && (inUse(piece) || isHeardByUs(lost))
        ? [{ of: { piece }, ...lost, round: this.roundOf(piece, lost.deaf.length > 0) }]
        : [];
    });
  }

  /** The mains, and the computer, which feeds what hangs on its USB and plays what is inside it. */
  supplies(): Failure[] {
    const all = [...this.net.rig.pieces.values()];
    const mains = all.filter((piece) => inUse(piece) && onMains(piece));
    const computer = all.filter(
      (piece) => !isTheirs(piece) && (runsOn(piece.model, 'usb') || (piece.kind === 'source' && isNoThing(piece))),
    );
    return (
      [
        ['mains', mains],
        ['computer', computer],
      ] as const
    ).flatMap(([supply, pieces]) => {
      const dead = new Set(pieces);
      const lost = dead.size > 0 ? this.lost(dead) : undefined;
      return lost ? [{ of: { supply, pieces }, ...lost, round: [] }] : [];
    });
  }

  leads(): Failure[] {
    return this.net.joints.flatMap((joint) => {
      const lost = this.lost(new Set(), joint);
      return lost ? [{ of: { joint }, ...lost, round: [] }] : [];
    });
  }

  private lost(dead: ReadonlySet<Piece>, broken?: Joint): Lost | undefined {
    const { net } = this;
    const { rig } = net;
    const gone = new Set([...dead, ...(broken ? [broken] : [])].flatMap((each) => this.standing.get(each) ?? []));
    const isDead = (piece: Piece) => dead.has(piece);
    // All that anybody loses hangs on these.
    if (gone.size === 0 && ![...dead].some((piece) => this.worn.has(piece) || this.bearing.has(piece))) return undefined;
    const deaf = [...rig.performers.values()].filter(({ id }) => {
      const ways = this.ways.get(id) ?? [];
      return ways.length > 0 && ways.every(({ line, worn }) => gone.has(line) || (worn !== undefined && isDead(worn)));
    });
    const silentIn = (comings: Comings) =>
      [...comings].flatMap(([id, ways]) => {
        const source = rig.sources.get(id);
        const piece = rig.pieces.get(id);
        const silent = (piece !== undefined && isDead(piece)) || ways.every(([line, gear]) => gone.has(line) || gear.some(isDead));
        return source && ways.length > 0 && silent ? [source] : [];
      });
    const missingIn = (comings: Comings) => {
      const sources = silentIn(comings);
      const silent = new Set(sources);
      const halves = [...comings].flatMap(([id, ways]) => {
        const source = rig.sources.get(id);
        if (!source || silent.has(source)) return [];
        const arriving = ways.map(([line, gear]) => ({ line, gear }));
        const half = sideGone(arriving, ({ line, gear }) => gone.has(line) || gear.some(isDead));
        return half ? [source] : [];
      });
      return { sources, halves };
    };
    const { sources, halves } = missingIn(this.comings);
    const isDeaf = new Set(deaf);
    const audience = this.audienceLoses(gone, missingIn);
    const oneSided = {
      performers: [...rig.performers.values()].filter(
        (performer) =>
          !isDeaf.has(performer) &&
          sideGone(this.ways.get(performer.id) ?? [], ({ line, worn }) => gone.has(line) || (worn !== undefined && isDead(worn))),
      ),
      sources: halves,
    };
    const { house, silent, thinned } = audience;
    const all = [deaf, sources, house, thinned, oneSided.performers, oneSided.sources];
    if (all.every(({ length }) => length === 0) && silent === 'none') return undefined;
    const everybody = deaf.length > 0 && deaf.length === [...this.ways.values()].filter((ways) => ways.length > 0).length;
    return { deaf, sources: everybody ? [] : sources, oneSided: everybody ? { performers: [], sources: [] } : oneSided, ...audience };
  }

  /** On the house's lines, whatever they take, and over loudspeakers of ours. */
  private audienceLoses(
    gone: ReadonlySet<Line>,
    missingIn: (comings: Comings) => Pick<Thinned, 'sources' | 'halves'>,
  ): Pick<Lost, 'house' | 'silent' | 'thinned'> {
    const { rig } = this.net;
    const all = this.forAudience.map((played) => {
      const missing = missingIn(played.comings);
      return { ...played, ...missing, empty: played.comings.size > 0 && missing.sources.length === played.comings.size };
    });
    const playedOn = (line: Line) => all.find(({ mix, channel }) => mix.id === line.signal && channel === line.channel);
    const isGone = (line: Line) => gone.has(line) || playedOn(line)?.empty === true;
    const linesOf = ({ id }: HouseRun) => (this.linesOf.get(id) ?? []).filter(({ joints }) => joints.length > 0);
    const house = rig.house.filter((run) => linesOf(run).some(isGone));
    const silenced = new Set(house);
    const left = this.loud.filter((line) => !isGone(line));
    const silent = left.length === this.loud.length ? 'none' : left.length === 0 ? 'all' : 'some';
    const thinned = new Map<string, Thinned>();
    for (const played of all) {
      const { mix, sources, halves, empty } = played;
      if (empty || sources.length + halves.length === 0) continue;
      const taking = rig.house.filter((run) => !silenced.has(run) && linesOf(run).some((line) => playedOn(line) === played));
      if (taking.length === 0 && !left.some((line) => playedOn(line) === played)) continue;
      // What both sides lose is lost once.
      const key = [mix.id, ...sources.map(({ id }) => id), '', ...halves.map(({ id }) => id)].join(' ');
      thinned.set(key, { sources, halves, house: [...(thinned.get(key)?.house ?? []), ...taking] });
    }
    return { house, silent, thinned: [...thinned.values()] };
  }

  private roundOf(piece: Piece, deaf: boolean): Round[] {
    const { rig, joints } = this.net;
    const used = new Set(joints.flatMap(({ from, to }) => [from.piece, to.piece]));
    const alike = [...rig.pieces.values()].filter(
      (each) => each !== piece && each.kind === 'gear' && each.model.id === piece.model.id && !isTheirs(each),
    );
    const spare = alike.find(({ holding }) => holding?.spare);
    const idle = alike.find((each) => each !== spare && !used.has(each) && !each.hears && !each.holding?.spare);
    return [
      ...(spare ? [{ kind: 'spare', piece: spare } as const] : []),
      ...(idle ? [{ kind: 'idle', piece: idle } as const] : []),
      ...this.straight(piece),
      ...(deaf ? this.freePhones(piece) : []),
    ];
  }

  /** Of the gear that makes the mixes. */
  private freePhones(failed: Piece): Round[] {
    const { rig, leaving } = this.net;
    const taken = new Set(rig.outputs.flatMap(({ from }) => from.ports.map((port) => `${from.piece}.${port}`)));
    const mixers = [...rig.pieces.values()].filter((piece) => piece !== failed && piece.model.mixes !== undefined && inUse(piece));
    const free = mixers
      .flatMap((piece) => piece.model.ports.map((port) => socket(piece, port)))
      .find(
        ({ key, port }) =>
          port.direction === 'output' && port.modes.some(({ kind }) => kind === 'phones') && !leaving.has(key) && !taken.has(key),
      );
    return free ? [{ kind: 'phones', at: free }] : [];
  }

  /** One plug in, and where what comes out goes: together without the piece, where the plug fits and the socket takes that kind of signal. */
  private straight(piece: Piece): Round[] {
    const { net } = this;
    const coming = net.joints.filter(({ to }) => to.piece === piece);
    const going = net.joints.filter(({ from }) => from.piece === piece && !isTheirs(from.piece));
    if (coming.length !== 1 || piece.model.mixes !== undefined) return [];
    const [into] = coming;
    const kinds = into ? kindsOut(into.from.port, []) : [];
    const first = going.find(
      (out) =>
        into &&
        mates(into.from.port, out.to.port) &&
        out.to.port.modes.some(({ kind }) => kinds.includes(kind)) &&
        !this.exposes(into, out),
    );
    if (!into || !first) return [];
    const between = (from: Port, to: Port, any: readonly SignalKind[]) =>
      leadBetween(from, to, any.find((kind) => to.modes.some((mode) => mode.kind === kind)) ?? any[0]);
    const lead = between(into.from.port, first.to.port, kinds);
    const there = [into, first].map(({ from, to }) => between(from.port, to.port, kindsOut(from.port, kinds)));
    const fits = there.some((each) => isSame(each?.ends, lead?.ends));
    return [{ kind: 'straight', from: into.from, to: first.to, lead: fits ? undefined : lead }];
  }

  /**
   * Whether phantom power would destroy something: what is plugged in here where it is on, with nothing known to be in between any more, or a
   * neighbour where it has to be switched on for this.
   */
  private exposes(into: Joint, out: Joint): boolean {
    const { net } = this;
    const isAtRisk = ({ signal = '' }: Line) => {
      const piece = net.rig.pieces.get(signal);
      return piece?.kind === 'source' && isHarmed(piece);
    };
    if (needsPhantom(into.from.port) && supplyOf(out.to.port) === 'shared') {
      const { piece, port } = out.to;
      return net.lines.some((line) => line.end?.piece === piece && line.end.port.bank === port.bank && isAtRisk(line));
    }
    if (!net.linesThrough(into).some(isAtRisk)) return false;
    const { live } = net.memory.once('supplies', net, () => supplies(net));
    return net.linesThrough(out).some(({ end }) => end && live.has(end.key));
  }
}

/** Whether of some ways all of one channel are gone, and not those of another. */
function sideGone<W extends { readonly line: Line }>(ways: readonly W[], isGone: (way: W) => boolean): boolean {
  const channels = [...new Set(ways.map(({ line }) => line.channel))];
  const lost = channels.filter((channel) => ways.every((way) => way.line.channel !== channel || isGone(way)));
  return lost.length > 0 && lost.length < channels.length;
}

/** Gear of the house's that we may be on: a desk that our ears are mixed on, a split. */
function isLent(piece: Piece): boolean {
  return piece.kind !== 'house' && isTheirs(piece) && isThing(piece.model);
}

function isHeardByUs({ deaf, sources, oneSided, silent }: Lost): boolean {
  return deaf.length + sources.length + oneSided.performers.length + oneSided.sources.length > 0 || silent !== 'none';
}

/** Once for a rig, however many ask. */
export function failuresOf(net: Network): Failures {
  return net.memory.once('failures', net, () => new Failures(net));
}

function standingIn(net: Network, line: Line): Set<Piece | Joint> {
  const path = wholePath(net, line);
  const ends = [line.start, line.end].flatMap((end) => end?.piece ?? []);
  return new Set<Piece | Joint>([...path, ...path.flatMap(({ from, to }) => [from.piece, to.piece]), ...ends]);
}

function isNoThing({ model }: Piece): boolean {
  return (
    model.ports.length > 0 &&
    model.ports.every((port) => port.connector === undefined && port.modes.every(({ kind }) => kind === 'digital'))
  );
}

function heardBy(net: Network): ReadonlyMap<string, readonly HearingWay[]> {
  const { rig } = net;
  const packs = [...rig.pieces.values()].filter(({ hears }) => hears);
  const found = new Map<string, HearingWay[]>();
  for (const way of waysOf(net)) {
    const { mix, line, end, how } = way;
    const seated = seatedAt(net, line).map(({ performer }) => performer);
    for (const id of mix.for) {
      const performer = rig.performers.get(id);
      if (!performer) continue;
      const own = packs.filter((pack) => pack.for.includes(id) && isTunedTo(pack, way));
      const hears = seated.length > 0 ? seated.includes(performer) : belongs(ownedBy(net, end)?.for ?? [], performer);
      const ways: HearingWay[] = how === 'radio' ? own.map((worn) => ({ line, worn })) : hears ? [{ line }] : [];
      found.set(id, [...(found.get(id) ?? []), ...ways]);
    }
  }
  return found;
}

/** Each side by itself, where the two leave apart. */
function playedOf(net: Network, mix: Mix): Played[] {
  const channels = new Set(net.linesOf(mix.id).flatMap(({ run, channel }) => (run.kind === 'output' ? [channel] : [])));
  return [...channels].map((channel) => {
    const side = mix.stereo && (channel === 'left' || channel === 'right') ? channel : undefined;
    return { mix, channel, comings: comingsOf(net, [mix], side) };
  });
}

/** `side`: of stereo mixes, what comes to that one alone. */
function comingsOf(net: Network, mixes: readonly Mix[], side?: Side): Comings {
  const routes = router(net);
  const found = new Map<string, Coming[]>();
  for (const mix of mixes) {
    for (const out of net.linesOf(mix.id)) {
      const device = out.start?.piece;
      if (out.run.kind !== 'output' || !device) continue;
      const reach: ReadonlyMap<string, Route> = routes(device.id);
      for (const send of mix.sends) {
        const lines = landings(net, send, reach);
        for (const line of lines) {
          if (side && !Number.isFinite(shareDb(send, lines, line, side))) continue;
          const gear = line.run.kind === 'input' ? [...(reach.get(line.run.to.piece)?.gear ?? []), device] : [device];
          const there = found.get(send.source) ?? [];
          if (!there.some(([each]) => each === line)) there.push([line, gear]);
          found.set(send.source, there);
        }
      }
    }
  }
  return found;
}
