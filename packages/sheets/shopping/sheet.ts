/** What there is and what is to be got: gear by how it is held, what the money goes on, leads, earphones, batteries. */
import { type Checked, count, exampleText, type Finding, hoursText, type Lengths, list, onBatteries, tidy } from '#engine';
import type { Rig, Settings } from '#rig';
import { type ListedLead, leadListOf } from '../leads/list';
import { batteryTable } from '../shared/batteries';
import { type Context, contextOf } from '../shared/context';
import { earphonesOf, socketWords } from '../shared/earphones';
import { facts, titleOf, toPlace } from '../shared/facts';
import { type Item, itemsOf, paidItemsOf } from '../shared/holdings';
import { stockWords, totals } from '../shared/leads';
import { hadOf } from '../shared/leadsHad';
import { tableRow } from '../shared/tableRow';
import { type Block, type Column, SHEET_NAMES, type Sheet, type TableBlock } from '../sheet';
import { money, moneyTables } from './money';

/** Shows no findings. Pure, and never throws. */
export function shoppingSheet(checked: Checked, _findings?: readonly Finding[]): Sheet {
  const { rig } = checked;
  const { settings } = rig;
  const context = contextOf(checked);
  const items = itemsOf(context);
  const leadList = leadListOf(checked);
  const tables = [
    held(items, 'borrowed', 'Borrowed', 'The rig does not say from whom: write it in, and ask in time.', 'From whom'),
    held(items, 'theirs', 'From the house', 'Ask the house for these before the day.', 'Agreed with'),
    open(items),
    leadTable(rig, leadList),
    earTable(context),
    batteryTable(context, items, 'On batteries', cellsRemark(settings, items), { lasts: true }),
    held(items, 'owned', 'Own'),
    held(items, 'spare', 'Spare'),
  ].filter(({ rows, id }) => rows.length > 0 || (id === 'leads' && leadList.length > 0));
  const something = items.length > 0 || tables.length > 0;
  const blocks: Block[] = something ? [...moneyTables(paidItemsOf(context), settings.budget, unpriced(context, leadList)), ...tables] : [];
  return {
    id: 'shopping',
    name: SHEET_NAMES.shopping,
    title: titleOf(rig),
    facts: [...facts(settings), ...(settings.budget ? [`budget ${money(settings.budget.amount, settings.budget.currency)}`] : [])],
    blocks,
  };
}

const THING: Column = { title: 'What', names: true };
const WHICH: Column = { title: 'Which or for what' };
const COUNT: Column = { title: 'Count', number: true };

function itemTable(id: string, title: string, items: readonly Item[], extra?: string): TableBlock {
  return {
    kind: 'table',
    id,
    title,
    columns: [COUNT, THING, WHICH, ...(extra ? [{ title: extra }] : [])],
    rows: items.map(({ key, pieces, model, which, places, how, spare }) =>
      tableRow(
        key,
        [pieces.length, spare && how !== 'spare' ? `${model.label}, to spare` : model.label, which.join(', '), ...(extra ? ['ask'] : [])],
        { place: places[0], about: places },
      ),
    ),
    empty: 'Nothing.',
    ticks: 'boxes',
  };
}

/** `extra` is what to ask, and of whom. */
function held(items: readonly Item[], how: NonNullable<Item['how']>, title: string, remark?: string, extra?: string): TableBlock {
  return {
    ...itemTable(
      how,
      title,
      items.filter((item) => item.how === how),
      extra,
    ),
    ...(remark ? { remark } : {}),
  };
}

function open(items: readonly Item[]): TableBlock {
  const table = itemTable(
    'open',
    'Not said whose',
    items.filter(({ how }) => how === undefined),
  );
  const remark = 'The rig does not say how these are held. Behind each, write owned, borrowed, theirs, spare, or hire or buy with a price.';
  return { ...table, remark };
}

/** Leads that are needed, with how many of each there are and are to be got, where the rig says what there is. */
function neededLeads(leadList: readonly ListedLead[], { leads }: Settings) {
  const all = totals(leadList);
  const had = leads && hadOf(all, leads);
  return all.map((each) => {
    const there = had?.get(each.key);
    return { ...each, had: there, toGet: there === undefined ? undefined : each.count - there };
  });
}

/** What the sums leave out besides things that are to be paid: earphones that nobody has said a price of, or that they are there; leads to get. */
function unpriced(context: Context, leadList: readonly ListedLead[]): string[] {
  const ears = earphonesOf(context).filter(({ model }) => model?.holding === undefined).length;
  const leads = neededLeads(leadList, context.checked.rig.settings).reduce((sum, { count: number, toGet = number }) => sum + toGet, 0);
  return [
    ...(ears > 0 ? [count(ears, 'pair of earphones', 'pairs of earphones')] : []),
    ...(leads > 0 ? [`${count(leads, 'lead')} to ${context.checked.rig.settings.leads ? 'get' : 'have'}`] : []),
  ];
}

const notSaid = (lengths: Lengths) =>
  `The rig does not say which leads you have: write them at its top, such as "${exampleText('leads 6 xlr 5 m, 2 trs 3 m', lengths)}", or count yours and get what is missing.`;
const SAID = 'What there is is taken from "leads" in the rig; a longer one does for a shorter.';

function leadTable(rig: Rig, leadList: readonly ListedLead[]): TableBlock {
  const all = neededLeads(leadList, rig.settings);
  const isSaid = rig.settings.leads !== undefined;
  const unknown = all.reduce((sum, { count, lengthM }) => (lengthM === undefined ? sum + count : sum), 0);
  const rest = unknown > 0 ? ` The length of ${count(unknown, 'lead')} is not known: write "at …" for ${toPlace(rig)}.` : '';
  return {
    kind: 'table',
    id: 'leads',
    title: 'Leads to have',
    columns: [
      COUNT,
      ...(isSaid
        ? [
            { title: 'There are', number: true },
            { title: 'To get', number: true },
          ]
        : []),
      { title: 'Lead', names: true, under: { title: 'Plugs' } },
      { title: 'Length' },
    ],
    rows: all.map(({ key, count: number, kind, adapting, lengthM, had, toGet }) =>
      tableRow(key, [
        number,
        ...(isSaid ? [had, toGet] : []),
        kind,
        adapting ? 'of two kinds: made so, or with an adapter' : '',
        stockWords(lengthM, rig.settings),
      ]),
    ),
    empty: 'No lead of ours is needed.',
    remark: `${isSaid ? SAID : notSaid(rig.settings)}${rest}`,
    ticks: 'boxes',
  };
}

function earTable(context: Context): TableBlock {
  const all = earphonesOf(context);
  const missing = all.filter(({ model }) => !model).map(({ performer }) => performer.label);
  return {
    kind: 'table',
    id: 'earphones',
    title: 'Earphones',
    columns: [{ title: 'For', names: true }, { title: 'Earphones' }, { title: 'Into' }, { title: 'Adapter, extension' }],
    rows: all.map((each) => {
      const { performer, model, fit } = each;
      return tableRow(performer.id, [performer.label, model?.label ?? 'not stated', socketWords(each) || 'not known yet', fit], {
        place: performer.place,
        unfinished: !model,
      });
    }),
    empty: 'Nobody has a mix yet.',
    ...(missing.length > 0 ? { remark: `Earphones for ${list(missing)}: not stated. Write "ears …" behind the performer.` } : {}),
    ticks: 'boxes',
  };
}

function cellsRemark({ setS, checkS }: Settings, items: readonly Item[]): string {
  const check = checkS === undefined ? 'the sound check comes on top' : `the sound check ${hoursText(checkS)}`;
  const set = setS === undefined ? '' : ` The set is ${tidy(setS / 60, 0)} min; ${check}.`;
  const unsaid = items.some(({ how, model }) => how !== 'theirs' && onBatteries(model) && model.power?.cells === undefined);
  return `${unsaid ? 'How many cells some take the rig does not say: look under the lid. ' : ''}Fresh ones for the show, and a set to spare.${set}`;
}
