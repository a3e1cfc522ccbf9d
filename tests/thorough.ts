/**
 * How much is looked at. `npm test` is for before a commit: of the slowest files it runs a part, the same at every run.
 * `npm run test:all` runs the whole.
 */
export const THOROUGH = process.env.EARLOOM_TESTS === 'all';

/** Of these files one test in so many, from the first on; the first line that fits counts. What starts a process, prints or draws takes longest. */
const ONE_IN: readonly [file: RegExp, every: number][] = [
  [/\/cli\//, 4],
  [/\/protocol\/(?!actions|edits|format|traffic)/, 3],
  [/\/protocol\/traffic/, 2],
  [/\/editor-services\/(completion|cures|fixes|refactor)/, 8],
  [/\/editor-services\/(format|hover|navigation)/, 3],
  [/\/checks\/(clauses|one-label)/, 3],
  [/\/sheets\/(bars|supply)/, 5],
  [/\/sheets\/(all|houseSheet|labels|order)/, 3],
  [/\/sheets\/signalFlow/, 4],
  [/\/sheets\/(onePage|screen)/, 8],
  [/\/sheets\/pdf/, 6],
  [/\/hostile\/(texts|special)/, 5],
  [/\/plan\/properties/, 2],
  [/\/house\//, 2],
  [/\/preview\//, 11],
];

export function oneIn(file: string): number {
  return THOROUGH ? 1 : (ONE_IN.find(([fits]) => fits.test(file.replaceAll('\\', '/')))?.[1] ?? 1);
}

/** So many cases of a random test, or steps of a search. */
export function cases(all: number, few: number): number {
  return THOROUGH ? all : few;
}

/** All of a table's rows, or a few of them from its whole length. */
export function some<T>(all: readonly T[], few: number): T[] {
  if (THOROUGH || few >= all.length) return [...all];
  return Array.from({ length: few }, (_, index) => all[Math.floor((index * all.length) / few)] as T);
}
