/** What must not reach the audience: a click, a talkback, or what hears the loudspeakers, by itself, in a mix for the house, or in somebody's mix that it takes. */
import { type HouseRun, isPrivate, type Mix, type Place, type Rig, type Source } from '#rig';
import type { Fix } from '../../cure/fix';
import { privatePart, runName } from '../../solve/naming';
import type { Line, Network } from '../../solve/network';
import { BESIDE } from '../../words/beside';
import { type Finding, finding } from '../finding';

export function audience(net: Network): Finding[] {
  const { mixes, house, noHouse, sources, pieces } = net.rig;
  const of: unknown[] = [mixes, house, noHouse, sources, pieces];
  for (const { id, privateOutputs } of sources.values()) if (privateOutputs) of.push(net.linesOf(id));
  return net.kept.once('audience', undefined, of, () => heardByAudience(net).flatMap((heard) => told(net.rig, heard)));
}

/** A source that the audience hears: by a line of the house's, or in a mix for it or that it takes. */
interface Heard {
  readonly source: Source;
  readonly output: string | undefined;
  /** By which it comes there. */
  readonly lines: () => readonly Line[];
  readonly run?: HouseRun;
  readonly mix?: Mix;
  readonly place: Place;
  readonly out: Fix;
  /** As it is sent into a mix. */
  readonly levelDb?: number;
}

function heardByAudience(net: Network): Heard[] {
  const { rig } = net;
  const byHouse = takenByHouse(rig);
  const mixed = [...rig.mixes.values()].flatMap((mix) => {
    const run = byHouse.get(mix.id);
    if (!mix.house && !run) return [];
    return mix.sends.flatMap(({ source: id, channel: output, levelDb, place }): Heard[] => {
      const source = rig.sources.get(id);
      const lines = () => net.linesOf(id).filter((line) => line.run.kind === 'input');
      return source ? [{ source, output, lines, run, mix, place, out: { kind: 'remove-send', send: place }, levelDb }] : [];
    });
  });
  const alone = rig.house.flatMap((run): Heard[] => {
    const source = run.takes?.kind === 'source' ? rig.sources.get(run.takes.id) : undefined;
    if (!source) return [];
    const lines = () => net.linesOf(source.id).filter((line) => line.run === run);
    return [{ source, output: run.takes?.port, lines, run, place: `${run.id}/takes`, out: { kind: 'remove', statement: run.id } }];
  });
  return [...mixed, ...alone];
}

/** Its outputs that come there, where they are named or have a line; nothing where it has but one sound. */
function outputsOf({ output, lines }: Heard): readonly string[] {
  return output === undefined ? [...new Set(lines().flatMap(({ channel }) => channel ?? []))] : [output];
}

/** The source with no more of it private than comes there; nothing where none of that is. */
function privateIn(heard: Heard): Source | undefined {
  const { source } = heard;
  if (!source.private || !source.privateOutputs) return source.private ? source : undefined;
  const come = outputsOf(heard);
  const privateOutputs = source.privateOutputs.filter((id) => come.includes(id));
  return privateOutputs.length > 0 ? { ...source, privateOutputs } : undefined;
}

/** What else of it comes into a mix with what is private, as it is written: that may stay. */
function restOf(heard: Heard): readonly string[] {
  const { source, mix, output } = heard;
  if (!mix || output !== undefined) return [];
  return outputsOf(heard).flatMap((id) => (isPrivate(source, id) ? [] : `${source.name}.${id}`));
}

/** In a mix, the rest of it instead of all. */
function withoutPrivate({ out, mix, place, levelDb }: Heard, [first, ...more]: readonly string[]): Fix {
  if (first === undefined || !mix) return out;
  const only: Fix = { kind: 'rewrite', place: `${place}/source`, with: first };
  if (more.length === 0) return only;
  return { kind: 'several', fixes: [only, ...more.map((source): Fix => ({ kind: 'add-send', mix: mix.id, source, levelDb }))] };
}

function told(rig: Rig, heard: Heard): Finding[] {
  const { source, mix, run, place, out } = heard;
  const model = rig.pieces.get(source.id)?.model;
  const by = { mix: mix?.label, run: run && runName(rig, run) };
  if (model?.lineage.includes('house-feed') && !rig.noHouse)
    return [finding('mixes/back-to-house', place, { source: source.label, ...by }, { fixes: [out] })];
  const part = privateIn(heard);
  if (!part) return [];
  const rest = restOf(heard);
  const channels = model?.ports.flatMap(({ direction, separate, id }) => (direction === 'output' && separate ? id : [])) ?? [];
  const figures = {
    source: privatePart(part),
    ...by,
    rest,
    ours: rig.noHouse !== undefined,
    hearsHall: model?.lineage.includes('audience-mic') === true,
    channels: source.privateOutputs ? [] : channels,
  };
  if (source.soundsPrivate)
    return [finding('mixes/may-be-private', place, figures, { fixes: [out, { kind: 'set-privacy', source: source.id, to: 'public' }] })];
  const related = [{ place: source.place, says: BESIDE.forBandAlone(figures.source) }];
  return [finding('mixes/private-to-house', place, figures, { related, fixes: [withoutPrivate(heard, rest)] })];
}

/** The house line that takes each mix. */
export function takenByHouse(rig: Rig): ReadonlyMap<string, HouseRun> {
  const taken = new Map<string, HouseRun>();
  for (const run of rig.house) if (run.takes?.kind === 'mix' && !taken.has(run.takes.id)) taken.set(run.takes.id, run);
  return taken;
}
