/** Leads that are new, needless or plugged elsewhere, with their numbers on both lists; and what there has to be more of. */
import type { Compared, ComparedLead, LeadChange, LeadCount } from '#compare';
import { type Lengths, leadId, signalLabel } from '#engine';
import { leadListOf } from '../leads/list';
import { leadKind, stockWords, wiringOf } from '../shared/leads';
import { tableRow } from '../shared/tableRow';
import type { TableBlock } from '../sheet';
import { money } from '../shopping/money';
import { oldPlace } from './places';

export function leadTable({ leads, before, after }: Compared): TableBlock {
  const [olds, news] = [before, after].map(
    ({ checked }) => new Map(leadListOf(checked).map(({ joint, number }) => [leadId(joint.from, joint.to), number])),
  );
  const rows = leads.map((change) => {
    const was = 'before' in change ? change.before : undefined;
    const is = 'after' in change ? change.after : undefined;
    const { rig } = is ? after : before;
    const lead = (is ?? was) as ComparedLead;
    const carries = lead.signals.map((id) => signalLabel(rig, id)).join(', ');
    const place = is ? is.runs[0] : was?.runs[0] && oldPlace(was.runs[0]);
    return tableRow(
      `${change.what} ${was?.id ?? ''} ${is?.id ?? ''}`,
      [says(change), carries, kindOf(lead, rig.settings), was ? way(was, olds) : '', is ? way(is, news) : ''],
      {
        place,
      },
    );
  });
  return {
    kind: 'table',
    id: 'leads',
    title: 'Leads',
    columns: [{ title: 'Change', names: true }, { title: 'Carries' }, { title: 'Lead' }, { title: 'Before' }, { title: 'Now' }],
    rows,
    empty: 'No lead changes.',
    remark: 'Numbers are those on the two lists of leads: labels of other leads may have to be printed anew.',
    ticks: 'boxes',
  };
}

function says(change: LeadChange): string {
  switch (change.what) {
    case 'new':
      return 'new';
    case 'needless':
      return 'take away';
    case 'moved':
      return change.end === 'to' ? `plug its end B into ${change.after.to.name}` : `plug its end A into ${change.after.from.name}`;
    case 'other':
      return 'another lead';
  }
}

/** `12: Kick → Interface in 5`. */
function way({ id, from, to }: ComparedLead, numbers: ReadonlyMap<string, number | undefined> | undefined): string {
  const number = numbers?.get(id);
  return `${number === undefined ? '' : `${number}: `}${from.name} → ${to.name}`;
}

function kindOf({ lead, kind, lengthM, ownM }: ComparedLead, lengths: Lengths): string {
  const length = lengthM === undefined && ownM !== undefined ? 'its own' : stockWords(lengthM, lengths);
  return `${leadKind(lead, wiringOf(lead, kind))}, ${length}`;
}

/** What is to be got, and what can stay at home. */
export function thingTable({ things, leadCounts, after: { rig } }: Compared): TableBlock {
  const rows = things.map(({ model, how, price, before, after }) => {
    const whose = [how ?? 'not said whose', price ? `${money(price.amount, price.currency)} each` : ''].filter(Boolean).join(', ');
    return tableRow(`thing ${model.id} ${whose}`, [more(after - before), model.label, whose, before, after]);
  });
  return {
    kind: 'table',
    id: 'things',
    title: 'To have more, or less',
    columns: [
      { title: 'Change', names: true },
      { title: 'What' },
      { title: 'Whose' },
      { title: 'Before', number: true },
      { title: 'Now', number: true },
    ],
    rows: [...rows, ...leadCounts.map((each) => countRow(each, rig.settings))],
    empty: 'The same gear, and as many leads.',
    ticks: 'boxes',
  };
}

function countRow({ lead, more: by }: LeadCount, lengths: Lengths) {
  return tableRow(`lead ${lead.id}`, [more(by), kindOf(lead, lengths), 'a lead of ours', undefined, undefined]);
}

function more(by: number): string {
  return by > 0 ? `${by} more` : `${-by} fewer`;
}
