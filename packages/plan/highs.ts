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

/** So many nodes are branched to here, each going on from the one before, before HiGHS is asked to branch, which starts anew. */
const MOST_NODES = 24;

/** Of an aim with whole values: more than any solver's tolerance, less than a unit. */
const SURELY = 0.1;

/**
 * Assigning lines to sockets is nearly a transport problem, whose solution in fractions is whole by itself. So the programme is solved in
 * fractions first, going on from where the aim before has left off. Only where that is not whole, and the best that is known does not
 * reach its value, is it branched on: here, as long as that takes few nodes, else by HiGHS.
 *
 * What an aim has reached rules out much for good: a column that by its reduced cost would make the aim worse by itself stays as it is for all
 * aims that follow.
 */
class HighsSeeking implements Seeking {
  private readonly relaxed: Model;
  private whole: Model | undefined;
  private readonly size: number;
  private readonly held: Row[] = [];
  /** The bounds of the columns, as far as they are known by now. */
  private readonly lower: Float64Array;
  private readonly upper: Float64Array;

  constructor(
    private readonly highs: Highs,
    private readonly programme: Programme,
  ) {
    this.size = programme.upper.length;
    this.lower = new Float64Array(this.size);
    this.upper = Float64Array.from(programme.upper);
    this.relaxed = this.modelOf(false);
  }

  private modelOf(whole: boolean): Model {
    const { rows } = this.programme;
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
      numCols: this.size,
      numRows: rows.length,
      sense: constants.objectiveSense.minimize,
      offset: 0,
      colCost: new Float64Array(this.size),
      colLower: this.lower,
      colUpper: this.upper,
      rowLower: rows.map(({ low }) => low ?? -infinity),
      rowUpper: rows.map(({ high }) => high ?? infinity),
      matrix: { format: 'csr', numCols: this.size, numRows: rows.length, starts, indices, values },
      integrality: Array.from(this.lower, () => (whole ? integer : continuous)),
    });
    model.options.set(OPTIONS);
    for (const row of this.held) this.add(model, row);
    return model;
  }

  seek(terms: readonly Term[], sense: 'most' | 'least', seconds: number, known?: ArrayLike<number>): Solved {
    const { relaxed, highs } = this;
    const { modelStatus } = highs.constants;
    // All is sought as the least of something.
    const sign = sense === 'most' ? -1 : 1;
    const costs = summed(terms, sign);
    const until = performance.now() + 1000 * seconds;
    this.run(relaxed, costs, seconds);
    const status = relaxed.getModelStatus();
    if (status === modelStatus.infeasible) return { kind: 'impossible' };
    if (status !== modelStatus.optimal) return this.branch(costs, sign, seconds, known);
    const { colValue: values, colDual } = relaxed.getSolution();
    const value = Number(relaxed.info.get('objective_function_value'));
    const proven = (best: ArrayLike<number>): Solved => {
      this.rule(values, colDual, sign * worth(terms, best) - value);
      return { kind: 'found', values: best, proven: true, bound: worth(terms, best) };
    };
    if (isWhole(values)) return proven(values);
    const bound = Math.ceil(value - WHOLE);
    if (known && sign * worth(terms, known) === bound) return proven(known);
    const best = this.dive(costs, values, bound, known && { values: known, cost: sign * worth(terms, known) }, until);
    if (best) return proven(best);
    const left = Math.max(0.001, (until - performance.now()) / 1000);
    const found = this.branch(costs, sign, left, known);
    return found.kind === 'found' && found.proven ? proven(found.values) : found;
  }

  /** Columns that nothing as good as what is reached, which is so much above what fractions would reach, has otherwise. */
  private rule(values: Float64Array, reducedCosts: Float64Array, above: number): void {
    const ruled: number[] = [];
    const { lower, upper } = this;
    for (let column = 0; column < this.size; column++) {
      const [low, high, reduced] = [lower[column] as number, upper[column] as number, reducedCosts[column] as number];
      if (low === high || Math.abs(reduced) < above + SURELY) continue;
      if (reduced > 0 && (values[column] as number) < low + WHOLE) upper[column] = low;
      else if (reduced < 0 && (values[column] as number) > high - WHOLE) lower[column] = high;
      else continue;
      ruled.push(column);
    }
    this.bounded(this.relaxed, ruled);
    if (this.whole) this.bounded(this.whole, ruled);
  }

  private bounded(model: Model, columns: readonly number[], lower = this.lower, upper = this.upper): void {
    for (const column of columns) model.changeColBounds(column, lower[column] as number, upper[column] as number);
  }

  /** Branches in the model in fractions, depth first. Undefined where that takes too many nodes, or too long. */
  private dive(
    costs: ReadonlyMap<number, number>,
    root: Float64Array,
    bound: number,
    known: { readonly values: ArrayLike<number>; readonly cost: number } | undefined,
    until: number,
  ): ArrayLike<number> | undefined {
    const { relaxed } = this;
    const { modelStatus } = this.highs.constants;
    const lower = Float64Array.from(this.lower);
    const upper = Float64Array.from(this.upper);
    let best = known;
    let nodes = 0;
    const restricted = (column: number, low: number, high: number) => {
      lower[column] = low;
      upper[column] = high;
      relaxed.changeColBounds(column, low, high);
    };
    /** Whether all below it has been seen. */
    const below = (values: Float64Array): boolean => {
      const column = splitting(values);
      const value = values[column] as number;
      const [low, high] = [lower[column] as number, upper[column] as number];
      const down = () => restricted(column, low, Math.floor(value));
      const up = () => restricted(column, Math.ceil(value), high);
      const sides = value - Math.floor(value) < 0.5 ? [down, up] : [up, down];
      let whole = true;
      for (const side of sides) {
        if (best?.cost === bound) break;
        side();
        whole = whole && node();
        if (!whole) break;
      }
      restricted(column, low, high);
      return whole;
    };
    const node = (): boolean => {
      nodes += 1;
      const seconds = (until - performance.now()) / 1000;
      if (nodes > MOST_NODES || seconds <= 0) return false;
      this.run(relaxed, costs, seconds);
      const status = relaxed.getModelStatus();
      if (status === modelStatus.infeasible) return true;
      if (status !== modelStatus.optimal) return false;
      const cost = Math.ceil(Number(relaxed.info.get('objective_function_value')) - WHOLE);
      if (best && cost >= best.cost) return true;
      const values = relaxed.getSolution().colValue;
      if (!isWhole(values)) return below(values);
      best = { values, cost };
      return true;
    };
    return below(root) ? best?.values : undefined;
  }

  private branch(costs: ReadonlyMap<number, number>, sign: number, seconds: number, known: ArrayLike<number> | undefined): Solved {
    const { highs } = this;
    const { modelStatus } = highs.constants;
    this.whole ??= this.modelOf(true);
    const model = this.whole;
    if (known) model.setSolution({ colValue: Array.from(known) });
    this.run(model, costs, seconds);
    const status = model.getModelStatus();
    if (status === modelStatus.infeasible) return { kind: 'impossible' };
    const proven = status === modelStatus.optimal;
    if (!proven && !(Math.abs(Number(model.info.get('objective_function_value'))) < highs.infinity)) return { kind: 'nothing-yet' };
    const values = model.getSolution().colValue;
    if (values.length !== this.size) return { kind: 'nothing-yet' };
    return { kind: 'found', values, proven, bound: sign * Number(model.info.get('mip_dual_bound')) };
  }

  private run(model: Model, costs: ReadonlyMap<number, number>, seconds: number): void {
    const before = this.costs.get(model);
    if (before !== costs) {
      for (const column of before?.keys() ?? []) if (!costs.has(column)) model.changeColCost(column, 0);
      for (const [column, by] of costs) if (before?.get(column) !== by) model.changeColCost(column, by);
      this.costs.set(model, costs);
    }
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

function isWhole(values: Float64Array): boolean {
  return values.every((value) => Math.abs(value - Math.round(value)) < WHOLE);
}

/** The column that is farthest from whole. */
function splitting(values: Float64Array): number {
  let [most, column] = [0, 0];
  for (const [index, value] of values.entries()) {
    const off = Math.abs(value - Math.round(value));
    if (off > most + WHOLE) [most, column] = [off, index];
  }
  return column;
}

/** One term for each column. */
function summed(terms: readonly Term[], sign = 1): Map<number, number> {
  const sums = new Map<number, number>();
  for (const { column, by } of terms) sums.set(column, (sums.get(column) ?? 0) + sign * by);
  return sums;
}
