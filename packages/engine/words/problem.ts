/** One kind of problem: how bad it is, how it is said, and what it leaves to be said of others. */
import type { Lengths } from './lengths';
import type { Severity } from './severity';

/** A finding in words: what is wrong, why it matters on stage, what to do. */
export interface Words {
  readonly what: string;
  readonly why: string;
  readonly cure: string;
}

/** In the few words that stand beside a name in a list: `needs a pad: 6 dB too hot`. */
export interface Short {
  /** `6 dB too hot` */
  readonly wrong: string;
  /** What would put it right: `a pad`. */
  readonly needs?: string;
}

/** A split that is missing is missing wherever the line ends. */
export const NEEDS_SPLIT = 'a split';
export const NOTHING_JOINS = 'nothing joins the two';

export interface Problem<F> {
  readonly severity: Severity;
  /** `lengths`: in which unit lengths are told. */
  readonly say: (figures: F, lengths: Lengths) => Words;
  /** Where a line that is tried can bring it. `own`: it is told at that line itself. */
  readonly short?: (figures: F, own: boolean, lengths: Lengths) => Short;
  /** In the fewest words, behind a mark on paper, where those of `short` are not enough or there are none: `same frequency`. */
  readonly brief?: string;
  /** Codes that nobody wants to hear of as well, on the line that it is about. */
  readonly overrules?: RegExp;
  /** It overrules them on every line of the sources that it is about. */
  readonly everywhere?: boolean;
  /** Where one of these cannot be read it may only follow from that, and is left unsaid. */
  readonly restsOn?: readonly Rest[];
  /** What cannot be read there leaves a hole in the rig. */
  readonly leavesHole?: boolean;
  /** It is true whatever else cannot be read. */
  readonly whatever?: boolean;
}

/**
 * What of a rig, besides its own line, has to be read for a finding to be true. `settings`: what stands at the top. `neighbours`: what else is
 * plugged into the same gear. `inputs`, `house`, `outputs`, `mixes`, `packs`: a line of these that breaks off. `sends`: what is in the mix; `all-sends`: in any.
 * `metal`: lines in which our gear meets the house's. `units`: figures that the source states.
 */
export type Rest =
  | 'settings'
  | 'neighbours'
  | 'inputs'
  | 'house'
  | 'outputs'
  | 'mixes'
  | 'packs'
  | 'sends'
  | 'all-sends'
  | 'metal'
  | 'units';

export function problem<F>(severity: Severity, say: Problem<F>['say'], more: Omit<Problem<F>, 'severity' | 'say'> = {}): Problem<F> {
  return { severity, say, ...more };
}

/** A subject of which every problem rests on the same, besides what each says for itself. */
export function resting<T extends Readonly<Record<string, Problem<never>>>>(on: readonly Rest[], problems: T): T {
  return Object.fromEntries(
    Object.entries(problems).map(([code, each]) => [code, { ...each, restsOn: [...on, ...(each.restsOn ?? [])] }]),
  ) as unknown as T;
}
