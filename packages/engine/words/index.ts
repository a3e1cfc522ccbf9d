/** Every kind of finding, by its code `subject/problem`, and the words it is told in. */
import { ALLOWING } from './allow';
import { AMPLIFIERS } from './amplifiers';
import { CAPACITY } from './capacity';
import { CLOCK } from './clock';
import { CONNECTING } from './connectors';
import { EARS_PROBLEMS } from './ears';
import { GROUND } from './ground';
import { HOUSE } from './house';
import { LATENCY } from './latency';
import type { Lengths } from './lengths';
import { LEVELS } from './levels';
import { MIXES } from './mixes';
import { PHANTOM } from './phantom';
import { POWER } from './power';
import type { Problem, Words } from './problem';
import { RADIO } from './radio';
import { SCANS } from './scan';
import { SPLITS } from './splits';
import { STAGE } from './stage';
import { MODELS, NAMES, RIGS, TEXT, UNITS, USES } from './text';
import { typeset } from './typeset';

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
  ...RADIO,
  ...SCANS,
  ...EARS_PROBLEMS,
  ...POWER,
  ...CLOCK,
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

/** What of a finding is put into words. */
interface Said extends Lengths {
  readonly code: Code;
  readonly figures: unknown;
}

/** These speak of what is typed, as it is typed. */
const OF_THE_TEXT = /^(?:text|names)\//;

/** A finding in words. The only place where they are made, so that editor, sheet and command line say the same. */
export function say({ code, figures, inFeet }: Said): Words {
  const { say } = PROBLEMS[code] as Problem<unknown>;
  const words = say(figures, { inFeet });
  if (OF_THE_TEXT.test(code)) return words;
  return { what: typeset(words.what), why: typeset(words.why), cure: typeset(words.cure) };
}

/** A grave finding in the fewest words, for a mark on paper; nothing of what stands in the text alone. */
export function briefly({ code, figures, inFeet }: Said): string {
  const { brief, short } = PROBLEMS[code] as Problem<unknown>;
  return brief ?? (short ? typeset(short(figures, true, { inFeet }).wrong) : '');
}

/** The words of a finding as one paragraph. */
export function message(finding: Said): string {
  const { what, why, cure } = say(finding);
  return [what, why, cure].filter(Boolean).join(' ');
}
