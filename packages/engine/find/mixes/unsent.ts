/** What is plugged into our rig and in no mix: nobody hears it. Told once all have a mix, for what is still being written may yet have it. */
import type { Mix, Rig, Source } from '#rig';
import type { Fix } from '../../cure/fix';
import { runName } from '../../solve/naming';
import { type Line, type Network, push } from '../../solve/network';
import { router } from '../../solve/ways';
import { BESIDE } from '../../words/beside';
import { type Finding, finding } from '../finding';

/** The sources that are in no mix, each with the line by which it comes to where mixes are made. */
export function unsent(net: Network): ReadonlyMap<Source, Line> {
  return net.memory.once('unsent', net, findUnsent);
}

function findUnsent(net: Network): ReadonlyMap<Source, Line> {
  const { rig, kept } = net;
  const found = new Map<Source, Line>();
  if (!kept.ofRig('all have a mix', rig, ['mixes', 'performers'], allServed)) return found;
  const sent = kept.ofRig('sent', rig, ['mixes'], sentOf);
  const routes = router(net);
  const makers = new Set(rig.outputs.flatMap(({ carries, from }) => (carries === undefined ? [] : from.piece)));
  for (const source of rig.sources.values()) {
    if (sent.has(source.id) || source.need === 'could') continue;
    const line = net
      .linesOf(source.id)
      .find(({ run }) => run.kind === 'input' && [...makers].some((from) => routes(from).has(run.to.piece)));
    if (line) found.set(source, line);
  }
  return found;
}

function allServed({ mixes, performers }: Pick<Rig, 'mixes' | 'performers'>): boolean {
  const all = [...mixes.values()];
  const served = new Set(all.flatMap((mix) => mix.for));
  return all.length > 0 && all.every(({ sends }) => sends.length > 0) && [...performers.keys()].every((id) => served.has(id));
}

function sentOf({ mixes }: Pick<Rig, 'mixes'>): ReadonlyMap<string, readonly Mix[]> {
  const sent = new Map<string, Mix[]>();
  for (const mix of mixes.values()) for (const source of new Set(mix.sends.map((send) => send.source))) push(sent, source, mix);
  return sent;
}

export function unheard(net: Network): Finding[] {
  const { rig, kept } = net;
  const found = [...unsent(net)].map(([source, { run }]) => {
    const figures = { source: source.label, name: source.name, port: runName(rig, run) };
    const more = { about: [source.id], fixes: intoMixes(source, mixesFor(rig)) };
    const place = `${run.id}/takes`;
    return isForEarsAlone(rig, source)
      ? finding('mixes/nobody-hears', place, { ...figures, speaker: undefined }, more)
      : finding('mixes/in-no-mix', place, figures, more);
  });
  const { mixes, sources, pieces, performers } = rig;
  return [...found, ...kept.unlessNone('talkbacks', undefined, [mixes, sources, pieces, performers], () => toOneself(net))];
}

/** A talkback that nobody has but who speaks into it. */
function toOneself({ rig, kept }: Network): Finding[] {
  const sent = kept.ofRig('sent', rig, ['mixes'], sentOf);
  return [...rig.sources.values()].flatMap((source) => {
    const speaker = rig.performers.get(source.by ?? '');
    const isTalkback = rig.pieces.get(source.id)?.model.lineage.includes('talkback-mic');
    const heard = sent.get(source.id) ?? [];
    if (!speaker || !isTalkback || source.need === 'could' || heard.length === 0) return [];
    const others = mixesFor(rig).filter((mix) => mix.for.some((id) => id !== speaker.id));
    if (others.length === 0 || heard.some((mix) => others.includes(mix))) return [];
    const figures = { source: source.label, name: source.name, port: '', speaker: speaker.label };
    const related = [{ place: speaker.place, says: BESIDE.plays(speaker.label) }];
    return [finding('mixes/nobody-hears', source.place, figures, { related, fixes: intoMixes(source, others) })];
  });
}

function mixesFor({ mixes }: Rig): readonly Mix[] {
  return [...mixes.values()].filter((mix) => mix.for.length > 0);
}

/** Into that of whoever plays it, or into all of them. */
function intoMixes({ name, by }: Source, mixes: readonly Mix[]): Fix[] {
  const into = ({ id }: Mix): Fix => ({ kind: 'add-send', mix: id, source: name, levelDb: -6 });
  const own = mixes.filter((mix) => by !== undefined && mix.for.includes(by)).slice(0, 1);
  return [
    ...own.map(into),
    ...(mixes.length > 1 ? [{ kind: 'several' as const, fixes: mixes.map(into) }] : own.length > 0 ? [] : mixes.map(into)),
  ];
}

/** What nobody would plug in but to hear it: a click, a talkback, tracks. */
function isForEarsAlone(rig: Rig, { id, private: own, soundsPrivate }: Source): boolean {
  const lineage = rig.pieces.get(id)?.model.lineage ?? [];
  return lineage.includes('playback') || (own && !soundsPrivate && !lineage.includes('audience-mic'));
}
