import type { Severity } from './severity';

/** A finding in words: what is wrong, why it matters on stage, what to do. */
export interface Words {
  readonly what: string;
  readonly why: string;
  readonly cure: string;
}

export interface Problem<F> {
  readonly severity: Severity;
  readonly say: (figures: F) => Words;
}

/** One kind of problem: how bad it is, and how it is put into words from its figures. */
export function problem<F>(severity: Severity, say: (figures: F) => Words): Problem<F> {
  return { severity, say };
}
