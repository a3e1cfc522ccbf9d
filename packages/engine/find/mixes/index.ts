/** Who hears what: sends that lead nowhere, mixes nobody hears, performers without one, and what must not reach the audience. */
import type { Mix, OutputRun, Performer, Piece, Rig, Send } from '#rig';
import type { Fix } from '../../cure/fix';
import { follows, freeAmplifiers, freeHouseNumber, freeOutputs } from '../../cure/free';
import { wayOut } from '../../cure/wayOut';
import { outOf } from '../../solve/arriving';
import { returns } from '../../solve/circles';
import { unfed } from '../../solve/links';
import { HARMFUL_DB_SPL, loudInEars } from '../../solve/loudInEars';
import { signalLabel, socketName } from '../../solve/naming';
import { findPort, type Network, push } from '../../solve/network';
import { isTheirs } from '../../solve/path';
import { canTake, freeInputs } from '../../solve/ports';
import { seatedAt, seatsFor } from '../../solve/seats';
import { router, type Way, waysOf } from '../../solve/ways';
import { BESIDE } from '../../words/beside';
import { comingBack } from '../circles';
import { type Finding, finding } from '../finding';
import { audience, takenByHouse } from './audience';
import { asMono, channelsOf, contents } from './contents';
import { oneEar } from './oneEar';
import { unheard } from './unsent';
import { wired } from './wired';

/** More than a fader gives: common practice, no source. */
export const LOUD_DB = 10;

export function mixes(net: Network): Finding[] {
  const ways = waysOf(net);
  const back = returns(net);
  const { pieces, sources, performers: people, mixes: all, outputs } = net.rig;
  return [
    ...comingBack(net, back),
    ...sends(net),
    ...contents(net),
    ...unheard(net),
    ...net.kept.once('widths', undefined, [outputs, all, pieces, sources], () => widths(net)),
    ...heard(net, ways, new Set(back.map(({ mix }) => mix.id))),
    ...oneEar(net, ways),
    ...net.kept.unlessNone('ears by wire', undefined, [ways, pieces, people], () => wired(net, ways)),
    ...net.kept.once('packs on the air', undefined, [ways, pieces, people], () => packs(net, ways)),
    ...performers(net, ways),
    ...audience(net),
  ];
}

// ---- sends ---------------------------------------------------------------------------------------

function sends(net: Network): Finding[] {
  const findings: Finding[] = [];
  const { rig, kept } = net;
  const carriedBy = kept.ofRig('carried by', rig, ['outputs'], carriers);
  const routes = router(net);
  // Of gear that no mix comes to, that is all there is to say.
  const loose = unfed(net);
  const lost = kept.ofRig('astray', rig, ['outputs', 'pieces'], astray);
  const landings = new Map<string, string[]>();
  for (const run of rig.inputs) if (run.takes?.kind === 'source') push(landings, run.takes.id, run.to.piece);
  const unpatched = new Map<string, { first: Send; sends: Send[]; mixes: Mix[] }>();
  for (const mix of rig.mixes.values()) {
    const devices = carriedBy.get(mix.id);
    const comesTo = (device: string) =>
      !devices || lost.has(mix.id) || !rig.pieces.has(device) || devices.some((from) => loose.has(from) || routes(from).has(device));
    const { once, findings: wrong } = kept.once('sends', mix, [rig.sources, rig.mixes, rig.pieces], () => sendsOf(rig, mix));
    for (const each of wrong) findings.push(each);
    for (const send of once) {
      // Gear that is not known has been told already; what lands on it may well be right.
      if (!rig.pieces.has(send.source) || landings.get(send.source)?.some(comesTo)) continue;
      const there = unpatched.get(send.source);
      if (there) {
        there.mixes.push(mix);
        there.sends.push(send);
      } else unpatched.set(send.source, { first: send, sends: [send], mixes: [mix] });
    }
  }
  for (const [source, { first, sends: unheard, mixes: wanting }] of unpatched) {
    const name = net.rig.sources.get(source)?.name ?? '';
    const plugs = plugging(net, source, name, suitableInputs(net, source)).slice(0, 2);
    const out: Fix[] = unheard.map((send) => ({ kind: 'remove-send', send: send.place }));
    const fixes: Fix[] = [
      ...plugs.map((fixes): Fix => (fixes.length === 1 ? (fixes[0] as Plug) : { kind: 'several', fixes })),
      ...(out.length > 1 ? [{ kind: 'several' as const, fixes: out }] : out),
    ];
    findings.push(
      finding(
        'mixes/not-patched',
        first.place,
        {
          source: signalLabel(net.rig, source),
          mixes: wanting.map((mix) => mix.label),
          lines: plugs[0]?.map(({ port, source: takes, via }) => `input ${port} takes ${takes}${via ? ` via ${via}` : ''}`) ?? [],
        },
        {
          related: [{ place: source, says: BESIDE.madeHere(signalLabel(net.rig, source)) }],
          fixes,
        },
      ),
    );
  }
  return findings;
}

/** The devices that each mix leaves. */
function carriers({ outputs }: Pick<Rig, 'outputs'>): ReadonlyMap<string, readonly string[]> {
  const devices = new Map<string, string[]>();
  for (const { carries, from } of outputs) if (carries !== undefined) push(devices, carries, from.piece);
  return devices;
}

/** What is sent to a mix, each once, and what is wrong with it by itself. */
function sendsOf(rig: Rig, mix: Mix): { readonly once: readonly Send[]; readonly findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const seen = new Map<string, Send>();
  for (const send of mix.sends) {
    if (send.levelDb > LOUD_DB) {
      const figures = { source: signalLabel(rig, send.source), mix: mix.label, levelDb: send.levelDb };
      const fixes: Fix[] = [{ kind: 'set-send', send: send.place, levelDb: -send.levelDb }];
      findings.push(finding('mixes/loud-send', send.place, figures, { fixes }));
    }
    const key = `${send.source}.${send.channel ?? ''}`;
    const earlier = seen.get(key);
    if (!earlier) {
      seen.set(key, send);
      continue;
    }
    findings.push(
      finding(
        'mixes/sent-twice',
        send.place,
        { source: signalLabel(rig, send.source), mix: mix.label, levelsDb: [earlier.levelDb, send.levelDb] },
        {
          related: [{ place: earlier.place, says: BESIDE.firstTime }],
          fixes: [{ kind: 'remove-send', send: send.place }],
        },
      ),
    );
  }
  return { once: [...seen.values()], findings };
}

/** The mixes that leave by a socket which is not there: what makes them nobody knows. */
function astray({ outputs, pieces }: Pick<Rig, 'outputs' | 'pieces'>): ReadonlySet<string> {
  return new Set(
    outputs.flatMap(({ carries, from }) => {
      const piece = pieces.get(from.piece);
      return carries !== undefined && piece && !from.ports.some((id) => findPort(piece, id, 'output')) ? carries : [];
    }),
  );
}

type Plug = Extract<Fix, { kind: 'add-input' }>;

/**
 * Ways to plug a source in, each as the lines to write: into a free input as it is; with both its sides where it has two and there is room for
 * them; through a split where somebody else has all it gives.
 */
function plugging(net: Network, source: string, name: string, free: readonly string[]): readonly (readonly Plug[])[] {
  const plug = (port: string, takes = name): Plug => ({ kind: 'add-input', source: takes, port });
  const outputs = net.rig.pieces.get(source)?.model.ports.filter((port) => port.direction === 'output') ?? [];
  const taken = outputs.length > 0 && outputs.every((port) => net.leaving.has(`${source}.${port.id}`));
  if (taken) {
    const splits = outputs.length === 1 && outputs[0]?.connector === 'xlr';
    return splits ? free.map((port) => [{ ...plug(port), via: 'y-lead' }]) : [];
  }
  const [left, right] = channelsOf(net.rig, source);
  const [one, other] = free;
  if (left === undefined || right === undefined || one === undefined) return free.map((port) => [plug(port)]);
  const pairs = pairsOf(free);
  if (pairs.length > 0) return pairs.map((pair) => [plug(pair)]);
  return [[plug(one, `${name}.${left}`), ...(other === undefined ? [] : [plug(other, `${name}.${right}`)])]];
}

/** Ports beside each other, each in one pair: `iface.3..4`. */
function pairsOf(ports: readonly string[]): string[] {
  const pairs: string[] = [];
  for (let at = 0; at + 1 < ports.length; at++) {
    const [one, next] = [ports[at] as string, ports[at + 1] as string];
    if (!follows(one, next)) continue;
    pairs.push(`${one}..${next.slice(next.indexOf('.') + 1)}`);
    at++;
  }
  return pairs;
}

/** Free inputs that suit a source as it stands, as they are written: `iface.3`. */
function suitableInputs(net: Network, source: string): string[] {
  const piece = net.rig.pieces.get(source);
  const arriving = piece ? outOf(piece.model, undefined) : [];
  // Before the first line is written, what makes mixes.
  const makers = [...net.rig.pieces.values()].flatMap(({ id, kind, model }) => (kind === 'gear' && model.mixes ? id : []));
  const devices = new Set([...net.rig.inputs.map((run) => run.to.piece), ...makers]);
  return [...devices].flatMap((id) => {
    const device = net.rig.pieces.get(id);
    return (device ? freeInputs(net, device) : [])
      .filter((port) => arriving.some((demand) => canTake(port, demand)))
      .map((port) => `${device?.name}.${port.id}`);
  });
}

// ---- width ---------------------------------------------------------------------------------------

function widths(net: Network): Finding[] {
  return net.rig.outputs.flatMap((run) => {
    const mix = net.rig.mixes.get(run.carries ?? '');
    const piece = net.rig.pieces.get(run.from.piece);
    const only = run.from.ports.length === 1 ? run.from.ports[0] : undefined;
    const port = piece && only !== undefined ? findPort(piece, only, 'output') : undefined;
    if (!mix?.stereo || !piece || !port || port.modes.some((mode) => (mode.channels ?? 1) >= 2)) return [];
    const next = nextPort(piece, port.id);
    // A line for each side, each with a box of its own: told of the first.
    const beside = (id: string | undefined) =>
      net.rig.outputs.find(({ from, carries }) => from.piece === piece.id && carries === mix.id && from.ports.join() === id);
    if (previousPort(piece, port.id) !== undefined && beside(previousPort(piece, port.id))) return [];
    const other = next === undefined ? undefined : beside(next);
    const taken = next !== undefined && net.rig.outputs.some((other) => other.from.piece === piece.id && other.from.ports.includes(next));
    const pair = next !== undefined && !taken ? `${port.id}..${next}` : undefined;
    const fixes: Fix[] = [];
    if (pair) fixes.push({ kind: 'move', run: run.id, port: pair });
    fixes.push(asMono(net.rig, mix));
    return [
      finding(
        'mixes/stereo-on-one-output',
        `${run.id}/port`,
        {
          mix: mix.label,
          port: `${piece.name ?? piece.label}.${port.id}`,
          pair,
          whole: other && `output ${piece.name}.${port.id}..${next} carries ${mix.name}${boxOf(net, run)}`,
        },
        {
          related: [
            { place: mix.place, says: BESIDE.isStereo(mix.label) },
            ...(other ? [{ place: `${other.id}/port`, says: BESIDE.leavesHere(mix.label) }] : []),
          ],
          fixes,
        },
      ),
    ];
  });
}

/** The box that a line goes through, without its name: written so, it is there once for each side. */
function boxOf({ rig }: Network, { via }: OutputRun): string {
  const [only] = via.length === 1 ? via : [];
  const box = only && rig.pieces.get(only.piece);
  return box ? ` via ${box.model.id}` : '';
}

function previousPort(piece: Piece, id: string): string | undefined {
  return piece.model.ports.find((port) => port.direction === 'output' && nextPort(piece, port.id) === id)?.id;
}

function nextPort(piece: Piece, id: string): string | undefined {
  const outputs = piece.model.ports.filter((port) => port.direction === 'output');
  const next = outputs[outputs.findIndex((port) => port.id === id) + 1];
  return next && next.modes[0]?.kind === findPort(piece, id, 'output')?.modes[0]?.kind ? next.id : undefined;
}

// ---- ears ----------------------------------------------------------------------------------------

/** `back`: mixes that come back into what makes them, so that it is told where they go. */
function heard(net: Network, ways: readonly Way[], back: ReadonlySet<string>): Finding[] {
  const findings: Finding[] = [];
  const byMix = new Map<string, Way[]>();
  for (const way of ways) {
    const list = byMix.get(way.mix.id);
    if (list) list.push(way);
    else byMix.set(way.mix.id, [way]);
  }
  let free: readonly string[] | undefined;
  const leaving = new Set(net.rig.outputs.map((run) => run.carries));
  const byHouse = takenByHouse(net.rig);
  const equipped = new Set([...net.rig.pieces.values()].flatMap((piece) => (piece.hears ? piece.for : [])));
  for (const mix of net.rig.mixes.values()) {
    if (!mix.house && mix.for.length === 0) {
      findings.push(
        finding(
          'mixes/for-nobody',
          mix.place,
          { mix: mix.label, carried: leaving.has(mix.id) },
          { fixes: [...listeners(net.rig, mix), leftOut(net.rig, mix)] },
        ),
      );
    }
    const carried = byMix.get(mix.id) ?? [];
    const taken = byHouse.get(mix.id);
    if (!leaving.has(mix.id)) {
      free ??= freeOutputs(net);
      findings.push(
        finding(
          'mixes/unheard',
          mix.place,
          { mix: mix.label, name: mix.name, house: mix.house, free },
          {
            related: taken ? [{ place: taken.place, says: BESIDE.houseWaits(taken.number) }] : [],
            fixes: wayOut(net, mix),
          },
        ),
      );
      continue;
    }
    if (mix.house) {
      if (taken || net.rig.noHouse || (carried.length > 0 && carried.every(isKnownToHouse))) continue;
      const number = freeHouseNumber(net.rig);
      findings.push(
        finding(
          'mixes/house-not-told',
          mix.place,
          { mix: mix.label, name: mix.name, number },
          { fixes: [{ kind: 'add-house', takes: mix.name, number }] },
        ),
      );
      continue;
    }
    for (const way of carried) {
      if (way.how !== 'other' || taken || mix.for.length === 0 || back.has(mix.id)) continue;
      const { run } = way.line;
      const figures = { mix: mix.label, end: socketName(way.end), people: mix.for.map((id) => net.rig.performers.get(id)?.label ?? '') };
      const more = {
        related: [{ place: mix.place, says: BESIDE.whoFor(mix.label) }],
        fixes: run.via.length === 0 ? [{ kind: 'add-step', run: run.id, model: 'headphone-amp', where: 'first' } as const] : [],
      };
      // Into an input nobody plugs earphones, nor into an output that has a plug in it.
      const open =
        way.end.port.direction === 'output' ? !net.leaving.has(way.end.key) : way.end.port.modes.some(({ kind }) => kind === 'phones');
      const loud = open ? loudInEars(net, way) : undefined;
      findings.push(
        loud && loud.dbSpl >= HARMFUL_DB_SPL
          ? finding('mixes/line-into-ears', `${run.id}/carries`, { ...figures, ...loud }, more)
          : finding('mixes/no-ears', `${run.id}/carries`, figures, more),
      );
      break;
    }
    findings.push(...sockets(net, mix, carried, equipped));
  }
  for (const snag of net.snags) {
    if (snag.kind === 'half-carried') {
      const mix = net.rig.mixes.get(snag.mix);
      const { run, sides } = snag;
      if (mix)
        findings.push(
          finding(
            'mixes/half-to-house',
            `${run.id}/takes`,
            { mix: mix.label, name: mix.name, number: run.number, next: freeHouseNumber(net.rig), sides },
            {
              related: [{ place: mix.place, says: BESIDE.isStereo(mix.label) }],
              fixes: [asMono(net.rig, mix)],
            },
          ),
        );
      continue;
    }
    if (snag.kind !== 'not-carried' || !leaving.has(snag.mix)) continue;
    findings.push(
      finding('mixes/no-way-to-house', `${snag.run.id}/takes`, { mix: signalLabel(net.rig, snag.mix), number: snag.run.number }),
    );
  }
  return findings;
}

/** What the house's own desk makes, and what goes into a channel of it, or into a loudspeaker of theirs, that is written. */
function isKnownToHouse({ line, end }: Way): boolean {
  return (line.start !== undefined && isTheirs(line.start.piece)) || (end.port.direction === 'input' && isTheirs(end.piece));
}

/** Performers who have no mix, for one that is nobody's: of the same name first. */
function listeners(rig: Rig, mix: Mix): Fix[] {
  const served = new Set([...rig.mixes.values()].flatMap((each) => each.for));
  const without = [...rig.performers.values()].filter((performer) => !served.has(performer.id));
  const own = without.filter((performer) => performer.name === mix.name);
  return [...own, ...without.filter((performer) => !own.includes(performer))]
    .slice(0, 3)
    .map((performer) => ({ kind: 'add-listener', mix: mix.id, performer: performer.name }));
}

/** Without the mix, and without what carries it. */
function leftOut({ outputs }: Rig, { id }: Mix): Fix {
  const carriers = outputs.filter(({ carries }) => carries === id);
  const fixes = [id, ...carriers.map((run) => run.id)].map((statement): Fix => ({ kind: 'remove', statement }));
  return { kind: 'several', fixes };
}

/** A mix on the wire needs a socket for each of those who hear it. `equipped` have a radio receiver. */
function sockets(net: Network, mix: Mix, carried: readonly Way[], equipped: ReadonlySet<string>): Finding[] {
  const phones = carried.filter((way) => way.how === 'phones');
  const first = phones[0];
  // Whoever has no socket hears the loudspeaker.
  if (!first || carried.some(({ how }) => how === 'loudspeaker')) return [];
  const onAir = carried.some((way) => way.how === 'radio');
  const people = mix.for.filter((id) => !onAir || !equipped.has(id));
  const count = socketsOf(net, phones);
  if (people.length <= count) return [];
  // Where a line starts at a socket that is not there, that is told; with another one it comes out somewhere.
  const lines = net.linesOf(mix.id);
  if (net.rig.outputs.some((run) => run.carries === mix.id && !lines.some((line) => line.run === run))) return [];
  const free = mix.stereo ? [] : freeOutputs(net).slice(0, people.length - count);
  const ways = freeAmplifiers(net, first.end.piece);
  const more: Fix[] = free.map((port, index) => ({ kind: 'add-output', mix: mix.name, port, via: ways[index] ?? 'headphone-amp' }));
  return [
    finding(
      'mixes/too-few-sockets',
      `${first.line.run.id}/carries`,
      {
        mix: mix.label,
        name: mix.name,
        people: people.map((id) => net.rig.performers.get(id)?.label ?? ''),
        count,
        end: socketName(first.end),
      },
      {
        related: [{ place: mix.place, says: BESIDE.whoFor(mix.label) }],
        fixes: more.length === people.length - count ? [more.length === 1 ? (more[0] as Fix) : { kind: 'several', fixes: more }] : [],
      },
    ),
  ];
}

/** How many pairs of earphones find a socket by these ways. */
function socketsOf(net: Network, phones: readonly Way[]): number {
  return new Set(phones.flatMap(({ end, line }) => [end.key, ...seatedAt(net, line).map(({ at }) => at.key)])).size;
}

/** Receivers: whether each performer whose mix goes out by radio has one, on the right side, that can pick that side. */
function packs(net: Network, ways: readonly Way[]): Finding[] {
  const findings: Finding[] = [];
  const air = ways.filter((way) => way.how === 'radio');
  const byTransmitter = new Map<string, Way[]>();
  for (const way of air) {
    const list = byTransmitter.get(way.end.piece.id);
    if (list) list.push(way);
    else byTransmitter.set(way.end.piece.id, [way]);
  }
  const receivers = [...net.rig.pieces.values()].filter((piece) => piece.hears !== undefined);
  const served = new Set<string>();
  /** By performer, the pack that plays a mix of theirs. */
  const playing = new Map<string, { readonly pack: string; readonly mix: string }>();
  for (const pack of receivers) {
    const hears = pack.hears;
    const transmitter = hears && net.rig.pieces.get(hears.piece);
    if (!hears || !transmitter) continue;
    const sent = new Set(
      transmitter.model.ports.flatMap(({ tie, modes }) => (modes.some(({ kind }) => kind === 'radio') ? (tie?.inputs ?? []) : [])),
    );
    const sides = transmitter.model.ports.filter((port) => port.direction === 'input' && sent.has(port.id)).map((port) => port.id);
    if (sides.length === 0 || (hears.port !== undefined && !sides.includes(hears.port))) {
      findings.push(
        finding(
          'mixes/no-such-side',
          hears.place,
          { pack: pack.label, transmitter: transmitter.label, name: transmitter.name ?? '', side: hears.port ?? '', sides },
          { fixes: hearing(pack, transmitter, sides, byTransmitter.get(transmitter.id) ?? []) },
        ),
      );
      continue;
    }
    const there = byTransmitter.get(transmitter.id) ?? [];
    const different = new Set(there.map((way) => way.mix.id)).size > 1;
    if (different && hears.port === undefined) {
      findings.push(
        finding(
          'mixes/which-side',
          hears.place,
          { pack: pack.label, transmitter: transmitter.name ?? transmitter.label, sides },
          {
            related: there.map((way) => ({ place: way.line.run.place, says: BESIDE.isOn(way.mix.label, sideOf(way)) })),
            fixes: hearing(pack, transmitter, sides, there),
          },
        ),
      );
      continue;
    }
    const mine = hears.port === undefined ? there : there.filter((way) => sideOf(way) === hears.port);
    if (different && !pack.model.sideSelect) {
      findings.push(
        finding(
          'mixes/cannot-pick-side',
          hears.place,
          {
            pack: pack.label,
            transmitter: transmitter.label,
            side: hears.port ?? '',
            mixes: there.map((way) => way.mix.label),
            free: undefined,
          },
          {
            related: [{ place: pack.place, says: BESIDE.noSideSelect(pack.label) }],
            fixes: [{ kind: 'set-model', piece: pack.id, model: 'belt-pack' }],
          },
        ),
      );
    }
    const whole = mine.length > 0 || there.length === 0;
    if (!whole) {
      findings.push(
        finding(
          'mixes/silent-side',
          hears.place,
          { pack: pack.label, name: transmitter.name ?? '', side: hears.port ?? '' },
          { fixes: hearing(pack, transmitter, sides, there) },
        ),
      );
    }
    // One that cannot pick plays the other side as well.
    if (!pack.model.sideSelect) for (const { mix } of there) for (const performer of pack.for) served.add(`${mix.id} ${performer}`);
    for (const way of mine) {
      for (const performer of pack.for) {
        if (way.mix.for.includes(performer)) playing.set(performer, { pack: pack.label, mix: way.mix.label });
        served.add(`${way.mix.id} ${performer}`);
        if (way.mix.for.includes(performer) || way.mix.for.length === 0) continue;
        const own = there.find((other) => other.mix.for.includes(performer));
        findings.push(
          finding(
            'mixes/wrong-side',
            hears.place,
            {
              pack: pack.label,
              performer: net.rig.performers.get(performer)?.label ?? '',
              hears: way.mix.label,
              side: hears.port,
              own: own && sideOf(own),
              people: undefined,
            },
            {
              about: [performer, way.mix.id],
              related: [{ place: way.mix.place, says: BESIDE.whoFor(way.mix.label) }],
              fixes:
                own && sideOf(own)
                  ? hearing(pack, transmitter, sides, there)
                  : [{ kind: 'add-listener', mix: way.mix.id, performer: net.rig.performers.get(performer)?.name ?? '' }],
            },
          ),
        );
      }
    }
  }
  const equipped = new Set(receivers.flatMap((pack) => pack.for));
  const asked = new Set<string>();
  const aloud = new Set(ways.flatMap(({ mix, how }) => (how === 'loudspeaker' ? mix : [])));
  for (const way of air) {
    for (const performer of way.mix.for) {
      if (aloud.has(way.mix)) continue;
      const key = `${way.mix.id} ${performer}`;
      const instead = playing.get(performer);
      // What else a pack of theirs does is told of that.
      if (asked.has(key) || served.has(key) || (equipped.has(performer) && !instead)) continue;
      if (instead && seatsFor(net, performer, way.mix.id).some(({ own }) => own)) continue;
      asked.add(key);
      const person = net.rig.performers.get(performer);
      findings.push(
        finding(
          'mixes/no-pack',
          `${way.line.run.id}/carries`,
          {
            mix: way.mix.label,
            performer: person?.label ?? '',
            name: person?.name ?? '',
            transmitter: way.end.piece.name ?? way.end.piece.label,
            side: sideOf(way),
            instead,
          },
          {
            about: [performer],
            related: instead
              ? [{ place: way.mix.place, says: BESIDE.whoFor(way.mix.label) }]
              : person
                ? [{ place: person.place, says: BESIDE.noPackFor }]
                : [],
            fixes:
              person && way.end.piece.name && !instead
                ? [{ kind: 'add-pack', performer: person.name, transmitter: way.end.piece.name, side: sideOf(way) }]
                : [],
          },
        ),
      );
    }
  }
  return findings;
}

/** The sides that a pack could hear instead: that with its wearer's own mix, or any that is sent to where nobody in particular wears it. */
function hearing(pack: Piece, transmitter: Piece, sides: readonly string[], there: readonly Way[]): Fix[] {
  const mixOn = (side: string) => there.find((way) => sideOf(way) === side)?.mix;
  const own = sides.filter((side) => pack.for.some((id) => mixOn(side)?.for.includes(id)));
  const chosen = own.length > 0 ? own : pack.for.length === 0 || there.length === 0 ? sides : [];
  return chosen
    .filter((side) => side !== pack.hears?.port && (mixOn(side) || there.length === 0))
    .map((side) => ({ kind: 'rewrite', place: pack.hears?.place ?? '', with: `hears ${transmitter.name}.${side}` }));
}

/** The side of the transmitter a mix goes in by. */
function sideOf(way: Way): string | undefined {
  return way.line.joints.at(-1)?.to.port.id;
}

function performers(net: Network, ways: readonly Way[]): Finding[] {
  // Before anything is plugged in, nobody misses a mix.
  if (net.rig.mixes.size === 0 && net.rig.outputs.length === 0 && net.rig.inputs.length === 0) return [];
  const served = new Set([...net.rig.mixes.values()].flatMap((mix) => mix.for));
  const without = [...net.rig.performers.values()].filter((performer) => !served.has(performer.id));
  if (without.length === 0) return [];
  const free = freeOutputs(net);
  const patched = new Map<string | undefined, string[]>();
  for (const source of net.rig.sources.values()) {
    if (!net.linesOf(source.id).some((line) => line.run.kind === 'input')) continue;
    const names = patched.get(source.by);
    if (names) names.push(source.name);
    else patched.set(source.by, [source.name]);
  }
  return without.map((performer) =>
    finding(
      'mixes/no-mix',
      performer.place,
      { performer: performer.label, name: performer.name, free, shared: served.size > 0 },
      { fixes: aMixFor(net, performer, patched.get(performer.id) ?? [], ways) },
    ),
  );
}

/** A mix of their own and a way for it to leave, where the gear can make one more; or to share somebody's that goes by a lead. */
function aMixFor(net: Network, performer: Performer, sends: readonly string[], ways: readonly Way[]): Fix[] {
  const { rig } = net;
  const taken = (name: string) => rig.mixes.has(`mix:${name}`) || rig.sources.has(`source:${name}`) || rig.pieces.has(`gear:${name}`);
  const name = taken(performer.name) ? `${performer.name}-mix` : performer.name;
  const way = canMixMore(net) ? wayOut(net, { name, stereo: false, house: false, for: [performer.id] }) : [];
  const own: Fix[] =
    way.length > 0 ? [{ kind: 'several', fixes: [{ kind: 'add-mix', name, performer: performer.name, sends }, ...way] }] : [];
  const shared = [...new Set(ways.filter((each) => each.how === 'phones' && !each.mix.house).map((each) => each.mix))];
  return [...own, ...shared.slice(0, 2).map((mix) => toShare(net, mix, performer, ways))];
}

/** Somebody else's mix, with a socket of one's own where all that it comes out at are taken. */
function toShare(net: Network, mix: Mix, performer: Performer, ways: readonly Way[]): Fix {
  const listener: Fix = { kind: 'add-listener', mix: mix.id, performer: performer.name };
  const phones = ways.filter((way) => way.mix === mix && way.how === 'phones');
  const port = socketsOf(net, phones) > mix.for.length ? undefined : freeOutputs(net, mix.stereo)[0];
  if (port === undefined) return listener;
  const amplifier = phones[0] && !mix.stereo ? freeAmplifiers(net, phones[0].end.piece)[0] : undefined;
  return { kind: 'several', fixes: [listener, { kind: 'add-output', mix: mix.name, port, via: amplifier ?? 'headphone-amp' }] };
}

/** Whether the gear that makes mixes has one left to make, in mono. */
function canMixMore(net: Network): boolean {
  return [...net.rig.pieces.values()].some((piece) => {
    const mixer = piece.model.mixes;
    if (piece.kind !== 'gear' || !mixer) return false;
    const made = new Set(net.rig.outputs.filter((run) => run.from.piece === piece.id).map((run) => run.carries));
    const mixes = [...net.rig.mixes.values()].filter((mix) => made.has(mix.id));
    const stereo = mixes.filter((mix) => mix.stereo).length;
    const mono = mixes.length - stereo + 1;
    return (mixer.width === 'stereo' ? stereo + Math.ceil(mono / 2) : stereo * 2 + mono) <= mixer.count;
  });
}
