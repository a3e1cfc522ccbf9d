/** Aims sought one after the other, each held before the next. See `programme.ts` for the mathematics. */
import { type Aim, keepsTo, type Programme, worth } from './programme';
import type { Seeking, Solver } from './solver';

export interface Reached<Name extends string = string> {
  readonly name: Name;
  readonly value: number;
  /** What no solution can beat; the value itself where that is proven. */
  readonly bound: number;
}

export interface Best<Name extends string = string> {
  readonly values: Int32Array;
  readonly reached: readonly Reached<Name>[];
  /** Every aim is proven. */
  readonly proven: boolean;
}

export interface Limits {
  /** When to stop, by `now`. */
  readonly until: number;
  /** Milliseconds, from any beginning. */
  readonly now: () => number;
}

/**
 * The best by the first aim, of those the best by the second, and so on. Undefined where nothing keeps to the rows, or time ran out before
 * anything was found. Where time runs out later, what has been found by then.
 */
export function lexicographic<Name extends string>(
  solver: Solver,
  programme: Programme,
  aims: readonly Aim<Name>[],
  { until, now }: Limits,
): Best<Name> | undefined {
  const seeking = solver.open(programme);
  try {
    return sought(seeking, programme, aims, () => (until - now()) / 1000);
  } finally {
    seeking.close();
  }
}

function sought<Name extends string>(
  seeking: Seeking,
  programme: Programme,
  aims: readonly Aim<Name>[],
  left: () => number,
): Best<Name> | undefined {
  // Doing nothing is a plan, too, as long as no row asks for anything.
  const nothing = new Int32Array(programme.upper.length);
  let best: Int32Array | undefined = keepsTo(programme, nothing) ? nothing : undefined;
  let proven = true;
  const reached: Reached<Name>[] = [];
  for (const { name, sense, terms, bound } of aims) {
    let known = bound;
    const better = (one: number, other: number) => (sense === 'most' ? one > other : one < other);
    if (best === undefined || better(bound, worth(terms, best))) {
      const seconds = left();
      const found = seconds > 0 ? seeking.seek(terms, sense, seconds, best) : undefined;
      if (found?.kind === 'impossible' && best === undefined) return undefined;
      if (found?.kind === 'found') {
        const values = Int32Array.from(found.values, Math.round);
        if (best === undefined || better(worth(terms, values), worth(terms, best))) best = values;
        known = found.proven ? worth(terms, best) : found.bound;
      }
      proven &&= found?.kind === 'found' && found.proven;
    }
    if (best === undefined) return undefined;
    const value = worth(terms, best);
    const limit = better(known, value) ? known : value;
    reached.push({ name, value, bound: limit });
    // From both sides: else what is sought in fractions would do better by an aim before than any whole solution does.
    seeking.hold({ terms, low: Math.min(value, limit), high: Math.max(value, limit) });
  }
  return best && { values: best, reached, proven };
}
