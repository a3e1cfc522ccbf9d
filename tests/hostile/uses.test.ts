/** What `use` must not do: read outside its folder, run in a circle, or stop at a file that cannot be read. */
import { expect, test } from 'vitest';
import { analyse, Bench, expectSound, FOLDER } from './open';

test.each([
  '../secret.rig',
  '../../../../../../etc/passwd',
  'gear/../../secret.rig',
  '..\\secret.rig',
  'gear\\..\\..\\secret.rig',
  '/etc/passwd',
  '//server/share/x.rig',
  '\\\\server\\share\\x.rig',
  'C:\\rigs\\x.rig',
  'file:///etc/passwd',
  'https://example.invalid/x.rig',
  'memory:///secret.rig',
  'earloom:/library/microphones.rig',
])('%s is outside: a finding, and nothing there is read', async (path) => {
  const files = { 'memory:/secret.rig': 'model secret is dynamic-mic', [`${FOLDER}etc/passwd`]: 'no rig' };
  const bench = new Bench(files);
  const analysis = await bench.analyse(`use "${path}"\nrig "x"\nsource v is secret`);
  expectSound(analysis);
  expect(analysis.located.map(({ finding }) => finding.code)).toContain('use/outside');
  expect(analysis.located.map(({ finding }) => finding.code)).toContain('names/unknown');
  expect(bench.files.read.filter((address) => !address.startsWith(FOLDER))).toEqual([]);
});

test.each(['%2e%2e/secret.rig', '..%2fsecret.rig', '....//secret.rig', 'gear/./../shelf/../nowhere.rig', '\u2025/secret.rig'])(
  '%s is inside and not there',
  async (path) => {
    const bench = new Bench({ 'memory:/secret.rig': 'model secret is dynamic-mic' });
    const analysis = await bench.analyse(`use "${path}"\nrig "x"`);
    expect(analysis.located.map(({ finding }) => finding.code)).toContain('use/missing');
    expect(bench.files.read.filter((address) => !address.startsWith(FOLDER))).toEqual([]);
  },
);

test('files that use one another in a circle', async () => {
  const analysis = await analyse('use "a.rig"\nrig "x"\nsource v is from-b', {
    [`${FOLDER}a.rig`]: 'use "b.rig"\nuse "a.rig"\n',
    [`${FOLDER}b.rig`]: 'use "a.rig"\nmodel from-b is dynamic-mic\n',
  });
  expect(analysis.located.map(({ finding }) => finding.code)).not.toContain('names/unknown');
});

test('a chain of a thousand files', async () => {
  const files = Object.fromEntries(
    Array.from({ length: 1_000 }, (_, index) => [
      `${FOLDER}f${index}.rig`,
      index < 999 ? `use "f${index + 1}.rig"` : 'model last is dynamic-mic',
    ]),
  );
  const analysis = await analyse('use "f0.rig"\nrig "x"\nsource v is last', files);
  expect(analysis.located.map(({ finding }) => finding.code)).not.toContain('names/unknown');
});

test('models that are made from one another across files', async () => {
  const analysis = await analyse('use "a.rig"\nmodel mine is theirs\ngear g is mine\nrig "x"', {
    [`${FOLDER}a.rig`]: 'use "hostile-0.rig"\nmodel theirs is mine\n',
  });
  expectSound(analysis);
});

test('a used file that is no text, or empty, or only half a rig', async () => {
  const analysis = await analyse('use "bytes.rig"\nuse "empty.rig"\nuse "half.rig"\nrig "x"\nsource v is our-mic', {
    [`${FOLDER}bytes.rig`]: '\0\ufffd\u0007model {',
    [`${FOLDER}empty.rig`]: '',
    [`${FOLDER}half.rig`]: 'model our-mic is dynamic-mic {\n peak 110 dB SPL\nmodel',
  });
  expectSound(analysis);
  expect(analysis.located.map(({ finding }) => finding.code)).not.toContain('names/unknown');
});

test.each(['shelf', 'notes.txt', 'sub', '.rig/shelf', 'shelf.RIG'])(
  '%s is not called a rig: a finding, and it is not read',
  async (path) => {
    const bench = new Bench({ [`${FOLDER}shelf`]: 'model our-mic is dynamic-mic', [`${FOLDER}notes.txt`]: 'model our-mic is dynamic-mic' });
    const analysis = await bench.analyse(`use "${path}"\nrig "x"\nsource v is our-mic`);
    expectSound(analysis);
    expect(analysis.located.map(({ finding }) => finding.code)).toEqual(['text/not-readable', 'names/unknown']);
    expect(bench.files.read).toEqual([]);
  },
);

const BAND = `performer ada "Ada" at 0 m, 1 m
performer bo "Bo" at 1 m, 1 m
source voice "Voice" is dynamic-mic by ada
source drum "Drum" is dynamic-mic by bo
gear iface is interface-8 owned
gear pack is beltpack for ada hears iface
mix m mono for ada , bo { voice 0 dB drum 0 dB }
input iface.1 takes voice via passive-di
house 1 takes voice
output iface.phones1 carries m via headphone-amp
`.split('\n');

test('a band of which somebody stays away, with a line of it broken off at any word', async () => {
  for (const [at, line] of BAND.entries()) {
    const words = line.split(' ');
    for (let count = 0; count < words.length; count++) {
      const band = BAND.with(at, words.slice(0, count).join(' ')).join('\n');
      const analysis = await analyse('rig "x"\nuse "band.rig" whole without ada, house', {
        [`${FOLDER}band.rig`]: band,
      });
      expect(analysis.checked, band).toBeDefined();
    }
  }
});
