/** Products, spacing and the choice of frequencies against arithmetic, brute force and published plans. */
import { describe, expect, it } from 'vitest';
import { choose, type Fixed, hits, productsOf, REGIONS, spacingHz, thirdOrderCount, type Wanted, whereOf } from '#engine';
import { DEFAULT_GUARD, type Guard } from '#rig';
import { randomFrom } from '../generate';

const MHZ = 1e6;
const signals = (...mhz: number[]) => mhz.map((each) => ({ hz: Math.round(each * MHZ), mixes: true }));
const third = (...mhz: number[]) =>
  [...productsOf(signals(...mhz))].filter(({ order }) => order !== 'fifth').map(({ hz }) => Math.round(hz / 1e3) / 1e3);

describe('products', () => {
  // Arithmetic: n(n - 1) and n(n - 1)(n - 2)/2. A trade-press article (ProSoundWeb, on RF output power) prints the same but 225 for 8, a slip.
  it.each([
    [2, 2],
    [3, 9],
    [4, 24],
    [5, 50],
    [6, 90],
    [7, 147],
    [8, 224],
    [32, 15_872],
  ])('%d carriers make %d of the third order', (carriers, count) => {
    expect(thirdOrderCount(carriers)).toBe(count);
    expect(third(...Array.from({ length: carriers }, (_, index) => 500 + index * index * 0.37))).toHaveLength(count);
  });

  // The worked example of a trade-press article, "Avoiding Intermod" (ProSoundWeb), which leaves out two of three.
  it('of 501 and 502 MHz are 500 and 503; with 505, 497, 498, 499, 508, 509 and, of three, 504 and 506', () => {
    expect(third(501, 502).sort()).toEqual([500, 503]);
    expect([...new Set(third(501, 502, 505))].sort()).toEqual([497, 498, 499, 500, 503, 504, 506, 508, 509].sort());
  });
});

/** Every product, tried one by one. */
function hitsByBruteForce(all: readonly { hz: number; mixes: boolean }[], guard: Guard): string[] {
  const best = new Map<string, number>();
  for (const { order, hz, of } of productsOf(all)) {
    const within = order === 'pair' ? guard.pairsHz : order === 'triple' ? guard.triplesHz : guard.fifthHz;
    for (const [victim, each] of all.entries()) {
      const away = Math.abs(hz - each.hz);
      if (of.includes(victim) || away >= within) continue;
      const key = `${victim} ${order}`;
      best.set(key, Math.min(away, best.get(key) ?? away));
    }
  }
  return [...best].map(([key, away]) => `${key} ${away}`).sort();
}

describe('what falls on a carrier', () => {
  it('is what trying every product finds, for 300 random sets', () => {
    const random = randomFrom(3);
    for (let round = 0; round < 300; round++) {
      const count = 2 + Math.floor(random() * 11);
      const width = [1.8, 6, 24][round % 3] as number;
      const all = Array.from({ length: count }, () => ({
        hz: 500e6 + Math.round((random() * width * MHZ) / 5e3) * 5e3,
        mixes: random() < 0.8,
      }));
      const found = hits(all, DEFAULT_GUARD).map(({ victim, product, awayHz }) => `${victim} ${product.order} ${awayHz}`);
      expect(found.sort()).toEqual(hitsByBruteForce(all, DEFAULT_GUARD));
      for (const { product } of hits(all, DEFAULT_GUARD)) {
        const [a = 0, b = 0, c = 0] = product.of.map((index) => all[index]?.hz ?? 0);
        expect(product.hz).toBe(product.order === 'pair' ? 2 * a - b : product.order === 'triple' ? a + b - c : 3 * a - 2 * b);
      }
    }
  });

  it('is found of 500 carriers without trying 62 million products', () => {
    const random = randomFrom(4);
    const all = Array.from({ length: 500 }, () => ({ hz: 470e6 + Math.round(random() * 9000) * 25e3, mixes: true }));
    const found = hits(all, DEFAULT_GUARD);
    // Of one in ten the nearest is looked for the slow way.
    const sums = all.flatMap(({ hz: a }, i) => all.slice(i + 1).map(({ hz: b }, j) => ({ hz: a + b, i, j: i + 1 + j })));
    for (let victim = 0; victim < 500; victim += 200) {
      const d = all[victim]?.hz ?? 0;
      let best = Number.POSITIVE_INFINITY;
      for (const [c, { hz }] of all.entries()) {
        if (c === victim) continue;
        for (const sum of sums)
          if (sum.i !== c && sum.j !== c && sum.i !== victim && sum.j !== victim) best = Math.min(best, Math.abs(sum.hz - hz - d));
      }
      const hit = found.find((each) => each.victim === victim && each.product.order === 'triple');
      expect(hit?.awayHz).toBe(best < DEFAULT_GUARD.triplesHz ? best : undefined);
    }
  });
});

const isClear = (all: readonly Fixed[], guard: Guard, ours: number): boolean => {
  for (const [i, a] of all.entries())
    for (const b of all.slice(i + 1))
      if ((i < ours || all.indexOf(b) < ours) && Math.abs(a.hz - b.hz) < spacingHz(guard, a, b)) return false;
  for (const { order, hz, of } of productsOf(all)) {
    const within = order === 'pair' ? guard.pairsHz : order === 'triple' ? guard.triplesHz : guard.fifthHz;
    for (const [victim, each] of all.entries()) {
      if (of.includes(victim) || (victim >= ours && of.every((index) => index >= ours))) continue;
      if (Math.abs(hz - each.hz) < within) return false;
    }
  }
  return true;
};

/** Every way to set, to leave and to leave out: the most that can be clear, and the fewest changes with which. */
function chooseByBruteForce(wanted: readonly Wanted[], fixed: readonly Fixed[], guard: Guard): { most: number; changes: number } {
  let best = { most: 0, changes: 0 };
  const visit = (index: number, set: readonly Fixed[], changes: number): void => {
    if (!isClear([...set, ...fixed], guard, set.length)) return;
    if (index === wanted.length) {
      if (set.length > best.most || (set.length === best.most && changes < best.changes)) best = { most: set.length, changes };
      return;
    }
    const { points, nowHz, bandwidthHz, mixes } = wanted[index] as Wanted;
    for (const hz of points) visit(index + 1, [...set, { hz, bandwidthHz, mixes }], changes + (hz === nowHz ? 0 : 1));
    visit(index + 1, set, changes);
  };
  visit(0, [], 0);
  return best;
}

describe('choosing', () => {
  it('finds as many, with as few changes, as trying everything, for 200 random sets', () => {
    const random = randomFrom(5);
    const pick = <T>(from: readonly T[]) => from[Math.floor(random() * from.length)] as T;
    for (let round = 0; round < 200; round++) {
      const raster = Array.from({ length: 40 }, (_, index) => 863.1e6 + index * 50e3);
      const some = () => [...new Set(Array.from({ length: 6 + Math.floor(random() * 4) }, () => pick(raster)))].sort((a, b) => a - b);
      const shared = some();
      const wanted = Array.from({ length: 2 + (round % 3) }, (): Wanted => {
        const points = random() < 0.6 ? shared : some();
        const nowHz = random() < 0.8 ? pick([...points, pick(raster)]) : undefined;
        return { bandwidthHz: pick([200e3, 200e3, 400e3]), mixes: random() < 0.8, points, nowHz };
      });
      const fixed = Array.from({ length: Math.floor(random() * 3) }, () => ({
        hz: pick(raster),
        bandwidthHz: 200e3,
        mixes: random() < 0.8,
      }));
      const { hz, changes, proven } = choose(wanted, fixed, DEFAULT_GUARD);
      const set = wanted.flatMap(({ bandwidthHz, mixes }, index) => {
        const at = hz[index];
        return at === undefined ? [] : [{ hz: at, bandwidthHz, mixes }];
      });
      expect(isClear([...set, ...fixed], DEFAULT_GUARD, set.length), JSON.stringify({ wanted, fixed, hz })).toBe(true);
      expect({ most: set.length, changes }, JSON.stringify({ wanted, fixed, hz })).toEqual(
        chooseByBruteForce(wanted, fixed, DEFAULT_GUARD),
      );
      expect(proven).toEqual({ most: true, fewest: true });
    }
  }, 60_000);

  const raster = (low: number, count: number) => Array.from({ length: count }, (_, index) => low + index * 25e3);
  const alike = (count: number, points: readonly number[]) =>
    Array.from({ length: count }, (): Wanted => ({ bandwidthHz: 200e3, mixes: true, points }));

  it('sets 16 on 1,000 points, all clear of each other and of all that they make', () => {
    const { hz, proven } = choose(alike(16, raster(470.1e6, 1000)), [], DEFAULT_GUARD);
    const set = hz.map((each) => ({ hz: each ?? 0, bandwidthHz: 200e3, mixes: true }));
    expect(isClear(set, DEFAULT_GUARD, 16)).toBe(true);
    expect(proven.most).toBe(true);
  });

  it('finds that between 863.1 and 864.9 MHz five are clear and six are not, and keeps what is clear', () => {
    const { hz, proven } = choose(alike(6, raster(863.1e6, 73)), [], DEFAULT_GUARD);
    expect(hz.filter((each) => each !== undefined)).toHaveLength(5);
    expect(proven.most).toBe(true);
    const now = [863.1e6, 863.4e6, 863.8e6];
    const kept = choose(
      alike(3, raster(863.1e6, 73)).map((each, index) => ({ ...each, nowHz: now[index] })),
      [],
      DEFAULT_GUARD,
    );
    expect(kept.hz).toEqual(now);
    expect(kept.changes).toBe(0);
  });

  // Ofcom, as quoted by a hire firm (read 2026-11-29): "Typically up to 4 frequencies can be used together. For example, 863.1, 863.7, 864.1 and 864.9 MHz".
  it('finds a published plan for 863 to 865 MHz clear of the third order', () => {
    const plan = signals(863.1, 863.7, 864.1, 864.9).map((each) => ({ ...each, bandwidthHz: 200e3 }));
    expect(isClear(plan, { ...DEFAULT_GUARD, fifthHz: 0 }, 4)).toBe(true);
  });

  it('says so where it is stopped', () => {
    const { proven } = choose(alike(40, raster(470.1e6, 1500)), [], DEFAULT_GUARD, 20_000);
    expect(proven.most).toBe(false);
  });
});

describe('ranges', () => {
  it('have a source and the day it was read, and go upwards', () => {
    for (const { ranges } of REGIONS) {
      for (const each of ranges) {
        expect(each.lowHz).toBeLessThan(each.highHz);
        expect(each.source.length).toBeGreaterThan(5);
        if (each.source.includes('from memory')) expect(each.read).toBeUndefined();
        else expect(each.read).toMatch(/^\d{4}-\d{2}-\d{2}$/);
      }
      expect(ranges.map(({ lowHz }) => lowHz)).toEqual(ranges.map(({ lowHz }) => lowHz).toSorted((a, b) => a - b));
    }
  });

  const free = (settings: { region?: string; country?: string }) => {
    const where = whereOf(settings);
    return typeof where === 'string'
      ? where
      : where.ranges.filter(({ licence }) => licence === 'none').map(({ lowHz, highHz }) => [lowHz / MHZ, highHz / MHZ]);
  };

  // 47 CFR 15.236, revised 1 September 2021: "the bands 54-72 MHz, 76-88 MHz, 174-216 MHz, 470-608 MHz and 614-698 MHz", of which (FCC's guide) 614-616 and 657-663 are left.
  it('of the United States are those of 47 CFR 15.236', () => {
    const ranges = free({ region: 'US' });
    for (const each of [
      [54, 72],
      [76, 88],
      [174, 216],
      [470, 608],
      [614, 616],
      [657, 663],
    ])
      expect(ranges).toContainEqual(each);
  });

  // ACMA, "Not many sleeps to go": "520-694 MHz and 1790-1800 MHz".
  it('of Australia are those that the ACMA names', () =>
    expect(free({ country: 'AU' })).toEqual([
      [520, 694],
      [1790, 1800],
      [2400, 2483.5],
    ]));

  it('of a country of the CEPT are the recommended ones, and of one that is not known, not known', () => {
    expect(free({ country: 'SI' })).toEqual([
      [863, 865],
      [2400, 2483.5],
    ]);
    expect(free({ country: 'BR' })).toBe('unknown');
    expect(free({ region: 'US', country: 'MX' })).toBe('unknown');
    expect(free({})).toBe('unstated');
  });
});
