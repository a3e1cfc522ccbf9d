/**
 * Two wires above earth, as what is between them and what they have in common.
 *
 * Of the voltages hot and cold against earth, `between` is hot - cold and `common` is (hot + cold) / 2. Of the currents,
 * `between` is half of hot - cold and `common` is hot + cold, so that the products add up to the same power. A symmetrical line
 * with symmetrical loads has nothing in common, and all is then as with one wire against earth, told by `between` alone.
 */
import { type Complex, minus, ONE, over, plus, scaled, times, ZERO } from './complex';

/** Volts, or an EMF. */
export interface Pair {
  readonly between: Complex;
  readonly common: Complex;
}

/** Ohms or siemens: a symmetric matrix of two by two, as every network of resistors, coils and capacitors has. */
export interface PairMatrix {
  readonly between: Complex;
  readonly mixed: Complex;
  readonly common: Complex;
}

export const NO_LOAD: PairMatrix = { between: ZERO, mixed: ZERO, common: ZERO };

export function voltsBetween(between: Complex): Pair {
  return { between, common: ZERO };
}

/** From one wire to the other, and nothing to earth; or of one wire against earth, where there is only one. */
export function onlyBetween(between: Complex): PairMatrix {
  return { between, mixed: ZERO, common: ZERO };
}

/** An impedance in series, half of it in each wire. */
export function halfInEach(whole: Complex): PairMatrix {
  return { between: whole, mixed: ZERO, common: scaled(whole, 0.25) };
}

/** A load from the hot wire to earth. */
export function fromHot(load: Complex): PairMatrix {
  return { between: scaled(load, 0.25), mixed: scaled(load, 0.5), common: load };
}

export function hotVolts({ between, common }: Pair): Complex {
  return plus(common, scaled(between, 0.5));
}

/** What is seen from the hot wire to earth. */
export function hotOhms({ between, mixed, common }: PairMatrix): Complex {
  return plus(plus(common, mixed), scaled(between, 0.25));
}

export function both(a: PairMatrix, b: PairMatrix): PairMatrix {
  return { between: plus(a.between, b.between), mixed: plus(a.mixed, b.mixed), common: plus(a.common, b.common) };
}

export function without(a: PairMatrix, b: PairMatrix): PairMatrix {
  return { between: minus(a.between, b.between), mixed: minus(a.mixed, b.mixed), common: minus(a.common, b.common) };
}

/** An EMF behind an impedance. */
export interface PairSource {
  readonly emf: Pair;
  readonly source: PairMatrix;
}

/** The same with a load on it, as seen by whatever else is plugged in: (1 + Z Y)⁻¹ E and (1 + Z Y)⁻¹ Z. */
export function loaded({ emf, source }: PairSource, load: PairMatrix): PairSource {
  if (isPlain(load) && isZero(source.mixed)) {
    const divided = plus(ONE, times(source.between, load.between));
    return {
      emf: { between: over(emf.between, divided), common: emf.common },
      source: { between: over(source.between, divided), mixed: ZERO, common: source.common },
    };
  }
  const { a, b, c, d, whole } = onePlus(source, load);
  const first = (x: Complex, y: Complex) => over(minus(times(d, x), times(b, y)), whole);
  const second = (x: Complex, y: Complex) => over(minus(times(a, y), times(c, x)), whole);
  return {
    emf: { between: first(emf.between, emf.common), common: second(emf.between, emf.common) },
    source: {
      between: first(source.between, source.mixed),
      mixed: first(source.mixed, source.common),
      common: second(source.mixed, source.common),
    },
  };
}

/** A load behind an impedance in series, as one load: Y (1 + Z Y)⁻¹. */
export function behind(series: PairMatrix, load: PairMatrix): PairMatrix {
  if (isPlain(load)) return onlyBetween(over(load.between, plus(ONE, times(load.between, series.between))));
  const { a, b, c, d, whole } = onePlus(series, load);
  return {
    between: over(minus(times(load.between, d), times(load.mixed, c)), whole),
    mixed: over(minus(times(load.mixed, a), times(load.between, b)), whole),
    common: over(minus(times(load.common, a), times(load.mixed, b)), whole),
  };
}

function isPlain({ mixed, common }: PairMatrix): boolean {
  return isZero(mixed) && isZero(common);
}

function isZero({ re, im }: Complex): boolean {
  return re === 0 && im === 0;
}

/** 1 + Z Y, row by row, and its determinant. */
function onePlus(z: PairMatrix, y: PairMatrix): { a: Complex; b: Complex; c: Complex; d: Complex; whole: Complex } {
  const a = plus(ONE, plus(times(z.between, y.between), times(z.mixed, y.mixed)));
  const b = plus(times(z.between, y.mixed), times(z.mixed, y.common));
  const c = plus(times(z.mixed, y.between), times(z.common, y.mixed));
  const d = plus(ONE, plus(times(z.mixed, y.mixed), times(z.common, y.common)));
  return { a, b, c, d, whole: minus(times(a, d), times(b, c)) };
}
