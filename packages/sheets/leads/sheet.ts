/** Every lead and adapter: its number and label, both ends, what runs on it, how long and why; and what to pack. */
import { type Checked, count, type Finding, type Lengths, lengthText, list, SLACK_FACTOR, SLACK_M, samePlace, tidy } from '#engine';
import { type Rig, type Settings, toBase } from '#rig';
import { cautions } from '../shared/cautions';
import { contextOf } from '../shared/context';
import { facts, titleOf, toPlace } from '../shared/facts';
import { type Packed, stockWords, totals } from '../shared/leads';
import { mainsTable } from '../shared/mains';
import { withNotes } from '../shared/notes';
import { tableRow } from '../shared/tableRow';
import { CAUTIONS } from '../shared/titles';
import { type Block, type Column, SHEET_NAMES, type Sheet, type TableBlock, type TableRow } from '../sheet';
import { type ListedLead, leadListOf, piecesOf } from './list';

/** Shows the findings about leads, each at its lead. Pure, and never throws. */
export function leadsSheet(checked: Checked, findings: readonly Finding[] = checked.findings): Sheet {
  const { rig } = checked;
  const context = contextOf(checked);
  const leadList = leadListOf(checked);
  const underfoot = cautions(
    context,
    leadList.map(({ row }) => row),
  ).filter(({ subject }) => subject === 'Leads');
  const blocks: Block[] = [
    listTable(rig, leadList, findings),
    ...packingTables(leadList, rig.settings),
    ...mainsTable(context, 'Mains leads to pack'),
  ];
  if (underfoot.length > 0) blocks.push({ kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: underfoot });
  return {
    id: 'leads',
    name: SHEET_NAMES.leads,
    title: titleOf(rig),
    facts: facts(rig.settings),
    blocks: leadList.length > 0 ? blocks : [],
  };
}

const COLUMNS: readonly Column[] = [
  { title: 'No.', number: true },
  { title: 'Label', names: true, under: { title: 'Carries' } },
  { title: 'End A', under: { title: 'Plug A' } },
  { title: 'End B', under: { title: 'Plug B' } },
  { title: 'Kind', under: { title: 'Whose' } },
  { title: 'Length', under: { title: 'Reckoned' } },
];

function listTable(rig: Rig, leadList: readonly ListedLead[], findings: readonly Finding[]): TableBlock {
  const about = findings.filter(({ code }) => code.startsWith('connectors/'));
  const { leads } = withNotes({ inputs: [], outputs: [], house: [], leads: leadList }, about);
  return {
    kind: 'table',
    id: 'lead-list',
    title: 'Leads and adapters',
    columns: COLUMNS,
    rows: leadList.map((lead, index) => listRow(rig, lead, leads[index]?.findings ?? [])),
    empty: 'No lead is needed yet.',
    remark: [
      NUMBERING,
      leadList.some((lead) => lead.lengthens || piecesOf(lead, rig.settings).length > 1) ? JOINTS : '',
      lengthRule(rig.settings),
      leadList.some(({ number, theirs, reckoned }) => number !== undefined && !theirs && isTight(reckoned)) ? TIGHTLY : '',
      leadList.some(({ row }) => row.unfinished) ? unknown(rig) : '',
    ]
      .filter(Boolean)
      .join(' '),
  };
}

const NUMBERING =
  'The label is the same at both ends but for the letter: A is the end at the output, B the end at the input. Numbers follow this list: when it changes, print the labels again.';

const JOINTS = 'A figure behind the letter is a joint on the way: A1 goes together with B1.';

const TIGHT = 'own is tight';

const TIGHTLY =
  'An own lead that is tight reaches, with less than half of that slack: lay it first, and move what it is fixed to closer, or bring an extension.';

function unknown(rig: Rig): string {
  return `A length is known where both ends have a place: write "at …" for ${toPlace(rig)}.`;
}

function lengthRule(settings: Settings): string {
  const stock = settings.lengthsM.map((length) => lengthText(length, settings).replace(/ \p{L}+$/u, '')).join(', ');
  return `A lead follows edges: sideways and back together, times ${tidy(SLACK_FACTOR, 1)}, plus ${lengthText(SLACK_M, settings)} of slack, up to the next length that can be had (${stock} ${settings.inFeet ? 'ft' : 'm'}).`;
}

function listRow(rig: Rig, lead: ListedLead, findings: TableRow['findings']): TableRow {
  const { number, name, row, theirs, reckoned } = lead;
  const ownOnly = reckoned.ownM !== undefined && reckoned.lengthM === undefined;
  return tableRow(
    row.key,
    [
      number,
      name,
      row.carries,
      row.from,
      row.fromEnd,
      row.to,
      row.toEnd,
      row.kind.replace(', the house’s', ''),
      number === undefined ? '' : theirs ? 'the house’s' : ownOnly ? 'part of the gear' : 'ours',
      row.length,
      number === undefined ? '' : why(lead, rig.settings),
    ],
    { name, place: row.place, about: row.about, tells: row.about, unfinished: row.unfinished || number === undefined, findings },
  );
}

/** How a length came about: `8 m with slack`, rounded up; `no place for Interface`. */
function why({ reckoned, theirs }: ListedLead, lengths: Lengths): string {
  const { needsM, joint, fromAt, toAt } = reckoned;
  if (needsM !== undefined)
    return `${lengthText(roundedUp(needsM, lengths), lengths)} with slack${!theirs && isTight(reckoned) ? `: ${TIGHT}` : ''}`;
  const lost = [fromAt ? undefined : joint.from.piece, toAt ? undefined : joint.to.piece].flatMap((piece) => piece?.label ?? []);
  return `no place for ${list(lost)}`;
}

/** Whether the gear’s own lead reaches, and has less than half the slack that a lead of ours would have. */
function isTight({ ownM, lengthM, needsM, fromAt, toAt }: ListedLead['reckoned']): boolean {
  return ownM !== undefined && lengthM === undefined && needsM !== undefined && !samePlace(fromAt, toAt) && ownM < needsM - SLACK_M / 2;
}

/** To a tenth of what it is told in, so that no length seems to be more than what is taken for it. */
function roundedUp(lengthM: number, { inFeet }: Lengths): number {
  const unit = inFeet ? toBase(1, 'ft') : 1;
  return (Math.ceil((lengthM / unit) * 10 - 1e-6) / 10) * unit;
}

/** What to pack, plain leads and those with two kinds of plug apart. The house's leads and the gear's own are not counted. */
export function packingTables(leadList: readonly ListedLead[], lengths: Lengths): TableBlock[] {
  const all = totals(leadList);
  return [
    packing(
      'leads',
      'Leads to pack',
      'No plain lead of ours is needed.',
      all.filter(({ adapting }) => !adapting),
      lengths,
    ),
    packing(
      'adapters',
      'Leads with two kinds of plug to pack',
      'No adapter is needed.',
      all.filter(({ adapting }) => adapting),
      lengths,
      'Each is a lead made with these two plugs, or a plain lead and an adapter: an adapter of the right gender, and a spare.',
    ),
  ];
}

function packing(
  id: string,
  title: string,
  empty: string,
  all: readonly (Packed & { readonly key: string })[],
  lengths: Lengths,
  remark?: string,
): TableBlock {
  const rows = all.map((each) => tableRow(each.key, [each.count, each.kind, stockWords(each.lengthM, lengths)]));
  return {
    kind: 'table',
    id,
    title,
    columns: [{ title: 'Count', number: true }, { title: 'Lead', names: true }, { title: 'Length' }],
    rows,
    empty,
    remark: all.length > 0 ? [sum(all, lengths), remark].filter(Boolean).join(' ') : undefined,
    ticks: 'boxes',
  };
}

/** `9 leads, 45 m in all.` */
function sum(all: readonly Packed[], lengths: Lengths): string {
  const pieces = countOf(all);
  const known = all.reduce((total, each) => total + each.count * (each.lengthM ?? 0), 0);
  const without = countOf(all.filter(({ lengthM }) => lengthM === undefined));
  const leads = `${pieces} ${pieces === 1 ? 'lead' : 'leads'}`;
  if (without === pieces) return `${leads} in all, of no known length.`;
  return `${leads}, ${lengthText(known, lengths)} in all${without > 0 ? `, and ${count(without, 'lead')} of them of no known length` : ''}.`;
}

function countOf(all: readonly Packed[]): number {
  return all.reduce((total, each) => total + each.count, 0);
}
