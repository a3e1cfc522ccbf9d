/** Lines matched to inputs, against trying every way there is. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { match } from '#engine';

/** The largest number that can be matched, by trying everything. */
function mostByBruteForce(wishes: readonly (readonly number[])[], at = 0, taken: ReadonlySet<number> = new Set()): number {
  if (at === wishes.length) return 0;
  let best = mostByBruteForce(wishes, at + 1, taken);
  for (const right of wishes[at] ?? []) {
    if (!taken.has(right)) best = Math.max(best, 1 + mostByBruteForce(wishes, at + 1, new Set([...taken, right])));
  }
  return best;
}

const graph = fc
  .integer({ min: 1, max: 6 })
  .chain((rights) => fc.array(fc.uniqueArray(fc.integer({ min: 0, max: rights - 1 }), { maxLength: rights }), { maxLength: 6 }));

describe('matching', () => {
  it('is as large as can be, and a matching', () => {
    fc.assert(
      fc.property(graph, (wishes) => {
        const { right } = match(wishes);
        const placed = right.filter((r) => r !== undefined);
        expect(new Set(placed).size).toBe(placed.length);
        for (const [left, r] of right.entries()) if (r !== undefined) expect(wishes[left]).toContain(r);
        expect(placed.length).toBe(mostByBruteForce(wishes));
      }),
      { numRuns: 500 },
    );
  });

  // Hall's theorem (P. Hall, 1935): all can be placed exactly where every set of lines can have at least as many inputs as it has lines.
  it('names a set that has too few to choose from wherever one is left over', () => {
    fc.assert(
      fc.property(graph, (wishes) => {
        const { right, crowded, contested } = match(wishes);
        const leftOver = right.flatMap((r, left) => (r === undefined ? [left] : []));
        const choices = new Set(crowded.flatMap((left) => wishes[left] ?? []));
        expect([...choices].sort((a, b) => a - b)).toEqual([...contested]);
        for (const left of leftOver) expect(crowded).toContain(left);
        if (leftOver.length === 0) expect(crowded).toEqual([]);
        else expect(choices.size).toBe(crowded.length - leftOver.length);
      }),
      { numRuns: 500 },
    );
  });
});
