/** What is in a mix, and what is not: nothing at all, half of something stereo, a place from left to right that mono has not; and one's own sound. */
import type { Mix, Performer, Rig, Send, Source } from '#rig';
import type { Fix } from '../../cure/fix';
import { signalLabel } from '../../solve/naming';
import { type Network, push } from '../../solve/network';
import { BESIDE } from '../../words/beside';
import { tidy } from '../../words/phrases';
import { type Finding, finding } from '../finding';

export function contents(net: Network): Finding[] {
  return [
    ...[...net.rig.mixes.values()].flatMap((mix) => [...empty(net, mix), ...unheardOf(net, mix), ...panned(net, mix), ...halves(net, mix)]),
    ...ownLeftOut(net),
  ];
}

function empty(net: Network, mix: Mix): Finding[] {
  if (mix.sends.length > 0) return [];
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
export function channelsOf(rig: Rig, source: string): string[] {
  const outputs = rig.pieces.get(source)?.model.ports.filter(({ direction, separate }) => direction === 'output' && separate) ?? [];
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
    if (missing.length === 0 || !source) return [];
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
  const played = net.memory.once('played by', undefined, () => {
    const byPlayer = new Map<string, Source[]>();
    for (const source of net.rig.sources.values()) if (source.by !== undefined) push(byPlayer, source.by, source);
    return byPlayer;
  });
  return (played.get(performer.id) ?? []).filter(
    (source) =>
      !source.private &&
      source.need !== 'could' &&
      net.linesOf(source.id).some(({ run }) => run.kind === 'input') &&
      net.rig.pieces
        .get(source.id)
        ?.model.ports.some(({ direction, modes }) => direction === 'output' && modes.some(({ kind }) => kind !== 'digital')),
  );
}

function ownLeftOut(net: Network): Finding[] {
  const { mixes, performers } = net.rig;
  const heardBy = new Map<string, Mix[]>();
  for (const mix of mixes.values()) if (mix.sends.length > 0) for (const id of new Set(mix.for)) push(heardBy, id, mix);
  return [...performers.values()].flatMap((performer) => {
    const own = heardBy.get(performer.id) ?? [];
    const [first] = own;
    if (!first) return [];
    const heard = new Set(own.flatMap(({ sends }) => sends.map(({ source }) => source)));
    const missing = ownSources(net, performer).filter(({ id }) => !heard.has(id));
    if (missing.length === 0) return [];
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
