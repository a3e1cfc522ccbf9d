/**
 * The largest clear set of frequencies against a general solver, GLPK (the GNU Linear Programming Kit): a variable of nought or one for each point
 * of the raster, and a row for each two, three or four that cannot all stand.
 */
import loadGlpk from 'glpk.js/node';
import { expect, it } from 'vitest';
import { choose, type Wanted } from '#engine';
import { DEFAULT_GUARD } from '#rig';
import { randomFrom } from '../generate';

const WIDTH_HZ = 200e3;

/** Which points cannot all stand: too close, or a product of the others within the guard of one of them. */
function clashes(points: readonly number[]): number[][] {
  const { carriersHz, pairsHz, triplesHz, fifthHz } = DEFAULT_GUARD;
  const found = new Map<string, number[]>();
  const add = (...of: number[]) => {
    const sorted = [...new Set(of)].sort((a, b) => a - b);
    found.set(sorted.join(), sorted);
  };
  const hz = (index: number) => points[index] as number;
  const all = points.map((_, index) => index);
  for (const a of all)
    for (const b of all) {
      if (a === b) continue;
      if (Math.abs(hz(a) - hz(b)) < Math.max(carriersHz, WIDTH_HZ)) add(a, b);
      for (const v of all) {
        if (v === a || v === b) continue;
        if (Math.abs(2 * hz(a) - hz(b) - hz(v)) < pairsHz || Math.abs(3 * hz(a) - 2 * hz(b) - hz(v)) < fifthHz) add(a, b, v);
        for (const c of all) if (c !== a && c !== b && c !== v && Math.abs(hz(a) + hz(b) - hz(c) - hz(v)) < triplesHz) add(a, b, c, v);
      }
    }
  return [...found.values()];
}

it('is as large as GLPK finds it, for 200 random sets', async () => {
  const glpk = await loadGlpk();
  const random = randomFrom(11);
  const sizes = new Set<number>();
  for (let round = 0; round < 200; round++) {
    const wide = [73, 121, 241][round % 3] as number;
    const points = [...new Set(Array.from({ length: 10 }, () => 863.1e6 + Math.floor(random() * wide) * 25e3))].sort((a, b) => a - b);
    const { result } = glpk.solve(
      {
        name: 'clear',
        objective: { direction: glpk.GLP_MAX, name: 'set', vars: points.map((_, index) => ({ name: `x${index}`, coef: 1 })) },
        subjectTo: [
          { name: 'some', vars: points.map((_, index) => ({ name: `x${index}`, coef: 1 })), bnds: { type: glpk.GLP_LO, lb: 0, ub: 0 } },
          ...clashes(points).map((of, row) => ({
            name: `row${row}`,
            vars: of.map((index) => ({ name: `x${index}`, coef: 1 })),
            bnds: { type: glpk.GLP_UP, lb: 0, ub: of.length - 1 },
          })),
        ],
        binaries: points.map((_, index) => `x${index}`),
      },
      { msglev: glpk.GLP_MSG_OFF, presol: true, mipgap: 0 },
    );
    expect(result.status).toBe(glpk.GLP_OPT);
    const wanted = points.map((): Wanted => ({ bandwidthHz: WIDTH_HZ, mixes: true, points }));
    const { hz, proven } = choose(wanted, [], DEFAULT_GUARD);
    const set = hz.filter((each) => each !== undefined).length;
    expect({ set, proven: proven.most }, points.join()).toEqual({ set: Math.round(result.z), proven: true });
    sizes.add(set);
  }
  // They are not all alike.
  expect(sizes.size).toBeGreaterThan(2);
}, 60_000);
