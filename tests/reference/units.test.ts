/** Volts, dBu, dBV and sound pressure against their definitions. */
import Qty from 'js-quantities';
import { describe, expect, it } from 'vitest';
import {
  canonicalUnit,
  DB_SPL_OF_1_PA,
  DBU_OF_0_DBV,
  dbuOfVolts,
  dimensionOf,
  fromBase,
  microphoneDbu,
  perMilliwatt,
  toBase,
  unitsMeant,
  voltsOfDbu,
} from '#rig';

describe('levels of voltage', () => {
  // Definition: 0 dBu is the voltage of 1 mW in 600 ohm; 0 dBV is 1 V. Rounded values as printed in handbooks, from memory.
  it.each([
    [0, 0.7746],
    [4, 1.228],
    [-20, 0.07746],
    [2.218, 1],
    [24, 12.28],
  ])('%d dBu is %d V', (dbu, volts) => {
    expect(voltsOfDbu(dbu) / volts).toBeCloseTo(1, 3);
    expect(dbuOfVolts(volts)).toBeCloseTo(dbu, 2);
  });

  it('0 dBu puts 1 mW into 600 ohm', () => {
    expect(voltsOfDbu(0) ** 2 / 600).toBeCloseTo(1e-3, 12);
  });

  // Definition of dBV; -10 dBV is the consumer line level, from memory.
  it('-10 dBV is 0.3162 V and -7.78 dBu', () => {
    const dbu = toBase(-10, 'dBV');
    expect(voltsOfDbu(dbu)).toBeCloseTo(0.3162, 4);
    expect(dbu).toBeCloseTo(-7.78, 2);
    expect(DBU_OF_0_DBV).toBeCloseTo(2.218, 3);
    expect(fromBase(dbu, 'dBV')).toBeCloseTo(-10, 12);
  });

  it('100 W in 8 ohm is 28.3 V and 31 dBu', () => {
    // By arithmetic: √(100 W · 8 ohm).
    expect(dbuOfVolts(Math.sqrt(800))).toBeCloseTo(31.2, 1);
  });
});

describe('sound pressure', () => {
  // Reference pressure 20 µPa: ISO 1683, from memory. Quoted as 94 dB in every microphone's data sheet.
  it('1 Pa is 93.98 dB SPL', () => {
    expect(DB_SPL_OF_1_PA).toBeCloseTo(93.98, 2);
  });

  it('a microphone of 2 mV/Pa gives 2 mV at 1 Pa, and ten times that 20 dB louder', () => {
    expect(voltsOfDbu(microphoneDbu(2e-3, DB_SPL_OF_1_PA))).toBeCloseTo(2e-3, 12);
    expect(voltsOfDbu(microphoneDbu(2e-3, DB_SPL_OF_1_PA + 20))).toBeCloseTo(20e-3, 12);
  });
});

describe('other units', () => {
  // 1 ft is 0.3048 m exactly (international foot, 1959); 1 in is a twelfth of it.
  it('feet, inches and prefixes', () => {
    expect(toBase(10, 'ft')).toBeCloseTo(3.048, 12);
    expect(toBase(12, 'in')).toBeCloseTo(toBase(1, 'ft'), 12);
    expect(toBase(2.2, 'kohm')).toBeCloseTo(2200, 9);
    expect(toBase(863.1, 'MHz')).toBeCloseTo(863.1e6, 3);
    expect(toBase(2, 'nF')).toBeCloseTo(2e-9, 18);
  });

  it.each(['m', 'ft', 'ohm', 'kohm', 'dBu', 'dBV', 'nF', 'MHz', 'min', 'mA', 'mV/Pa'])('%s goes there and back', (unit) => {
    expect(canonicalUnit(unit)).toBe(unit);
    expect(fromBase(toBase(12.5, unit), unit)).toBeCloseTo(12.5, 9);
  });

  // SI prefixes (SI Brochure, 9th edition, table 7). Both signs for micro, both for ohm; megohm and milliohm are not one.
  it.each([
    ['0.5', 'uF', 0.5e-6],
    ['0.5', '\u00B5F', 0.5e-6],
    ['0.5', '\u03BCF', 0.5e-6],
    ['470', 'pF', 470e-12],
    ['10', 'k\u03A9', 10e3],
    ['10', 'k\u2126', 10e3],
    ['1', 'M\u03A9', 1e6],
    ['50', 'm\u03A9', 0.05],
    ['2.4', 'GHz', 2.4e9],
    ['250', 'cm', 2.5],
    ['250', '\u00B5s', 250e-6],
  ])('%s %s', (value, written, base) => {
    expect(toBase(Number(value), canonicalUnit(written) as string) / base).toBeCloseTo(1, 12);
  });
});

describe('what data sheets give otherwise', () => {
  // By definition: u dBu = 20 log10(U / √0.6 V). 0.775 V as 0 dBu and 1.23 V as +4 dBu: handbook values, from memory.
  it.each([
    [0.775, 'V', 0],
    [1.23, 'V', 4.02],
    [1.2, 'V', 3.8],
    [7.75, 'mV', -40],
    [775, '\u03BCV', -60],
  ])('%d %s as a level', (value, written, dbu) => {
    const unit = canonicalUnit(written) as string;
    expect(toBase(value, unit)).toBeCloseTo(dbu, 1);
    expect(toBase(value, unit)).toBeCloseTo(20 * Math.log10((value * { V: 1, mV: 1e-3, uV: 1e-6 }[unit as 'V']) / Math.sqrt(0.6)), 9);
    expect(fromBase(toBase(value, unit), unit)).toBeCloseTo(value, 9);
  });

  it('there is no level of no voltage', () => {
    for (const volts of [0, -1]) expect(Number.isFinite(toBase(volts, 'V'))).toBe(false);
  });

  // A-weighted levels are in decibels of the same 20 µPa (IEC 61672-1): levels in the ears and self-noise are given so.
  it.each(['dBA', 'dba', 'dB(A)', 'dB (A)', 'dB SPL (A)'])('96 %s is a level of sound', (written) => {
    const unit = canonicalUnit(written) as string;
    expect(dimensionOf(unit)).toBe('sound-level');
    expect(toBase(96, unit)).toBe(96);
  });

  // By definition: 0 dBV/Pa is 1 V/Pa. Pairs as data sheets print them side by side, from memory.
  it.each([
    [-54, 2],
    [-34, 20],
    [-40, 10],
  ])('%d dBV/Pa is %d mV/Pa', (dbv, millivolts) => {
    expect(toBase(dbv, 'dBV/Pa') / toBase(millivolts, 'mV/Pa')).toBeCloseTo(1, 2);
    expect(fromBase(toBase(dbv, 'dBV/Pa'), 'dBV/Pa')).toBeCloseTo(dbv, 9);
  });

  // By arithmetic: 1 V in R ohm is 1/R W, 1000/R mW.
  it.each([
    [32, 14.95],
    [16, 17.96],
    [1000, 0],
  ])('at 1 V earphones of %d ohm get %d dB more than at 1 mW', (ohm, more) => {
    expect(110 - perMilliwatt(110, ohm)).toBeCloseTo(more, 2);
    expect(perMilliwatt(110, ohm)).toBeCloseTo(110 - 10 * Math.log10((1 / ohm) * 1000), 9);
  });
});

// Against a general library of units (js-quantities), which knows nothing of ours: what each is worth in the unit that we reckon in.
/** It takes an m before the sign for ohm for a metre. */
const THEIRS: Readonly<Record<string, string>> = { 'm\u03A9': 'mohm' };

describe('the table, by a library of units', () => {
  it.each([
    ['m', 'm'],
    ['cm', 'm'],
    ['mm', 'm'],
    ['km', 'm'],
    ['ft', 'm'],
    ['in', 'm'],
    ['ohm', 'ohm'],
    ['kohm', 'ohm'],
    ['Mohm', 'ohm'],
    ['m\u03A9', 'ohm'],
    ['k\u2126', 'ohm'],
    ['F', 'F'],
    ['uF', 'F'],
    ['nF', 'F'],
    ['pF', 'F'],
    ['H', 'H'],
    ['mH', 'H'],
    ['uH', 'H'],
    ['A', 'A'],
    ['mA', 'A'],
    ['uA', 'A'],
    ['Hz', 'Hz'],
    ['kHz', 'Hz'],
    ['MHz', 'Hz'],
    ['GHz', 'Hz'],
    ['s', 's'],
    ['ms', 's'],
    ['us', 's'],
    ['min', 's'],
    ['h', 's'],
    ['V/Pa', 'V/Pa'],
    ['mV/Pa', 'V/Pa'],
    ['mW', 'W'],
    ['W', 'W'],
    ['kW', 'W'],
  ])('%s', (written, base) => {
    const unit = canonicalUnit(written) as string;
    expect(toBase(2.5, unit) / Qty(2.5, THEIRS[written] ?? written).to(base).scalar).toBeCloseTo(1, 12);
  });

  it.each(['V', 'mV', 'uV'])('%s, as a level', (unit) => {
    expect(voltsOfDbu(toBase(2.5, unit)) / Qty(2.5, unit).to('V').scalar).toBeCloseTo(1, 12);
  });
});

describe('what could be a thousandth or a million', () => {
  // A small m is milli, a capital M is mega: SI Brochure, 9th edition, table 7.
  it.each([
    ['mohm', ['Mohm', 'm\u03A9']],
    ['mohms', ['Mohm', 'm\u03A9']],
    ['MOHM', ['Mohm', 'm\u03A9']],
    ['mOhm', ['Mohm', 'm\u03A9']],
    ['MV', ['mV']],
    ['MW', ['mW']],
    ['MV/Pa', ['mV/Pa']],
    ['MA', ['mA']],
  ])('%s is asked about', (written, meant) => {
    expect(canonicalUnit(written)).toBeUndefined();
    expect(unitsMeant(written)).toEqual(meant);
  });

  it.each([
    ['Mohm', 'Mohm'],
    ['MOhm', 'Mohm'],
    ['Mohms', 'Mohm'],
    ['M\u2126', 'Mohm'],
    ['m\u2126', 'm\u03A9'],
    ['mhz', 'MHz'],
    ['M', 'm'],
    ['Min', 'min'],
    ['KOHM', 'kohm'],
    ['mV', 'mV'],
  ])('%s is %s', (written, unit) => {
    expect(unitsMeant(written)).toEqual([]);
    expect(canonicalUnit(written)).toBe(unit);
  });
});
