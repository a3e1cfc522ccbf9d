/** What is to be bought and hired, against what there is to spend. */
import type { Rig } from '#rig';
import { costsOf } from '../solve/money';
import { type Finding, finding } from './finding';

/** The dearest are named: what to think over first. */
const MOST_NAMED = 3;

export function budget(rig: Pick<Rig, 'pieces' | 'performers' | 'settings'>): Finding[] {
  const { budget } = rig.settings;
  if (!budget) return [];
  const { currency } = budget;
  const { cents, things } = costsOf(rig, currency);
  const over = cents - Math.round(budget.amount * 100);
  if (over <= 0) return [];
  const dearest = [...things].sort((a, b) => (b.holding.price?.amount ?? 0) - (a.holding.price?.amount ?? 0)).slice(0, MOST_NAMED);
  return [
    finding(
      'rig/over-budget',
      'rig/budget',
      {
        sum: cents / 100,
        budget: budget.amount,
        over: over / 100,
        currency,
        dearest: dearest.map(({ label, holding }) => ({ label, price: holding.price?.amount ?? 0 })),
      },
      {
        about: things.map(({ id }) => id),
        related: dearest.map(({ place, holding }) => ({ place, says: `${holding.price?.amount} ${currency} of it` })),
      },
    ),
  ];
}
