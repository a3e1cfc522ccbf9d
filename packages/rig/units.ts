/**
 * The units a rig may be written in, and what each is worth in the unit the program reckons in.
 *
 * Levels are logarithms, so they convert by an offset; all else converts by a factor. Volts become a level, and dBV/Pa a factor.
 * Source: 0 dBu is the voltage of 1 mW in 600 ohm, √0.6 V; 0 dBV is 1 V (definitions). 1 ft is 0.3048 m exactly. Prefixes: SI.
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
  | 'earphone-sensitivity-per-volt' // dB SPL at 1 V
  | 'power' // W
  | 'radio-level' // dBm
  | 'cells' // so many cells of a kind
  | 'share' // per cent
  | 'money'; // in the written currency

interface UnitFacts {
  readonly dimension: Dimension;
  readonly factor?: number;
  readonly offset?: number;
  /** Where one is given as a voltage and the other as decibels: 20 log10 of the one is the other. */
  readonly scale?: 'to-decibels' | 'from-decibels';
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
  ['dBSPL/V', { dimension: 'earphone-sensitivity-per-volt' }],
  ['W', { dimension: 'power' }],
  ['dBm', { dimension: 'radio-level' }],
  ['AA', { dimension: 'cells' }],
  ['AAA', { dimension: 'cells' }],
  ['%', { dimension: 'share' }],
]);

/** What data sheets have as well: it is read, and not proposed. */
const READ_TOO: ReadonlyMap<string, UnitFacts> = new Map<string, UnitFacts>([
  ['km', { dimension: 'length', factor: 1e3 }],
  ['mΩ', { dimension: 'resistance', factor: 1e-3 }],
  ['F', { dimension: 'capacitance' }],
  ['uF', { dimension: 'capacitance', factor: 1e-6 }],
  ['uH', { dimension: 'inductance', factor: 1e-6 }],
  ['uA', { dimension: 'current', factor: 1e-6 }],
  ['us', { dimension: 'time', factor: 1e-6 }],
  ['V', { dimension: 'voltage-level', offset: DBU_OF_0_DBV, scale: 'to-decibels' }],
  ['mV', { dimension: 'voltage-level', factor: 1e-3, offset: DBU_OF_0_DBV, scale: 'to-decibels' }],
  ['uV', { dimension: 'voltage-level', factor: 1e-6, offset: DBU_OF_0_DBV, scale: 'to-decibels' }],
  ['V/Pa', { dimension: 'sensitivity' }],
  ['dBV/Pa', { dimension: 'sensitivity', scale: 'from-decibels' }],
  ['mW', { dimension: 'power', factor: 1e-3 }],
  ['dBA', { dimension: 'sound-level' }],
  ['PP3', { dimension: 'cells' }],
  ['C-cell', { dimension: 'cells' }],
  ['D-cell', { dimension: 'cells' }],
  ['kW', { dimension: 'power', factor: 1e3 }],
  ['VA', { dimension: 'power' }],
  ['kVA', { dimension: 'power', factor: 1e3 }],
]);

/** Other ways people write a unit, in lower case without spaces. */
const ALIASES: ReadonlyMap<string, string> = new Map([
  ['db(a)', 'dBA'],
  ['dbspl(a)', 'dBA'],
  ['metre', 'm'],
  ['metres', 'm'],
  ['meter', 'm'],
  ['meters', 'm'],
  ['foot', 'ft'],
  ['feet', 'ft'],
  ['inch', 'in'],
  ['inches', 'in'],
  ['ohms', 'ohm'],
  ['MΩ', 'Mohm'],
  ['ω', 'ohm'],
  ['kω', 'kohm'],
  ['kohms', 'kohm'],
  ['mohms', 'Mohm'],
  ['M\u03C9', 'Mohm'],
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

/** What differs in capitals alone means those that are proposed. A letter by itself, such as a V, is more often a name. */
const CASELESS: ReadonlyMap<string, string> = new Map(
  [...[...READ_TOO.keys()].filter((unit) => unit.length > 1), ...UNITS.keys()].map((unit) => [unit.toLowerCase(), unit]),
);

/** A three-letter currency code in capitals (the shape of ISO 4217), which any price may be written in. */
const CURRENCY = /^[A-Z]{3}$/;

/**
 * What a unit may mean whose capitals leave open whether a thousandth or a million is meant: `mohm`, `MV`. Empty where they tell.
 * Radio apart: nothing in a rig is in thousandths of a hertz.
 */
export function unitsMeant(written: string): readonly string[] {
  const unit = plain(written).replace(/ohms$/i, 'ohm');
  if (factsOf(unit) || ALIASES.has(unit) || CURRENCY.test(unit)) return [];
  const small = CASELESS.get(unit.toLowerCase());
  // A capital M tells where it is not one capital among capitals.
  if (small === 'Mohm' || small === 'm\u03A9') return unit.startsWith('M') && unit !== unit.toUpperCase() ? [] : ['Mohm', 'm\u03A9'];
  const prefixed = small?.startsWith('m') && dimensionOf(small) === dimensionOf(small.slice(1));
  return small && prefixed && unit.startsWith('M') ? [small] : [];
}

/** The unit as this table spells it, or undefined where no such unit is known, or it could be two. Spaces are not looked at. */
export function canonicalUnit(written: string): string | undefined {
  const unit = plain(written);
  if (factsOf(unit) || CURRENCY.test(unit)) return unit;
  if (unitsMeant(written).length > 0) return undefined;
  return ALIASES.get(unit) ?? ALIASES.get(unit.toLowerCase()) ?? CASELESS.get(unit.toLowerCase());
}

/** Without spaces, and with one sign for micro and one for ohm, of the two that there are of each. */
function plain(written: string): string {
  return written
    .replace(/\s+/g, '')
    .normalize('NFKC')
    .replace(/^\u03BC/, 'u');
}

function factsOf(unit: string): UnitFacts | undefined {
  return UNITS.get(unit) ?? READ_TOO.get(unit);
}

export function dimensionOf(unit: string): Dimension | undefined {
  return factsOf(unit)?.dimension ?? (CURRENCY.test(unit) ? 'money' : undefined);
}

/** The number in the unit the program reckons in (see `Dimension`). `unit` is canonical. Not finite where there is none: of -1 V no level. */
export function toBase(value: number, unit: string): number {
  const { factor = 1, offset = 0, scale } = factsOf(unit) ?? {};
  if (scale === 'from-decibels') return 10 ** (value / 20) * factor;
  return (scale === 'to-decibels' ? 20 * Math.log10(value * factor) : value * factor) + offset;
}

/** The number in `unit` from one in the unit the program reckons in. The other way round of `toBase`. */
export function fromBase(base: number, unit: string): number {
  const { factor = 1, offset = 0, scale } = factsOf(unit) ?? {};
  if (scale === 'from-decibels') return 20 * Math.log10(base / factor);
  return (scale === 'to-decibels' ? 10 ** ((base - offset) / 20) : base - offset) / factor;
}

/** dB SPL at 1 mW of earphones that give so much at 1 V: 1 V makes 1000/R mW in R ohm (definition). */
export function perMilliwatt(dbSplPerVolt: number, impedanceOhm: number): number {
  return dbSplPerVolt - 10 * Math.log10(1000 / impedanceOhm);
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
