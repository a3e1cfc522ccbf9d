/** Sums of levels. */

/** The sum of sounds that have nothing to do with each other: 10 log10 of the sum of 10^(L/10). Undefined for none at all. */
export function powerSum(levelsDb: readonly number[]): number | undefined {
  const highest = Math.max(...levelsDb);
  if (!Number.isFinite(highest)) return undefined;
  return highest + 10 * Math.log10(levelsDb.reduce((sum, level) => sum + 10 ** ((level - highest) / 10), 0));
}
