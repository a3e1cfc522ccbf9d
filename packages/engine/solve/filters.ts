/** Where a pickup's sound ends: at the bottom against what loads it, at the top against its lead. */

/** Where a capacitive source into a resistance falls by 3 dB: 1 / (2 pi R C), in Hz. A lead's capacitance adds to the source's. */
export function cornerHz(capacitanceF: number, ohm: number): number {
  return 1 / (2 * Math.PI * ohm * capacitanceF);
}

/** What a first-order high-pass takes away at a frequency, in dB: positive. */
export function highPassLossDb(corner: number, hz: number): number {
  return 10 * Math.log10(1 + (corner / hz) ** 2);
}

/** A coil with its resistance, and a capacitor and a resistor across it: a pickup, its lead and what it is plugged into. */
export interface Coil {
  readonly ohm: number;
  readonly henry: number;
  readonly farad: number;
  readonly loadOhm: number;
}

/**
 * Where its level is 3 dB (half the power) below that of low notes, in Hz; infinite where it never is. From
 * |1 + (R + jwL)(1/Rload + jwC)|² = 2 (1 + R/Rload)², a quadratic in w².
 */
export function topEndHz({ ohm, henry, farad, loadOhm }: Coil): number {
  const low = 1 + ohm / loadOhm;
  const square = (henry * farad) ** 2;
  const linear = (ohm * farad + henry / loadOhm) ** 2 - 2 * henry * farad * low;
  const root = Math.sqrt(linear ** 2 + 4 * square * low ** 2);
  // The same solution twice, each without taking nearly equal numbers from each other.
  const omegaSquared = linear > 0 ? (2 * low ** 2) / (linear + root) : (root - linear) / (2 * square);
  return Number.isNaN(omegaSquared) ? Number.POSITIVE_INFINITY : Math.sqrt(omegaSquared) / (2 * Math.PI);
}

/** How far below that of low notes its level is at a frequency, in dB: below nought where the coil and the lead ring. */
export function topEndLossDb({ ohm, henry, farad, loadOhm }: Coil, hz: number): number {
  const omega = 2 * Math.PI * hz;
  const low = 1 + ohm / loadOhm;
  const re = low - omega ** 2 * henry * farad;
  const im = omega * (ohm * farad + henry / loadOhm);
  return 20 * Math.log10(Math.hypot(re, im) / low);
}
