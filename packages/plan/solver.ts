/** What the planner asks of a solver, whichever it is. */
import type { Programme, Row, Term } from './programme';

export type Solved =
  /** `proven`: nothing is better. Else time ran out: `bound` is what no solution can beat, as far as it is known. */
  | { readonly kind: 'found'; readonly values: ArrayLike<number>; readonly proven: boolean; readonly bound: number }
  | { readonly kind: 'impossible' }
  /** Time ran out before anything was found. */
  | { readonly kind: 'nothing-yet' };

/** One programme, kept while its aims are sought one after the other. */
export interface Seeking {
  /** `known`: a solution that there is already; the answer may be the same one, where nothing is better. */
  seek(terms: readonly Term[], sense: 'most' | 'least', seconds: number, known?: ArrayLike<number>): Solved;
  /** From now on this holds as well. */
  hold(row: Row): void;
  close(): void;
}

export interface Solver {
  open(programme: Programme): Seeking;
}
