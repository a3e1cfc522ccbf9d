/** What is to be bought and hired, and what is left of the budget: in each currency by itself, for nothing is converted. */
import { type Checked, count, list, tidy } from '#engine';
import type { Settings } from '#rig';
import { contextOf } from '../shared/context';
import { unique } from '../shared/draft';
import { type PaidItem, paidItemsOf } from '../shared/holdings';
import { tableRow } from '../shared/tableRow';
import type { Cell, TableBlock, TableRow } from '../sheet';

/** `12.50 EUR`; `80 EUR`, or `80.00 EUR` where it stands under the other. */
export function money(amount: number, currency: string, hundredths = !Number.isInteger(amount)): string {
  return `${hundredths ? amount.toFixed(2) : tidy(amount, 0)} ${currency}`;
}

/** Sums under one another, each currency's with their points under one another. */
function moneyColumn(items: readonly PaidItem[], budget?: Settings['budget']): typeof money {
  const all = [...items.flatMap(({ price }) => price ?? []), ...(budget ? [budget] : [])];
  const fine = new Set(all.filter(({ amount }) => !Number.isInteger(amount)).map(({ currency }) => currency));
  return (amount, currency) => money(amount, currency, fine.has(currency));
}

/** What is to be bought and hired and what it comes to: `2 Passive DI and 1 Y-lead: 80 EUR of 220 EUR`. Nothing where nothing is. */
export function paidInAll(checked: Checked): string | undefined {
  const paid = paidItemsOf(contextOf(checked));
  if (paid.length === 0) return undefined;
  const { budget } = checked.rig.settings;
  const of = (currency: string) => (budget?.currency === currency ? ` of ${money(budget.amount, currency)}` : '');
  const sums = unique(paid.flatMap(({ price }) => price?.currency ?? [])).map(
    (currency) => `${money(spent(paid.filter(({ price }) => price?.currency === currency)), currency)}${of(currency)}`,
  );
  const unpriced = countOf(paid.filter(({ price }) => !price));
  const parts = [...sums, ...(unpriced > 0 ? [`${count(unpriced, 'thing')} without a price`] : [])];
  return `${list(paid.map((item) => `${item.count} ${item.model.label}`))}: ${list(parts)}`;
}

function countOf(items: readonly PaidItem[]): number {
  return items.reduce((total, each) => total + each.count, 0);
}

/** What is to be paid for; and, where there is anything to reckon, what it comes to. `besides` are things of which no price is known: `14 leads`. */
export function moneyTables(paid: readonly PaidItem[], budget: Settings['budget'], besides: readonly string[]): TableBlock[] {
  const reckoned = sums(paid, budget);
  return [paidTable(paid), ...(reckoned.length > 0 ? [sumTable(reckoned, remark(paid, budget, besides))] : [])];
}

function paidTable(paid: readonly PaidItem[]): TableBlock {
  const text = moneyColumn(paid);
  return {
    kind: 'table',
    id: 'money',
    title: 'To buy and hire',
    columns: [
      { title: 'What', names: true, under: { title: 'Which or for what' } },
      { title: 'How' },
      { title: 'Count', number: true },
      { title: 'Each', number: true },
      { title: 'Together', number: true },
    ],
    rows: paid.map((item) => paidRow(item, text)),
    empty: 'Nothing is to be bought or hired.',
    ticks: 'boxes',
  };
}

function sumTable(rows: readonly TableRow[], remark: string | undefined): TableBlock {
  return {
    kind: 'table',
    id: 'budget',
    title: 'What the money goes on',
    columns: [
      { title: 'Sum', names: true },
      { title: 'Things', number: true },
      { title: 'Amount', number: true },
    ],
    rows,
    empty: 'No price is stated.',
    remark,
  };
}

function paidRow(item: PaidItem, text: typeof money): TableRow {
  const { key, model, how, price, count: number, which, places } = item;
  const each = price ? text(price.amount, price.currency) : 'price not stated';
  const together = price ? text(Math.round(price.amount * 100 * number) / 100, price.currency) : '';
  return tableRow(key, [model.label, which.join(', '), how, number, each, together], {
    place: places[0],
    about: places,
    unfinished: price === undefined,
  });
}

/** What each currency comes to, as bought and hired where there are both; then the budget, and what is left of it. */
function sums(paid: readonly PaidItem[], budget: Settings['budget']): TableRow[] {
  const text = moneyColumn(paid, budget);
  const currencies = unique([...paid.flatMap(({ price }) => price?.currency ?? []), ...(budget ? [budget.currency] : [])]);
  return currencies.flatMap((currency) => {
    const here = paid.filter(({ price }) => price?.currency === currency);
    const hows = unique(here.flatMap(({ how }) => how ?? []));
    const parts =
      hows.length > 1
        ? hows.map((how) =>
            sumRow(
              `to ${how}`,
              here.filter((item) => item.how === how),
              currency,
              text,
            ),
          )
        : [];
    const total = sumRow('in all', here, currency, text, true);
    return [...parts, total, ...(budget?.currency === currency ? budgetRows(spent(here), budget, text) : [])];
  });
}

function sumRow(title: string, items: readonly PaidItem[], currency: string, text: typeof money, strong = false): TableRow {
  return tableRow(`sum ${title} ${currency}`, sumCells(title, countOf(items), text(spent(items), currency)), { strong });
}

function budgetRows(amount: number, budget: NonNullable<Settings['budget']>, text: typeof money): TableRow[] {
  const left = budget.amount - amount;
  const over = left < 0;
  const place = 'rig';
  return [
    tableRow('budget', sumCells('budget', undefined, text(budget.amount, budget.currency)), { place }),
    tableRow('left', sumCells(over ? 'over the budget by' : 'left of the budget', undefined, text(Math.abs(left), budget.currency)), {
      place,
      strong: true,
    }),
  ];
}

function sumCells(title: string, pieces: number | undefined, together: string): Cell[] {
  return [title, pieces, together];
}

function spent(items: readonly PaidItem[]): number {
  // In hundredths, so that sums of prices such as 19.90 come out as they do by hand.
  return items.reduce((total, { price, count: number }) => total + Math.round((price?.amount ?? 0) * 100) * number, 0) / 100;
}

function remark(paid: readonly PaidItem[], budget: Settings['budget'], besides: readonly string[]): string | undefined {
  const unpriced = countOf(paid.filter(({ price }) => !price));
  const foreign = unique(paid.flatMap(({ price }) => price?.currency ?? [])).filter((currency) => budget && currency !== budget.currency);
  const left = [...(unpriced > 0 ? [count(unpriced, 'thing')] : []), ...besides];
  const words = [
    left.length > 0 ? `The sums leave out ${list(left)}: no price is stated.` : '',
    budget && foreign.length > 0
      ? `The budget is in ${budget.currency}; what is in ${list(foreign)} stands beside it, for nothing is converted.`
      : '',
    !budget && paid.length > 0 ? 'The rig states no budget.' : '',
  ].filter(Boolean);
  return words.length > 0 ? words.join(' ') : undefined;
}
