/** A plan as plain data, from plain data: what goes to a thread and what comes back. */
import { check } from '#engine';
import { type Change, changesOf, type Offer, plan, type Solver, summaryText, unreadText } from '#plan';
import type { Rig } from '#rig';
import { planSheet, type Sheet } from '#sheets';

export interface PlanWork {
  readonly rig: Rig;
  readonly offers: readonly Offer[];
  readonly invented: boolean;
  /** Mistakes in the text that it was made from. */
  readonly unread: number;
  readonly afresh?: boolean;
  readonly without?: readonly string[];
}

export interface PlanMade {
  readonly changes: readonly Change[];
  readonly summary: string;
  readonly sheet: Sheet<'plan'>;
}

/** `breathe` is told how far it is, and throws where nobody waits any more. */
export async function planHere(work: PlanWork, solver: Solver, breathe: (done: number) => Promise<void>): Promise<PlanMade> {
  const { rig, offers, invented, unread, afresh, without } = work;
  const made = await plan(check(rig), {
    offers,
    solver,
    afresh,
    without,
    frontier: true,
    now: () => performance.now(),
    breathe: ({ stage, done }) => breathe(stage === 'trying' ? done * 0.6 : stage === 'choosing' ? 0.7 : 0.85),
  });
  if (!made)
    throw new Error('Time ran out before any plan was found. At the command line it may take longer: earloom plan my.rig --limit 120');
  const summary = [unreadText(unread), summaryText(made)].filter(Boolean).join(' ');
  return { changes: changesOf(made), summary, sheet: planSheet(made, { invented, unread }) };
}
