/**
 * How far figures go: what is beyond is a slip, and nothing is drawn or reckoned with it. The bounds are wide, so that no real thing is left
 * out, and narrow enough that no sum of theirs is ever beyond all numbers. Common practice, no source.
 */
import type { Position } from './rig';
import type { Dimension } from './units';

/** Across or back from the middle of the front edge: the desk of a large field is a few hundred metres away. */
export const MOST_PLACE_M = 1000;

/** Wide or deep: no stage that people play on is as large. */
export const MOST_STAGE_M = 200;

export function isPlace({ x, y }: Position): boolean {
  return Math.abs(x) <= MOST_PLACE_M && Math.abs(y) <= MOST_PLACE_M;
}

export function isStage({ width, depth }: { readonly width: number; readonly depth: number }): boolean {
  return width > 0 && depth > 0 && width <= MOST_STAGE_M && depth <= MOST_STAGE_M;
}

export interface Extent {
  /** Of the figure without its sign, in the unit the program reckons in; nought is below `least`, and may be meant. */
  readonly least: number;
  readonly most: number;
  /** The same in words; of a length up to its end, which is told in the unit of the rig. */
  readonly says: string;
  readonly upToM?: number;
}

export const EXTENTS: Readonly<Record<Dimension, Extent>> = {
  length: { least: 0, most: MOST_PLACE_M, says: 'no more than', upToM: MOST_PLACE_M },
  resistance: { least: 1e-3, most: 1e11, says: 'from 0.001 ohm to 100000 Mohm' },
  capacitance: { least: 1e-15, most: 1e-2, says: 'from 0.001 pF to 0.01 F' },
  inductance: { least: 1e-9, most: 1e5, says: 'from 0.000001 mH to 100000 H' },
  current: { least: 1e-9, most: 1e4, says: 'from 0.000001 mA to 10000 A' },
  frequency: { least: 1e-2, most: 1e12, says: 'from 0.01 Hz to 1000 GHz' },
  time: { least: 1e-9, most: 3.6e7, says: 'from 0.000001 ms to 10000 h' },
  samples: { least: 1, most: 1e6, says: 'from 1 to 1000000' },
  'voltage-level': { least: 0, most: 300, says: 'from -300 to 300 dBu' },
  'relative-level': { least: 0, most: 300, says: 'from -300 to 300 dB' },
  // 194 dB SPL is a sound whose troughs are empty of air.
  'sound-level': { least: 0, most: 200, says: 'from -200 to 200 dB SPL' },
  sensitivity: { least: 1e-9, most: 1e3, says: 'from 0.000001 to 1000000 mV/Pa' },
  'earphone-sensitivity': { least: 0, most: 300, says: 'from -300 to 300 dB SPL/mW' },
  'earphone-sensitivity-per-volt': { least: 0, most: 300, says: 'from -300 to 300 dB SPL/V' },
  'radio-level': { least: 0, most: 200, says: 'from -200 to 200 dBm' },
  power: { least: 1e-9, most: 1e6, says: 'from 0.000001 mW to 1000 kW' },
  cells: { least: 1, most: 100, says: 'from 1 to 100' },
  share: { least: 0, most: 100, says: 'from 0 to 100 %' },
  money: { least: 0, most: 1e9, says: 'no more than 1000000000' },
};

export function isWithin(value: number, { least, most }: Extent): boolean {
  return value === 0 || (Math.abs(value) >= least && Math.abs(value) <= most);
}

/** Of ports, lines, mixes and channels. */
export const MOST_COUNTED = 9999;
