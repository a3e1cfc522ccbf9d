/** What was there before a command writes: whose it is, who may write to it, and what is left when there is no room. */
import { execFileSync } from 'node:child_process';
import { chmodSync, chownSync, linkSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { root } from '../build';
import { Folder } from '../protocol/folder';
import { copyTo, EARLOOM, earloom } from './earloom';

const LOOSE = 'performer ada "Ada" at 0 m,2 m\nperformer b at -1 m, 2 m\n';
const NEAT = 'performer ada  "Ada"  at  0 m, 2 m\nperformer b           at -1 m, 2 m\n';

const onUnix = test.skipIf(process.platform === 'win32');
/** Only the machine's own administrator gives files away. */
const asRoot = test.skipIf(process.getuid?.() !== 0);
const NOBODY = 65534;

onUnix('a file that may only be read stays as it is, and the others are formatted', () => {
  const folder = new Folder({ 'a.rig': LOOSE, 'b.rig': LOOSE });
  chmodSync(path.join(folder.path, 'a.rig'), 0o444);
  const { status, stdout, stderr } = earloom(['format', '.'], { cwd: folder.path });
  expect(stderr).toBe(
    'earloom: a.rig may only be read, and stays as it is. Allow writing to it if it is yours to change, or name another file.\n',
  );
  expect([status, stdout]).toEqual([2, '1 file read: 1 formatted.\n']);
  expect(readFileSync(path.join(folder.path, 'a.rig'), 'utf8')).toBe(LOOSE);
  expect(statSync(path.join(folder.path, 'a.rig')).mode & 0o777).toBe(0o444);
  expect(readdirSync(folder.path).sort()).toEqual(['a.rig', 'b.rig']);
});

onUnix('a file with two names keeps both', () => {
  const folder = new Folder({ 'a.rig': LOOSE });
  linkSync(path.join(folder.path, 'a.rig'), path.join(folder.path, 'same.rig'));
  expect(earloom(['format', 'a.rig'], { cwd: folder.path }).status).toBe(0);
  for (const name of ['a.rig', 'same.rig']) expect(readFileSync(path.join(folder.path, name), 'utf8')).toBe(NEAT);
  expect(readdirSync(folder.path).sort()).toEqual(['a.rig', 'same.rig']);
});

asRoot('the owner, the group and the mode stay, also where somebody else may write', () => {
  const folder = new Folder({ 'a.rig': LOOSE, 'b.rig': LOOSE });
  chmodSync(folder.path, 0o777);
  const [a, b] = ['a.rig', 'b.rig'].map((name) => path.join(folder.path, name)) as [string, string];
  chownSync(a, 1234, 2345);
  chmodSync(a, 0o664);
  expect(earloom(['format', 'a.rig'], { cwd: folder.path }).status).toBe(0);
  // Of another, for all to write: nobody can give a file to its owner, so it is written where it is.
  chownSync(b, 1234, 2345);
  chmodSync(b, 0o666);
  const program = copyTo(folder.path);
  const ran = earloom(['format', 'b.rig'], { cwd: folder.path, program, uid: NOBODY, gid: NOBODY });
  expect(ran).toEqual({ status: 0, stdout: '1 file read: 1 formatted.\n', stderr: '' });
  for (const [file, mode] of [
    [a, 0o664],
    [b, 0o666],
  ] as const) {
    const { uid, gid, mode: now } = statSync(file);
    expect([uid, gid, now & 0o777]).toEqual([1234, 2345, mode]);
    expect(readFileSync(file, 'utf8')).toBe(NEAT);
  }
  expect(readdirSync(folder.path).sort()).toEqual(['a.rig', 'b.rig', 'check.cjs', 'cli.cjs', 'commands.cjs']);
});

/** No file can grow beyond so much: the machine's own bound, which every user can set. It stands for a disk that is full. */
function cramped(kilobytes: number, words: readonly string[], cwd: string): { status: number; stderr: string } {
  const line = `ulimit -f ${kilobytes * 2}; exec "$@" 2>errors.txt >/dev/null`;
  let status = 0;
  try {
    execFileSync('dash', ['-c', line, 'dash', process.execPath, EARLOOM, ...words], { cwd, stdio: 'ignore' });
  } catch (problem) {
    status = (problem as { status: number }).status;
  }
  const stderr = readFileSync(path.join(cwd, 'errors.txt'), 'utf8');
  return { status, stderr };
}

const canBound = process.platform === 'linux' && statSync('/bin/dash', { throwIfNoEntry: false }) !== undefined;

test.skipIf(!canBound)('no room for one of all the sheets: none is written, the old ones stay, no folder is left', () => {
  const folder = new Folder({ 'old/patch-list.html': 'yesterday' });
  const rig = path.join(root, 'examples/first.rig');
  const inOld = cramped(8, ['sheets', rig, '-o', 'old/'], folder.path);
  expect(inOld.stderr).toMatch(/cannot be written: it is larger than a file may be there\. Nothing was changed\. Make room/);
  expect(inOld.status).toBe(2);
  expect(readdirSync(path.join(folder.path, 'old'))).toEqual(['patch-list.html']);
  expect(readFileSync(path.join(folder.path, 'old/patch-list.html'), 'utf8')).toBe('yesterday');
  cramped(8, ['sheets', rig, '-o', 'new/deep/'], folder.path);
  expect(readdirSync(folder.path).sort()).toEqual(['errors.txt', 'old']);
});

test.skipIf(!canBound)('no room for a rig that is formatted: it is as it was, with one name or two', () => {
  const long = LOOSE + '# long\n'.repeat(2_000);
  const folder = new Folder({ 'a.rig': long, 'b.rig': long });
  linkSync(path.join(folder.path, 'b.rig'), path.join(folder.path, 'c.rig'));
  for (const name of ['a.rig', 'b.rig']) {
    const { status, stderr } = cramped(8, ['format', name], folder.path);
    expect(stderr).toContain(`${name} cannot be written: it is larger than a file may be there. Nothing was changed.`);
    expect(status).toBe(2);
    expect(readFileSync(path.join(folder.path, name), 'utf8')).toBe(long);
  }
  expect(readdirSync(folder.path).sort()).toEqual(['a.rig', 'b.rig', 'c.rig', 'errors.txt']);
});

test('where one of several cannot take its place, what has been written and what has not is said', async () => {
  const { writeAllWhole } = await import('../../packages/cli/write');
  const folder = new Folder({});
  const at = (name: string) => path.join(folder.path, name);
  const writing = (name: string, text: string | (() => Promise<Uint8Array>)) => ({ file: at(name), text, shown: name });
  // A folder comes to stand in the second one's place after it was looked at, while the third is being made.
  const third = async () => {
    mkdirSync(at('b'));
    writeFileSync(at('b/x'), '');
    return new Uint8Array([51]);
  };
  await expect(writeAllWhole([writing('a', '1'), writing('b', '2'), writing('c', third)])).rejects.toMatchObject({
    what: 'b cannot be written: it is a folder. Written: a. Not written: c.',
  });
  expect(readdirSync(folder.path).sort()).toEqual(['a', 'b']);
});
