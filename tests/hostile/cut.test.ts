/** Wherever a line of a rig stops, its analysis ends without an exception and speaks of places that there are. Other mutations: tests/fuzz. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { test } from 'vitest';
import { root } from '../build';
import { some } from '../thorough';
import { Bench, expectSound, FOLDER } from './open';

const read = (name: string) => readFileSync(path.join(root, 'tests/checks', name), 'utf-8');
const SHELF = read('gear/our-shelf.rig');

test('each line cut short anywhere', { timeout: 120_000 }, async () => {
  const text = read('tour.rig');
  const bench = new Bench({ [`${FOLDER}gear/our-shelf.rig`]: SHELF });
  const lines = text.split('\n');
  for (const [index, line] of some([...lines.entries()], 20)) {
    for (let end = line.length - 1; end > 0; end -= 3) expectSound(await bench.analyse(lines.with(index, line.slice(0, end)).join('\n')));
  }
});
