/**
 * What a plan seeks, one after the other: musts, shoulds, coulds served; mixes kept as wide as they are written; the house's lines that
 * depend on us; what would be found wrong, and how wrong; the house's lines that are re-plugged, which is nothing wrong; those that metal
 * joins to us; money; levels; changes; leads; their length; and of what is then still equal, what stands in order: first sources, and those
 * in first blocks. After a loss the changes come before the house.
 */
import type { Verdict } from './trial';

export const AIMS = [
  'must',
  'should',
  'could',
  'width',
  'dependent',
  'warnings',
  'replugged',
  'metal',
  'money',
  'levels',
  'changes',
  'leads',
  'length',
  'order',
] as const;
export type AimName = (typeof AIMS)[number];

/** As AIMS, where something is lost and as little as can be is to change. */
export const AFTER_A_LOSS: readonly AimName[] = [...AIMS.slice(0, 4), 'changes', ...AIMS.slice(4).filter((name) => name !== 'changes')];

/** Of these a line that is tried has a part of its own. */
const OF_A_LINE: Readonly<Partial<Record<AimName, (verdict: Verdict) => number>>> = {
  dependent: ({ dependent }) => dependent,
  warnings: ({ wrong }) => wrong,
  replugged: ({ replugged }) => replugged,
  metal: ({ metal }) => metal,
  levels: ({ levels }) => levels,
  leads: ({ leads }) => leads,
  length: ({ length }) => length,
};
const MEASURES = AIMS.flatMap((aim) => OF_A_LINE[aim] ?? []);

/** Whether a line is better than another by the first aim in which they differ; one that nothing forbids before all. */
export function isBetter(one: Verdict, other: Verdict): boolean {
  const vector = (verdict: Verdict) => [verdict.blocked ? 1 : 0, ...MEASURES.map((measure) => measure(verdict))];
  const [mine, theirs] = [vector(one), vector(other)];
  const at = mine.findIndex((value, index) => value !== theirs[index]);
  return at >= 0 && (mine[at] as number) < (theirs[at] as number);
}
