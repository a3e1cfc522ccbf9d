/** Leads in the order in which they are laid: all between the same two areas on one walk; the house's lines last. */
import { count, mustNotBe } from '#engine';
import type { Place } from '#rig';
import { lineNumbers } from '../house/counted';
import { intoTheirSocket, theirLeadOnOurs } from '../house/lines';
import type { ListedLead } from '../leads/list';
import { numbered } from '../leads/list';
import { type Context, grouped } from '../shared/context';
import { forbidden, forbids } from '../shared/grave';
import { HARMED_BY_48_V, sharedHouseRows, touchedHouseRows, touchedOf } from '../shared/house';
import { DO_NOT_PLUG_IN } from '../shared/leads';
import { tableRow } from '../shared/tableRow';
import type { TableBlock } from '../sheet';
import type { Area, Areas } from './areas';
import { ASK_TO_MUTE, muteRow, STILL_MUTED } from './mute';
import { stepTable } from './table';

interface Walk {
  readonly name: string;
  readonly rank: number;
}

/** Leads that the rig asks for and that break what they are plugged into; nothing where there are none. */
export function forbiddenTable(leadList: readonly ListedLead[]): TableBlock[] {
  const rows = leadList
    .filter(({ joint }) => mustNotBe(joint))
    .map(({ row }) =>
      tableRow(row.key, [row.from, row.to, DO_NOT_PLUG_IN], {
        name: `${row.from} to ${row.to}`,
        place: row.place,
        about: row.about,
        tells: row.about,
      }),
    );
  if (rows.length === 0) return [];
  const steps = stepTable({
    id: 'forbidden',
    title: 'Not to be plugged in',
    columns: ['From', 'Into', 'What to do'],
    rows,
    empty: '',
    remark: 'A loudspeaker output breaks what it is plugged into here. Mend the rig before anything is set up: its findings say how.',
  });
  // What is not to be done is no step, and nothing to tick off.
  return [{ ...steps, ticks: undefined }];
}

/**
 * Asked before the first of our plugs that the house would hear on a line of its own. What our leads are for, behind a split of any kind
 * as on the same plug, is heard there. Until then they may be laid. None where no plug of ours is heard before the house's lines are plugged.
 */
export function muteTable(context: Context, leadList: readonly ListedLead[]): TableBlock[] {
  const heard = heardByHouse(context, leadList);
  if (heard.length === 0) return [];
  return [
    stepTable({
      id: 'mute',
      title: 'The house’s lines, before our first plug',
      columns: ['Lines', 'Ask first', 'Until then'],
      rows: muteRow(context, (lines) => [lines, ASK_TO_MUTE, `${leadsWords(heard)}: laid, not plugged; in at the latest with their line`]),
      empty: '',
    }),
  ];
}

interface Heard {
  readonly number: number;
  /** The first of the house's lines on which it is heard. */
  readonly on: Place;
}

/** Our own leads on a line that the house has as well. What we bring is heard when it is in their socket. */
function heardByHouse(context: Context, leadList: readonly ListedLead[]): Heard[] {
  const { checked } = context;
  const harmful = forbidden(checked);
  const lines = new Map(checked.impact.lines.map((line) => [line.run.place, line]));
  const touched = touchedHouseRows(context).map(({ place }) => place);
  const first = new Map<Place, number>();
  for (const [rank, place] of touched.entries()) {
    const beside = lines.get(place)?.partings.map(({ input }) => input.place) ?? [];
    for (const run of [place, ...beside]) if (!first.has(run)) first.set(run, rank);
  }
  return numbered(leadList).flatMap((lead): Heard[] => {
    if (isHouseEnd(lead) || forbids(harmful, lead.row.about)) return [];
    const on = touched[Math.min(...lead.row.about.map((run) => first.get(run) ?? Number.POSITIVE_INFINITY))];
    return on === undefined ? [] : [{ number: lead.number, on }];
  });
}

/** `leads 2, 3 and 8 to 11`. */
function leadsWords(some: readonly Heard[]): string {
  return `${some.length > 1 ? 'leads' : 'lead'} ${lineNumbers(some.map(({ number }) => `${number}`))}`;
}

export function leadTable(context: Context, leadList: readonly ListedLead[], areas: Areas): TableBlock {
  const harmful = forbidden(context.checked);
  const ranks = new Map(areas.all.map((area, index) => [area, index]));
  const walks = numbered(leadList)
    .filter((lead) => !isHouseEnd(lead))
    .map((lead) => ({ lead, walk: walkOf(lead, areas, ranks) }))
    // What all lines of an expander come over goes in before them.
    .sort((a, b) => a.walk.rank - b.walk.rank || Number(isLink(b.lead)) - Number(isLink(a.lead)) || a.lead.number - b.lead.number);
  const groups = new Map<string, string>();
  let minutes = 0;
  // What must not be carried out is taken out of the order of work: nobody walks for it.
  const laid = walks.filter(({ lead }) => !forbids(harmful, lead.row.about));
  for (const [index, [rank, each]] of [...grouped(laid, ({ walk }) => `${walk.rank}`)].entries()) {
    const takes = minutesOf(each.map(({ lead }) => lead));
    minutes += takes;
    groups.set(rank, `Walk ${index + 1}, ${each[0]?.walk.name}: ${count(each.length, 'lead')}, about ${takes} min`);
  }
  const rows = walks.map(({ lead: { number, name, row }, walk }) =>
    tableRow(row.key, [number, name, row.fromEnd, row.toEnd, row.length], {
      name,
      group: groups.get(`${walk.rank}`),
      place: row.place,
      about: row.about,
      tells: row.about,
      unfinished: row.unfinished,
    }),
  );
  return stepTable({
    id: 'leads',
    title: 'Leads, walk by walk',
    groups: 'Walk',
    columns: [{ title: 'Lead', number: true }, { title: 'Label', names: true }, { title: 'Plug A', under: { title: 'Plug B' } }, 'Length'],
    rows,
    empty: 'No lead is needed yet.',
    remark: `Take all leads of a walk at once. End A goes in where the label begins, end B where its arrow points. Along edges, never across ways out.${minutes > 0 ? ` About ${minutes} min for one person: an estimate, of a minute for both plugs of a lead and ${context.checked.rig.settings.inFeet ? 'a second and a half for a foot' : 'five seconds for a metre'} of it.` : ''}${touchedHouseRows(context).some(({ replugged }) => replugged !== '') ? THEIR_PLUGS : ''}`,
  });
}

const THEIR_PLUGS =
  ' A plug of the house’s that is in already stays in until its line is muted and its turn comes, below: a lead of ours that goes in its place is laid, not plugged, until then.';

/** A lead that carries several lines of another box. */
function isLink({ joint }: ListedLead): boolean {
  return joint.runs.some((run) => run.kind === 'input' && run.takes?.kind === 'gear');
}

/** For both plugs of a lead, and to lay it along an edge and coil what is over: common practice, no source. */
const PLUGS_S = 60;
const METRE_S = 5;

function minutesOf(leads: readonly ListedLead[]): number {
  const seconds = leads.reduce((sum, { reckoned: { lengthM, ownM } }) => sum + PLUGS_S + METRE_S * ((lengthM ?? 0) + (ownM ?? 0)), 0);
  return Math.ceil(seconds / 60);
}

/** What ends in the house's socket, or runs between two things of theirs. */
function isHouseEnd({ joint, theirs }: ListedLead): boolean {
  return theirs || joint.to.piece.kind === 'house';
}

/** At each area, as one comes to it: what leads there from areas where one was before, then what is plugged within it. */
function walkOf({ joint }: ListedLead, { all, of }: Areas, ranks: ReadonlyMap<Area, number>): Walk {
  const ends = [of(joint.from.piece), of(joint.to.piece)];
  const rank = (area: Area | undefined) => (area ? (ranks.get(area) ?? all.length) : all.length);
  const [first, last] = ends.toSorted((a, b) => rank(a) - rank(b));
  const name = first === last ? `at ${nameOf(last)}` : `${nameOf(first)} – ${nameOf(last)}`;
  return { name: (first ?? last) ? name : UNPLACED, rank: rank(last) * (all.length + 2) + (first === last ? all.length + 1 : rank(first)) };
}

const UNPLACED = 'place not known';

function nameOf(area: Area | undefined): string {
  return area?.name ?? UNPLACED;
}

export function houseTable(context: Context, leadList: readonly ListedLead[]): TableBlock {
  const rows = sharedHouseRows(context);
  const heard = heardByHouse(context, leadList);
  const held = grouped(heard, ({ on }) => on);
  const leads = new Map<string, number[]>();
  for (const lead of numbered(leadList).filter(isHouseEnd)) {
    for (const run of lead.row.about) leads.set(run, [...(leads.get(run) ?? []), lead.number]);
  }
  const runs = new Map(context.checked.rig.house.map((run) => [run.place, run]));
  // What was only laid until the house had muted goes in before the plug that lets it be heard.
  const ours = (place: string) => {
    const some = held.get(place);
    return some ? `${leadsWords(some)} in` : '';
  };
  // A split with tails has plugs of its own for the house's sockets.
  const plugged = (place: string, into: string) => {
    const run = runs.get(place);
    const last = run && intoTheirSocket(run, leadList);
    if (last && !last.theirs) return `our lead ${last.number} into their socket`;
    if (into) return `their plug ${into}`;
    const lead = run && touchedOf(context, run) && theirLeadOnOurs(run, leadList);
    return lead ? `their lead (${lead.number}) on ${lead.row.from}` : '';
  };
  return stepTable({
    id: 'house-lines',
    title: 'House lines, with the house’s consent',
    columns: [
      'Line',
      { title: 'Label', under: { title: 'The house gets' } },
      { title: 'Taken from', under: { title: 'Leads' } },
      'Ask first',
    ],
    rows: [
      ...muteRow(context, (lines) => [lines.replace(/^house /, ''), '', '', '', '', heard.length > 0 ? STILL_MUTED : ASK_TO_MUTE]),
      ...rows.map(({ key, place, about, unfinished, number, label, gets, from, phantom, replugged, theyBring }) =>
        tableRow(
          key,
          [
            number,
            label,
            gets,
            from,
            (leads.get(place) ?? []).join(', '),
            [
              phantom === HARMED_BY_48_V ? 'see first that their 48 V is off' : '',
              [ours(place), plugged(place, replugged)].filter(Boolean).join(', then '),
              theyBring ? `they bring ${theyBring}` : '',
            ]
              .filter(Boolean)
              .join('; '),
          ],
          { name: `house ${number}`, place, about, tells: [place], unfinished },
        ),
      ),
    ],
    empty: 'No line of the house’s is plugged into anything of ours.',
    remark: 'Nothing of the house’s is unplugged or plugged without its engineer. Note how each line was, to put it back so.',
  });
}
