/** Lines matched to inputs, against trying every way there is. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { match, shortages } from '#engine';
import { cases } from '../thorough';

type Wishes = readonly (readonly number[])[];

/** The largest number that can be matched, by trying everything. */
function mostByBruteForce(wishes: Wishes, at = 0, taken: ReadonlySet<number> = new Set()): number {
  if (at === wishes.length) return 0;
  let best = mostByBruteForce(wishes, at + 1, taken);
  for (const right of wishes[at] ?? []) {
    if (!taken.has(right)) best = Math.max(best, 1 + mostByBruteForce(wishes, at + 1, new Set([...taken, right])));
  }
  return best;
}

const wanted = (wishes: Wishes, lefts: readonly number[]) => new Set(lefts.flatMap((left) => wishes[left] ?? []));

/** The size of the smallest set that has fewer to choose from than it has members, by looking at every set there is. */
function smallestByBruteForce(wishes: Wishes): number | undefined {
  const own = wishes.map((list) => list.reduce((bits, right) => bits | (1 << right), 0));
  const members = (bits: number) => bits.toString(2).replaceAll('0', '').length;
  const wants = [0];
  let least: number | undefined;
  for (let set = 1; set < 1 << wishes.length; set++) {
    // What is wanted by a set is what is wanted without its first member, and by that one.
    wants[set] = (wants[set & (set - 1)] as number) | (own[31 - Math.clz32(set & -set)] as number);
    const size = members(set);
    if (size > members(wants[set] as number) && (least === undefined || size < least)) least = size;
  }
  return least;
}

const graphs = (mostLefts: number, mostRights: number) =>
  fc
    .integer({ min: 1, max: mostRights })
    .chain((rights) => fc.array(fc.uniqueArray(fc.integer({ min: 0, max: rights - 1 }), { maxLength: rights }), { maxLength: mostLefts }));

/** Few kinds and many of each, as with real gear: microphones, instruments, lines. */
const alike = fc
  .tuple(
    fc.array(fc.uniqueArray(fc.integer({ min: 0, max: 6 }), { minLength: 1, maxLength: 5 }), { minLength: 1, maxLength: 4 }),
    fc.array(fc.nat(), { maxLength: 11 }),
  )
  .map(([kinds, picks]) => picks.map((pick) => kinds[pick % kinds.length] as number[]));

/** More different lists than are all tried: thirteen lines at least, no two alike. */
const varied = fc.uniqueArray(fc.uniqueArray(fc.integer({ min: 0, max: 11 }), { minLength: 1, maxLength: 3 }), {
  minLength: 13,
  maxLength: 15,
  selector: (list) => list.toSorted((a, b) => a - b).join(),
});

describe('matching', () => {
  it('is as large as can be, and a matching', () => {
    fc.assert(
      fc.property(graphs(6, 6), (wishes) => {
        const { right, stuck } = match(wishes);
        const placed = right.filter((r) => r !== undefined);
        expect(new Set(placed).size).toBe(placed.length);
        for (const [left, r] of right.entries()) if (r !== undefined) expect(wishes[left]).toContain(r);
        expect(placed.length).toBe(mostByBruteForce(wishes));
        expect(stuck.length).toBe(wishes.length - placed.length);
      }),
      { numRuns: cases(500, 150) },
    );
  });

  it('is stuck on sets within which no smaller one has too few to choose from', () => {
    fc.assert(
      fc.property(graphs(8, 5), (wishes) => {
        const { right, stuck } = match(wishes);
        const left = right.flatMap((r, index) => (r === undefined ? [index] : []));
        for (const [index, rights] of stuck.entries()) {
          // Whoever holds one of them, and the one that got none.
          const set = [left[index] as number, ...right.flatMap((r, l) => (r !== undefined && rights.includes(r) ? [l] : []))];
          expect(smallestByBruteForce(set.map((l) => wishes[l] ?? []))).toBe(rights.length + 1);
        }
      }),
      { numRuns: cases(500, 150) },
    );
  });
});

// Hall's theorem (P. Hall, 1935): all can be placed exactly where every set of lines can have at least as many inputs as it has lines.
describe('shortages', () => {
  const holds = (wishes: Wishes) => {
    const found = shortages(wishes);
    // None where all fit, and at least one where not.
    expect(found.length > 0).toBe(mostByBruteForce(wishes) < wishes.length);
    for (const { lefts, rights } of found) {
      expect(lefts.length).toBeGreaterThan(rights.length);
      const choices = wanted(wishes, lefts);
      for (const right of choices) expect(rights).toContain(right);
      expect(choices.size).toBe(rights.length);
      // Everybody who can have nothing else is named; who can have nothing at all, apart.
      for (const [left, list] of wishes.entries()) {
        if (list.length > 0 === rights.length > 0 && list.every((right) => rights.includes(right))) expect(lefts).toContain(left);
      }
    }
    const named = new Set(found.flatMap(({ lefts }) => lefts));
    const fought = new Set(found.flatMap(({ rights }) => rights));
    // Together they are all that is too much: as many as a largest matching leaves over.
    expect(named.size - fought.size).toBe(wishes.length - mostByBruteForce(wishes));
    // The rest fits beside them, without anything that they fight over.
    const rest = wishes.flatMap((list, left) => (named.has(left) ? [] : [list.filter((right) => !fought.has(right))]));
    expect(mostByBruteForce(rest)).toBe(rest.length);
    return found;
  };

  it.each([
    ['any lines', graphs(8, 6)],
    ['lines of few kinds', alike],
  ])('of %s begin with the smallest set there is', (_, graph) => {
    fc.assert(
      fc.property(graph, (wishes) => {
        const [first] = holds(wishes);
        expect(first && first.rights.length + 1).toBe(smallestByBruteForce(wishes));
      }),
      { numRuns: cases(500, 150) },
    );
  });

  it('of many kinds begin with a set that has no smaller one within', () => {
    fc.assert(
      fc.property(varied, (wishes) => {
        const [first] = shortages(wishes);
        expect(first !== undefined).toBe(smallestByBruteForce(wishes) !== undefined);
        if (first) expect(smallestByBruteForce(first.lefts.map((left) => wishes[left] ?? []))).toBe(first.rights.length + 1);
      }),
      { numRuns: 200 },
    );
  });

  it('tell two that share nothing apart, and one that holds another whole', () => {
    const mic = [0, 1];
    const line = [4, 5];
    expect(shortages([mic, line, mic, line, mic, line])).toEqual([
      { lefts: [0, 2, 4], rights: [0, 1] },
      { lefts: [1, 3, 5], rights: [4, 5] },
    ]);
    const either = [0, 1, 2];
    expect(shortages([mic, mic, mic, either, either])).toEqual([
      { lefts: [0, 1, 2], rights: [0, 1] },
      { lefts: [0, 1, 2, 3, 4], rights: [0, 1, 2] },
    ]);
  });
});
