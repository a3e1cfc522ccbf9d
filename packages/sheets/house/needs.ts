/** What we bring to the house, what we need of it, and what it has to know of our rig: a line each, where there is something to say. */
import {
  type Checked,
  capital,
  decibels,
  hertz,
  isHopping,
  isOnAir,
  isTheirs,
  list,
  plugName,
  signalLabel,
  socketName,
  statementOf,
} from '#engine';
import type { Piece, Place, Position } from '#rig';
import { type ListedLead, plugsOf } from '../leads/list';
import { areasOf, positionWords } from '../set-up/areas';
import { alike } from '../shared/alike';
import { type Context, grouped } from '../shared/context';
import { unique } from '../shared/draft';
import { frequencyOf, isAmongNetworks } from '../shared/frequency';
import { forbidden } from '../shared/grave';
import { broughtFor, onOurMains } from '../shared/house';
import { mainsPlaces } from '../shared/mains';
import { onMainsAs } from '../shared/power';
import { tableRow } from '../shared/tableRow';
import { frequencyAt } from '../shared/tells';
import type { TableRow } from '../sheet';
import { counted, lineNumbers, short } from './counted';
import { deskWords, theirDesks } from './desk';
import { theirLeads } from './leads';
import { type HandedLine, touchedAs } from './lines';

interface Need {
  readonly key: string;
  readonly subject: string;
  readonly text: string;
  readonly about?: readonly Place[];
  readonly tells?: readonly Place[];
}

export function needRows(context: Context, lines: readonly HandedLine[], leads: readonly ListedLead[]): TableRow[] {
  const { checked } = context;
  const needs = [
    ...brings(context, lines, leads),
    ...leadsAsked(lines, leads),
    ...freeLines(lines),
    ...onTheirs(context, leads),
    ...intoOurEars(context),
    ...sockets(context),
    ...radios(context),
    ...grounds(checked),
    ...without(context, lines),
  ];
  return needs.map(({ key, subject, text, about, tells }) => tableRow(key, [subject, text], { name: subject, about, tells }));
}

// ---- gear ------------------------------------------------------------------------------------------

/** Which gear stands on the house's lines, and whose it is. Sources are told line by line. */
function brings(context: Context, lines: readonly HandedLine[], leads: readonly ListedLead[]): Need[] {
  const on = new Map<Piece, string[]>();
  for (const { run } of lines) {
    for (const piece of broughtFor(context, run)) if (piece.kind !== 'source') on.set(piece, [...(on.get(piece) ?? []), run.number]);
  }
  const told = (theirs: boolean) => {
    const byLabel = new Map<string, { pieces: Piece[]; numbers: string[] }>();
    for (const [piece, numbers] of on) {
      if (isTheirs(piece) !== theirs) continue;
      const there = byLabel.get(piece.label) ?? { pieces: [], numbers: [] };
      byLabel.set(piece.label, { pieces: [...there.pieces, piece], numbers: unique([...there.numbers, ...numbers]) });
    }
    return short(
      [...byLabel].map(([label, { pieces, numbers }]) => {
        const said = [lineNumbers(numbers), lines.length > MOST_WITH_PLACES ? '' : standingWords(context, pieces)]
          .filter(Boolean)
          .join('; ');
        return `${pieces.length > 1 ? `${pieces.length} × ${label}` : label} (${said})`;
      }),
    );
  };
  const places = (theirs: boolean) =>
    [...on.keys()].filter((piece) => isTheirs(piece) === theirs && piece.kind === 'gear').map(({ id }) => id);
  const own = lines.filter(({ run }) => run.ownMic).map(({ run }) => run.number);
  const feeds = houseFeeds(context).map(({ piece, at }) => {
    const on = leads.filter(({ number, joint }) => number !== undefined && joint.from.piece === piece);
    return [piece.label, at.length > 0 ? `to ${list(at)}` : '', ...on.map(feedLead)].filter(Boolean).join(', ');
  });
  const lent = lentTo(context).filter((piece) => !on.has(piece));
  const sent = [...alike(lent.map(({ label }) => label)), ...feeds];
  const theirs = [
    told(true),
    sent.length > 0 ? `for us: ${short(sent, '; ')}` : '',
    own.length > 0 ? `microphones of its own with leads (${lineNumbers(own)})` : '',
  ]
    .filter(Boolean)
    .join('; ');
  return [
    ...need('bring', 'We bring', told(false) && `${told(false)}, with the leads between them and our gear`, places(false)),
    ...need('house-brings', 'The house brings', theirs, [
      ...places(true),
      ...lent.map(({ place }) => statementOf(place)),
      ...houseFeeds(context).map(({ piece }) => piece.place),
    ]),
  ];
}

/** Of more lines than these all has to be short, to stay on one page. */
const MOST_WITH_PLACES = 16;
/** More places than these are found faster on the stage sheet. */
const MOST_PLACES = 4;

/** Sideways and back together: whoever looks for it at its player sees it (common practice, no source). */
const AT_PLAYER_M = 0.5;

/** Where it has to be to be plugged: `at Ina and Jo`, `2.6 m left, 3.8 m back`; nothing where that is not known of all. */
function standingWords(context: Context, pieces: readonly Piece[]): string {
  const { rig } = context.checked;
  const areas = areasOf(context);
  const away = (a: Position, b: Position) => Math.abs(a.x - b.x) + Math.abs(a.y - b.y);
  const told = pieces.map((piece) => {
    const own = areas.at(piece);
    if (!own) return undefined;
    const [player] = [...rig.performers.values()]
      .flatMap((who) => (who.at ? [{ who, metres: away(who.at, own) }] : []))
      .filter(({ metres }) => metres <= AT_PLAYER_M + 1e-9)
      .sort((a, b) => a.metres - b.metres);
    return player ? { who: player.who } : { where: positionWords(own, rig.settings) };
  });
  const who = unique(told.flatMap((each) => each?.who ?? []));
  const where = unique(told.flatMap((each) => each?.where ?? []));
  if (told.includes(undefined) || who.length + where.length > MOST_PLACES) return '';
  // Two of one name are two.
  return [...(who.length > 0 ? [`at ${list(alike(who.map(({ label }) => label)))}`] : []), ...where].join('; ');
}

/** Gear of the house's that our inputs and mixes go through, and what of it is worn. */
function lentTo({ checked: { rig } }: Context): Piece[] {
  const ways = [...rig.inputs, ...rig.outputs].flatMap((run) => [run.kind === 'input' ? run.to : run.from, ...run.via]);
  const used = new Set(ways.map(({ piece }) => piece));
  return [...rig.pieces.values()].filter((piece) => piece.kind !== 'source' && isTheirs(piece) && (used.has(piece.id) || piece.hears));
}

/** `on a lead of ours (XLR female to 6.35 mm TRS jack, 8 m)`: it has to be led from their desk or stage box to us. */
function feedLead(lead: ListedLead): string {
  return `on a lead of ${lead.theirs ? 'yours' : 'ours'} (${[plugsOf(lead), lead.row.unfinished ? '' : lead.row.length].filter(Boolean).join(', ')})`;
}

/** What the house sends into our gear and has on no line of its own, with the sockets that it comes to: to be asked for. */
export function houseFeeds({ checked: { rig }, linesOf }: Context): { readonly piece: Piece; readonly at: readonly string[] }[] {
  const own = new Set(rig.house.map(({ takes }) => takes?.id));
  const found = new Map<Piece, string[]>();
  for (const { id, takes } of rig.inputs) {
    const piece = rig.pieces.get(takes?.id ?? '');
    if (!piece || !isTheirs(piece) || own.has(piece.id)) continue;
    const at = linesOf(id).flatMap(({ end }) => (end ? [socketName(end)] : []));
    found.set(piece, unique([...(found.get(piece) ?? []), ...at]));
  }
  return [...found].map(([piece, at]) => ({ piece, at }));
}

function freeLines(lines: readonly HandedLine[]): Need[] {
  const brought = touchedAs(lines, 'brought');
  const each = brought.map(({ row }) => `${row.number}${row.label ? ` ${row.label}` : ''}${row.signal ? `, ${row.signal}` : ''}`);
  return need(
    'free-lines',
    'Lines kept for us',
    each.length > 0 ? short(each, '; ') : '',
    brought.map(({ run }) => run.place),
  );
}

/** Leads that the house brings, each kind with its length and its lines; lines that come on a plug of ours; tails that do not reach. */
function leadsAsked(lines: readonly HandedLine[], all: readonly ListedLead[]): Need[] {
  const numbersOf = new Map(lines.map(({ run }) => [run.place, run.number]));
  const own: string[] = [];
  const tails = new Map<string, string[]>();
  for (const lead of all) {
    const numbers = lead.row.about.flatMap((place) => numbersOf.get(place) ?? []);
    if (lead.number === undefined || numbers.length === 0) continue;
    const { ownM, lengthM } = lead.reckoned;
    if (!lead.theirs && lead.joint.to.piece.kind === 'house') own.push(...numbers);
    if (ownM !== undefined && lengthM !== undefined) tails.set(lead.row.length, [...(tails.get(lead.row.length) ?? []), ...numbers]);
  }
  const asked = theirLeads(lines, all).map(
    ({ count, plugs, length, numbers }) => `${count} × ${plugs}, ${length} (${lineNumbers(numbers)})`,
  );
  return [
    ...need('leads', 'Leads of the house', short(asked, '; ')),
    ...need(
      'own-plugs',
      'On our own plug',
      own.length > 0
        ? `${capital(own.length > 1 ? 'lines' : 'line')} ${lineNumbers(unique(own))} come${own.length > 1 ? '' : 's'} to your stage box on a plug of ours.`
        : '',
    ),
    ...need(
      'tails',
      'Tails too short',
      short(
        [...tails].map(([length, numbers]) => `${lineNumbers(unique(numbers))}: ${length}`),
        '; ',
      ),
    ),
  ];
}

// ---- what of ours is on gear of the house's -----------------------------------------------------------

function onTheirs(context: Context, leads: readonly ListedLead[]): Need[] {
  return theirDesks(context).map((desk) => ({
    key: `on ${desk.piece.id}`,
    subject: desk.mixes > 0 ? 'On your desk' : 'On your gear',
    text: `${desk.piece.label}: ${deskWords(desk, leads)}.${desk.mixes > 0 ? ' What goes into each mix: on our mixes sheet.' : ''}`,
    about: desk.places,
  }));
}

// ---- what comes from the house ------------------------------------------------------------------------

function intoOurEars({ checked, linesOf }: Context): Need[] {
  const { rig } = checked;
  const feeds: string[] = [];
  const splits = new Map<string, { pieces: Set<Piece>; signals: Set<string> }>();
  const about: Place[] = [];
  for (const run of rig.inputs) {
    const taken = rig.pieces.get(run.takes?.id ?? '');
    const line = linesOf(run.id)[0];
    const at = line?.end ? ` at ${socketName(line.end)}` : '';
    if (taken && isTheirs(taken)) {
      feeds.push(`${taken.label}${at}`);
      about.push(run.place);
    }
    const device = rig.pieces.get(run.to.piece);
    for (const piece of unique(run.via.flatMap((step) => rig.pieces.get(step.piece) ?? []))) {
      // From theirs into theirs there is no side of ours: that is told with their desk.
      if (!isTheirs(piece) || (device && isTheirs(device))) continue;
      const there = splits.get(piece.label) ?? { pieces: new Set(), signals: new Set() };
      there.pieces.add(piece);
      if (run.takes) there.signals.add(run.takes.id);
      splits.set(piece.label, there);
      about.push(run.place);
    }
  }
  return [
    ...need(
      'splits',
      'Our side of its gear',
      short(
        [...splits].map(
          ([label, { pieces, signals }]) =>
            `${alike([...pieces].map(() => label)).join()}: ${counted([...signals].map((id) => signalLabel(rig, id)))}`,
        ),
        '; ',
      ),
      about,
    ),
    {
      key: 'feeds',
      subject: 'Into our ears',
      text:
        feeds.length > 0
          ? `${short(feeds)}, from the house.`
          : 'No line of the house’s. Agree with us how the house speaks to us: with our ears in we do not hear the hall.',
      about,
    },
  ];
}

// ---- mains, radio, ground ------------------------------------------------------------------------------

/** Sockets of the mains, by where they have to be: the places at which our strips lie. */
function sockets(context: Context): Need[] {
  const { rig } = context.checked;
  const places = mainsPlaces(context);
  const all = places.flatMap(({ sockets }) => sockets);
  if (all.length === 0) return [];
  const told = places.map(({ at, sockets }) => {
    const place = at ? positionWords(at, rig.settings) : 'where it is not said yet';
    return `${sockets.length} ${/^\d/.test(place) ? 'at ' : ''}${place} (${counted(sockets.map(({ label }) => label))})`;
  });
  return need(
    'mains',
    'Mains sockets',
    `${all.length}, all from one distribution, ${rig.settings.sharedMains ? 'which feeds the desk too, as agreed' : 'the desk’s if that can be'}: ${short(told, '; ')}`,
    all.flatMap(({ piece }) => (piece && piece.kind !== 'fresh' ? [piece.place] : [])),
  );
}

/** What sends, whoever it belongs to: radio microphones and transmitters. A pack only listens. */
function radios({ checked: { rig }, receiversOf }: Context): Need[] {
  const all = [...rig.pieces.values()].filter(isOnAir);
  // Two of one name are two.
  const people = (ids: readonly string[]) => alike(unique(ids).flatMap((id) => rig.performers.get(id)?.label ?? []));
  const users = (piece: Piece) => {
    const by = rig.sources.get(piece.id)?.by;
    return list(people([...(by ? [by] : []), ...piece.for, ...receiversOf(piece.id).flatMap((pack) => pack.for)]));
  };
  const told = all
    .toSorted((a, b) => (a.onHz ?? Infinity) - (b.onHz ?? Infinity) || 0)
    .map((piece) => {
      const kind =
        piece.model.label === piece.label ? '' : `, ${piece.model.label.replace(/^\p{Lu}(?!\p{Lu})/u, (first) => first.toLowerCase())}`;
      const user = users(piece);
      const label = `${piece.label}${isTheirs(piece) ? ', the house’s' : `${kind}${user ? ` (${user})` : ''}`}`;
      if (isHopping(piece)) return `${label}: ${frequencyOf(piece)}`;
      return piece.onHz === undefined ? `${label}: frequency not said` : `${hertz(piece.onHz)} ${label}`;
    });
  const networks = all.some(isAmongNetworks) ? '. Wi-Fi on 2.4 GHz is in its way: tell us if your desk’s tablet is on it.' : '';
  return need(
    'radio',
    'Radio',
    `${short(told, '; ')}${networks}`,
    all.map(({ place }) => place),
    all.map(frequencyAt),
  );
}

function grounds(checked: Checked): Need[] {
  const { rig, metalPaths } = checked;
  const harmful = forbidden(checked);
  const paths = metalPaths.filter(({ line: { run } }) => !harmful.has(run.place));
  if (paths.length === 0 && (rig.house.length === 0 || metalPaths.length > 0)) return [];
  if (paths.length === 0) return [{ key: 'ground', subject: 'Ground', text: 'No metal joins our ground and the house’s.' }];
  const where = [...grouped(paths, ({ earth }) => earth.id).values()].map((through) => {
    const numbers = unique(
      through.flatMap(({ at, line: { run } }) => (run.kind === 'house' && at.piece.kind === 'house' ? [run.number] : [])),
    );
    const sources = unique(through.flatMap(({ at }) => (at.piece.kind === 'source' ? [at.piece] : [])));
    const plugs = unique(through.flatMap(({ at }) => (at.piece.kind === 'gear' || at.piece.kind === 'fresh' ? [plugName(at)] : [])));
    const lines = numbers.length > 0 ? [`${numbers.length > 1 ? 'lines' : 'line'} ${lineNumbers(numbers)}`] : [];
    const others = [...alike(sources.map(({ label }) => label)), ...plugs];
    return `${[...lines, ...others].join(', ')} through ${through[0] ? onMainsAs(through[0].earth) : ''}`;
  });
  const joined = `Metal joins our ground and the house’s at ${short(where, '; ')}${paths.some(({ unbalanced }) => unbalanced) ? '; partly over unbalanced leads' : ''}.`;
  const cure = rig.settings.sharedMains
    ? 'One distribution feeds both, so no hum is expected.'
    : 'One distribution for both, please; should it hum, we isolate on our side.';
  return [
    {
      key: 'ground',
      subject: 'Ground',
      text: `${joined} ${cure}`,
      about: unique(paths.map(({ line }) => line.run.place)),
    },
  ];
}

// ---- without us ------------------------------------------------------------------------------------

function without(context: Context, lines: readonly HandedLine[]): Need[] {
  const numbers = (some: readonly HandedLine[]) => lineNumbers(some.map(({ run }) => run.number));
  const mains = onOurMains(context);
  const left = lines.filter(({ touched }) => touched && touched.how !== 'dependent' && touched.how !== 'brought');
  // The receiver and the playback are ours, too: what they make goes with our mains.
  const [on, fed] = [left.filter(({ run }) => !mains.has(run.place)), left.filter(({ run }) => mains.has(run.place))];
  const silent = lines.filter(({ touched }) => touched?.how === 'dependent' || touched?.how === 'brought');
  const losses = on.flatMap(({ row }) => row.lossDb ?? []);
  const most = Math.max(0, ...losses);
  const parts = [
    on.length > 0
      ? `${numbers(on)} ${on.length === 1 ? 'plays' : 'play'} on${most >= 0.1 ? `, up to ${decibels(most)} louder with our plugs out` : ''}.`
      : '',
    silent.length > 0 ? `${numbers(silent)} ${silent.length === 1 ? 'goes' : 'go'} silent.` : '',
    fed.length > 0 ? `${numbers(fed)} ${fed.length === 1 ? 'needs' : 'need'} our mains power: silent without it.` : '',
  ];
  return need(
    'without',
    'Without our rig',
    parts.filter(Boolean).length > 0 ? `Off or unplugged: ${parts.filter(Boolean).join(' ')}` : '',
    silent.map(({ run }) => run.place),
  );
}

function need(key: string, subject: string, text: string, about: readonly Place[] = [], tells?: readonly Place[]): Need[] {
  return text === '' ? [] : [{ key, subject, text, about: unique(about), tells }];
}

/** What the mixes of our ears are made on. */
export function mixedOn({ rig }: Checked): Piece[] {
  return unique(
    rig.outputs.filter((run) => !rig.mixes.get(run.carries ?? '')?.house).flatMap((run) => rig.pieces.get(run.from.piece) ?? []),
  );
}
