/** Scans that a rig names: none is read that should not be, and what cannot be is told with its cure, whatever it is. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it, test } from 'vitest';
import { earloom } from '../cli/earloom';
import { Folder } from '../protocol/folder';
import { Bench, FOLDER } from './open';

const rig = (scan: string, more = '') => `rig "Two Kettles"  region EU  scan ${scan}
source voice "Voice" is wireless-mic on 863.4 MHz${more}
`;

const codesIn = async (scan: string, files: Record<string, string> = {}) => {
  const bench = new Bench(files);
  const { located, lowered } = await bench.analyse(rig(scan));
  return { codes: located.map(({ finding }) => finding.code), read: bench.files.read, scans: lowered.rig.settings.scans };
};

test.each([
  '../room.csv',
  '../../../etc/room.csv',
  'gear\\..\\..\\room.csv',
  '/etc/room.csv',
  '\\\\server\\share\\room.csv',
  'C:\\scans\\room.csv',
  'file:///etc/room.csv',
  'https://example.invalid/room.csv',
])('%s is outside: a finding, and nothing there is read', async (written) => {
  const { codes, read } = await codesIn(`"${written}"`, { 'memory:/room.csv': '863.4,-20' });
  expect(codes).toContain('scan/outside');
  expect(read.filter((address) => !address.startsWith(FOLDER))).toEqual([]);
});

test.each([
  ['"room.csv"', 'scan/missing'],
  ['"./room.csv"', 'scan/missing'],
  ['"room.txt"', 'scan/not-readable'],
  ['"other.rig"', 'scan/not-readable'],
  ['""', 'text/unfinished'],
  ['', 'text/unfinished'],
  ['room.csv', 'text/unexpected'],
  ['"room.csv" above', 'text/unfinished'],
  ['"room.csv" above -85', 'text/missing-unit'],
  ['"room.csv" above -85 dB', 'units/wrong'],
  ['"room.csv" above -900 dBm', 'units/impossible'],
])('scan %s: %s, and the set keeps its frequency', async (written, code) => {
  const bench = new Bench();
  const { located, lowered } = await bench.analyse(rig(written));
  expect(located.map(({ finding }) => finding.code)).toContain(code);
  expect(lowered.rig.pieces.get('source:voice')?.onHz).toBeCloseTo(863.4e6, 0);
});

describe('figures', () => {
  it.each([
    ['the usual', 'MHz,dBm\n863.3,-101\n863.4,-61\n863.5,-100\n'],
    ['a decimal comma', 'MHz;dBm\r\n863,3;-101\r\n863,4;−61\r\n863,5;-100'],
    ['tabs, upside down, a third column', '863.5\t-100\t1\n863.4\t-61\t1\n863.3\t-101\t1\n'],
    ['quotes and a mark of the byte order', '\uFEFF"863.3","-101"\n"863.4","-61"\n"863.5","-100"\n'],
    ['comments, and a heading of several lines', '# room\nDate,Friday\nMHz,dBm\n863.3,-101\n863.4,-61\n863.5,-100\n'],
  ])('%s', async (_, text) => {
    const { codes, scans } = await codesIn('"room.csv"', { [`${FOLDER}room.csv`]: text });
    expect(codes).toContain('scan/occupied');
    expect(scans[0]?.loud).toEqual([{ low: expect.closeTo(863.35e6, 0), high: expect.closeTo(863.45e6, 0), mostDbm: -61 }]);
  });

  it('at another level nothing is loud', async () => {
    const { codes } = await codesIn('"room.csv" above -60 dBm', { [`${FOLDER}room.csv`]: '863.3,-101\n863.4,-61\n863.5,-100\n' });
    expect(codes).not.toContain('scan/occupied');
  });

  it('of several each counts', async () => {
    const files = { [`${FOLDER}a.csv`]: '470,-100\n471,-100\n', [`${FOLDER}b.csv`]: '863.3,-101\n863.4,-61\n863.5,-100\n' };
    const { codes } = await codesIn('"a.csv" scan "b.csv"', files);
    expect(codes.filter((code) => /^(scan|radio)\//.test(code)).sort()).toEqual(['scan/beside', 'scan/occupied']);
  });
});

const lines = (count: number) =>
  Array.from({ length: count }, (_, at) => `${(400 + at * 0.005).toFixed(3)},${at % 7 === 0 ? -70 : -101.5}`).join('\n');

/** By the name of the rig that names it: what is in it, and what is said. */
const FILES: Readonly<Record<string, readonly [what: string | Buffer, says: string]>> = {
  words: [
    '863.1,-90\nloud here,very\n',
    'Line 2 of words.csv cannot be read: it is not a frequency in MHz and a level in dBm (loud here,very).',
  ],
  hertz: ['863100000,-90\n', 'its first number is no frequency in MHz'],
  volts: ['863.1,900\n', 'its second number is no level in dBm'],
  nothing: ['\n\n', 'There are no figures in nothing.csv.'],
  picture: [Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 0, 1]), 'picture.csv cannot be read: it is not text'],
  utf16: [Buffer.from('\uFEFF863.1,-90', 'utf16le'), 'utf16.csv cannot be read: it is text in UTF-16'],
  latin: [Buffer.from('Gerät\n863.1,-90\n', 'latin1'), 'latin.csv cannot be read: it is not text in UTF-8'],
  long: [lines(100_000), 'Voice (863.4 MHz) is where the scan long.csv is loud'],
};

test('files on a disk: a folder, a pipe that nobody writes to, a link that leads out, other encodings, 100,000 lines', () => {
  const folder = new Folder();
  const outside = new Folder({ 'room.csv': '863.4,-20\n863.5,-20\n' });
  for (const [name, [what]] of Object.entries(FILES)) writeFileSync(path.join(folder.path, `${name}.csv`), what);
  mkdirSync(path.join(folder.path, 'folder.csv'));
  execFileSync('mkfifo', [path.join(folder.path, 'pipe.csv')]);
  symlinkSync(path.join(outside.path, 'room.csv'), path.join(folder.path, 'link.csv'));
  const expected: Record<string, string> = {
    ...Object.fromEntries(Object.entries(FILES).map(([name, [, says]]) => [name, says])),
    folder: 'folder.csv cannot be read: it is a folder',
    pipe: 'pipe.csv cannot be read: it is a pipe and not a file',
    link: 'link.csv lies outside the folder that is open',
  };
  for (const name of Object.keys(expected)) folder.write(`${name}.rig`, rig(`"${name}.csv"`));
  const { stdout, status } = earloom(['check', '.', '--format', 'json'], { cwd: folder.path });
  expect(status).toBe(1);
  for (const says of Object.values(expected)) expect(stdout).toContain(says);
});
