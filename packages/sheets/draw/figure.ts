import { tidy } from '#engine';

/** A number as it is drawn: at most so many decimals, and a minus sign as it is printed. */
export function figure(value: number, decimals = 1): string {
  return tidy(value, decimals).replace('-', '−');
}
