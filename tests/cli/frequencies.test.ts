/** `earloom frequencies`, as a process: what it chooses, scans good and bad, and what it refuses. */
import { chmodSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { Folder } from '../protocol/folder';
import { earloom } from './earloom';

const RIG = `rig "Two Kettles"  region EU
source voice "Voice" is wireless-mic on 863.4 MHz
source harp "Harp" is wireless-mic on 863.4 MHz
gear tx "Transmitter" is in-ear-transmitter on 864 MHz
`;

const run = (files: Record<string, string>, ...words: string[]) => earloom(['frequencies', ...words], { cwd: new Folder(files).path });

test('moves as few as it can, and says so', () => {
  const { status, stdout } = run({ 'a.rig': RIG }, 'a.rig');
  expect(status).toBe(0);
  expect(stdout).toContain('Three sets, clear of each other and of all that they make together, with one change.');
  expect(stdout).toContain('Fewer changes do not do: tried out.');
  expect(stdout.match(/stays/g)).toHaveLength(2);
  expect(stdout).toContain('no permission');
});

test('keeps clear of what a scan shows', () => {
  const scan = [
    'MHz,dBm',
    ...Array.from({ length: 81 }, (_, at) => `${(863 + at * 0.025).toFixed(3)},${at > 8 && at < 24 ? -60 : -105}`),
  ].join('\n');
  const { status, stdout } = run({ 'a.rig': RIG, 'room.csv': scan }, 'a.rig', '--scan', 'room.csv');
  expect(status).toBe(0);
  expect(stdout).toContain('Kept clear of one range above -85 dBm in room.csv: 863.2125 to 863.5875 MHz.');
  for (const [, mhz] of stdout.matchAll(/on (\d+(?:\.\d+)?) MHz {2}/g)) expect(Math.abs(Number(mhz) - 863.4)).toBeGreaterThan(0.28);
});

test('says so where a scan does not reach to what is chosen', () => {
  const low = 'rig "Low"  region EU  licensed\nmodel low is wireless-mic { tunes 470..500 MHz }\nsource voice "Voice" is low on 480 MHz\n';
  const { stdout } = run({ 'a.rig': low, 'room.csv': '479.9,-60\n480,-50\n480.1,-60\n' }, 'a.rig', '--scan', 'room.csv');
  expect(stdout).toMatch(/instead of 480 MHz, outside the scan, which does not say whether it is free: scan there too$/m);
  // The scan of the rig itself counts as well, and what it reaches over is not said to be outside.
  const said = run({ 'a.rig': RIG.replace('region EU', 'region EU scan "room.csv"'), 'room.csv': '863,-99\n865,-99\n' }, 'a.rig');
  expect(said.stdout).toContain('instead of 863.4 MHz');
  expect(said.stdout).not.toContain('outside the scan');
});

test('reads a scan of 100,000 lines', () => {
  const scan = Array.from({ length: 100_000 }, (_, at) => `${(470 + at * 0.005).toFixed(3)};-101,5`).join('\r\n');
  const { status, stdout } = run({ 'a.rig': RIG, 'room.csv': scan }, 'a.rig', '--scan', 'room.csv');
  expect(status).toBe(0);
  expect(stdout).toContain('Nothing in room.csv is above -85 dBm.');
});

test.each([
  ['words', '863.1,-90\nloud here,very\n', 'Line 2 of room.csv cannot be read: it is not a frequency in MHz and a level in dBm'],
  ['hertz', '863100000,-90\n', 'Line 1 of room.csv cannot be read: its first number is no frequency in MHz'],
  ['volts', '863.1,900\n', 'its second number is no level in dBm'],
  ['nothing', '\n\n', 'There is no scan in room.csv.'],
])('refuses a scan of %s', (_, scan, says) => {
  const { status, stdout, stderr } = run({ 'a.rig': RIG, 'room.csv': scan }, 'a.rig', '--scan', 'room.csv');
  expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
  expect(stderr).toContain(says);
});

test('says how many can be clear where not all can', () => {
  const many = `rig "Crowd"  region EU\n${Array.from({ length: 7 }, (_, at) => `source s${at} "Voice ${at}" is wireless-mic`).join('\n')}\n`;
  const { status, stdout } = run({ 'a.rig': many }, 'a.rig');
  expect(status).toBe(1);
  expect(stdout).toContain('Five of seven sets can be clear of each other');
  expect(stdout).toContain('More cannot: tried out.');
  expect(stdout.match(/no clear frequency/g)).toHaveLength(2);
});

test('has nothing to do without radio, and refuses a level that is none', () => {
  expect(run({ 'a.rig': 'rig "Wired"\ngear iface is interface-4\n' }, 'a.rig')).toMatchObject({ status: 2 });
  expect(run({ 'a.rig': RIG, 'room.csv': '863,-90' }, 'a.rig', '--scan', 'room.csv', '--above', 'loud').stderr).toContain(
    'not a level in dBm',
  );
});

const SCAN = Array.from({ length: 81 }, (_, at) => `${(863 + at * 0.025).toFixed(3)},${at > 8 && at < 24 ? -60 : -105}`).join('\n');

test('writes the frequencies into the rig, comments and all, and nothing is left to find', () => {
  const text = `# Ours\n${RIG.replace('863.4 MHz\nsource', '863.4 MHz  # taped over\nsource').replace('region EU', 'region EU  scan "room.csv"')}`;
  const folder = new Folder({ 'a.rig': text, 'room.csv': SCAN });
  const { status, stdout, stderr } = earloom(['frequencies', 'a.rig', '-o', 'a.rig'], { cwd: folder.path });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  expect(stdout).toContain('in room.csv: 863.2125 to 863.5875 MHz.');
  expect(stdout).toContain('Written to a.rig, with two frequencies set.');
  const after = readFileSync(`${folder.path}/a.rig`, 'utf8');
  // All but the two figures is as it was.
  expect(after.replaceAll(/on [\d.]+ MHz/g, '')).toBe(text.replaceAll(/on [\d.]+ MHz/g, ''));
  expect(earloom(['check', 'a.rig', '--format', 'json'], { cwd: folder.path }).stdout).not.toMatch(/radio\/(same|occ|too|product)/);
});

test('writes beside it, and into nothing that may only be read, is no rig, or is somebody else’s', () => {
  const folder = new Folder({
    'a.rig': RIG,
    'read-only.rig': RIG,
    'sets.rig': 'source voice "Voice" is wireless-mic on 863.4 MHz\nsource harp "Harp" is wireless-mic on 863.4 MHz\n',
    'b.rig': 'use "sets.rig"\nrig "B"  region EU\n',
  });
  const ran = (...words: string[]) => earloom(['frequencies', ...words], { cwd: folder.path });
  expect(ran('a.rig', '-o', 'new.rig').status).toBe(0);
  expect(readFileSync(`${folder.path}/a.rig`, 'utf8')).toBe(RIG);
  expect(readFileSync(`${folder.path}/new.rig`, 'utf8')).not.toBe(RIG);
  chmodSync(`${folder.path}/read-only.rig`, 0o444);
  expect(ran('a.rig', '-o', 'read-only.rig')).toMatchObject({ status: 2, stderr: expect.stringContaining('may only be read') });
  expect(readFileSync(`${folder.path}/read-only.rig`, 'utf8')).toBe(RIG);
  expect(ran('a.rig', '-o', 'a.csv')).toMatchObject({ status: 2, stderr: expect.stringContaining('is not called a rig') });
  expect(ran('b.rig', '-o', 'b.rig')).toMatchObject({ status: 2, stderr: expect.stringContaining('a file that b.rig uses') });
});

test('says so where all is loud, and why a set is left as it is', () => {
  const scan = Array.from({ length: 81 }, (_, at) => `${(863 + at * 0.025).toFixed(3)},-60`).join('\n');
  const sets = 'model odd is wireless-mic { tunes 700..702 MHz }\nmodel mute is in-ear-transmitter\nsource far "Far" is odd\n';
  const { status, stdout } = run({ 'a.rig': `${RIG}${sets}`, 'room.csv': scan }, 'a.rig', '--scan', 'room.csv');
  expect(status).toBe(1);
  expect(stdout).toContain('There is nothing to choose from.');
  expect(stdout).toContain('left as it is: Voice, for all that it tunes is to be avoided here, or loud in the scan');
  expect(stdout).toContain('left as it is: Far, which tunes no range that is known to come into question here');
});
