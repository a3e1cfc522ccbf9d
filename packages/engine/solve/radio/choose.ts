/**
 * Frequencies for several carriers at once, clear of each other, of what is fixed, and of every product: an exact search.
 *
 * Each carrier may stand on points of its own. What a carrier that is set blocks for those that are not (its surroundings, the products that
 * it makes with others, and where a third would make one that falls on it) are intervals; the search sets one carrier after the
 * other, carriers that are alike from the lowest up, and gives up a branch where too few points are left (branch and bound). So it finds
 * the largest clear set there is, and of these one with the fewest changes, unless it is stopped by `MOST_WORK`, which it says.
 * The same input gives the same frequencies. All in Hz.
 */
import type { Guard } from '#rig';

export interface Fixed {
  readonly hz: number;
  readonly bandwidthHz: number;
  /** Makes products with others. */
  readonly mixes: boolean;
}

export interface Wanted {
  readonly bandwidthHz: number;
  readonly mixes: boolean;
  /** Where it may stand, in rising order. */
  readonly points: readonly number[];
  /** Where it stands now, which is not counted as a change. */
  readonly nowHz?: number;
}

export interface Chosen {
  /** For each that is wanted; nothing where it finds no place. */
  readonly hz: readonly (number | undefined)[];
  /** How many are not where they stood. */
  readonly changes: number;
  /** No larger set is clear, and no fewer changes do. */
  readonly proven: { readonly most: boolean; readonly fewest: boolean };
}

/** Intervals looked at, and points copied by the hundred: some seconds on a slow machine. */
const MOST_WORK = 3_000_000;

/** How far two carriers have to be apart. */
export function spacingHz(guard: Guard, one: Pick<Fixed, 'bandwidthHz'>, other: Pick<Fixed, 'bandwidthHz'>): number {
  return Math.max(guard.carriersHz, (one.bandwidthHz + other.bandwidthHz) / 2);
}

export function choose(wanted: readonly Wanted[], fixed: readonly Fixed[], guard: Guard, mostWork = MOST_WORK): Chosen {
  return new Search(wanted, fixed, guard, mostWork).run();
}

/** Where one may stand with all others fixed, in rising order. */
export function clearPoints(wanted: Wanted, fixed: readonly Fixed[], guard: Guard): readonly number[] {
  return new Search([wanted], fixed, guard, Number.POSITIVE_INFINITY).free();
}

/** Carriers that are alike: which of them stands where makes no difference. */
interface Kind {
  readonly bandwidthHz: number;
  readonly mixes: boolean;
  readonly points: readonly number[];
  readonly members: number[];
}

/** What has been set, and for each kind the points that it leaves: 0 free, 1 blocked. */
interface State {
  readonly set: readonly Fixed[];
  readonly blocked: readonly Uint8Array[];
}

class Stopped extends Error {}

function sizeOf(chosen: readonly (readonly number[])[]): number {
  return chosen.reduce((sum, { length }) => sum + length, 0);
}

/** More pairs with one sum than this are not kept: some of these are made without any one carrier. */
const MOST_PAIRS = 8;

/** Every sum of two, with pairs that make it. */
function sumsOf(carriers: readonly Fixed[]): ReadonlyMap<number, readonly (readonly Fixed[])[]> {
  const sums = new Map<number, (readonly Fixed[])[]>();
  for (const [at, a] of carriers.entries()) {
    for (const b of carriers.slice(at + 1)) {
      const sum = Math.round(a.hz + b.hz);
      const pairs = sums.get(sum);
      if (!pairs) sums.set(sum, [[a, b]]);
      else if (pairs.length < MOST_PAIRS) pairs.push([a, b]);
    }
  }
  return sums;
}

/** The point behind the last that is chosen. */
function after({ points }: Kind, chosen: readonly number[] | undefined): number {
  const last = chosen?.at(-1);
  return last === undefined ? 0 : indexIn(points, last) + 1;
}

/** Where a frequency is among points, or would be. */
function indexIn(points: readonly number[], hz: number): number {
  let low = 0;
  for (let high = points.length; low < high; ) {
    const middle = (low + high) >> 1;
    if ((points[middle] as number) < hz) low = middle + 1;
    else high = middle;
  }
  return low;
}

class Search {
  private readonly kinds: Kind[] = [];
  private readonly kindOf: number[] = [];
  private readonly start: State;
  private work = 0;
  /** The most of each kind that have been set at once. */
  private best: readonly (readonly number[])[] = [];

  constructor(
    private readonly wanted: readonly Wanted[],
    fixed: readonly Fixed[],
    private readonly guard: Guard,
    private readonly mostWork: number,
  ) {
    const known = new Map<string, number>();
    for (const [index, { bandwidthHz, mixes, points }] of wanted.entries()) {
      const key = `${bandwidthHz} ${mixes} ${points.join()}`;
      let kind = known.get(key);
      if (kind === undefined) {
        kind = this.kinds.length;
        known.set(key, kind);
        this.kinds.push({ bandwidthHz, mixes, points, members: [] });
      }
      this.kindOf.push(kind);
      this.kinds[kind]?.members.push(index);
    }
    this.start = this.around(fixed);
    this.work = 0;
  }

  /** The points of the first kind that nothing blocks. */
  free(): number[] {
    return this.kinds[0]?.points.filter((_, point) => this.start.blocked[0]?.[point] === 0) ?? [];
  }

  run(): Chosen {
    const { wanted } = this;
    const bound = this.kinds.reduce((sum, kind, index) => sum + this.most(kind, this.start.blocked[index] as Uint8Array, 0), 0);
    let most = Math.min(wanted.length, bound);
    let proven = true;
    let found: (number | undefined)[] | undefined;
    const nothing = this.kinds.map((): number[] => []);
    const all = this.kinds.map(({ members }) => members.length);
    this.work = 0;
    for (; most > 0 && !found; most--) {
      const result = this.stoppable(() => this.fill(this.start, nothing, all, wanted.length - most));
      if (result === 'stopped') {
        proven = false;
        // The largest that was met on the way.
        most = this.best.reduce((sum, { length }) => sum + length, 0);
        found = this.asWanted(this.best);
      } else if (result) found = this.asWanted(result);
      if (found) break;
    }
    if (!found) return { hz: wanted.map(() => undefined), changes: 0, proven: { most: proven, fewest: proven } };
    const changed = (hz: readonly (number | undefined)[]) =>
      hz.filter((each, index) => each !== undefined && each !== wanted[index]?.nowHz).length;
    const homeless = wanted.filter(({ nowHz, points }) => nowHz === undefined || !points.includes(nowHz)).length;
    const drops = wanted.length - most;
    let fewest = true;
    this.work = 0;
    for (let moves = Math.max(0, homeless - drops); moves < changed(found); moves++) {
      const result = this.stoppable(() => this.keep(this.start, 0, [], moves, drops));
      if (result === 'stopped') {
        fewest = false;
        break;
      }
      if (result) {
        found = result;
        break;
      }
    }
    return { hz: found, changes: changed(found), proven: { most: proven, fewest } };
  }

  private stoppable<T>(search: () => T): T | 'stopped' {
    try {
      return search();
    } catch (problem) {
      if (problem instanceof Stopped) return 'stopped';
      throw problem;
    }
  }

  // ---- the largest set ---------------------------------------------------------------------------

  /** Sets `left` of each kind, besides those that are `chosen`, from the last of these up; `drops` of all may be left out. All of each kind, or nothing. */
  private fill(
    state: State,
    chosen: readonly (readonly number[])[],
    left: readonly number[],
    drops: number,
  ): readonly (readonly number[])[] | undefined {
    if (sizeOf(chosen) > sizeOf(this.best)) this.best = chosen;
    // Most constrained first: the kind with the least room for those of it that are left.
    let next = -1;
    let least = Number.POSITIVE_INFINITY;
    let short = 0;
    for (const [index, kind] of this.kinds.entries()) {
      const wanted = left[index] as number;
      if (wanted === 0) continue;
      const room = this.most(kind, state.blocked[index] as Uint8Array, after(kind, chosen[index]));
      if (room < wanted) short += wanted - room;
      const spare = room - wanted;
      if (spare < least) {
        least = spare;
        next = index;
      }
    }
    if (short > drops) return undefined;
    if (next < 0) return chosen;
    const kind = this.kinds[next] as Kind;
    const blocked = state.blocked[next] as Uint8Array;
    for (let point = after(kind, chosen[next]); point < kind.points.length; point++) {
      if (blocked[point] === 1) continue;
      if (this.most(kind, blocked, point) < (left[next] as number) - drops) break;
      const hz = kind.points[point] as number;
      const rest = this.fill(
        this.with(state, { hz, bandwidthHz: kind.bandwidthHz, mixes: kind.mixes }),
        chosen.map((each, index) => (index === next ? [...each, hz] : each)),
        left.map((each, index) => (index === next ? each - 1 : each)),
        drops,
      );
      if (rest) return rest;
    }
    // None of this kind any more.
    const without = left[next] as number;
    if (without > drops) return undefined;
    return this.fill(
      state,
      chosen,
      left.map((each, index) => (index === next ? 0 : each)),
      drops - without,
    );
  }

  /** Which of them stands where: those that can stay do, the others in rising order. */
  private asWanted(byKind: readonly (readonly number[])[]): (number | undefined)[] {
    const hz: (number | undefined)[] = this.wanted.map(() => undefined);
    for (const [index, frequencies] of byKind.entries()) {
      const members = this.kinds[index]?.members ?? [];
      const rest = [...frequencies];
      for (const member of members) {
        const at = rest.indexOf(this.wanted[member]?.nowHz as number);
        if (at >= 0) hz[member] = rest.splice(at, 1)[0];
      }
      for (const member of members) if (hz[member] === undefined) hz[member] = rest.shift();
    }
    return hz;
  }

  // ---- the fewest changes ------------------------------------------------------------------------

  /** Lets each, from the `index`th on, stay where it is, or be moved, or be left out, within what is allowed of both. */
  private keep(
    state: State,
    index: number,
    kept: readonly (number | 'move' | undefined)[],
    moves: number,
    drops: number,
  ): (number | undefined)[] | undefined {
    const each = this.wanted[index];
    if (!each) return this.placed(state, kept);
    const { nowHz, points } = each;
    const kind = this.kindOf[index] as number;
    const point = nowHz === undefined ? -1 : points.indexOf(nowHz);
    if (point >= 0 && state.blocked[kind]?.[point] === 0) {
      const found = this.keep(this.with(state, { ...each, hz: nowHz as number }), index + 1, [...kept, nowHz], moves, drops);
      if (found) return found;
    }
    if (moves > 0) {
      const found = this.keep(state, index + 1, [...kept, 'move'], moves - 1, drops);
      if (found) return found;
    }
    return drops > 0 ? this.keep(state, index + 1, [...kept, undefined], moves, drops - 1) : undefined;
  }

  /** Those that are moved, around those that stay. */
  private placed(state: State, kept: readonly (number | 'move' | undefined)[]): (number | undefined)[] | undefined {
    const moved = this.kinds.map(({ members }) => members.filter((member) => kept[member] === 'move'));
    const filled = this.fill(
      state,
      this.kinds.map(() => []),
      moved.map(({ length }) => length),
      0,
    );
    if (!filled) return undefined;
    const hz = kept.map((each) => (each === 'move' ? undefined : each));
    for (const [kind, members] of moved.entries()) for (const [at, member] of members.entries()) hz[member] = filled[kind]?.[at];
    return hz;
  }

  // ---- what is blocked ---------------------------------------------------------------------------

  /** A bound on how many of a kind still find a place from a point up: by their spacing alone, and by the differences between them. */
  private most({ bandwidthHz, mixes, points }: Kind, blocked: Uint8Array, from: number): number {
    const apart = spacingHz(this.guard, { bandwidthHz }, { bandwidthHz });
    let count = 0;
    let first = Number.NaN;
    let last = Number.NEGATIVE_INFINITY;
    let end = Number.NaN;
    for (let point = from; point < points.length; point++) {
      if (blocked[point] === 1) continue;
      const hz = points[point] as number;
      if (Number.isNaN(first)) first = hz;
      end = hz;
      if (hz - last >= apart) {
        count++;
        last = hz;
      }
    }
    if (!mixes) return count;
    // Of n that mix, no two of the n(n - 1)/2 differences are alike: else a + b - c falls on d. So the widest is as wide as this at least.
    const step = Math.min(this.guard.pairsHz, this.guard.triplesHz);
    while (count > 2 && apart + ((count * (count - 1)) / 2 - 1) * step > end - first) count--;
    return count;
  }

  /** What those that are fixed block. As `with` for one after the other, but each sum of two is looked at once, however many make it. */
  private around(fixed: readonly Fixed[]): State {
    const { guard } = this;
    const mixing = fixed.filter(({ mixes }) => mixes);
    const sums = sumsOf(mixing);
    const blocked = this.kinds.map(({ points, bandwidthHz, mixes }) => {
      const marks = new Uint8Array(points.length);
      const block = (hz: number, within: number) => this.mark(points, marks, hz, within);
      for (const x of fixed) block(x.hz, spacingHz(guard, x, { bandwidthHz }));
      for (const a of mixing) {
        for (const b of mixing) {
          if (a === b) continue;
          block(2 * a.hz - b.hz, guard.pairsHz);
          block(3 * a.hz - 2 * b.hz, guard.fifthHz);
        }
        // A sum that is made with it alone leaves the other, which is no product.
        for (const [sum, pairs] of sums) if (pairs.some((pair) => !pair.includes(a))) block(sum - a.hz, guard.triplesHz);
      }
      if (!mixes) return marks;
      for (const p of mixing) for (const v of fixed) if (p !== v) this.asParent(block, p, v);
      for (const v of fixed) {
        if (v.mixes) continue;
        for (const sum of sums.keys()) block(sum - v.hz, guard.triplesHz);
        for (const p of mixing) for (const q of mixing) if (p !== q) block(v.hz + q.hz - p.hz, guard.triplesHz);
      }
      return marks;
    });
    return { set: fixed, blocked };
  }

  /** As a state is once another is set. */
  private with({ set, blocked }: State, x: Fixed): State {
    const { guard } = this;
    const mixing = set.filter(({ mixes }) => mixes);
    const next = blocked.map((each) => each.slice());
    this.spend(blocked.reduce((sum, { length }) => sum + length, 0) / 100);
    for (const [index, { points, bandwidthHz, mixes }] of this.kinds.entries()) {
      const marks = next[index] as Uint8Array;
      const block = (hz: number, within: number) => this.block(points, marks, hz, within);
      block(x.hz, spacingHz(guard, x, { bandwidthHz }));
      if (x.mixes) {
        // Products that it makes with those before it.
        for (const [at, s] of mixing.entries()) {
          block(2 * x.hz - s.hz, guard.pairsHz);
          block(2 * s.hz - x.hz, guard.pairsHz);
          block(3 * x.hz - 2 * s.hz, guard.fifthHz);
          block(3 * s.hz - 2 * x.hz, guard.fifthHz);
          for (const t of mixing) if (t !== s) block(x.hz + s.hz - t.hz, guard.triplesHz);
          for (const t of mixing.slice(at + 1)) block(s.hz + t.hz - x.hz, guard.triplesHz);
        }
      }
      if (!mixes) continue;
      // Products that one more would make with it or with others, and that fall on it or on others.
      for (const s of set) {
        if (x.mixes) this.asParent(block, x, s);
        if (s.mixes) this.asParent(block, s, x);
      }
      // Where what they fall on mixes too, these are among the products above.
      for (const v of [...set, x]) {
        if (v.mixes) continue;
        for (const [at, p] of mixing.entries()) {
          if (v === x) {
            for (const q of mixing.slice(at + 1)) block(p.hz + q.hz - v.hz, guard.triplesHz);
            for (const q of mixing) if (q !== p) block(v.hz + q.hz - p.hz, guard.triplesHz);
          } else if (x.mixes) {
            block(p.hz + x.hz - v.hz, guard.triplesHz);
            block(v.hz + x.hz - p.hz, guard.triplesHz);
            block(v.hz + p.hz - x.hz, guard.triplesHz);
          }
        }
      }
    }
    return { set: [...set, x], blocked: next };
  }

  /** Where one more would make, with a parent p, a product of two that falls on v. */
  private asParent(block: (hz: number, within: number) => void, p: Fixed, v: Fixed): void {
    const { pairsHz, fifthHz } = this.guard;
    block((p.hz + v.hz) / 2, pairsHz / 2);
    if (!v.mixes) block(2 * p.hz - v.hz, pairsHz);
    block((v.hz + 2 * p.hz) / 3, fifthHz / 3);
    block((3 * p.hz - v.hz) / 2, fifthHz / 2);
  }

  private block(points: readonly number[], marks: Uint8Array, hz: number, within: number): void {
    this.spend(1);
    this.mark(points, marks, hz, within);
  }

  private mark(points: readonly number[], marks: Uint8Array, hz: number, within: number): void {
    for (let point = indexIn(points, hz - within); point < points.length && (points[point] as number) < hz + within; point++)
      if ((points[point] as number) > hz - within) marks[point] = 1;
  }

  private spend(work: number): void {
    this.work += work;
    if (this.work > this.mostWork) throw new Stopped();
  }
}
