/** How late each performer hears what they themselves sing or play: everything that takes time between the sound and their ears. */
import type { Mix, Performer, Piece, Rig, Source } from '#rig';
import { landings } from './buses';
import { isRadio } from './mating';
import { type Line, type Network, push, type Socket } from './network';
import { isTunedTo, type Route, router, type Way, waysOfMix } from './ways';

/** Speed of sound in air at 20 °C, in m/s: handbook value, from memory. 2.9 ms a metre. */
export const SOUND_M_PER_S = 343;

/**
 * Where one's own instrument in the ears is late enough to disturb, in seconds, and one's own voice, which one also hears through the
 * bone: common practice, no source. What is bearable depends on the instrument and on the ear, from 42 ms to possibly less than 1.4 ms:
 * M. Lester and J. Boley, "The Effects of Latency on Live Sound Monitoring", AES paper 7198, 2007 (its abstract, from memory).
 */
export const LATE_S = 0.01;
export const VOICE_LATE_S = 0.005;

/** A voice is known by the source's name or label: common practice, no source. */
const SUNG = /(^|[^\p{L}])(voices?|vocals?|vox|bvs?|sing(s|er|ers|ing)?|choir|chorus)([^\p{L}]|$)/iu;

export function isSung({ name, label }: Pick<Source, 'name' | 'label'>): boolean {
  return SUNG.test(name) || SUNG.test(label);
}

/** How late one's own sound may be, in seconds. */
export function limitS(source: Source): number {
  return isSung(source) ? VOICE_LATE_S : LATE_S;
}

export interface LatencyPart {
  readonly of: string;
  readonly what: 'source' | 'gear' | 'mixer' | 'buffers';
  /** Nothing where it takes time and no figure says how much. */
  readonly seconds?: number;
}

/** One performer's own source in a mix that they hear. */
export interface Latency {
  readonly performer: Performer;
  readonly source: Source;
  readonly mix: Mix;
  /** The sum of what is known. */
  readonly totalS: number;
  /** From the sound to the ears. */
  readonly parts: readonly LatencyPart[];
}

/** Two buffers, one on the way in and one on the way out, in seconds. */
export function buffersS(samples: number, rateHz: number): number {
  return (2 * samples) / rateHz;
}

/** How far away a wedge would be that is as late, in metres. */
export function wedgeM(seconds: number): number {
  return seconds * SOUND_M_PER_S;
}

export function latencies(net: Network): Latency[] {
  const { rig, kept } = net;
  const routes = router(net);
  const packs = kept.ofRig('packs', rig, ['pieces'], packsOf);
  const own = kept.ofRig('own sounds', rig, ['sources', 'pieces'], ownOf);
  const all: Latency[] = [];
  for (const mix of rig.mixes.values()) {
    // What is heard of a mix hangs on its lines, on what comes to the gear that it leaves, and on the lines of who hears it.
    const lines = net.linesOf(mix.id);
    const of: unknown[] = [rig.settings, rig.performers, packs, own, lines];
    for (const { start } of lines) if (start) of.push(routes(start.piece.id));
    for (const id of mix.for) for (const source of own.get(id) ?? []) of.push(net.linesOf(source.id));
    for (const each of kept.once('latencies', mix, of, () => inMix(net, mix, packs, own))) all.push(each);
  }
  return all;
}

function packsOf({ pieces }: Pick<Rig, 'pieces'>): Piece[] {
  return [...pieces.values()].filter(({ hears }) => hears);
}

/** What everybody sings or plays, by their ids. */
function ownOf({ sources, pieces }: Pick<Rig, 'sources' | 'pieces'>): ReadonlyMap<string, readonly Source[]> {
  const own = new Map<string, Source[]>();
  for (const source of sources.values()) if (source.by !== undefined && isPlayed(pieces.get(source.id))) push(own, source.by, source);
  return own;
}

function inMix(net: Network, mix: Mix, packs: readonly Piece[], own: ReadonlyMap<string, readonly Source[]>): Latency[] {
  const routes = router(net);
  const ways = waysOfMix(net, mix);
  return mix.for.flatMap((id) => {
    const performer = net.rig.performers.get(id);
    const out = performer && wayTo(packs, performer, ways);
    const device = out?.way.line.start?.piece;
    if (!performer || !device) return [];
    return (own.get(id) ?? []).flatMap((source): Latency[] => {
      const send = mix.sends.find((each) => each.source === source.id);
      const [line] = send ? landings(net, send, routes(device.id)) : [];
      const route = line?.run.kind === 'input' ? routes(device.id).get(line.run.to.piece) : undefined;
      if (!line || !route) return [];
      const parts = [...comingIn(net, source, line, route), ...mixing(net, device), ...goingOut(out)];
      return [{ performer, source, mix, totalS: parts.reduce((sum, part) => sum + (part.seconds ?? 0), 0), parts }];
    });
  });
}

/** A click or a track is not somebody's own sound: nobody waits for it. */
function isPlayed(piece: Piece | undefined): boolean {
  const outputs = piece?.model.ports.filter(({ direction }) => direction === 'output') ?? [];
  return outputs.some(({ modes }) => modes.some(({ kind }) => kind !== 'digital'));
}

/** The way by which a performer hears a mix, and the pack they hear it with where it is by radio. */
function wayTo(packs: readonly Piece[], performer: Performer, ways: readonly Way[]): { way: Way; pack?: Piece } | undefined {
  for (const way of ways) {
    const pack = packs.find((piece) => piece.for.includes(performer.id) && isTunedTo(piece, way));
    if (pack) return { way, pack };
  }
  const own = ways.find(({ line }) => line.joints.some(({ to }) => to.piece.for.includes(performer.id)));
  const way = own ?? ways.find(({ how }) => how === 'phones') ?? ways[0];
  return way && { way };
}

/** A part for each of these that has a figure. */
function figures(pieces: Iterable<Piece>): LatencyPart[] {
  return [...pieces].flatMap((piece) =>
    piece.model.latencyS === undefined ? [] : [{ of: piece.label, what: 'gear' as const, seconds: piece.model.latencyS }],
  );
}

function comingIn({ rig }: Network, source: Source, line: Line, { gear }: Route): LatencyPart[] {
  const itself = rig.pieces.get(source.id)?.model.latencyS;
  const passed = new Set(
    line.joints
      .map(({ to }) => to)
      .filter((to) => !isLast(line, to))
      .map(({ piece }) => piece),
  );
  return [
    ...(itself === undefined ? [] : [{ of: source.label, what: 'source' as const, seconds: itself }]),
    ...figures(passed),
    // What turns sound into numbers takes time, whether or not somebody says how much.
    ...gear.map((piece) => ({ of: piece.label, what: 'gear' as const, seconds: piece.model.latencyS })),
  ];
}

function isLast({ end }: Line, to: Socket): boolean {
  return to.key === end?.key;
}

/**
 * The gear that makes the mix. Where the rig states a buffer the mixes are made in the computer: one buffer on the way in and
 * one on the way out, besides the converters. Otherwise the gear mixes by itself, and its own figure is all.
 */
function mixing({ rig: { settings } }: Network, device: Piece): LatencyPart[] {
  const { bufferSamples, rateHz } = settings;
  const itself: LatencyPart = { of: device.label, what: 'mixer', seconds: device.model.latencyS };
  if (bufferSamples === undefined) return [itself];
  return [itself, { of: `two buffers of ${bufferSamples} samples`, what: 'buffers', seconds: buffersS(bufferSamples, rateHz) }];
}

function goingOut({ way, pack }: { way: Way; pack?: Piece }): LatencyPart[] {
  const passed = [...new Set(way.line.joints.map(({ to }) => to.piece))];
  const parts = figures(pack ? [...passed, pack] : passed);
  const link = pack ? [...passed.filter(({ model }) => model.ports.some(isRadio)), pack] : [];
  // A figure of either end of a radio link stands for both.
  const unknown = link.length > 0 && link.every(({ model }) => model.latencyS === undefined);
  return unknown ? [...parts, { of: link[0]?.label ?? '', what: 'gear' }] : parts;
}
