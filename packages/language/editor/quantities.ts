/** A figure in the other units that people use for it. */
import { hertz, tidy } from '#engine';
import { canonicalUnit, dimensionOf, fromBase, microphoneDbu, spokenUnit, toBase, voltsOfDbu } from '#rig';

/** What a figure stands beside, where that changes what it comes to. */
export interface Beside {
  readonly rateHz?: number;
  /** Of the earphones that a sensitivity is given for. */
  readonly impedanceOhm?: number;
}

/** In air as good as in vacuum, where it is exact by the definition of the metre. */
const LIGHT_M_PER_S = 299_792_458;
/** From here on a frequency is one of radio. */
const RADIO_HZ = 1e6;
/** Sound in air at 20 °C: handbook value, from memory. */
const SOUND_M_PER_S = 343;
const NOTES = ['C', 'C sharp', 'D', 'E flat', 'E', 'F', 'F sharp', 'G', 'G sharp', 'A', 'B flat', 'B'];

/** The same figure in other units, in words, the most useful first; empty where there is none, or no such unit. */
export function otherUnits(value: number, written: string, beside: Beside = {}): string[] {
  const unit = canonicalUnit(written);
  const dimension = unit && dimensionOf(unit);
  if (!unit || !dimension || !Number.isFinite(value)) return [];
  const base = toBase(value, unit);
  const inUnit = (other: string) => (other === unit ? [] : [`${figure(fromBase(base, other))} ${spokenUnit(other)}`]);
  // What is beyond all measure comes to nothing that could be said.
  if (dimension.endsWith('-level') && !Number.isFinite(10 ** (base / 20))) return [];
  if (dimension === 'sensitivity' && base <= 0) return [];
  switch (dimension) {
    case 'voltage-level':
      return [...inUnit('dBu'), ...inUnit('dBV'), volts(voltsOfDbu(base))];
    case 'relative-level':
      return [`${figure(10 ** (base / 20))} times the voltage`];
    case 'sound-level':
      return [`${figure(20e-6 * 10 ** (base / 20))} Pa`];
    case 'sensitivity':
      return [
        ...inUnit('mV/Pa'),
        ...(unit === 'dBV/Pa' ? [] : [`${tidy(20 * Math.log10(base), 1)} dBV/Pa`]),
        `${tidy(microphoneDbu(base, 94), 1)} dBu at 94 dB SPL`,
      ];
    case 'earphone-sensitivity':
      return beside.impedanceOhm
        ? [`${tidy(base + 20 * Math.log10(1 / Math.sqrt(beside.impedanceOhm / 1000)), 1)} dB SPL/V at ${figure(beside.impedanceOhm)} ohm`]
        : [];
    case 'length':
      return unit === 'ft' || unit === 'in' ? inUnit('m') : [...inUnit('m'), feet(base)];
    case 'resistance':
      return base >= 1e6 ? inUnit('kohm').concat(inUnit('Mohm')) : [...inUnit('ohm'), ...inUnit('kohm')];
    case 'capacitance':
      return [...inUnit('nF'), ...inUnit('pF')];
    case 'inductance':
      return [...inUnit('H'), ...inUnit('mH')];
    case 'current':
      return [...inUnit('mA'), ...inUnit('A')];
    case 'frequency':
      return [
        ...(unit === 'Hz' ? (base < 1000 ? [] : [hertz(base)]) : unit === 'kHz' ? inUnit('Hz') : inUnit(unit === 'GHz' ? 'MHz' : 'kHz')),
        ...note(base),
        ...wave(base),
      ];
    case 'time':
      if (base >= 60) return [...inUnit('min'), ...inUnit('h')];
      return base >= 1
        ? inUnit('min')
        : [...inUnit('ms'), ...(base > 0 && base < 0.1 ? [`sound goes ${figure(base * SOUND_M_PER_S)} m in that time`] : [])];
    case 'samples':
      return beside.rateHz ? [`${figure((base / beside.rateHz) * 1000)} ms at ${hertz(beside.rateHz)}`] : [];
    default:
      return [];
  }
}

/** Three significant figures or more, and never an exponent. */
function figure(value: number): string {
  if (value === 0 || Math.abs(value) >= 1000) return tidy(value, 0);
  return tidy(value, Math.min(9, Math.max(0, 2 - Math.floor(Math.log10(Math.abs(value))))));
}

function volts(v: number): string {
  if (v >= 1) return `${figure(v)} V`;
  return v >= 1e-3 ? `${figure(v * 1e3)} mV` : `${figure(v * 1e6)} µV`;
}

function feet(m: number): string {
  const inches = Math.round(Math.abs(m) / 0.0254);
  const sign = m < 0 ? '-' : '';
  const rest = inches % 12;
  return `${sign}${Math.floor(inches / 12)} ft${rest === 0 ? '' : ` ${rest} in`}`;
}

/** How long the wave of a radio is, and a quarter of it, as which many an aerial is made. */
function wave(hz: number): string[] {
  if (hz < RADIO_HZ) return [];
  const long = (m: number) => (m < 1 ? `${figure(m * 100)} cm` : `${figure(m)} m`);
  const m = LIGHT_M_PER_S / hz;
  return [`a wave of ${long(m)}, a quarter of it ${long(m / 4)}`];
}

/** The note nearest to a frequency, in equal temperament with A at 440 Hz; nothing outside a piano's range or well between notes. */
function note(hz: number): string[] {
  const semitones = 69 + 12 * Math.log2(hz / 440);
  const nearest = Math.round(semitones);
  if (!(nearest >= 21 && nearest <= 108) || Math.abs(semitones - nearest) > 0.1) return [];
  return [`the note ${NOTES[nearest % 12]}${Math.floor(nearest / 12) - 1}`];
}
