/** `earloom plan`: what a rig has not written, planned: which line goes where, through what, what it costs, what is left out. */
import path from 'node:path';
import { check } from '#engine';
import { offersOf, unreadIn, writePlan } from '#language';
import type { Paper } from '#pdf';
import { changesOf, leftOutText, type Plan, plan as planned, summaryText, unreadText } from '#plan';
import { highsSolver } from '#plan/highs';
import { planSheet, renderSheet } from '#sheets';
import { formatByName } from './ending';
import { CLEAN, FOUND, Unusable } from './exit';
import { oneRig } from './oneRig';
import { print, tell, terminalWidth } from './print';
import { escaped, visible } from './report/visible';
import { shownAs } from './wanted';
import { writeWhole } from './write';
import { writeRig } from './writeRig';

export type PlanFormat = 'text' | 'markdown' | 'html' | 'pdf' | 'json';

export interface PlanOptions {
  readonly format?: PlanFormat;
  /** The planned rig, or a sheet, by how the name ends. */
  readonly output?: string;
  /** Of a PDF. */
  readonly paper: Paper;
  readonly afresh: boolean;
  readonly without: readonly string[];
  /** As it is written: `150 EUR`, or `150` in the rig's currency. */
  readonly budget?: string;
  /** Seconds. */
  readonly limit: string;
}

const BY_ENDING: Readonly<Record<string, PlanFormat>> = {
  '.txt': 'text',
  '.md': 'markdown',
  '.markdown': 'markdown',
  '.html': 'html',
  '.htm': 'html',
  '.pdf': 'pdf',
  '.json': 'json',
};

/** The exit code: a plan that serves every must and leaves nothing wrong is clean. */
export async function plan(word: string, options: PlanOptions): Promise<number> {
  const seconds = Number(options.limit);
  if (!(seconds > 0)) throw new Unusable(`"${options.limit}" is no number of seconds.`, 'Write it as in "--limit 20".');
  const rig = await oneRig(word, 'A plan is');
  const { checked } = rig;
  const budget = budgetOf(options.budget, checked.rig.settings.budget?.currency);
  for (const name of options.without) {
    if (!checked.rig.pieces.has(`gear:${name}`)) {
      throw new Unusable(`There is no gear "${name}" in ${rig.wanted.shown}.`, 'Give the name that stands behind "gear".');
    }
  }
  const output = options.output === '-' ? undefined : options.output;
  const writesRig = output !== undefined && path.extname(output).toLowerCase() === '.rig';
  if (writesRig && options.format !== undefined)
    throw new Unusable(
      `By its name ${output} is to be the planned rig, and "--format ${options.format}" asks for what is told of the plan.`,
      'Leave "--format" out, or give the file another name, as in "-o plan.json".',
    );
  const format = options.format ?? (writesRig ? 'text' : formatByName('A plan', output, BY_ENDING));
  if (format === 'pdf' && output === undefined)
    throw new Unusable('A PDF is no text to print here.', 'Name a file for it, as in "-o plan.pdf".');
  const { offers, invented } = offersOf(rig.session.services, rig.analysis.document);
  const { default: loadHighs } = await import('highs');
  // What only follows from a mistake in the text is not said to anybody, and is there all the same: it is none of the plan's making.
  const made = await planned(check(checked.rig), {
    offers,
    solver: highsSolver(await loadHighs()),
    afresh: options.afresh,
    without: options.without,
    budget,
    frontier: !writesRig,
    limitMs: seconds * 1000,
    now: () => performance.now(),
  });
  if (!made) throw new Unusable('Time ran out before any plan was found.', 'Give it longer, as in "--limit 120".');
  const unread = unreadIn(rig.analysis);
  const summary = [unreadText(unread), summaryText(made)].filter(Boolean).join(' ');
  if (writesRig) {
    await writeRig(
      rig,
      writePlan(rig.analysis, changesOf(made)),
      output,
      (count) => `${count === 1 ? 'One change' : `${count} changes`} of the plan`,
    );
    tell({ what: summary, cure: '' });
  } else if (format === 'pdf' && output !== undefined) {
    const { pdfToFile } = await import('./pdf');
    await pdfToFile([planSheet(made, { invented, unread })], output, options.paper);
  } else if (format !== 'pdf') {
    const sheet = planSheet(made, { invented, unread });
    const text =
      format === 'json'
        ? `${escaped(JSON.stringify({ summary, ...jsonOf(made, invented) }, null, 2))}\n`
        : renderSheet(sheet, format, width(output));
    if (output !== undefined) await writeWhole(path.resolve(output), text, shownAs(path.resolve(output)));
    else await print(process.stdout.isTTY && format === 'text' ? visible(text) : text);
  }
  if (!made.proven)
    tell({ what: 'Time ran out before the plan was proven.', cure: `Give it longer, as in "--limit ${Math.ceil(seconds * 6)}".` });
  const wrong = made.after.findings.some(({ severity, allowed }) => severity !== 'note' && allowed === undefined);
  return wrong || made.leftOut.some(({ need }) => need === 'must') ? FOUND : CLEAN;
}

function width(output: string | undefined): { readonly width?: number } {
  return output === undefined ? terminalWidth() : {};
}

function budgetOf(written: string | undefined, currency: string | undefined): { amount: number; currency: string } | undefined {
  if (written === undefined) return undefined;
  const match = /^\s*(\d+(?:\.\d+)?)\s*([A-Za-z]{3})?\s*$/.exec(written);
  if (!match) throw new Unusable(`"${written}" is no sum of money.`, 'Write it as in "--budget 150" or "--budget 150EUR".');
  return { amount: Number(match[1]), currency: match[2]?.toUpperCase() ?? currency ?? 'EUR' };
}

function jsonOf(made: Plan, invented: boolean): object {
  const { reached, proven, leftOut, purchases, money, frontier, conflict, otherCurrency } = made;
  const { currency } = money;
  const sum = (cents: number) => ({ amount: cents / 100, currency });
  const bought = (all: Plan['purchases']) =>
    all.map(({ model, how, count, cents, serves }) => ({
      model: model.id,
      label: model.label,
      how,
      count,
      price: sum(cents),
      for: serves,
    }));
  return {
    proven,
    reached: Object.fromEntries(reached.filter(({ name }) => name !== 'order').map(({ name, value, bound }) => [name, { value, bound }])),
    changes: changesOf(made).map(({ fix, about, needs }) => ({ ...fix, about, needs })),
    purchases: bought(purchases),
    money: {
      written: sum(money.written),
      planned: sum(money.planned),
      budget: money.budget === undefined ? null : sum(money.budget),
      invented,
      notLookedAt: [...new Set(otherCurrency.flatMap(({ price }) => price?.currency ?? []))],
    },
    leftOut: leftOut.map((each) => ({ kind: each.kind, id: each.id, label: each.label, need: each.need, why: leftOutText(each, made) })),
    conflict: conflict && {
      together: conflict.musts.map(({ kind, id, label }) => ({ kind, id, label })),
      cheapest: conflict.cheapest && {
        price: sum(conflict.cheapest.cents),
        purchases: bought(conflict.cheapest.purchases),
        more: conflict.cheapest.more,
        all: conflict.cheapest.all,
      },
    },
    frontier: frontier.map(({ cents, purchases: all, gains, reached: values, proven: sure }) => ({
      price: sum(cents),
      purchases: bought(all),
      gains,
      reached: values,
      proven: sure,
    })),
    findings: made.after.findings.map(({ code, severity, place }) => ({ code, severity, place })),
  };
}
