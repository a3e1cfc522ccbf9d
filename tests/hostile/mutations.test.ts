/** Whatever is done to a rig's text, its analysis ends without an exception and speaks of places that there are. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { root } from '../build';
import { generateRig } from '../generate';
import { Bench, expectSound, FOLDER } from './open';

const read = (name: string) => readFileSync(path.join(root, 'tests/checks', name), 'utf-8');
const SHELF = read('gear/our-shelf.rig');
const TEXTS = [read('tour.rig'), generateRig(60, 11), generateRig(110, 12), SHELF];

/** Words of the language, and things that are none. */
const WORDS = [
  ...[
    'rig',
    'use',
    'model',
    'gear',
    'performer',
    'source',
    'input',
    'house',
    'mix',
    'output',
    'is',
    'takes',
    'via',
    'for',
    'at',
    'on',
    'hears',
    'carries',
  ],
  ...[
    'mono',
    'stereo',
    'left',
    'own',
    'mic',
    'phantom',
    'shared',
    'from',
    'parallel',
    'transformer',
    'separate',
    'dB',
    'm',
    'SPL',
    'iface',
    'voice',
    'y-lead',
    'nobody',
  ],
  ...[
    '{',
    '}',
    '"',
    '“',
    '.',
    '..',
    ',',
    ':',
    '/',
    '%',
    '#',
    '\n',
    '\r\n',
    '-',
    '−',
    '1',
    '-3',
    '1,5',
    '999999999999',
    '0',
    '🎷',
    '\u202e',
    '\0',
    '\ud800',
    '(',
    '=',
  ],
];

type Step = { kind: 'delete' | 'insert' | 'swap' | 'repeat' | 'cut' | 'glue' | 'drop-line'; at: number; to: number; word: string };

const step: fc.Arbitrary<Step> = fc.record({
  kind: fc.constantFrom('delete', 'insert', 'swap', 'repeat', 'cut', 'glue', 'drop-line'),
  at: fc.nat(),
  to: fc.nat(),
  word: fc.constantFrom(...WORDS),
});

function mutate(text: string, { kind, at, to, word }: Step): string {
  const tokens: string[] = text.match(/\s+|[\p{L}\p{N}_-]+|[^\s]/gu) ?? [];
  if (tokens.length === 0) return word;
  const first = at % tokens.length;
  const second = to % tokens.length;
  switch (kind) {
    case 'delete':
      return tokens.toSpliced(first, 1 + (to % 3)).join('');
    case 'insert':
      return tokens.toSpliced(first, 0, ` ${word} `).join('');
    case 'swap':
      return tokens
        .with(first, tokens[second] as string)
        .with(second, tokens[first] as string)
        .join('');
    case 'repeat':
      return tokens.toSpliced(first, 0, ...tokens.slice(second, second + 12)).join('');
    case 'cut':
      return text.slice(0, at % (text.length + 1));
    case 'glue':
      return tokens.map((token, index) => (index >= first && index < first + 6 && /^\s/.test(token) ? '' : token)).join('');
    case 'drop-line': {
      const lines = text.split('\n');
      return lines.toSpliced(at % lines.length, 1).join('\n');
    }
  }
}

test('thousands of mutations', { timeout: 120_000 }, async () => {
  let bench = new Bench();
  let count = 0;
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...TEXTS), fc.array(step, { minLength: 1, maxLength: 8 }), async (text, steps) => {
      // Now and then a new one, for what was read stays in memory.
      if (count++ % 250 === 0) bench = new Bench({ [`${FOLDER}gear/our-shelf.rig`]: SHELF });
      expectSound(await bench.analyse(steps.reduce(mutate, text)));
    }),
    { numRuns: 2_500, seed: 20_240 },
  );
  expect(count).toBeGreaterThanOrEqual(2_500);
});

test('each line cut short anywhere', { timeout: 120_000 }, async () => {
  const text = TEXTS[0] as string;
  const bench = new Bench({ [`${FOLDER}gear/our-shelf.rig`]: SHELF });
  const lines = text.split('\n');
  for (const [index, line] of lines.entries()) {
    for (let end = line.length - 1; end > 0; end -= 3) expectSound(await bench.analyse(lines.with(index, line.slice(0, end)).join('\n')));
  }
});
