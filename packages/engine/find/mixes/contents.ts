/** What is in a mix, and what is not: nothing at all, half of something stereo, a place from left to right that mono has not; and one's own sound. */
import type { Mix, Model, Performer, Rig, Send, Source } from '#rig';
import type { Fix } from '../../cure/fix';
import { memoryOf } from '../../solve/memory';
import { signalLabel } from '../../solve/naming';
import { type Network, push } from '../../solve/network';
import { withOpenEars } from '../../solve/openEars';
import { BESIDE } from '../../words/beside';
import { tidy } from '../../words/phrases';
import { type Finding, finding } from '../finding';
import { unsent } from './unsent';

export function contents(net: Network): Finding[] {
  const { pieces, sources, mixes, outputs } = net.rig;
  const found: Finding[] = [];
  for (const mix of mixes.values()) {
    if (mix.sends.length === 0) found.push(...empty(net, mix));
    else {
      const of: unknown[] = [pieces, sources, mixes, outputs];
      for (const { source, channel } of mix.sends) if (channel !== undefined) of.push(net.linesOf(source));
      found.push(...net.kept.once('contents', mix, of, () => [...unheardOf(net, mix), ...panned(net, mix), ...halves(net, mix)]));
    }
  }
  return [...found, ...ownLeftOut(net)];
}

function empty(net: Network, mix: Mix): Finding[] {
  const people = mix.for.flatMap((id) => net.rig.performers.get(id) ?? []);
  const own = people.flatMap((performer) => ownSources(net, performer))[0];
  return [
    finding(
      'mixes/empty',
      mix.place,
      { mix: mix.label, people: people.map(({ label }) => label), house: mix.house },
      { fixes: own ? [{ kind: 'add-send', mix: mix.id, source: own.name }] : [] },
    ),
  ];
}

/** A channel that the source has not. */
function unheardOf({ rig }: Network, mix: Mix): Finding[] {
  return mix.sends.flatMap(({ source, channel, levelDb, place }) => {
    const outputs = rig.pieces.get(source)?.model.ports.filter(({ direction }) => direction === 'output') ?? [];
    if (channel === undefined || outputs.length === 0 || outputs.some(({ id }) => id === channel)) return [];
    const name = rig.sources.get(source)?.name ?? '';
    const channels = outputs.flatMap(({ id, separate }) => (separate ? [id] : []));
    const instead = [...channels.map((id) => `${name}.${id}`), name];
    return [
      finding(
        'mixes/no-such-channel',
        place,
        { source: signalLabel(rig, source), name, channel, channels, mix: mix.label },
        {
          about: [source],
          fixes: instead.slice(-3).map((each): Fix => ({ kind: 'rewrite', place, with: `${each} ${tidy(levelDb, 2)} dB` })),
        },
      ),
    ];
  });
}

// ---- left and right ------------------------------------------------------------------------------

function panned(net: Network, mix: Mix): Finding[] {
  const sends = mix.stereo ? [] : mix.sends.filter(({ panPercent }) => panPercent !== 0);
  const [first, ...more] = sends;
  if (!first) return [];
  const straight = sends.map((send) => unpanned(net.rig, send));
  const fixes: Fix[] = [...(leavesWide(net, mix) ? [{ kind: 'set-width' as const, mix: mix.id, width: 'stereo' as const }] : [])];
  fixes.push(straight.length === 1 ? (straight[0] as Fix) : { kind: 'several', fixes: straight });
  return [
    finding(
      'mixes/pan-in-mono',
      first.place,
      { mix: mix.label, sources: [...new Set(sends.map(({ source }) => signalLabel(net.rig, source)))] },
      { about: sends.map(({ source }) => source), related: more.map(({ place }) => ({ place, says: BESIDE.andHere })), fixes },
    ),
  ];
}

/** Whether every output that carries a mix has room for both of its sides. */
function leavesWide({ rig }: Network, mix: Mix): boolean {
  const runs = rig.outputs.filter(({ carries }) => carries === mix.id);
  return runs.every(({ from: { piece, ports } }) => {
    const port = rig.pieces.get(piece)?.model.ports.find(({ id, direction }) => direction === 'output' && id === ports[0]);
    return ports.length === 2 || port?.modes.some(({ channels }) => (channels ?? 1) >= 2);
  });
}

/** A send without its place from left to right. */
function unpanned(rig: Rig, { source, channel, levelDb, place }: Send): Fix {
  const name = rig.sources.get(source)?.name ?? '';
  return { kind: 'rewrite', place, with: `${name}${channel === undefined ? '' : `.${channel}`} ${tidy(levelDb, 2)} dB` };
}

/** A stereo mix in mono: nothing in it is left or right any more. */
export function asMono(rig: Rig, mix: Mix): Fix {
  const width: Fix = { kind: 'set-width', mix: mix.id, width: 'mono' };
  const straight = mix.sends.filter(({ panPercent }) => panPercent !== 0).map((send) => unpanned(rig, send));
  return straight.length === 0 ? width : { kind: 'several', fixes: [width, ...straight] };
}

// ---- half of something stereo --------------------------------------------------------------------

/** `left` and `right` of a source that is stereo; of one with other channels (a kit of four) each may well go its own way. */
export function channelsOf(rig: Rig, source: string): readonly string[] {
  const model = rig.pieces.get(source)?.model;
  return model ? memoryOf(model).once('sides of a source', model, leftAndRight) : [];
}

function leftAndRight({ ports }: Model): readonly string[] {
  const outputs = ports.filter(({ direction, separate }) => direction === 'output' && separate);
  const ids = outputs.map(({ id }) => id);
  return ids.length === 2 && ids.includes('left') && ids.includes('right') ? ids : [];
}

function halves(net: Network, mix: Mix): Finding[] {
  return mix.sends.flatMap((send) => {
    if (send.channel === undefined || mix.sends.find(({ source }) => source === send.source) !== send) return [];
    const sent = new Set(mix.sends.flatMap(({ source, channel }) => (source === send.source ? [channel] : [])));
    if (sent.has(undefined)) return [];
    const arriving = new Set(net.linesOf(send.source).flatMap(({ run, channel }) => (run.kind === 'input' ? [channel] : [])));
    const channels = channelsOf(net.rig, send.source);
    // Of one that it has not it is told as that.
    if ([...sent].some((channel) => !channels.includes(channel ?? ''))) return [];
    // What is not plugged in at all is told of there.
    const missing = channels.filter((channel) => !sent.has(channel) && arriving.has(channel));
    const source = net.rig.sources.get(send.source);
    // Where some of it is private, each channel may well be another thing.
    if (missing.length === 0 || !source || source.private) return [];
    return [
      finding(
        'mixes/half-sent',
        send.place,
        { source: source.label, name: source.name, mix: mix.label, sent: [...sent].flatMap((channel) => channel ?? []), missing },
        {
          fixes: missing.map(
            (channel): Fix => ({ kind: 'add-send', mix: mix.id, source: `${source.name}.${channel}`, levelDb: send.levelDb }),
          ),
        },
      ),
    ];
  });
}

// ---- one's own sound -----------------------------------------------------------------------------

/** What somebody plays or sings that is plugged into our rig and that they would miss: no click, no talkback, and nothing they only "could" hear. */
function ownSources(net: Network, performer: Performer): readonly Source[] {
  return playedBy(net, performer).filter((source) => isMissed(net, source));
}

const NO_SOURCES: readonly Source[] = [];

function playedBy({ rig, kept }: Network, performer: Performer): readonly Source[] {
  return kept.ofRig('played by', rig, ['sources'], byPlayer).get(performer.id) ?? NO_SOURCES;
}

function byPlayer({ sources }: Pick<Rig, 'sources'>): ReadonlyMap<string, readonly Source[]> {
  const played = new Map<string, Source[]>();
  for (const source of sources.values()) if (source.by !== undefined) push(played, source.by, source);
  return played;
}

function isMissed(net: Network, { id, need, private: own, privateOutputs }: Source): boolean {
  if ((own && !privateOutputs) || need === 'could' || !net.linesOf(id).some(({ run }) => run.kind === 'input')) return false;
  const ports = net.rig.pieces.get(id)?.model.ports;
  return ports?.some(({ direction, modes }) => direction === 'output' && modes.some(({ kind }) => kind !== 'digital')) === true;
}

/** Who hears what: the first of their mixes, and all that is in them. */
function byListener({ mixes }: Pick<Rig, 'mixes'>): ReadonlyMap<string, { readonly first: Mix; readonly sources: ReadonlySet<string> }> {
  const heard = new Map<string, { readonly first: Mix; readonly sources: Set<string> }>();
  for (const mix of mixes.values()) {
    if (mix.sends.length === 0) continue;
    for (const id of mix.for) {
      const known = heard.get(id) ?? { first: mix, sources: new Set() };
      heard.set(id, known);
      for (const { source } of mix.sends) known.sources.add(source);
    }
  }
  return heard;
}

function ownLeftOut(net: Network): Finding[] {
  const { rig, kept } = net;
  const heardBy = kept.ofRig('heard by', rig, ['mixes'], byListener);
  const open = withOpenEars(net);
  return [...rig.performers.values()].flatMap((performer) => {
    const heard = heardBy.get(performer.id);
    // Whoever has nothing in the ears hears themselves as well.
    if (!heard || open.has(performer.id)) return [];
    // What is in no mix at all is told of there.
    const missing = playedBy(net, performer).filter(
      (source) => !heard.sources.has(source.id) && !unsent(net).has(source) && isMissed(net, source),
    );
    if (missing.length === 0) return [];
    const { first } = heard;
    const sends = missing.map(({ name }): Fix => ({ kind: 'add-send', mix: first.id, source: name }));
    return [
      finding(
        'mixes/without-self',
        first.place,
        {
          performer: performer.label,
          sources: missing.map(({ label }) => label),
          names: missing.map(({ name }) => name),
          mix: first.label,
        },
        {
          about: [performer.id, ...missing.map(({ id }) => id)],
          related: [{ place: performer.place, says: BESIDE.plays(performer.label) }],
          fixes: sends.length === 1 ? sends : [{ kind: 'several', fixes: sends }],
        },
      ),
    ];
  });
}
