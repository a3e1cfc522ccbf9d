/** Every kind of finding, by its code `subject/problem`, and the words it is told in. */
import type { Finding } from '../find/finding';
import { ALLOWING } from './allow';
import { AMPLIFIERS } from './amplifiers';
import { CAPACITY } from './capacity';
import { CONNECTING } from './connectors';
import { GROUND } from './ground';
import { HOUSE } from './house';
import { LATENCY } from './latency';
import { LEVELS } from './levels';
import { MIXES } from './mixes';
import { PHANTOM } from './phantom';
import type { Problem, Words } from './problem';
import { SPLITS } from './splits';
import { STAGE } from './stage';
import { MODELS, NAMES, RIGS, TEXT, UNITS, USES } from './text';

export const PROBLEMS = {
  ...CAPACITY,
  ...SPLITS,
  ...CONNECTING,
  ...LEVELS,
  ...PHANTOM,
  ...GROUND,
  ...AMPLIFIERS,
  ...MIXES,
  ...HOUSE,
  ...LATENCY,
  ...STAGE,
  ...TEXT,
  ...NAMES,
  ...UNITS,
  ...MODELS,
  ...USES,
  ...RIGS,
  ...ALLOWING,
};

export type Code = keyof typeof PROBLEMS;
export type FiguresOf<C extends Code> = (typeof PROBLEMS)[C] extends Problem<infer F> ? F : never;

/** A finding in words. The only place where they are made, so that editor, sheet and command line say the same. */
export function say(finding: Finding): Words {
  const { say } = PROBLEMS[finding.code] as Problem<unknown>;
  return say(finding.figures);
}

/** The words of a finding as one paragraph. */
export function message(finding: Finding): string {
  const { what, why, cure } = say(finding);
  return [what, why, cure].filter(Boolean).join(' ');
}
