/** A plan as a sheet: what goes where and why, what it costs, what is left out, what money would buy. */
import { arrives, capital, type Finding, list, say, statementOf, toldIn, wholePath } from '#engine';
import {
  changesOf,
  changeText,
  conflictText,
  leftOutText,
  moneyText,
  type Plan,
  purchaseText,
  rank,
  reasonText,
  runText,
  type Step,
  stepText,
  summaryText,
  takesText,
  unreadText,
  viaText,
} from '#plan';
import type { InputRun } from '#rig';
import { facts, titleOf } from '../shared/facts';
import { finished } from '../shared/finish';
import { legs } from '../shared/path';
import { tableRow } from '../shared/tableRow';
import type { Block, Sheet, TableBlock } from '../sheet';
import { stepCurve } from './curve';

export interface PlanRemarks {
  /** Prices are those of the shop that ships, which are invented. */
  readonly invented?: boolean;
  /** So many mistakes in the text may hide something from it. */
  readonly unread?: number;
}

/** Pure, and never throws. */
export function planSheet(plan: Plan, { invented = false, unread = 0 }: PlanRemarks = {}): Sheet<'plan'> {
  const { before, conflict, frontier } = plan;
  const blocks: Block[] = [
    lines(plan, [unreadText(unread), summaryText(plan)].filter(Boolean).join(' ')),
    ...(plan.wanted.mixes.length > 0 ? [listening(plan)] : []),
    ...(plan.purchases.length > 0 ? [shopping(plan, invented)] : []),
    ...(plan.leftOut.length > 0 || conflict ? [leftOut(plan)] : []),
    ...(frontier.length > 1 ? [money(plan, invented), drawn(plan)] : []),
    changes(plan),
  ];
  return finished({ id: 'plan', name: 'Plan', title: titleOf(before.rig), facts: facts(before.rig.settings), blocks }, before.rig);
}

function lines(plan: Plan, said: string): TableBlock {
  const { rig } = plan.assembled;
  // As they are plugged; what only the house's way is planned of, last.
  const at = ({ runs: [run] }: Plan['assembled']['inputs'][number]) => (run ? rank(rig, run) : Number.POSITIVE_INFINITY);
  const inOrder = [...plan.assembled.inputs].sort((a, b) => at(a) - at(b) || 0);
  const rows = inOrder.flatMap(({ choice, runs, house }) => {
    const { source } = choice.wanted;
    const reason = plan.reasons.get(choice);
    const why = reason ? reasonText(plan, choice, reason) : '';
    const theirs = house.map((run) => `house ${run.number} goes through ${viaText(rig, run.via) ?? ''}`);
    const warning = standing(plan, runs, choice.verdict.warnings);
    const found = warning ? `To look at: ${say(toldIn(rig.settings, [warning])[0] ?? warning).what}` : '';
    const says = [
      why,
      found,
      ...theirs.map((each) => `${capital(each)}.`),
      choice.off ? 'Phantom power stays off here: the house gives it.' : '',
    ]
      .filter(Boolean)
      .join(' ');
    const told = runs.map((run) =>
      tableRow(
        run.id,
        [runText(rig, run.to.piece, run.to.ports), takesText(rig, source.id, run.takes?.port), lineThrough(plan, run), says],
        {
          place: source.id,
        },
      ),
    );
    if (told.length > 0) return told;
    return [tableRow(`house of ${source.id}`, ['as it is', source.label, '', says], { place: source.id })];
  });
  const links = plan.assembled.links.map(({ run }) =>
    tableRow(run.id, [runText(rig, run.to.piece, run.to.ports), takesText(rig, run.takes?.id, undefined), '', 'Brings its inputs here.'], {
      place: run.takes?.id,
    }),
  );
  return {
    kind: 'table',
    id: 'lines',
    title: 'Lines',
    columns: [{ title: 'Input', names: true }, { title: 'Takes' }, { title: 'Through' }, { title: 'Why here' }],
    rows: [...links, ...rows],
    empty: said,
    remark: said,
  };
}

/** What is found wrong with a line where it has come to be; it has been tried alone, and maybe on another input of the same kind. */
function standing(plan: Plan, runs: readonly InputRun[], [warning]: readonly Finding[]): Finding | undefined {
  const mine = new Set(runs.map(({ id }) => id));
  return warning && (plan.after.findings.find(({ code, place }) => code === warning.code && mine.has(statementOf(place))) ?? warning);
}

/** What is not written may follow from the house's line: a leg of its split, its DI. */
function lineThrough(plan: Plan, run: InputRun): string {
  const line = run.via.length === 0 ? plan.after.network.lines.find((each) => each.run.id === run.id) : undefined;
  if (!arrives(line)) return through(plan, run.via);
  const path = wholePath(plan.after.network, line);
  return path.length > 1 ? legs(path) : '';
}

function through(plan: Plan, via: Parameters<typeof viaText>[1]): string {
  const { rig } = plan.assembled;
  return list(via.map(({ piece, port }) => [rig.pieces.get(piece)?.label ?? '', port].filter(Boolean).join(' ')));
}

function listening(plan: Plan): TableBlock {
  const { rig, outputs, packs, narrowed } = plan.assembled;
  return {
    kind: 'table',
    id: 'listening',
    title: 'Mixes',
    columns: [{ title: 'Output', names: true }, { title: 'Carries' }, { title: 'Through' }, { title: 'Heard by' }],
    rows: outputs.map(({ choice, run, mix }) => {
      const heard =
        'air' in choice
          ? packs
              .filter((each) => each.choice.how.kind === 'radio' && each.choice.how.by === choice)
              .map((each) => `${each.choice.performer.label} (${each.piece.label})`)
          : 'how' in choice
            ? [choice.performer.label]
            : [rig.noHouse ? 'our loudspeakers' : 'the house'];
      const width = narrowed.includes(plan.wanted.mixes.find((each) => each.mix.id === mix.id)?.mix ?? mix) ? ' (mono now)' : '';
      return tableRow(run.id, [runText(rig, run.from.piece, run.from.ports), `${mix.label}${width}`, through(plan, run.via), list(heard)], {
        place: mix.id,
      });
    }),
    empty: 'No mix could be brought to anybody.',
  };
}

const INVENTED =
  'No price can be read in this rig or in the files that it uses, so these are invented, for orientation. Name your own, such as "model our-di is passive-di { buy 20 EUR }".';

function shopping(plan: Plan, invented: boolean): TableBlock {
  const { currency, planned, written, budget } = plan.money;
  const left = budget === undefined ? [] : [budget - written - planned];
  const text = column([...plan.purchases.map(({ cents }) => cents), planned, ...left], currency);
  return {
    kind: 'table',
    id: 'to-buy',
    title: 'To buy and hire',
    columns: [
      { title: 'What', names: true },
      { title: 'How' },
      { title: 'Count', number: true },
      { title: 'Together', number: true },
      { title: 'For' },
    ],
    rows: [
      ...plan.purchases.map(({ model, how, count, cents, serves }, index) =>
        tableRow(`${index}`, [model.label, how, count, text(cents), list(serves)]),
      ),
      tableRow('sum', ['in all', '', undefined, text(planned), ''], { strong: true }),
      ...left.map((cents) => tableRow('left', ['left of the budget', '', undefined, text(cents), ''])),
    ],
    empty: 'Nothing is to be bought or hired.',
    remark: invented ? INVENTED : undefined,
  };
}

/** Sums under one another, with their points under one another. */
function column(all: readonly number[], currency: string): (cents: number) => string {
  const hundredths = all.some((cents) => cents % 100 !== 0);
  return (cents) => moneyText(cents, currency, hundredths);
}

function leftOut(plan: Plan): TableBlock {
  return {
    kind: 'table',
    id: 'left-out',
    title: 'Left out',
    columns: [{ title: 'What', names: true }, { title: 'Need' }, { title: 'Why' }],
    rows: plan.leftOut.map((each) =>
      tableRow(
        `${each.kind} ${each.id}`,
        [each.kind === 'listener' ? `${each.label}’s ears` : each.label, each.need, leftOutText(each, plan)],
        {
          place: each.id,
        },
      ),
    ),
    empty: 'Nothing.',
    remark: conflictText(plan),
  };
}

function money(plan: Plan, invented: boolean): TableBlock {
  const { currency } = plan.money;
  const text = column(
    plan.frontier.map(({ cents }) => cents),
    currency,
  );
  const served = ({ reached }: Step) => [reached.must ?? 0, reached.should ?? 0, reached.could ?? 0];
  return {
    kind: 'table',
    id: 'money',
    title: 'What money buys',
    columns: [
      { title: 'For', names: true, number: true },
      { title: 'Buys' },
      { title: 'Serves besides' },
      { title: 'Musts', number: true },
      { title: 'Shoulds', number: true },
      { title: 'Coulds', number: true },
    ],
    rows: plan.frontier.map((step, index) =>
      tableRow(`${index}`, [text(step.cents), list(step.purchases.map(purchaseText)) || 'nothing', stepText(step), ...served(step)]),
    ),
    empty: 'Nothing.',
    remark: invented ? INVENTED : undefined,
  };
}

function drawn(plan: Plan): Block {
  const { frontier, money: spent } = plan;
  const until = Math.max(0, (spent.budget ?? 0) - spent.written);
  return {
    kind: 'drawing',
    id: 'curve',
    title: 'What money buys, drawn',
    drawing: stepCurve(frontier, until, spent.currency),
    description: `A curve of steps: ${list(frontier.map(({ cents, reached }) => `${(reached.must ?? 0) + (reached.should ?? 0) + (reached.could ?? 0)} served from ${moneyText(cents, spent.currency)}`))}.`,
  };
}

function changes(plan: Plan): TableBlock {
  const { before } = plan;
  return {
    kind: 'table',
    id: 'changes',
    title: 'What is written into the rig',
    columns: [{ title: 'Line', names: true }],
    rows: changesOf(plan).map(({ fix }, index) => tableRow(`${index}`, [changeText(before.rig, fix)])),
    empty: 'Nothing: the rig stays as it is.',
  };
}
