/**
 * A mixed-integer linear programme as plain data: whole-numbered columns from 0 to their upper bound, rows that bound weighted sums of
 * them, and aims in their order.
 *
 *     for each aim k in turn:  find the best z_k of  sum(c_kj x_j)
 *     subject to  low_i <= sum(a_ij x_j) <= high_i,  0 <= x_j <= u_j, x_j whole,
 *     and to what the aims before it have reached:  sum(c_lj x_j) = z_l for l < k.
 *
 * All c_kj are whole numbers (money in cents, decibels and metres in tenths). Any solution's value is then whole as well, and an aim is held
 * exactly. No aim is weighed against another in one sum.
 */

export interface Term {
  readonly column: number;
  readonly by: number;
}

export interface Row {
  readonly terms: readonly Term[];
  readonly low?: number;
  readonly high?: number;
}

export interface Aim<Name extends string = string> {
  readonly name: Name;
  readonly sense: 'most' | 'least';
  readonly terms: readonly Term[];
  /** No solution is better than this: nothing is to be sought once it is reached. */
  readonly bound: number;
}

export class Programme {
  readonly upper: number[] = [];
  readonly rows: Row[] = [];

  /** A new column, by its number. */
  column(upper = 1): number {
    return this.upper.push(upper) - 1;
  }

  row(terms: readonly Term[], bounds: { readonly low?: number; readonly high?: number }): void {
    if (terms.length > 0) this.rows.push({ terms, ...bounds });
  }
}

export function worth(terms: readonly Term[], values: ArrayLike<number>): number {
  return terms.reduce((sum, { column, by }) => sum + by * Math.round(values[column] ?? 0), 0);
}

/** Whether whole-numbered values keep to every row. */
export function keepsTo({ rows, upper }: Programme, values: ArrayLike<number>): boolean {
  return (
    upper.every((most, column) => (values[column] ?? 0) >= -1e-6 && (values[column] ?? 0) <= most + 1e-6) &&
    rows.every(({ terms, low, high }) => {
      const value = worth(terms, values);
      return value >= (low ?? Number.NEGATIVE_INFINITY) - 1e-6 && value <= (high ?? Number.POSITIVE_INFINITY) + 1e-6;
    })
  );
}
