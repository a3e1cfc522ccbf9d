/** Rigs where code is looked after: what examples/pipelines says, tried with the real git and the files as they ship. */
import { spawnSync } from 'node:child_process';
import { chmodSync, copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { version } from '../../package.json';
import { root } from '../build';
import { EARLOOM, earloom } from './earloom';

const RIG = `rig "Copper Wren"  # a comment
performer ana "Ana"
performer bo "Bo"
source voice "Voice" is dynamic-mic by ana
source reed "Reed" is dynamic-mic by bo
gear iface "Interface" is interface-8-mic

input iface.1  takes voice

# what the others hear
mix ana mono for ana { voice 0 dB  reed -3 dB }
mix bo mono for bo { reed 0 dB }
output iface.phones1 carries ana

input iface.2  takes reed
output iface.phones2 carries bo
house none
`;

const home = mkdtempSync(path.join(tmpdir(), 'earloom-pipelines-'));
afterAll(() => rmSync(home, { recursive: true, force: true }));
let repository = '';
let count = 0;

function sh(program: string, words: readonly string[], env: Record<string, string> = {}) {
  const { status, stdout, stderr } = spawnSync(program, words, {
    cwd: repository,
    encoding: 'utf8',
    env: {
      ...process.env,
      HOME: home,
      GIT_CONFIG_GLOBAL: '/dev/null',
      GIT_CONFIG_SYSTEM: '/dev/null',
      GIT_MERGE_AUTOEDIT: 'no',
      EARLOOM: `${process.execPath} ${EARLOOM}`,
      ...env,
    },
  });
  return { status, stdout, stderr, all: stdout + stderr };
}
const git = (...words: string[]) => sh('git', ['-c', 'user.name=A', '-c', 'user.email=a@example.invalid', ...words]);
const put = (text: string) => writeFileSync(path.join(repository, 'club.rig'), text);
const hook = (name: string) => {
  const to = path.join(repository, '.git/hooks', name);
  copyFileSync(path.join(root, 'examples/pipelines/hooks', name), to);
  chmodSync(to, 0o755);
};
const commit = (text: string) => {
  put(text);
  return git('commit', '-qam', 'as told');
};

beforeEach(() => {
  repository = path.join(home, `band-${++count}`);
  mkdirSync(repository);
  git('init', '-q', '-b', 'main');
  put(RIG);
  git('add', '-A');
  git('commit', '-qm', 'first');
});

describe('git', () => {
  it('shows what a rig means, and no comments, order or spaces', () => {
    writeFileSync(path.join(repository, '.gitattributes'), '*.rig diff=rig\n');
    git('config', 'diff.rig.textconv', `${process.execPath} ${EARLOOM} textconv`);
    const [first, ...rest] = RIG.trimEnd().split('\n');
    put(
      [...rest.filter((line) => !line.startsWith('#')).reverse(), first?.replace(/ *#.*/, '')]
        .join('\n\n')
        .replace('{ voice 0 dB  reed -3 dB }', '{\n  reed -3 dB\n  voice 0 dB\n}'),
    );
    expect(git('diff', '--exit-code', '--', 'club.rig').stdout).toBe('');
    put(RIG.replace('iface.2  takes reed', 'iface.5  takes reed').replace('reed -3 dB', 'reed -1 dB'));
    const changed = git('diff', '-U0', '--', 'club.rig')
      .stdout.split('\n')
      .filter((line) => /^[+-](?![+-])/.test(line));
    expect(changed).toEqual(['-input iface.2 takes reed', '+input iface.5 takes reed', '-  reed -3 dB', '+  reed -1 dB']);
  });

  it('commits nothing wrong with the hook before a commit', () => {
    hook('pre-commit');
    const wrong = commit(RIG.replace('iface.2  takes reed', 'iface.1  takes reed'));
    expect(wrong.status).not.toBe(0);
    expect(wrong.all).toMatch(/iface\.1 takes both Voice and Reed/);
    expect(commit(RIG.replace('iface.2  takes reed', 'iface.3  takes reed')).status).toBe(0);
  });

  it('does not let a merge plug two things into one socket without a word', () => {
    git('checkout', '-qb', 'anas');
    commit(RIG.replace('iface.1  takes voice', 'iface.4  takes voice'));
    git('checkout', '-q', 'main');
    commit(RIG.replace('iface.2  takes reed', 'iface.4  takes reed'));
    // By itself git is content.
    expect(git('merge', '-q', 'anas').status).toBe(0);
    git('reset', '-q', '--hard', 'HEAD~1');
    hook('pre-merge-commit');
    const merge = git('merge', 'anas');
    expect(merge.status).not.toBe(0);
    expect(merge.all).toMatch(/iface\.4 takes both Voice and Reed/);
    expect(git('log', '--oneline').stdout.trim().split('\n')).toHaveLength(2);
    // It waits until somebody has put it right.
    put(readFileSync(path.join(repository, 'club.rig'), 'utf8').replace('iface.4  takes reed', 'iface.5  takes reed'));
    expect(git('commit', '-qam', 'merged, and looked at').status).toBe(0);
    expect(git('log', '-1', '--format=%p').stdout.trim().split(' ')).toHaveLength(2);
  });

  it('tells after a merge what changes on the floor', () => {
    git('checkout', '-qb', 'anas');
    commit(RIG.replace('iface.1  takes voice', 'iface.4  takes voice'));
    git('checkout', '-q', 'main');
    hook('post-merge');
    const { status, all } = git('merge', 'anas');
    expect(status).toBe(0);
    expect(all).toMatch(/Voice +plugged into +Interface input 1 +Interface input 4/);
    expect(all).toMatch(/1 file checked/);
  });
});

describe('runners', () => {
  const WRONG = RIG.replace('iface.2  takes reed', 'iface.1  takes reed');

  it('get lines in their own way, and a page of what changes', () => {
    put(WRONG);
    const format = (name: string) => earloom(['check', '.', '--format', name], { cwd: repository });
    const github = format('github');
    expect(github.status).toBe(1);
    expect(github.stdout).toMatch(
      /^::error file=club\.rig,line=15,endLine=15,col=\d+,endColumn=\d+,title=error%3A [a-z-]+\/[a-z-]+::iface\.1 takes both/m,
    );
    for (const line of github.stdout.trimEnd().split('\n')) expect(line).toMatch(/^::(error|warning|notice) file=/);
    expect(format('azure').stdout).toMatch(
      /^##vso\[task\.logissue type=error;sourcepath=club\.rig;linenumber=15;columnnumber=\d+;code=[a-z-]+\/[a-z-]+\]/m,
    );
    const quality = JSON.parse(format('gitlab').stdout) as { fingerprint: string; location: object; severity: string }[];
    expect(quality.find(({ severity }) => severity === 'major')?.location).toEqual({ path: 'club.rig', lines: { begin: 15, end: 15 } });
    expect(new Set(quality.map(({ fingerprint }) => fingerprint)).size).toBe(quality.length);
    expect(format('junit').stdout).toMatch(/<testsuite name="club\.rig" tests="\d+" failures="[1-9]/);
    const { stdout } = earloom(['compare', 'club.rig', '--format', 'markdown'], { cwd: repository });
    expect(stdout).toMatch(/\| Reed +\| plugged into +\| Interface input 2 +\| Interface input 1 +\|/);
  });

  it('take nothing that a rig says for a command of theirs', () => {
    // Re-plugged for us, which is a note with the label in it.
    const label = '##vso[task.setvariable variable=a]b ::error::c';
    put(
      RIG.replace('"Voice"', `"${label}"`)
        .replace('takes voice\n', 'takes voice  via transformer-split.iso\n')
        .replace('house none', 'house 1  takes voice'),
    );
    const ownOnly = { azure: /^(##vso\[task\.logissue |(?!.*##vso\[))/, github: /^::(error|warning|notice) file=/ };
    for (const [name, own] of Object.entries(ownOnly)) {
      const { stdout } = earloom(['check', '.', '--format', name], { cwd: repository });
      expect(stdout).toContain('task.setvariable');
      for (const line of stdout.trimEnd().split('\n')) expect(line).toMatch(own);
    }
  });

  it('keep a file of findings, and never in place of a rig', () => {
    put(WRONG);
    expect(earloom(['check', '.', '--format', 'junit', '-o', 'found.xml'], { cwd: repository })).toMatchObject({ status: 1, stdout: '' });
    expect(readFileSync(path.join(repository, 'found.xml'), 'utf8')).toMatch(/^<\?xml version="1\.0"/);
    expect(earloom(['check', '.', '-o', 'club.rig'], { cwd: repository }).status).toBe(2);
    expect(readFileSync(path.join(repository, 'club.rig'), 'utf8')).toBe(WRONG);
  });

  it('run the steps of the action as they are written', () => {
    const action = parse(readFileSync(path.join(root, 'action.yml'), 'utf8')) as { runs: { steps: { name: string; run: string }[] } };
    const bin = path.join(repository, 'bin');
    mkdirSync(bin);
    // Stands for npx: the program that it would fetch, as it is built here.
    writeFileSync(
      path.join(bin, 'npx'),
      `#!/bin/sh\n[ "$1 $2" = "--yes earloom@${version}" ] || exit 9\nshift 2\nexec "${process.execPath}" "${EARLOOM}" "$@"\n`,
      { mode: 0o755 },
    );
    put(WRONG);
    const summary = path.join(repository, 'summary.md');
    const ran = action.runs.steps.map(({ name, run }) => {
      const env = {
        PATH: `${bin}:${process.env.PATH}`,
        RIGS: 'club.rig',
        BASE: 'HEAD',
        STRICT: 'false',
        SARIF: 'out.sarif',
        GITHUB_STEP_SUMMARY: summary,
      };
      return [name, sh('bash', ['--noprofile', '--norc', '-eo', 'pipefail', '-c', run], env).status];
    });
    expect(ran).toEqual([
      ['What changes on the floor', 0],
      ['SARIF', 0],
      ['What is wrong', 1],
    ]);
    expect(readFileSync(summary, 'utf8')).toMatch(/Interface input 2/);
    expect(JSON.parse(readFileSync(path.join(repository, 'out.sarif'), 'utf8'))).toMatchObject({ version: '2.1.0' });
  });

  it('are told of this version everywhere', () => {
    const hooks = parse(readFileSync(path.join(root, '.pre-commit-hooks.yaml'), 'utf8')) as { id: string; entry: string; files: string }[];
    expect(hooks.map(({ id }) => id)).toEqual(['earloom-check', 'earloom-format']);
    for (const { entry, files } of hooks) {
      expect(entry.startsWith(`npx --yes earloom@${version} `)).toBe(true);
      expect(new RegExp(files).test('rigs/club.rig')).toBe(true);
    }
    for (const file of ['action.yml', '.pre-commit-hooks.yaml', 'examples/pipelines/README.md'])
      for (const [, told] of readFileSync(path.join(root, file), 'utf8').matchAll(/earloom@v?(\d+\.\d+\.\d+)/g))
        expect(told, file).toBe(version);
  });
});
