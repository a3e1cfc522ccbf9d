/** `earloom format`, as a process: what it writes, what it leaves alone, and how it ends. */
import { chmodSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { Folder } from '../protocol/folder';
import { earloom } from './earloom';

const LOOSE = 'performer ada "Ada" at 0 m,2 m\nperformer b at -1 m, 2 m   \n\n\n\nuse   "gear.rig"';
const NEAT = 'performer ada  "Ada"  at  0 m, 2 m\nperformer b           at -1 m, 2 m\n\nuse "gear.rig"\n';

const read = (folder: Folder, name: string) => readFileSync(path.join(folder.path, name), 'utf8');

test('files are set in columns where they are; the second time there is nothing to do', () => {
  const folder = new Folder({ 'a.rig': LOOSE, 'sub/b.rig': NEAT });
  const before = statSync(path.join(folder.path, 'sub/b.rig'));
  chmodSync(path.join(folder.path, 'a.rig'), 0o640);
  expect(earloom(['format', '.'], { cwd: folder.path })).toEqual({ status: 0, stdout: '2 files read: 1 formatted.\n', stderr: '' });
  expect(read(folder, 'a.rig')).toBe(NEAT);
  expect(statSync(path.join(folder.path, 'a.rig')).mode & 0o777).toBe(0o640);
  const after = statSync(path.join(folder.path, 'sub/b.rig'));
  expect([after.ino, after.mtimeMs]).toEqual([before.ino, before.mtimeMs]);
  expect(earloom(['format', '.'], { cwd: folder.path })).toEqual({ status: 0, stdout: '2 files read: nothing to format.\n', stderr: '' });
  expect(readdirSync(folder.path).sort()).toEqual(['a.rig', 'sub']);
});

test('--check names what would change, changes nothing, and fails', () => {
  const folder = new Folder({ 'a.rig': LOOSE, 'b.rig': NEAT });
  expect(earloom(['format', '--check', 'a.rig', 'b.rig'], { cwd: folder.path })).toEqual({
    status: 1,
    stdout: 'a.rig: not formatted\n2 files checked: 1 to format.\n',
    stderr: '',
  });
  expect(read(folder, 'a.rig')).toBe(LOOSE);
  expect(earloom(['format', '--check', 'b.rig'], { cwd: folder.path })).toEqual({
    status: 0,
    stdout: '1 file checked: nothing to format.\n',
    stderr: '',
  });
});

test('standard input goes to standard output, and nothing else does', () => {
  expect(earloom(['format', '-'], { input: LOOSE })).toEqual({ status: 0, stdout: NEAT, stderr: '' });
  expect(earloom(['format', '-'], { input: '' })).toEqual({ status: 0, stdout: '', stderr: '' });
  expect(earloom(['format', '--check', '-'], { input: LOOSE })).toMatchObject({ status: 1, stderr: '' });
});

test('a byte order mark and line ends of the other kind stay', () => {
  const other = (text: string) => `\uFEFF${text.replaceAll('\n', '\r\n')}`;
  const folder = new Folder({ 'a.rig': other(LOOSE) });
  expect(earloom(['format', 'a.rig'], { cwd: folder.path }).status).toBe(0);
  expect(read(folder, 'a.rig')).toBe(other(NEAT));
  expect(earloom(['format', '-'], { input: other(LOOSE) }).stdout).toBe(other(NEAT));
});

test('what cannot be read stays as written, and is told', () => {
  const folder = new Folder({ 'a.rig': `source   kit  by\n${LOOSE}` });
  const { status, stdout, stderr } = earloom(['format', 'a.rig'], { cwd: folder.path });
  expect([status, stdout]).toEqual([0, '1 file read: 1 formatted.\n']);
  expect(stderr).toBe('earloom: One statement in a.rig cannot be read and stays as written. "earloom check a.rig" tells what is wrong.\n');
  expect(read(folder, 'a.rig')).toBe(`source   kit  by\n${NEAT}`);
});

test('files that cannot be used do not keep the others from being formatted; exit code 2', () => {
  const folder = new Folder({ 'a.rig': LOOSE, 'notes.txt': 'x' });
  writeFileSync(path.join(folder.path, 'latin.rig'), Buffer.from('performer   ad\xe9\n', 'latin1'));
  const { status, stdout, stderr } = earloom(['format', 'none.rig', 'latin.rig', 'notes.txt', 'a.rig'], { cwd: folder.path });
  expect([status, stdout]).toEqual([2, '1 file read: 1 formatted.\n']);
  expect(stderr.trimEnd().split('\n')).toHaveLength(3);
  expect(readFileSync(path.join(folder.path, 'latin.rig'))).toEqual(Buffer.from('performer   ad\xe9\n', 'latin1'));
  expect(read(folder, 'notes.txt')).toBe('x');
  expect(read(folder, 'a.rig')).toBe(NEAT);
});

test('a link keeps leading to the file that is formatted', () => {
  const folder = new Folder({ 'real.rig': LOOSE });
  symlinkSync('real.rig', path.join(folder.path, 'link.rig'));
  expect(earloom(['format', 'link.rig'], { cwd: folder.path }).status).toBe(0);
  expect(read(folder, 'real.rig')).toBe(NEAT);
});

test('help', () => {
  expect(earloom(['format', '--help'])).toMatchObject({ status: 0, stderr: '', stdout: expect.stringContaining('--check') });
  expect(earloom(['format']).status).toBe(2);
});
