/**
 * The units a rig may be written in, and what each is worth in the unit the program reckons in.
 *
 * Levels are logarithms, so they convert by an offset; all else converts by a factor.
 * Source: 0 dBu is the voltage of 1 mW in 600 ohm, √0.6 V; 0 dBV is 1 V (definitions). 1 ft is 0.3048 m exactly.
 */

export type Dimension =
  | 'length' // m
  | 'resistance' // ohm
  | 'capacitance' // F
  | 'inductance' // H
  | 'current' // A
  | 'frequency' // Hz
  | 'time' // s
  | 'samples' // samples
  | 'voltage-level' // dBu
  | 'relative-level' // dB
  | 'sound-level' // dB SPL
  | 'sensitivity' // V/Pa for a microphone
  | 'earphone-sensitivity' // dB SPL at 1 mW
  | 'share' // per cent
  | 'money'; // in the written currency

interface UnitFacts {
  readonly dimension: Dimension;
  readonly factor?: number;
  readonly offset?: number;
}

/** dBu above dBV for the same voltage: 20 log10(1 / √0.6), about 2.218 dB. */
export const DBU_OF_0_DBV = -10 * Math.log10(0.6);

const UNITS: ReadonlyMap<string, UnitFacts> = new Map<string, UnitFacts>([
  ['m', { dimension: 'length' }],
  ['cm', { dimension: 'length', factor: 0.01 }],
  ['mm', { dimension: 'length', factor: 0.001 }],
  ['ft', { dimension: 'length', factor: 0.3048 }],
  ['in', { dimension: 'length', factor: 0.0254 }],
  ['ohm', { dimension: 'resistance' }],
  ['kohm', { dimension: 'resistance', factor: 1e3 }],
  ['Mohm', { dimension: 'resistance', factor: 1e6 }],
  ['pF', { dimension: 'capacitance', factor: 1e-12 }],
  ['nF', { dimension: 'capacitance', factor: 1e-9 }],
  ['H', { dimension: 'inductance' }],
  ['mH', { dimension: 'inductance', factor: 1e-3 }],
  ['mA', { dimension: 'current', factor: 1e-3 }],
  ['A', { dimension: 'current' }],
  ['Hz', { dimension: 'frequency' }],
  ['kHz', { dimension: 'frequency', factor: 1e3 }],
  ['MHz', { dimension: 'frequency', factor: 1e6 }],
  ['GHz', { dimension: 'frequency', factor: 1e9 }],
  ['ms', { dimension: 'time', factor: 1e-3 }],
  ['s', { dimension: 'time' }],
  ['min', { dimension: 'time', factor: 60 }],
  ['h', { dimension: 'time', factor: 3600 }],
  ['samples', { dimension: 'samples' }],
  ['dBu', { dimension: 'voltage-level' }],
  ['dBV', { dimension: 'voltage-level', offset: DBU_OF_0_DBV }],
  ['dB', { dimension: 'relative-level' }],
  ['dBSPL', { dimension: 'sound-level' }],
  ['mV/Pa', { dimension: 'sensitivity', factor: 1e-3 }],
  ['dBSPL/mW', { dimension: 'earphone-sensitivity' }],
  ['%', { dimension: 'share' }],
]);

/** Other ways people write a unit, in lower case without spaces. */
const ALIASES: ReadonlyMap<string, string> = new Map([
  ['metre', 'm'],
  ['metres', 'm'],
  ['meter', 'm'],
  ['meters', 'm'],
  ['foot', 'ft'],
  ['feet', 'ft'],
  ['inch', 'in'],
  ['inches', 'in'],
  ['ohms', 'ohm'],
  ['Ω', 'ohm'],
  ['ω', 'ohm'],
  ['kω', 'kohm'],
  ['kohms', 'kohm'],
  ['mohms', 'Mohm'],
  ['minutes', 'min'],
  ['mins', 'min'],
  ['minute', 'min'],
  ['hours', 'h'],
  ['hour', 'h'],
  ['hr', 'h'],
  ['sample', 'samples'],
  ['seconds', 's'],
  ['sec', 's'],
]);

const CASELESS: ReadonlyMap<string, string> = new Map([...UNITS.keys()].map((unit) => [unit.toLowerCase(), unit]));

/** A three-letter currency code in capitals (the shape of ISO 4217), which any price may be written in. */
const CURRENCY = /^[A-Z]{3}$/;

/** The unit as this table spells it, or undefined where no such unit is known. Spaces are not looked at. */
export function canonicalUnit(written: string): string | undefined {
  const unit = written.replace(/\s+/g, '');
  if (UNITS.has(unit) || CURRENCY.test(unit)) return unit;
  return ALIASES.get(unit) ?? ALIASES.get(unit.toLowerCase()) ?? CASELESS.get(unit.toLowerCase());
}

export function dimensionOf(unit: string): Dimension | undefined {
  return UNITS.get(unit)?.dimension ?? (CURRENCY.test(unit) ? 'money' : undefined);
}

/** The number in the unit the program reckons in (see `Dimension`). `unit` is canonical. */
export function toBase(value: number, unit: string): number {
  const facts = UNITS.get(unit);
  return value * (facts?.factor ?? 1) + (facts?.offset ?? 0);
}

/** The number in `unit` from one in the unit the program reckons in. The other way round of `toBase`. */
export function fromBase(base: number, unit: string): number {
  const facts = UNITS.get(unit);
  return (base - (facts?.offset ?? 0)) / (facts?.factor ?? 1);
}

/** The units of a dimension as they are written in a rig, the commonest first. */
export function unitsFor(dimension: Dimension): string[] {
  if (dimension === 'money') return ['EUR', 'USD', 'GBP'];
  return [...UNITS].filter(([, facts]) => facts.dimension === dimension).map(([unit]) => spokenUnit(unit));
}

/** A unit with the space that is usual in print: `dB SPL`, not `dBSPL`. */
export function spokenUnit(unit: string): string {
  return unit.replace('dBSPL', 'dB SPL');
}
