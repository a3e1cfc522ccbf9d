/** Spoilt rigs, the same at every run; `npm run fuzz` has as many as one likes. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { expect, it } from 'vitest';
import { root } from '../build';
import { cases } from '../thorough';
import { minimal } from './minimal';
import { randomOf, spoilt } from './mutate';

const CASES = cases(4_000, 120);

it('nothing hangs, stumbles, loses a letter or says nonsense', { timeout: 1_800_000 }, async () => {
  const fuzzing = spawn(process.execPath, [path.join(root, 'tests/fuzz/run.mjs'), '--cases', String(CASES), '--seed', '2024'], {
    cwd: root,
  });
  let told = '';
  for (const stream of [fuzzing.stdout, fuzzing.stderr]) {
    stream.on('data', (data) => {
      told += String(data);
    });
  }
  await once(fuzzing, 'close');
  expect(told).toMatch(new RegExp(`${CASES} of ${CASES} cases in .* 0 failed`));
});

it('a case is the same each time, and another each time', () => {
  const texts = ['rig "x"\nperformer ana\nsource voice is dynamic-mic by ana\n', 'gear iface is interface-8\ninput iface.1 takes voice\n'];
  const made = Array.from({ length: 50 }, (_, index) => spoilt(texts, randomOf(7, index)));
  expect(made).toEqual(Array.from({ length: 50 }, (_, index) => spoilt(texts, randomOf(7, index))));
  expect(new Set(made).size).toBeGreaterThan(40);
});

it('what fails is told in as few letters as show it', async () => {
  const text = 'rig "x"\n  rate 48 kHz\nperformer ana\nmix a for ana { voice 0 dB }\n';
  expect(await minimal(text, async (shorter) => /an.*vo/s.test(shorter))).toBe('anvo');
});
