/** What holds of every comparison: tried on rigs that are changed at random. */
import { expect, it } from 'vitest';
import { applied, compare, type Moves, mirrored, stable } from '#compare';
import type { Finding } from '#engine';
import { randomFrom } from '../generate';
import { cases } from '../thorough';
import { changed, read, rewritten, TEXTS } from './open';

/** As many as one likes: `PAIRS=1000 npx vitest run tests/compare`. */
const PAIRS = Number(process.env.PAIRS) || cases(250, 14);

it('the moves made in the old rig give the new one, and back', { timeout: 600_000 }, async () => {
  const random = randomFrom(1);
  let moves = 0;
  for (let pair = 0; pair < PAIRS; pair++) {
    const text = TEXTS[pair % TEXTS.length] as string;
    const other = random() < 0.05 ? (TEXTS[Math.floor(random() * TEXTS.length)] as string) : text;
    const [before, after] = [await read(changed(text, random)), await read(changed(other, random))];
    const forth = compare(before, after);
    const back = compare(after, before);
    moves += forth.moves.moves.length;
    expect(asData(applied(forth.before.plain, forth.moves)), `pair ${pair}`).toEqual(asData(forth.after.plain));
    // Through JSON, as a program gets it.
    const sent = JSON.parse(JSON.stringify(forth.moves)) as Moves;
    expect(asData(applied(forth.before.plain, sent)), `pair ${pair} as JSON`).toEqual(asData(forth.after.plain));
    expect(back.moves, `pair ${pair} the other way round`).toEqual(mirrored(forth.moves));
    expect(asData(applied(back.before.plain, mirrored(forth.moves)))).toEqual(asData(back.after.plain));
    // What follows, too.
    expect(back.leads.length).toBe(forth.leads.length);
    expect(back.leads.map(({ what }) => what).sort()).toEqual(forth.leads.map(({ what }) => MIRROR[what]).sort());
    expect(sorted(back.leadCounts.map(({ more }) => more))).toEqual(sorted(forth.leadCounts.map(({ more }) => -more)));
    expect(back.findings.come.map(({ code }) => code).sort()).toEqual(forth.findings.gone.map(({ code }) => code).sort());
    expect(back.things.map((each) => each.after - each.before)).toEqual(forth.things.map((each) => each.before - each.after));
  }
  expect(moves).toBeGreaterThan(PAIRS);
});

it('nothing differs from itself, in whatever order and with whatever spaces and comments it is written', { timeout: 600_000 }, async () => {
  const random = randomFrom(2);
  let whole = 0;
  for (let time = 0; time < cases(120, 10); time++) {
    const text = changed(TEXTS[time % TEXTS.length] as string, random);
    const before = await read(text);
    const isWhole = before.findings.every(({ code }) => !/^(text|names|units|models)\//.test(code));
    whole += isWhole ? 1 : 0;
    for (const after of [before, await read(rewritten(text, random))]) {
      const { moves, leads, leadCounts, settings, house, things, findings } = compare(before, after);
      expect({ moves, leads, leadCounts, settings, house, things }).toEqual({
        moves: { renamed: [], moves: [] },
        leads: [],
        leadCounts: [],
        settings: [],
        house: [],
        things: [],
      });
      // Which of them follow from a name that is not known is judged by what stands around it.
      const codes = (all: readonly Finding[]) => all.map(({ code }) => code).filter((code) => isWhole || /^(text|names|units)/.test(code));
      expect([findings.come, findings.gone].map(codes)).toEqual([[], []]);
    }
  }
  expect(whole).toBeGreaterThan(5);
});

const MIRROR = { new: 'needless', needless: 'new', moved: 'moved', other: 'other' } as const;

function asData(plain: ReadonlyMap<string, unknown>): string[] {
  return [...plain].map(([key, entry]) => `${key} ${stable(entry)}`).sort();
}

function sorted(numbers: readonly number[]): number[] {
  return [...numbers].map((each) => each + 0).sort((a, b) => a - b);
}
