/** Figures as they are printed on a sheet. */
import { type Lengths, lengthText } from '#engine';
import type { Settings } from '#rig';

/** Sums of levels end in 5.999…: what is meant is 6. */
const ROUNDING = 1e-6;

export function wholeDown(value: number): number {
  return noMinusNought(Math.floor(value + ROUNDING));
}

export function whole(value: number): number {
  return noMinusNought(Math.round(value));
}

export function tenth(value: number): number {
  return noMinusNought(Math.round(value * 10) / 10);
}

function noMinusNought(value: number): number {
  return value === 0 ? 0 : value;
}

/** Digits behind the point of a place on the stage: to a centimetre, or to a tenth of a foot. */
export function placeDigits({ inFeet }: Lengths): number {
  return inFeet ? 1 : 2;
}

/** `10 m`; beyond the longest lead that can be had, so many of it joined: `2 × 30 m`. */
export function leadLength(lengthM: number, settings: Settings): string {
  const { count, eachM } = stock(lengthM, settings);
  const each = lengthText(eachM, settings);
  return count > 1 ? `${count} × ${each}` : each;
}

/** The leads of stock that make up a length. */
export function stock(lengthM: number, { lengthsM }: Settings): { readonly count: number; readonly eachM: number } {
  const longest = lengthsM.at(-1);
  if (longest === undefined || lengthM <= longest) return { count: 1, eachM: lengthM };
  return { count: Math.round(lengthM / longest), eachM: longest };
}
