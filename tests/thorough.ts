/**
 * How much is looked at. `npm test` is for before a commit: of the slowest files it runs a part, the same at every run.
 * `npm run test:all` runs the whole.
 */
export const THOROUGH = process.env.EARLOOM_TESTS === 'all';

/** Of these files one test in so many, from the first on; the first line that fits counts. What starts a process, prints or draws takes longest. */
const ONE_IN: readonly [file: RegExp, every: number][] = [
  [/\/cli\//, 9],
  [/\/protocol\/(?!actions|edits|format|traffic)/, 6],
  [/\/protocol\/traffic/, 3],
  [/\/editor-services\/(completion|cures|fixes|refactor)/, 24],
  [/\/editor-services\/(allowing|format|hover|navigation)/, 5],
  [/\/checks\/(clauses|one-label)/, 6],
  [/\/sheets\/(bars|supply)/, 12],
  [/\/sheets\/labelsPrinted/, 16],
  [/\/sheets\/(all|draft|houseSheet|labels|order)/, 5],
  [/\/sheets\/signalFlow/, 16],
  [/\/sheets\/onePage/, 8],
  [/\/sheets\/screen/, 16],
  [/\/sheets\/(ifItFails|stage|text)/, 5],
  [/\/sheets\/tagged/, 12],
  [/\/sheets\/reach/, 4],
  [/\/sheets\/pdf/, 30],
  [/\/hostile\/(texts|special|uses|scan)/, 12],
  [/\/plan\/(properties|told)/, 6],
  [/\/house\//, 2],
  [/\/preview\//, 16],
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
