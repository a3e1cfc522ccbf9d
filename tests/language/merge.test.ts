/** A file in the middle of a merge: one finding, the first state of it is read, and nothing of it is written over. */
import { EmptyFileSystem } from 'langium';
import { expect, it } from 'vitest';
import { createRigCore } from '#language';
import { format } from '#language/format';
import { Bench } from '../hostile/open';

const HEAD = `rig "Wet Lantern"
performer una
source voice is dynamic-mic by una
gear iface is interface-2
`;
const TAIL = `
mix una mono for una { voice 0 dB }
output iface.phones carries una
`;
const FIRST = 'input iface.1   takes voice';
const OTHER = 'input iface.2   takes   voice via y-lead\nsource more is nothing-known';

const TEXTS: Readonly<Record<string, string>> = {
  'two states': `${HEAD}<<<<<<< HEAD\n${FIRST}\n=======\n${OTHER}\n>>>>>>> side\n${TAIL}`,
  'three states': `${HEAD}<<<<<<< HEAD\n${FIRST}\n||||||| 1a2b3c4\nhouse what\n=======\n${OTHER}\n>>>>>>> side\n${TAIL}`,
  'lines that end as on Windows': `${HEAD}<<<<<<< HEAD\n${FIRST}\n=======\n${OTHER}\n>>>>>>> side\n${TAIL}`.replaceAll('\n', '\r\n'),
  'a quote that is open in the other state': `${HEAD}<<<<<<< HEAD\n${FIRST}\n=======\nsource x "open\nmodel m {\n>>>>>>> side\n${TAIL}`,
  'one that is settled but for a mark': `${HEAD}${FIRST}\n>>>>>>> side\n${TAIL}`,
};

const bench = new Bench();

it.each(Object.entries(TEXTS))('is one finding: %s', async (_, text) => {
  const { located, lowered } = await bench.analyse(text);
  expect(located.map(({ finding }) => finding.code)).toEqual(['text/merge-marks']);
  expect(lowered.rig.inputs.map(({ id }) => id)).toEqual(['input:iface.1']);
  expect(lowered.rig.mixes.size).toBe(1);
});

it('counts them, in one finding', async () => {
  const text = `${HEAD}<<<<<<< HEAD\n${FIRST}\n=======\n>>>>>>> side\n<<<<<<< HEAD\n=======\n${OTHER}\n>>>>>>> side\n${TAIL}`;
  const { located } = await bench.analyse(text);
  expect(located.map(({ finding }) => [finding.code, finding.figures])).toEqual([['text/merge-marks', { count: 2 }]]);
});

it.each(Object.entries(TEXTS))('is set in columns without a letter lost: %s', (_, text) => {
  const { text: set } = format(createRigCore(EmptyFileSystem).Rig, text);
  const letters = (of: string) => of.replace(/\s+/g, ' ');
  expect(letters(set)).toBe(letters(text));
  // The other state stays as it is.
  if (text.includes(OTHER)) expect(set).toContain(OTHER);
});
