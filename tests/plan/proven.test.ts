/** The programme and its solver, against trying everything, and against another solver. */
import { describe, expect, it } from 'vitest';
import { AIMS, formulate, lexicographic, prepare } from '#plan';
import { randomFrom } from '../generate';
import { cases } from '../thorough';
import { byBruteForce, COMPARED, combinations } from './bruteForce';
import { rigToPlan } from './made';
import { now, open, solver } from './open';
import { otherSolver } from './otherSolver';

/** How many rigs: `PLANS=500` for as many. */
const rigs = (all: number, few: number) => Number(process.env.PLANS) || cases(all, few);

const limits = () => ({ until: now() + 120_000, now });

describe('a plan of a small rig', () => {
  it('reaches in every aim what the best of all combinations reaches', async () => {
    const highs = await solver();
    const wanted = rigs(200, 20);
    let compared = 0;
    for (let seed = 1; compared < wanted; seed++) {
      const random = randomFrom(seed);
      const people = seed % 3 === 0 ? 1 + Math.floor(random() * 2) : 0;
      const sources = (people > 0 ? 2 : 3) + Math.floor(random() * 4);
      const devices = [['interface-2', 'interface-4', 'interface-8', 'interface-8-mic'][Math.floor(random() * 4)] ?? ''];
      const text = rigToPlan({
        sources,
        seed,
        people,
        devices,
        needs: true,
        boxes: Math.floor(random() * 3),
        budget: Math.floor(random() * 12) * 10,
      });
      const { checked, offers } = await open(text);
      const { asking } = await prepare(checked, { offers: offers.filter((_, index) => (index + seed) % 4 === 0) });
      if (combinations(asking) > 60_000) continue;
      compared += 1;
      const { programme, aims } = formulate({ ...asking, cuts: [] });
      const best = lexicographic(highs, programme, aims, limits());
      const reached = COMPARED.map((name) => best?.reached.find((each) => each.name === name)?.value);
      expect(best?.proven, text).toBe(true);
      expect(reached, text).toEqual(byBruteForce(asking));
    }
  }, 3_600_000);
});

describe('a plan of a larger rig', () => {
  it('reaches in every aim what another solver reaches', async () => {
    const highs = await solver();
    const wanted = rigs(120, 6);
    let [compared, tried] = [0, 0];
    for (let seed = 1; compared < wanted; seed++) {
      const random = randomFrom(seed);
      const sources = 7 + Math.floor(random() * 6);
      const budget = Math.floor(random() * 20) * 10;
      const text = rigToPlan({ sources, seed, people: 0, devices: ['interface-8-mic'], needs: true, budget });
      const { checked, offers } = await open(text);
      const { asking } = await prepare(checked, { offers: offers.filter((_, index) => (index + seed) % 3 === 0) });
      const order = AIMS.filter((name) => name !== 'order');
      const { programme, aims } = formulate({ ...asking, cuts: [] }, order);
      const one = lexicographic(highs, programme, aims, limits());
      expect(one?.proven, text).toBe(true);
      tried += 1;
      const other = lexicographic(otherSolver, programme, aims, { until: now() + 5_000, now });
      // The other is slower by far: what it cannot prove in time says nothing, and is not counted.
      if (!other?.proven) continue;
      compared += 1;
      expect(
        one?.reached.map(({ value }) => value),
        text,
      ).toEqual(other.reached.map(({ value }) => value));
    }
    console.info(`Compared ${compared} of ${tried} rigs.`);
    expect(compared / tried).toBeGreaterThan(0.5);
  }, 3_600_000);
});
