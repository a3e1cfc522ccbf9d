/** GLPK as the solver: another simplex, another branch and bound, by other people (the GNU Linear Programming Kit). */
import loadGlpk, { type LP } from 'glpk.js/node';
import { type Programme, type Row, type Seeking, type Solved, type Solver, type Term, worth } from '#plan';

const glpk = await loadGlpk();

export const otherSolver: Solver = { open: (programme) => new OtherSeeking(programme) };

class OtherSeeking implements Seeking {
  private readonly held: Row[] = [];

  constructor(private readonly programme: Programme) {}

  seek(terms: readonly Term[], sense: 'most' | 'least', seconds: number): Solved {
    const { upper, rows } = this.programme;
    const { GLP_MAX, GLP_MIN, GLP_DB, GLP_LO, GLP_UP, GLP_FX, GLP_OPT, GLP_NOFEAS, GLP_INFEAS, GLP_MSG_OFF } = glpk;
    const summed = (of: readonly Term[]) => {
      const sums = new Map<number, number>();
      for (const { column, by } of of) sums.set(column, (sums.get(column) ?? 0) + by);
      return [...sums].map(([column, coef]) => ({ name: `x${column}`, coef }));
    };
    const bounds = (low: number | undefined, high: number | undefined) => ({
      type: low === undefined ? GLP_UP : high === undefined ? GLP_LO : low === high ? GLP_FX : GLP_DB,
      lb: low ?? 0,
      ub: high ?? 0,
    });
    const lp: LP = {
      name: 'plan',
      objective: { direction: sense === 'most' ? GLP_MAX : GLP_MIN, name: 'aim', vars: summed(terms) },
      subjectTo: [
        ...[...rows, ...this.held].map(({ terms: sum, low, high }, index) => ({
          name: `row${index}`,
          vars: summed(sum),
          bnds: bounds(low, high),
        })),
        // A column that is in no row would not be known.
        ...upper.map((_, column) => ({
          name: `own${column}`,
          vars: [{ name: `x${column}`, coef: 1 }],
          bnds: { type: GLP_LO, lb: 0, ub: 0 },
        })),
      ],
      bounds: upper.map((most, column) => ({ name: `x${column}`, ...bounds(0, most) })),
      generals: upper.map((_, column) => `x${column}`),
    };
    const { result } = glpk.solve(lp, { msglev: GLP_MSG_OFF, presol: true, tmlim: Math.ceil(seconds), mipgap: 0 });
    if (result.status === GLP_NOFEAS || result.status === GLP_INFEAS) return { kind: 'impossible' };
    if (result.status !== GLP_OPT) return { kind: 'nothing-yet' };
    const values = Float64Array.from(upper, (_, column) => result.vars[`x${column}`] ?? 0);
    return { kind: 'found', values, proven: true, bound: worth(terms, values) };
  }

  hold(row: Row): void {
    this.held.push(row);
  }

  close(): void {}
}
