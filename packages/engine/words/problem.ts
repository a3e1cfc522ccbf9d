/** One kind of problem: how bad it is, how it is said, and what it leaves to be said of others. */
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
  readonly say: (figures: F) => Words;
  /** Where a line that is tried can bring it. `own`: it is told at that line itself. */
  readonly short?: (figures: F, own: boolean) => Short;
  /** Codes that nobody wants to hear of as well, on the line that it is about. */
  readonly overrules?: RegExp;
  /** It overrules them on every line of the sources that it is about. */
  readonly everywhere?: boolean;
}

export function problem<F>(
  severity: Severity,
  say: (figures: F) => Words,
  more: Pick<Problem<F>, 'short' | 'overrules' | 'everywhere'> = {},
): Problem<F> {
  return { severity, say, ...more };
}
