/**
 * Products: what two or three carriers make together where they meet in a transmitter or a receiver that is not quite linear. Those
 * near the carriers themselves are of odd order; the third of two, 2a - b, and of three, a + b - c, are the strongest, then
 * the fifth of two, 3a - 2b (arithmetic; ranks are common practice, no source). All frequencies are in Hz.
 */
import type { Guard } from '#rig';

/** `pair`: 2a - b. `triple`: a + b - c. `fifth`: 3a - 2b. */
export type Order = 'pair' | 'triple' | 'fifth';

/** What a carrier is to the reckoning. */
export interface Signal {
  readonly hz: number;
  /** Makes products with others: a digital carrier is taken to make none of note, a link that hops has no place at all. */
  readonly mixes: boolean;
}

export interface Product {
  readonly order: Order;
  readonly hz: number;
  /** The signals it is made of: a and b, or a, b and c, as indices. */
  readonly of: readonly number[];
}

/** How far a product must stay from a carrier, in Hz. */
export function guardOf(guard: Guard, order: Order): number {
  return order === 'pair' ? guard.pairsHz : order === 'triple' ? guard.triplesHz : guard.fifthHz;
}

/** How many products of the third order so many carriers make: n(n - 1) of two and n(n - 1)(n - 2)/2 of three. */
export function thirdOrderCount(carriers: number): number {
  return carriers * (carriers - 1) + (carriers * (carriers - 1) * (carriers - 2)) / 2;
}

/** Every product of some carriers: for few of them, as it goes with their cube. */
export function* productsOf(signals: readonly Signal[]): Generator<Product> {
  const mixing = signals.flatMap(({ mixes }, index) => (mixes ? [index] : []));
  const hz = (index: number) => (signals[index] as Signal).hz;
  for (const a of mixing) {
    for (const b of mixing) {
      if (a === b) continue;
      yield { order: 'pair', hz: 2 * hz(a) - hz(b), of: [a, b] };
      yield { order: 'fifth', hz: 3 * hz(a) - 2 * hz(b), of: [a, b] };
      if (b < a) continue;
      for (const c of mixing) if (c !== a && c !== b) yield { order: 'triple', hz: hz(a) + hz(b) - hz(c), of: [a, b, c] };
    }
  }
}

/** A product that falls nearer to a carrier than its guard. */
export interface Hit {
  readonly victim: number;
  readonly product: Product;
  readonly awayHz: number;
}

interface Sum {
  readonly hz: number;
  readonly a: number;
  readonly b: number;
}

/**
 * For each carrier the nearest product of each order that falls within its guard. a + b - c falls on d where a + b and c + d are
 * alike, so sums of two are sorted and neighbours looked at: the time goes with the square of the carriers, not with their cube.
 * `counts` says whose business a victim and the parents of a product are.
 */
export function hits(
  signals: readonly Signal[],
  guard: Guard,
  counts: (victim: number, of: readonly number[]) => boolean = () => true,
): Hit[] {
  const mixing = signals.flatMap(({ mixes }, index) => (mixes ? [index] : []));
  if (mixing.length < 2) return [];
  const hz = (index: number) => (signals[index] as Signal).hz;
  const twice = sorted(mixing.map((a) => ({ hz: 2 * hz(a), a, b: a })));
  const sums = sorted(mixing.flatMap((a, at) => mixing.slice(at + 1).map((b) => ({ hz: hz(a) + hz(b), a, b }))));
  const fifths = sorted(mixing.flatMap((a) => mixing.flatMap((b) => (a === b ? [] : [{ hz: 3 * hz(a) - 2 * hz(b), a, b }]))));
  const found: Hit[] = [];
  for (let victim = 0; victim < signals.length; victim++) {
    const best: Partial<Record<Order, Hit>> = {};
    const offer = (order: Order, of: readonly number[], product: number): void => {
      const awayHz = Math.abs(product - hz(victim));
      if (awayHz < (best[order]?.awayHz ?? guardOf(guard, order))) best[order] = { victim, product: { order, hz: product, of }, awayHz };
    };
    for (const c of mixing) {
      if (c === victim) continue;
      const sum = hz(c) + hz(victim);
      const pair = nearest(twice, sum, best.pair?.awayHz ?? guard.pairsHz, ({ a }) => a !== c && a !== victim && counts(victim, [a, c]));
      if (pair) offer('pair', [pair.a, c], pair.hz - hz(c));
      const triple = nearest(
        sums,
        sum,
        best.triple?.awayHz ?? guard.triplesHz,
        ({ a, b }) => a !== c && b !== c && a !== victim && b !== victim && counts(victim, [a, b, c]),
      );
      if (triple) offer('triple', [triple.a, triple.b, c], triple.hz - hz(c));
    }
    const fifth = nearest(fifths, hz(victim), guard.fifthHz, ({ a, b }) => a !== victim && b !== victim && counts(victim, [a, b]));
    if (fifth) offer('fifth', [fifth.a, fifth.b], fifth.hz);
    for (const order of ['pair', 'triple', 'fifth'] as const) {
      const hit = best[order];
      if (hit) found.push(hit);
    }
  }
  return found;
}

function sorted(sums: Sum[]): Sum[] {
  return sums.sort((x, y) => x.hz - y.hz || x.a - y.a || x.b - y.b);
}

/** The nearest to a frequency, less than `within` away, that is allowed. */
function nearest(sums: readonly Sum[], hz: number, within: number, allowed: (sum: Sum) => boolean): Sum | undefined {
  let low = 0;
  for (let high = sums.length; low < high; ) {
    const middle = (low + high) >> 1;
    if ((sums[middle] as Sum).hz < hz) low = middle + 1;
    else high = middle;
  }
  let down = low - 1;
  let up = low;
  for (;;) {
    const below = down >= 0 ? hz - (sums[down] as Sum).hz : Number.POSITIVE_INFINITY;
    const above = up < sums.length ? (sums[up] as Sum).hz - hz : Number.POSITIVE_INFINITY;
    if (Math.min(below, above) >= within) return undefined;
    const sum = sums[below <= above ? down-- : up++] as Sum;
    if (allowed(sum)) return sum;
  }
}
