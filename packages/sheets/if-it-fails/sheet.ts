/** If it fails: for each thing and each lead what is gone without it, and the quickest way round. For the pocket of whoever runs on stage. */
import {
  type Checked,
  type Failure,
  type Finding,
  failuresOf,
  gives48V,
  isTheirs,
  list,
  needsPhantom,
  plugName,
  type Round,
  socketName,
} from '#engine';
import type { Piece, Place, Source } from '#rig';
import { lineNumbers } from '../house/counted';
import { leadListOf } from '../leads/list';
import { alike } from '../shared/alike';
import { about, unique } from '../shared/draft';
import { facts, titleOf } from '../shared/facts';
import { plugsWords } from '../shared/leads';
import type { Caution } from '../shared/model';
import { onMainsAs } from '../shared/power';
import { tableRow } from '../shared/tableRow';
import { CAUTIONS } from '../shared/titles';
import { type Block, type Column, SHEET_NAMES, type Sheet, type TableBlock, type TableRow } from '../sheet';

/** Shows no findings. Pure, and never throws. */
export function ifItFailsSheet(checked: Checked, _findings?: readonly Finding[]): Sheet {
  const failures = failuresOf(checked.network);
  const supplies = failures.supplies();
  const pieces = failures.pieces();
  const leads = signalTable(checked, failures.leads());
  const everybody = hearing(checked, [...supplies, ...pieces]);
  const tables = [
    table(
      'supplies',
      'When power goes',
      SUPPLY_COLUMNS,
      supplies.map((each) => row(each, everybody)),
    ),
    table('pieces', 'When a thing fails', PIECE_COLUMNS, pieceRows(pieces, everybody)),
    leads,
  ].filter(({ rows }) => rows.length > 0);
  const blocks: Block[] = [...tables];
  if (tables.length > 0) blocks.push({ kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: [BEFORE] });
  return {
    id: 'if-it-fails',
    name: SHEET_NAMES['if-it-fails'],
    title: titleOf(checked.rig),
    facts: facts(checked.rig.settings),
    dense: true,
    blocks,
  };
}

const BEFORE: Caution = {
  subject: 'Before a plug is pulled',
  text: 'Ears out, levels down, phantom power off for some seconds: a plug that is pulled cracks in every ear. Mains plugs and fuses are for the venue’s electrician.',
};

const LOST: readonly Column[] = [{ title: 'Lost' }, { title: 'Quickest way round' }];
const SUPPLY_COLUMNS: readonly Column[] = [{ title: 'What', names: true, under: { title: 'Feeds' } }, ...LOST];
const PIECE_COLUMNS: readonly Column[] = [{ title: 'What', names: true }, ...LOST];

function table(id: string, title: string, columns: readonly Column[], rows: readonly TableRow[]): TableBlock {
  return { kind: 'table', id, title, columns, rows, empty: 'Nothing that anybody would hear.' };
}

/** So many hear anything. */
function hearing({ rig }: Checked, failures: readonly Failure[]): number {
  const most = Math.max(0, ...failures.map(({ deaf }) => deaf.length));
  return Math.max(
    most,
    [...rig.performers.values()].filter(({ id }) => [...rig.mixes.values()].some((mix) => mix.for.includes(id))).length,
  );
}

function row(failure: Failure, everybody: number): TableRow {
  const { of } = failure;
  if ('supply' in of) {
    const what = of.supply === 'mains' ? 'the mains' : 'the computer';
    const feeds = list(of.pieces.map(onMainsAs));
    return tableRow(of.supply, [what, feeds, lostText(failure, everybody), SUPPLY_ROUND[of.supply]], {
      about: about(...of.pieces.map(({ place }) => place)),
    });
  }
  if (!('piece' in of)) return tableRow('', []);
  const { piece } = of;
  return tableRow(piece.id, [piece.label, lostText(failure, everybody), roundText(failure)], {
    place: piece.place,
    about: about(piece.place),
  });
}

const SUPPLY_ROUND = {
  mains: 'ask the venue’s electrician; what runs on batteries goes on',
  computer: 'its own battery goes on for a while where it has one; else mix in the interface alone, if it can',
};

function roundText(failure: Failure): string {
  const { of, round, house, thinned } = failure;
  const ways = [
    ...round.map((way) => wayText(way, failure)),
    ...(house.some(({ takes }) => takes?.kind === 'source') ? ['the house’s own microphone or box on its line'] : []),
    ...('piece' in of && isTheirs(of.piece) ? ['ask the house for another'] : []),
  ];
  if (ways.length === 0) return 'none on stage: have one to spare';
  const heard = [...house, ...thinned.flatMap((mix) => mix.house)];
  const replugged = heard.length > 0 && round.some(({ kind }) => kind !== 'phones');
  return `${replugged ? asked(heard) : ''}${ways.join('; or ')}`;
}

/** What goes in and out on a line that the hall hears: common practice, no source. */
function asked(house: Failure['house']): string {
  const [one, ...more] = new Set(house.map(({ number }) => number));
  return `first house ${lineNumbers([one ?? '', ...more])} muted, ${more.length > 0 ? 'their' : 'its'} 48 V off, level down: `;
}

function wayText(way: Round, { deaf }: Failure): string {
  switch (way.kind) {
    case 'spare':
      return `the spare: ${way.piece.label}`;
    case 'idle':
      return `${way.piece.label}, which lies idle`;
    case 'phones':
      return `${forWhom(deaf, [])}earphones on a lead, into ${socketName(way.at)}, and the mix sent there`;
    case 'straight':
      return `${forWhom(deaf, way.to.piece.for)}plug ${plugName(way.from)} straight into ${plugName(way.to)}${way.lead ? `, by a lead ${plugsWords(way.lead)}` : ''}${needsPhantom(way.from.port) && gives48V(way.to.port) ? ', then 48 V on there' : ''}`;
  }
}

/** Of several who hear nothing: that a way round serves one of them, and whom where it is somebody's own. */
function forWhom(deaf: Failure['deaf'], own: readonly string[]): string {
  const served = deaf.filter(({ id }) => own.includes(id));
  if (deaf.length < 2 || served.length === deaf.length) return '';
  return served.length > 0 ? `for ${list(served.map(({ label }) => label))} alone: ` : 'for one of them: ';
}

/** Packs and the like of one model, of which each takes its wearer alone and has the same way round, in one row. */
function pieceRows(failures: readonly Failure[], everybody: number): TableRow[] {
  const alike = new Map<string, (Failure & { readonly of: { readonly piece: Piece } })[]>();
  const keyOf = (failure: Failure) => {
    if (!('piece' in failure.of)) return undefined;
    const { piece } = failure.of;
    const own = failure.deaf.length === 1 && piece.for.length === 1 && failure.deaf[0]?.id === piece.for[0];
    const alone = failure.house.length + failure.sources.length + failure.thinned.length === 0 && failure.silent === 'none';
    return own && alone ? `${piece.model.id} ${roundText(failure)}` : undefined;
  };
  for (const failure of failures) {
    const key = keyOf(failure);
    if (key === undefined || !('piece' in failure.of)) continue;
    alike.set(key, [...(alike.get(key) ?? []), { ...failure, of: failure.of }]);
  }
  const told = new Set<string>();
  return failures.flatMap((failure) => {
    const key = keyOf(failure);
    const group = key === undefined ? [] : (alike.get(key) ?? []);
    const [first] = group;
    if (!first || group.length < ENOUGH_ALIKE) return [row(failure, everybody)];
    if (told.has(key as string)) return [];
    told.add(key as string);
    const { piece } = first.of;
    return [
      tableRow(
        piece.id,
        [
          `${piece.model.label} of ${list(
            group.flatMap(({ deaf }) => deaf.map(({ label }) => label)),
            'or',
          )}`,
          'its wearer hears nothing',
          roundText(failure),
        ],
        { place: piece.place, about: about(...group.map(({ of }) => of.piece.place)) },
      ),
    ];
  });
}

const ENOUGH_ALIKE = 3;

/** A row a signal: its leads in the order that it takes them, by the numbers on their labels, each with what goes with it. */
function signalTable(checked: Checked, failures: readonly Failure[]): TableBlock {
  const everybody = hearing(checked, failures);
  const byJoint = new Map(failures.flatMap((each) => ('joint' in each.of ? [[each.of.joint, each] as const] : [])));
  interface Lead {
    readonly number: number;
    readonly to: string;
    readonly failure: Failure;
    readonly places: readonly Place[];
  }
  // By what it is and not by what it is called: two signals may share a label.
  const bySignal = new Map<string, { readonly label: string; readonly leads: Lead[] }>();
  for (const { number, joint, signals, row: lead } of leadListOf(checked)) {
    const failure = byJoint.get(joint);
    if (!failure || number === undefined) continue;
    const label = signals.length === 0 ? lead.from : signals.length > MOST_SIGNALS ? `${signals.length} signals` : list(alike(signals));
    const places = [...(lead.place === undefined ? [] : [lead.place]), ...lead.about];
    const ids = unique(checked.network.linesThrough(joint).flatMap(({ signal, channel = '' }) => (signal ? [`${signal}/${channel}`] : [])));
    const key = ids.length > 0 ? ids.join(' ') : `from ${joint.from.key}`;
    const there = bySignal.get(key) ?? { label, leads: [] };
    there.leads.push({ number, to: lead.to, failure, places });
    bySignal.set(key, there);
  }
  const rows = [...bySignal].map(([key, { label, leads }]) => {
    const places = about(...leads.flatMap((lead) => lead.places));
    return tableRow(
      key,
      [label, leads.map(({ number, to, failure }) => `${number} to ${to}: ${shortText(failure, everybody)}`).join('; ')],
      {
        place: places[0],
        about: places,
        tells: places,
      },
    );
  });
  return {
    kind: 'table',
    id: 'leads',
    title: 'When a lead fails',
    remark:
      'Of each signal the leads by their numbers, in the order that it takes them, and what goes with each. What makes the signal, as a microphone or a pickup, takes with it what its first lead does. The way round is a spare of the same kind.',
    columns: [{ title: 'Signal', names: true }, { title: 'Leads' }],
    rows,
    empty: 'Nothing that anybody would hear.',
  };
}

/** More on one lead are counted. */
const MOST_SIGNALS = 2;

/** `Violin and Cello in the ears; house 7 and 8`; `Ana hears nothing`; `Tracks in the ears and on house 2`. */
function lostText(failure: Failure, everybody: number): string {
  const { deaf, sources, oneSided, silent, thinned } = failure;
  return [
    ...deafText(deaf, everybody),
    ...missingText([[sources, 'in the ears'], ...thinned.map((each) => [each.sources, overText(each)] as const)]),
    ...missingText([[oneSided.sources, 'in the ears'], ...thinned.map((each) => [each.halves, overText(each)] as const)]).map(
      (each) => `one side of ${each}`,
    ),
    ...oneEarText(oneSided),
    ...(silent === 'all' ? ['the audience hears nothing'] : []),
    ...partText(failure),
    ...houseText(failure.house),
  ].join('; ');
}

/** Sounds with all the places where they are missed, those that are missed in the same places together. */
function missingText(missing: readonly (readonly [readonly Source[], string])[]): string[] {
  const where = new Map<string, string[]>();
  for (const [sources, place] of missing) {
    const names = list(sources.map(({ label }) => label));
    if (names !== '') where.set(names, [...(where.get(names) ?? []), place]);
  }
  return [...where].map(([names, places]) => `${names} ${list(places)}`);
}

/** The same, behind the name of the signal: `the ears and house 7`. */
function shortText(failure: Failure, everybody: number): string {
  const { deaf, sources, oneSided, silent, thinned } = failure;
  // A lead of one side is called after it: what goes with it is that side.
  const [first, ...more] = sources.length > 0 ? sources : oneSided.sources;
  const ears = first ? [more.length > 0 ? `${list(sources.map(({ label }) => label))} in the ears` : 'the ears'] : [];
  const parts = thinned.map(
    (each) => `${each.sources.length > 1 ? list(each.sources.map(({ label }) => label)) : 'its part'} ${overText(each)}`,
  );
  const all = silent === 'all' ? ['all that the audience hears'] : [];
  return list([
    ...deafText(deaf, everybody),
    ...ears,
    ...oneEarText(oneSided),
    ...all,
    ...partText(failure),
    ...houseText(failure.house),
    ...parts,
  ]);
}

function deafText(deaf: Failure['deaf'], everybody: number): string[] {
  if (deaf.length === 0) return [];
  if (deaf.length > 1 && deaf.length >= everybody) return ['everybody hears nothing'];
  return [`${list(deaf.map(({ label }) => label))} ${deaf.length === 1 ? 'hears' : 'hear'} nothing`];
}

function oneEarText({ performers }: Failure['oneSided']): string[] {
  if (performers.length === 0) return [];
  return [`${list(performers.map(({ label }) => label))} ${performers.length === 1 ? 'hears' : 'hear'} one side alone`];
}

function partText({ silent }: Failure): string[] {
  return silent === 'some' ? ['a part of what the audience hears'] : [];
}

function houseText(house: Failure['house']): string[] {
  return house.length > 0 ? [`house ${lineNumbers(house.map(({ number }) => number))}`] : [];
}

/** Where a part of a mix for the audience is missed. */
function overText({ house }: Failure['thinned'][number]): string {
  return house.length > 0 ? `on house ${lineNumbers(house.map(({ number }) => number))}` : 'in the loudspeakers';
}
