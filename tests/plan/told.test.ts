/** A plan as it is told: the same at every run, byte for byte, and in whole words. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { changesOf, plan } from '#plan';
import { planSheet, renderSheet } from '#sheets';
import { some } from '../thorough';
import { rigToPlan } from './made';
import { now, open, solver } from './open';

const file = (name: string) => readFileSync(join(import.meta.dirname, name), 'utf8');

const RIGS: readonly (readonly [name: string, text: string])[] = [
  ['the usual rig', file('rigs/usual.rig')],
  ['the street band anew', file('../../examples/street.rig')],
  ...[1, 2, 3, 4].map(
    (seed) => [`made rig ${seed}`, rigToPlan({ sources: 3 + 2 * seed, seed, people: 2, needs: true, budget: 120 })] as const,
  ),
];

async function whatIsTold(text: string): Promise<string> {
  // Read anew each time: nothing that was remembered of the first may be of use to the second.
  const { checked, offers } = await open(text);
  const made = await plan(checked, { offers, solver: await solver(), now, afresh: true, frontier: true });
  if (!made) throw new Error('Time ran out.');
  expect(made.proven).toBe(true);
  return `${renderSheet(planSheet(made), 'text', { width: 1000 })}\n${JSON.stringify(changesOf(made), null, 1)}`;
}

describe('a plan', () => {
  it.each(some(RIGS, 3))(
    'of %s is the same at every run',
    async (_, text) => {
      expect(await whatIsTold(text)).toBe(await whatIsTold(text));
    },
    120_000,
  );

  it('says of each step what money buys: whom it serves, or what is better', async () => {
    const lines = (await whatIsTold(file('rigs/usual.rig'))).split('\n');
    const steps = lines
      .slice(lines.indexOf('What money buys') + 3)
      .filter((line) => /^ *\d+ EUR /.test(line))
      .map((line) => line.trim().split(/ {2,}/));
    expect(steps.length).toBeGreaterThan(4);
    expect(steps.map(([, , serves]) => serves)).not.toContain('the same, better');
    // Which of the two is the first to be served, nobody chooses.
    expect(
      steps
        .slice(1, 3)
        .map(([, , serves]) => serves)
        .sort(),
    ).toEqual(['Noemi’s ears', 'Pavlo’s ears']);
    expect(steps[2]?.slice(0, 2)).toEqual(['50 EUR', '2 headphone amplifiers (for Pavlo and Ruta)']);
    expect(steps[3]?.[2]).toBe('the same, and less is found wrong with the lines');
  }, 120_000);

  it('leaves nothing wrong to spare the house a lead to re-plug', async () => {
    const told = await whatIsTold(file('../../examples/first.rig'));
    expect(told).toMatch(/Hurdy-gurdy +Passive DI out +On Interface 1\.\.8, more would be found wrong\./);
    expect(told).toContain('Nothing: the rig stays as it is.');
  }, 60_000);

  it('says what is wrong with a line of the input that it has come to', async () => {
    const told = await whatIsTold(`# Invented.
rig "Far off"
performer ada "Ada" at 0 m, 2 m
source voice "Voice" is dynamic-mic by ada
source harp "Harp" is preamp-pickup by ada at -5 m, 2 m
gear iface "Interface" is interface-8-mic at 1 m, 3 m owned
input iface.1 takes voice
`);
    expect(told).toMatch(/Interface 2 +Harp .*To look at: Harp to Interface 2 is 15 m of unbalanced lead/);
  }, 60_000);

  it('takes a source by what is written first where another would be no better, and says so', async () => {
    const text = `rig "Two ways" # Invented.
gear iface "Interface" is interface-8-mic owned
source dayan "Dayan" is dynamic-mic or clip-on-mic
`;
    const told = await whatIsTold(text);
    expect(told).toContain('by a clip-on microphone, more of what is written would change.');
    expect(told).not.toContain('set-way');
  });

  const TWO = `# Invented.
rig "Nobody's mix"
performer ada "Ada" at 0 m, 2 m
performer bo "Bo" at 1 m, 2 m
source voice "Voice" is dynamic-mic by ada
source harp "Harp" is preamp-pickup by bo
gear iface "Interface" is interface-8-mic at 1 m, 3 m owned
mix ada mono for ada { voice 0 dB  harp -3 dB }
mix all mono for house { voice 0 dB  harp 0 dB }
`;

  it('says who has no mix, and what to write', async () => {
    expect((await whatIsTold(TWO)).replace(/\s+/g, ' ')).toContain(
      'Bo has no mix, and hears only what the room gives. Write what is to be heard, such as "mix bo mono for bo { harp 0 dB }", and plan again.',
    );
    expect(await whatIsTold(`${TWO}mix bo mono for bo { harp 0 dB }\n`)).not.toContain('no mix');
  });

  it('brings what the audience hears to our own loudspeakers, and says where there is no house', async () => {
    expect(await whatIsTold(`${TWO}house ours\n`)).toMatch(/Interface 1 +all +our loudspeakers/);
    const none = await whatIsTold(`${TWO}house none\n`);
    expect(none).toContain('write "house ours"');
    expect(none).not.toContain('carries all');
  });

  it('where nothing makes a mix, says what to write', async () => {
    expect(await whatIsTold(TWO.replace(/gear iface.*\n/, ''))).toMatch(
      /Voice +must +Nothing makes a mix: write a piece of gear that does, such as "gear iface/,
    );
  });

  it('promises of money only what it does', async () => {
    const sources = Array.from(
      { length: 6 },
      (_, at) => `source s${at} "Sound ${at}" is dynamic-mic by ada\nhouse ${at + 1} takes s${at}\n`,
    );
    const text = `# Invented.
rig "Six on four"
  budget 0 EUR
performer ada "Ada" at 0 m, 2 m
${sources.join('')}gear iface "Interface" is interface-4 at 1 m, 3 m owned
mix ada mono for ada { ${sources.map((_, at) => `s${at} 0 dB`).join('  ')} }
output iface.phones carries ada
`;
    expect((await whatIsTold(text)).replace(/\s+/g, ' ')).toContain('With 2 Y-leads, for 20 EUR, two more musts would be served.');
  });
});
