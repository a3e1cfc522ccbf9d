/** HiGHS as the solver. It is large, and loaded when it is first asked for. */
import type { Highs, Model } from 'highs';
import { type Programme, type Row, type Term, worth } from './programme';
import type { Seeking, Solved, Solver } from './solver';

/** How far it may be from the best: aims have whole values, so that less than half a unit is nothing. */
const OPTIONS = {
  output_flag: false,
  mip_rel_gap: 0,
  mip_abs_gap: 0.49,
  random_seed: 1,
  // Programmes of this size are solved sooner than these have looked about for a first solution.
  mip_heuristic_effort: 0,
  mip_heuristic_run_feasibility_jump: false,
  mip_heuristic_run_rens: false,
  mip_heuristic_run_rins: false,
  mip_heuristic_run_root_reduced_cost: false,
} as const;

const WHOLE = 1e-6;

/** The solver on an instance of HiGHS. It runs on one thread and with a fixed seed: the same programme has the same solution. */
export function highsSolver(highs: Highs): Solver {
  return { open: (programme) => new HighsSeeking(highs, programme) };
}

/**
 * Assigning lines to sockets is nearly a transport problem, whose solution in fractions is whole by itself. So the programme is solved in
 * fractions first, going on from where the aim before has left off. Only where that is not whole, and the best that is known does not
 * reach its value, is it branched on.
 */
class HighsSeeking implements Seeking {
  private readonly relaxed: Model;
  private whole: Model | undefined;
  private readonly size: number;
  private readonly held: Row[] = [];

  constructor(
    private readonly highs: Highs,
    private readonly programme: Programme,
  ) {
    this.size = programme.upper.length;
    this.relaxed = this.modelOf(false);
  }

  private modelOf(whole: boolean): Model {
    const { upper, rows } = this.programme;
    const { infinity, constants } = this.highs;
    const starts = [0];
    const indices: number[] = [];
    const values: number[] = [];
    for (const row of rows) {
      for (const [column, by] of summed(row.terms)) {
        indices.push(column);
        values.push(by);
      }
      starts.push(indices.length);
    }
    const { integer, continuous } = constants.variableType;
    const model = this.highs.createModel({
      numCols: upper.length,
      numRows: rows.length,
      sense: constants.objectiveSense.minimize,
      offset: 0,
      colCost: upper.map(() => 0),
      colLower: upper.map(() => 0),
      colUpper: upper,
      rowLower: rows.map(({ low }) => low ?? -infinity),
      rowUpper: rows.map(({ high }) => high ?? infinity),
      matrix: { format: 'csr', numCols: upper.length, numRows: rows.length, starts, indices, values },
      integrality: upper.map(() => (whole ? integer : continuous)),
    });
    model.options.set(OPTIONS);
    for (const row of this.held) this.add(model, row);
    return model;
  }

  seek(terms: readonly Term[], sense: 'most' | 'least', seconds: number, known?: ArrayLike<number>): Solved {
    const { relaxed, highs } = this;
    const { modelStatus } = highs.constants;
    this.run(relaxed, terms, sense, seconds);
    const status = relaxed.getModelStatus();
    if (status === modelStatus.infeasible) return { kind: 'impossible' };
    if (status === modelStatus.optimal) {
      const values = relaxed.getSolution().colValue;
      if (values.every((value) => Math.abs(value - Math.round(value)) < WHOLE)) {
        return { kind: 'found', values, proven: true, bound: worth(terms, values) };
      }
      const value = Number(relaxed.info.get('objective_function_value'));
      const bound = sense === 'most' ? Math.floor(value + WHOLE) : Math.ceil(value - WHOLE);
      if (known && worth(terms, known) === bound) return { kind: 'found', values: known, proven: true, bound };
    }
    return this.branch(terms, sense, seconds, known);
  }

  private branch(terms: readonly Term[], sense: 'most' | 'least', seconds: number, known: ArrayLike<number> | undefined): Solved {
    const { highs } = this;
    const { modelStatus } = highs.constants;
    this.whole ??= this.modelOf(true);
    const model = this.whole;
    if (known) model.setSolution({ colValue: Array.from(known) });
    this.run(model, terms, sense, seconds);
    const status = model.getModelStatus();
    if (status === modelStatus.infeasible) return { kind: 'impossible' };
    const proven = status === modelStatus.optimal;
    if (!proven && !(Math.abs(Number(model.info.get('objective_function_value'))) < highs.infinity)) return { kind: 'nothing-yet' };
    const values = model.getSolution().colValue;
    if (values.length !== this.size) return { kind: 'nothing-yet' };
    return { kind: 'found', values, proven, bound: Number(model.info.get('mip_dual_bound')) };
  }

  private run(model: Model, terms: readonly Term[], sense: 'most' | 'least', seconds: number): void {
    const costs = summed(terms);
    const before = this.costs.get(model) ?? new Map();
    for (const column of before.keys()) if (!costs.has(column)) model.changeColCost(column, 0);
    for (const [column, by] of costs) if (before.get(column) !== by) model.changeColCost(column, by);
    this.costs.set(model, costs);
    const { objectiveSense } = this.highs.constants;
    model.changeObjectiveSense(sense === 'most' ? objectiveSense.maximize : objectiveSense.minimize);
    model.options.set('time_limit', model.getRunTime() + seconds);
    model.run();
  }

  private readonly costs = new Map<Model, ReadonlyMap<number, number>>();

  hold(row: Row): void {
    this.held.push(row);
    this.add(this.relaxed, row);
    if (this.whole) this.add(this.whole, row);
  }

  private add(model: Model, { terms, low, high }: Row): void {
    const sums = summed(terms);
    model.addRow(low ?? -this.highs.infinity, high ?? this.highs.infinity, { indices: [...sums.keys()], values: [...sums.values()] });
  }

  close(): void {
    this.relaxed.dispose();
    this.whole?.dispose();
  }
}

/** One term for each column. */
function summed(terms: readonly Term[]): Map<number, number> {
  const sums = new Map<number, number>();
  for (const { column, by } of terms) sums.set(column, (sums.get(column) ?? 0) + by);
  return sums;
}
