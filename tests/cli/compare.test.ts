/** `earloom compare`, against the real git in a repository of its own. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { applied, type Moves, plainOf, stable } from '#compare';
import { read } from '../compare/open';
import { earloom as run } from './earloom';

const CLUB = `rig "Copper Wren"
use "gear/shelf.rig"
performer ana "Ana" at 0 m, 1 m
performer bo "Bo" at 2 m, 1 m
source voice "Voice" is dynamic-mic by ana
source reed "Reed" is dynamic-mic by bo
gear iface "Interface" is our-interface at 1 m, 3 m
input iface.1 takes voice via y-lead
input iface.2 takes reed
house at 4 m, 1 m
house 1 "Voice" takes voice
mix ana mono for ana { voice 0 dB reed -3 dB }
output iface.phones1 carries ana
`;

const folder = mkdtempSync(path.join(tmpdir(), 'earloom-compare-'));
const repository = path.join(folder, 'band');
const rigs = path.join(repository, 'rigs');

function git(...words: string[]): string {
  const { status, stdout, stderr } = spawnSync(
    'git',
    ['-C', repository, '-c', 'user.name=A', '-c', 'user.email=a@example.invalid', ...words],
    {
      encoding: 'utf8',
      env: { ...process.env, GIT_CONFIG_GLOBAL: '/dev/null', GIT_CONFIG_SYSTEM: '/dev/null', HOME: folder },
    },
  );
  if (status !== 0 && words[0] !== 'merge') throw new Error(`git ${words.join(' ')}: ${stderr}`);
  return stdout;
}

function write(name: string, text: string | Buffer): void {
  const file = path.join(repository, name);
  mkdirSync(path.dirname(file), { recursive: true });
  writeFileSync(file, text);
}

function commit(says: string): void {
  git('add', '-A');
  git('commit', '-qm', says);
}

const earloom = (words: readonly string[], cwd = rigs) => run(['compare', ...words], { cwd, env: { HOME: folder } });

beforeAll(() => {
  mkdirSync(repository, { recursive: true });
  git('init', '-q', '-b', 'main');
  write('rigs/gear/shelf.rig', 'model our-interface "Eight" is interface-8-mic\n');
  write('rigs/other.rig', 'rig "Other"\ngear iface is interface-8-mic\n');
  write('rigs/blob.rig', Buffer.from([0x52, 0, 1, 2]));
  commit('first');
  write('rigs/club.rig', CLUB);
  commit('the club');
  write('rigs/club.rig', CLUB.replace('input iface.2 takes reed', 'input iface.5 takes reed').replace('reed -3 dB', 'reed -1 dB'));
  write('rigs/blob.rig', 'rig "Blob"\n');
  commit('reed elsewhere');
  write('rigs/new.rig', 'rig "New one"\n');
  rmSync(path.join(rigs, 'other.rig'));
  commit('a rig comes and one goes');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('revisions', () => {
  it('tells what has changed since one, and nothing since the last commit', () => {
    const { status, stdout, stderr } = earloom(['HEAD~2:club.rig', 'club.rig']);
    expect(stderr).toBe('');
    expect(status).toBe(0);
    expect(stdout).toMatch(/from club\.rig at HEAD~2 \(rig [^)]+\) to club\.rig/);
    expect(stdout).toMatch(/Reed +plugged into +Interface input 2 +Interface input 5/);
    expect(stdout).toMatch(/ana: Reed +2 dB up +[-−]3 dB +[-−]1 dB/);
    const same = earloom(['club.rig']);
    expect(same.stdout).toContain('Nothing changes: the two differ in comments, order and spaces at most.');
  });

  it('takes a path from the top of the repository, too, and from another folder', () => {
    expect(earloom(['HEAD~2:rigs/club.rig', 'club.rig']).status).toBe(0);
    expect(earloom(['HEAD~2:rigs/club.rig', 'HEAD:rigs/club.rig'], repository).stdout).toContain('Interface input 5');
    expect(earloom(['HEAD~2:./club.rig', 'club.rig']).status).toBe(0);
  });

  it('are of the repository that the file is in, wherever one is, by way of a link, and in a hook', { timeout: 60_000 }, () => {
    symlinkSync(repository, path.join(folder, 'link'));
    expect(earloom(['HEAD~2:link/rigs/club.rig', 'band/rigs/club.rig'], folder).stdout).toContain('Interface input 5');
    const hook = run(['compare', 'HEAD~2:rigs/club.rig', 'rigs/club.rig'], { cwd: repository, env: { HOME: folder, GIT_DIR: '.git' } });
    expect(hook.stdout).toContain('Interface input 5');
  });

  it('compares a folder: each rig that changes, what comes and what goes', () => {
    const { stdout, status } = earloom(['HEAD~2:rigs', 'HEAD:rigs', '--format', 'json'], repository);
    // One that cannot be read is told, and the others are compared.
    expect(status).toBe(2);
    const report = JSON.parse(stdout);
    expect(report.unusable).toMatchObject([{ path: 'blob.rig', what: expect.stringMatching(/it is not text/) }]);
    expect(report.come).toEqual(['new.rig']);
    expect(report.gone).toEqual(['other.rig']);
    expect(report.rigs.map(({ path: name, same }: { path: string; same: boolean }) => [name, same])).toContainEqual(['club.rig', false]);
  });

  it('gives moves as JSON which, made in the old rig, give the new one', async () => {
    const { stdout } = earloom(['HEAD~2:club.rig', 'club.rig', '--format', 'json']);
    const [{ moves }] = JSON.parse(stdout).rigs as [{ moves: Moves }];
    const inOne = (text: string) => read(text.replace('use "gear/shelf.rig"', 'model our-interface "Eight" is interface-8-mic'));
    const [before, after] = [await inOne(CLUB), await inOne(readFileSync(path.join(rigs, 'club.rig'), 'utf8'))];
    const data = (plain: ReadonlyMap<string, unknown>) => [...plain].map(([key, each]) => `${key} ${stable(each)}`);
    expect(data(applied(plainOf(before.rig).plain, moves))).toEqual(data(plainOf(after.rig).plain));
  });

  it.each(['markdown', 'html', 'csv'])('writes %s', (format) => {
    const { stdout, status } = earloom(['HEAD~2:club.rig', 'club.rig', '--format', format]);
    expect(status).toBe(0);
    expect(stdout).toContain('Interface input 5');
  });

  it('writes PDF into a file', () => {
    const file = path.join(folder, 'changes.pdf');
    expect(earloom(['HEAD~2:club.rig', 'club.rig', '-o', file])).toMatchObject({ status: 0, stderr: '' });
    expect(readFileSync(file).subarray(0, 5).toString()).toBe('%PDF-');
  });
});

describe('what cannot be compared', () => {
  it.each<[string, readonly string[], RegExp]>([
    ['no such revision', ['nowhere:club.rig', 'club.rig'], /There is no revision nowhere here\. "git log --oneline" shows/],
    ['a word that is none', ['--exec=x:club.rig', 'club.rig'], /unknown option|is no revision/],
    ['no revision at all', [':club.rig', 'club.rig'], /"" is no revision\. Write one before the colon/],
    [
      'a file that was not there then',
      ['HEAD~3:club.rig', 'club.rig'],
      /There was no rigs\/club\.rig at HEAD~3\. It came with [0-9a-f]{4,}: compare with that\./,
    ],
    ['a file that never was', ['HEAD:nothing.rig', 'club.rig'], /There was no rigs\/nothing\.rig at HEAD\. Correct the path/],
    ['no text', ['HEAD~2:blob.rig', 'blob.rig'], /blob\.rig at HEAD~2 cannot be read: it is not text/],
    ['a folder with a rig', ['HEAD:.', 'club.rig'], /is a folder, and club\.rig is a rig\. Compare two rigs, or two folders\./],
    ['a file that lends its gear', ['HEAD:gear/shelf.rig', 'gear/shelf.rig'], /has no rig in it/],
    ['a revision with nothing', ['HEAD:club.rig'], /is compared with nothing/],
    ['a file that is not there', ['HEAD:club.rig', 'gone.rig'], /There is no file gone\.rig/],
  ])('says so: %s', (_, words, says) => {
    const { status, stderr, stdout } = earloom(words);
    expect(stderr).toMatch(says);
    expect(stdout).toBe('');
    expect(status).toBe(2);
  });

  it('says so outside of a repository, and without git', () => {
    writeFileSync(path.join(folder, 'alone.rig'), 'rig "Alone"\n');
    expect(earloom(['alone.rig'], folder).stderr).toMatch(/This folder is in no git repository\./);
    const none = run(['compare', 'club.rig'], { cwd: rigs, env: { PATH: folder } });
    expect(none.stderr).toMatch(/The program git is not on this machine, or not on its path\. Install it, or compare two files/);
    expect(none.status).toBe(2);
    git('clone', '-q', '--bare', '.', '../bare.git');
    expect(earloom(['HEAD:rigs/club.rig', 'HEAD:rigs/club.rig'], path.join(folder, 'bare.git')).stderr).toMatch(/This repository is bare/);
  });

  it('says so, and runs no program that a repository names', () => {
    const ran = path.join(folder, 'ran');
    const program = path.join(folder, 'program');
    writeFileSync(program, `#!/bin/sh\ntouch '${ran}'\n`, { mode: 0o755 });
    git('checkout', '-qb', 'signed');
    for (const name of ['gpg.program', 'core.fsmonitor', 'core.pager', 'diff.external', 'diff.rig.textconv', 'diff.rig.command'])
      git('config', name, program);
    git('config', 'log.showSignature', 'true');
    writeFileSync(path.join(repository, '.git/info/attributes'), '*.rig diff=rig\n');
    // Every commit looks signed, the one that the file came with above all.
    const signed = git('cat-file', 'commit', 'HEAD').replace(
      /^(committer .*)$/m,
      '$1\ngpgsig -----BEGIN PGP SIGNATURE-----\n \n x\n -----END PGP SIGNATURE-----',
    );
    write('signed', signed);
    git('update-ref', 'HEAD', git('hash-object', '-t', 'commit', '-w', 'signed').trim());
    expect(earloom(['HEAD~1:new.rig', 'new.rig']).stderr).toMatch(/There was no rigs\/new\.rig at HEAD~1\. It came with [0-9a-f]{4,}:/);
    expect(earloom(['club.rig']).status).toBe(0);
    expect(existsSync(ran)).toBe(false);
    for (const name of ['gpg.program', 'core.fsmonitor', 'core.pager', 'diff.external', 'diff.rig.textconv', 'diff.rig.command'])
      git('config', '--unset', name);
    git('config', '--unset', 'log.showSignature');
    rmSync(path.join(repository, 'signed'));
    git('checkout', '-q', 'main');
  });

  it('says so in the middle of a merge, and can compare its two sides', () => {
    git('checkout', '-qb', 'side', 'HEAD~2');
    write('rigs/club.rig', CLUB.replace('input iface.2 takes reed', 'input iface.7 takes reed'));
    commit('on the side');
    git('checkout', '-q', 'main');
    git('merge', 'side');
    const { stderr, status } = earloom(['club.rig']);
    expect(stderr).toMatch(/club\.rig is in the middle of a merge: both states of it stand in it/);
    expect(status).toBe(2);
    const sides = earloom(['HEAD:club.rig', 'MERGE_HEAD:club.rig']);
    expect(sides.stdout).toMatch(/Reed +plugged into +Interface input 5 +Interface input 7/);
    git('merge', '--abort');
  });
});

describe('sheets against another state', () => {
  const sheets = (...words: string[]) =>
    run(['sheets', 'club.rig', '--sheet', 'patch-list', ...words], { cwd: rigs, env: { HOME: folder } });

  it('say which rows have changed, for a revision alone and for one with a path', () => {
    for (const against of ['HEAD~2', 'HEAD~2:club.rig']) {
      const { status, stdout } = sheets('--against', against, '--format', 'csv');
      expect(status).toBe(0);
      expect(stdout).toMatch(/new,Interface 5,Reed/);
      expect(stdout).toMatch(/,,Interface 1,Voice/);
    }
  });

  it('say what is wrong with what they are to be held against', () => {
    expect(sheets('--against', 'nothing').stderr).toMatch(/There is no revision nothing here/);
    expect(sheets('--against', 'nothing.rig').stderr).toMatch(/There is no file nothing\.rig/);
  });
});
