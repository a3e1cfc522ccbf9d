/** `earloom check`, as a process: what it prints, for people and for programs, and how it ends. */
import { spawn } from 'node:child_process';
import { chmodSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { stripVTControlCharacters } from 'node:util';
import { expect, test } from 'vitest';
import { version } from '../../package.json';
import { generateRig } from '../generate';
import { Folder } from '../protocol/folder';
import { copyTo, EARLOOM, earloom } from './earloom';

const SOUND = `rig "Two Kettles"
performer ada "Ada" at 0 m, 2 m
source voice "Voice" is dynamic-mic by ada
gear iface "Interface" is interface-8-mic at 1 m, 3 m
input iface.1 takes voice
mix ada mono for ada { voice 0 dB }
output iface.phones1 carries ada
`;

/** One error: a name that is not there. */
const WRONG = SOUND.replace('takes voice', 'takes voise');

/** Nothing but a note: a split with one side that nobody takes. */
const NOTED = SOUND.replace('takes voice', 'takes voice via y-lead');

interface Report {
  version: number;
  files: {
    path: string;
    findings: {
      code: string;
      severity: string;
      message: { what: string; why: string; cure: string };
      range: { start: { line: number; column: number }; end: { line: number; column: number } };
      related: { path: string; range: { start: { line: number; column: number } }; says: string }[];
      figures: Record<string, unknown>;
    }[];
    unusable?: { what: string; cure: string };
  }[];
  counts: Record<string, number>;
}

function json(words: readonly string[], options: Parameters<typeof earloom>[1]): { status: number | null; report: Report } {
  const { status, stdout } = earloom(['check', '--format', 'json', ...words], options);
  return { status, report: JSON.parse(stdout) };
}

test('a sound rig: one line, exit code 0', () => {
  const folder = new Folder({ 'a.rig': SOUND });
  expect(earloom(['check', 'a.rig'], { cwd: folder.path })).toEqual({ status: 0, stdout: '1 file checked: nothing found.\n', stderr: '' });
});

test('a mistake: where, how bad, which, in words, with its line and a mark under the place; exit code 1', () => {
  const folder = new Folder({ 'a.rig': WRONG });
  const { status, stdout, stderr } = earloom(['check', 'a.rig'], { cwd: folder.path });
  expect(status).toBe(1);
  expect(stderr).toBe('');
  const lines = stdout.split('\n');
  expect(lines[0]).toBe('a.rig:5:21  error  names/unknown');
  expect(lines[1]).toBe('  5 | input iface.1 takes voise');
  // The mark stands under the name it is about.
  expect(lines[2]).toBe(`    | ${' '.repeat('input iface.1 takes '.length)}${'^'.repeat('voise'.length)}`);
  expect(stdout).toContain('There is no source or mix called voise.');
  expect(stdout).toContain('Cure: Did you mean voice?');
  expect(stdout).not.toContain('\u001b');
  expect(stdout.trimEnd().split('\n').at(-1)).toMatch(/^1 file checked: \d+ errors?/);
});

test('a note by itself does not fail, unless it is to be strict', () => {
  const folder = new Folder({ 'a.rig': NOTED });
  const lenient = earloom(['check', 'a.rig'], { cwd: folder.path });
  expect(lenient.stdout).toContain('note  splits/needless');
  expect(lenient.stdout).toContain('1 file checked: 1 note.');
  expect(lenient.status).toBe(0);
  expect(earloom(['check', '--strict', 'a.rig'], { cwd: folder.path }).status).toBe(1);
});

test('what is allowed does not fail, and is counted', () => {
  const folder = new Folder({ 'a.rig': NOTED.replace('y-lead', 'y-lead  # allow splits/needless: a recorder'), 'b.rig': NOTED });
  const told = earloom(['check', '--strict', 'a.rig'], { cwd: folder.path });
  expect(told).toMatchObject({ status: 0, stdout: '1 file checked: nothing found. 1 allowed.\n' });
  expect(earloom(['check', '--strict', '.'], { cwd: folder.path })).toMatchObject({
    status: 1,
    stdout: expect.stringMatching(/2 files checked: 1 note\. 1 allowed\.\n$/),
  });
  const { report } = json(['a.rig'], { cwd: folder.path });
  expect(report.files[0]).toMatchObject({ findings: [], allowed: [{ code: 'splits/needless', allowed: 'a recorder' }] });
  expect(report.counts).toMatchObject({ note: 0, allowed: 1 });
  const { stdout } = earloom(['sheets', 'a.rig', '--sheet', 'patch-list'], { cwd: folder.path });
  // Set in lines, wherever they break.
  expect(stdout.replace(/\s+/g, ' ')).toMatch(/Nothing found wrong, 1 allowed\..*! Allowed: .*The reason: a recorder/);
});

test('JSON: the shape that is written down in packages/cli/report/json.ts', () => {
  const folder = new Folder({ 'a.rig': `${WRONG}house 1 takes voise\n`, 'sub/b.rig': SOUND });
  const { status, report } = json(['a.rig', 'sub', 'missing.rig'], { cwd: folder.path });
  expect(status).toBe(2);
  expect(Object.keys(report)).toEqual(['version', 'files', 'counts']);
  expect(report.version).toBe(1);
  expect(report.files.map((file) => file.path)).toEqual(['a.rig', 'sub/b.rig', 'missing.rig']);
  const [wrong, sound, missing] = report.files;
  const unknown = wrong?.findings.find((each) => each.code === 'names/unknown');
  expect(unknown).toMatchObject({
    severity: 'error',
    message: { what: 'There is no source or mix called voise.', cure: 'Did you mean voice?' },
    // Lines and columns count from 1; the end is just after the last letter.
    range: { start: { line: 5, column: 21 }, end: { line: 5, column: 26 } },
    figures: { name: 'voise', near: ['voice'] },
  });
  expect(Object.keys(unknown ?? {})).toEqual(['code', 'severity', 'message', 'range', 'related', 'figures']);
  // The other place where it stands.
  expect(unknown?.related[0]).toMatchObject({ path: 'a.rig', range: { start: { column: 15 } } });
  expect(sound).toEqual({ path: 'sub/b.rig', findings: [], allowed: [] });
  expect(missing).toMatchObject({ path: 'missing.rig', findings: [], unusable: { what: 'There is no file missing.rig.' } });
  const errors = report.files.flatMap((file) => file.findings).filter((each) => each.severity === 'error').length;
  expect(report.counts).toMatchObject({ files: 3, unusable: 1, error: errors, danger: 0 });
});

test('findings of text and of JSON are the same, in the same order', () => {
  const folder = new Folder({ 'a.rig': generateRig(1_000, 3).replaceAll('condenser-mic', 'condensr-mic') });
  const { report } = json(['a.rig'], { cwd: folder.path });
  const { stdout } = earloom(['check', 'a.rig'], { cwd: folder.path });
  const told = stdout.split('\n').flatMap((line) => /^a\.rig:(\d+):(\d+) {2}\w+ {2}(\S+)$/.exec(line)?.slice(1).join(' ') ?? []);
  const found = report.files.flatMap((file) => file.findings.map(({ code, range: { start } }) => `${start.line} ${start.column} ${code}`));
  expect(found.length).toBeGreaterThan(3);
  expect(told).toEqual(found);
});

test('standard input, which may use what is in the folder one is in', () => {
  const folder = new Folder({ 'shelf.rig': 'model our-mic is dynamic-mic { owned }\n' });
  const text = `use "shelf.rig"\n${SOUND.replace('dynamic-mic', 'our-mic')}`;
  expect(earloom(['check', '-'], { cwd: folder.path, input: text })).toMatchObject({
    status: 0,
    stdout: '1 file checked: nothing found.\n',
  });
  const wrong = earloom(['check', '-'], { cwd: folder.path, input: WRONG });
  expect(wrong.status).toBe(1);
  expect(wrong.stdout).toMatch(/^standard input:5:21 {2}error/);
  expect(json(['-'], { cwd: folder.path, input: WRONG }).report.files[0]?.path).toBe('-');
});

test('a folder: all rigs in it and below, in order, each once; not node_modules, not folders that are hidden', () => {
  const folder = new Folder({
    'b.rig': SOUND,
    'a/z.rig': SOUND,
    'a/deep/er/y.rig': SOUND,
    'notes.txt': 'no rig',
    'node_modules/x/x.rig': WRONG,
    '.hidden/x.rig': WRONG,
    'named.rig/inside.rig': SOUND,
  });
  const { status, report } = json(['.', 'b.rig', 'a'], { cwd: folder.path });
  expect(status).toBe(0);
  expect(report.files.map((file) => file.path)).toEqual(['b.rig', 'a/z.rig', 'a/deep/er/y.rig', 'named.rig/inside.rig']);
});

test('what a rig uses has to be in the folder one is in, or beside a rig that is elsewhere; links do not lead out', () => {
  const folder = new Folder({
    'band/rigs/a.rig': `use "../shelf.rig"\n${SOUND.replace('dynamic-mic', 'our-mic')}`,
    'band/shelf.rig': 'model our-mic is dynamic-mic\n',
    'elsewhere/secret.rig': 'model secret-mic is dynamic-mic\n',
    'band/linked.rig': 'use "link.rig"\nrig "Linked"\n',
  });
  symlinkSync(path.join(folder.path, 'elsewhere/secret.rig'), path.join(folder.path, 'band/link.rig'));
  expect(earloom(['check', 'rigs/a.rig'], { cwd: path.join(folder.path, 'band') }).status).toBe(0);
  const outside = earloom(['check', path.join(folder.path, 'band/rigs/a.rig')], { cwd: path.join(folder.path, 'elsewhere') });
  expect(outside.status).toBe(1);
  expect(outside.stdout).toContain('use/outside');
  const linked = earloom(['check', 'linked.rig'], { cwd: path.join(folder.path, 'band') });
  expect(linked.status).toBe(1);
  expect(linked.stdout).toContain('link.rig is outside the folder that is open.');
});

test.each<[what: string, name: string, bytes: Buffer | undefined, says: RegExp]>([
  ['a file that is not there', 'gone.rig', undefined, /There is no file gone\.rig\./],
  ['a path through a file', 'plain.rig/x.rig', undefined, /a part of its path is a file/],
  ['a folder without a rig', 'empty', undefined, /empty is a folder without a \.rig file/],
  ['a folder with the name of a rig', 'folder.rig', undefined, /folder\.rig is a folder without a \.rig file/],
  ['a file that is not called a rig', 'notes.txt', Buffer.from('no rig'), /notes\.txt is not called a rig/],
  ['an image', 'image.rig', Buffer.from('89504e470d0a1a0a0000000d', 'hex'), /image\.rig cannot be read: it is not text/],
  ['text in Latin-1', 'latin.rig', Buffer.from('rig "a"\nperformer j\xe9r\xf4me\n', 'latin1'), /not text in UTF-8 \(.* line 2\)/],
  ['text in UTF-16', 'wide.rig', Buffer.from('\ufeffrig "a"', 'utf16le'), /it is text in UTF-16/],
  ['a file that is far too large', 'huge.rig', Buffer.alloc(5 * 1024 * 1024, 0x20), /larger than 4 MB/],
])('%s: a clear message on standard error, nothing else, exit code 2', (_what, name, bytes, says) => {
  const folder = new Folder({ 'plain.rig': SOUND, 'empty/readme.txt': '', 'folder.rig/readme.txt': '' });
  if (bytes) writeFileSync(path.join(folder.path, name), bytes);
  const { status, stdout, stderr } = earloom(['check', name], { cwd: folder.path });
  expect(stderr).toMatch(says);
  expect(stderr).toMatch(/^earloom: .*\n$/);
  expect(stdout).toBe('');
  expect(status).toBe(2);
});

test.runIf(process.platform !== 'win32')('a file that may not be read', () => {
  const folder = new Folder({ 'secret.rig': SOUND, 'open.rig': SOUND });
  const program = copyTo(folder.path);
  // Whoever may read everything takes the part of somebody who may not.
  const nobody = process.getuid?.() === 0 ? { uid: 65534, gid: 65534 } : {};

  chmodSync(folder.path, 0o755);
  chmodSync(path.join(folder.path, 'secret.rig'), 0o200);
  const { status, stdout, stderr } = earloom(['check', 'secret.rig', 'open.rig'], {
    cwd: folder.path,
    program,
    ...nobody,
  });
  expect(stderr).toContain('secret.rig may not be read by you.');
  // The others are checked all the same.
  expect(stdout).toBe('1 file checked: nothing found. 1 could not be read.\n');
  expect(status).toBe(2);
});

test('a file in use that cannot be read is told where it is used', () => {
  const folder = new Folder({ 'a.rig': `use "shelf.rig"\n${SOUND}` });
  writeFileSync(path.join(folder.path, 'shelf.rig'), Buffer.from('model j\xe9 is dynamic-mic', 'latin1'));
  const { status, stdout } = earloom(['check', 'a.rig'], { cwd: folder.path });
  expect(status).toBe(1);
  expect(stdout).toContain('a.rig:1:5  error  text/not-readable');
});

test('a byte order mark and line ends of any kind move nothing', () => {
  const at = (text: string) => {
    const folder = new Folder({ 'a.rig': text });
    return json(['a.rig'], { cwd: folder.path }).report.files[0]?.findings.map(({ code, range }) => ({ code, range }));
  };
  const plain = at(WRONG);
  expect(plain?.length).toBeGreaterThan(0);
  expect(at(`\ufeff${WRONG}`)).toEqual(plain);
  expect(at(WRONG.replaceAll('\n', '\r\n'))).toEqual(plain);
  expect(at(WRONG.replaceAll('\n', '\r'))).toEqual(plain);
});

test('an empty file has nothing wrong with it', () => {
  const folder = new Folder({ 'a.rig': '', 'b.rig': '\n\n# nothing yet\n' });
  expect(earloom(['check', '.'], { cwd: folder.path })).toMatchObject({ status: 0, stdout: '2 files checked: nothing found.\n' });
});

test('what could steer a terminal or turn the direction of reading is shown, not done', () => {
  const folder = new Folder({ 'a.rig': WRONG.replace('"Voice"', '"\u001b[2J\u0007\u202eVoice\u009b1m" wrong') });
  const { stdout } = earloom(['check', 'a.rig'], { cwd: folder.path });
  expect(stdout).toContain('"␛[2J␇<U+202E>Voice<U+009B>1m"');
  const steering = /[\p{Cc}\u202a-\u202e]/u;
  for (const text of [stdout, earloom(['check', '--format', 'json', 'a.rig'], { cwd: folder.path }).stdout]) {
    expect(text.replaceAll('\n', '')).not.toMatch(steering);
  }
});

test('the mark stands under wide letters and emoji, too, and in a line that is longer than the terminal', () => {
  const wide = `performer "x"\nperformer 太郎 "🎷 太郎" at 1 kg, 2 m\n`;
  const long = `performer ada "${'long '.repeat(60)}" at 1 kg, 2 m\n`;
  const folder = new Folder({ 'wide.rig': wide, 'long.rig': long });
  const marks = (name: string) => {
    const lines = earloom(['check', name], { cwd: folder.path }).stdout.split('\n');
    const at = lines.findIndex((line) => line.includes('units/wrong'));
    return lines.slice(at + 1, at + 3) as [string, string];
  };
  const [line, mark] = marks('wide.rig');
  // Two columns for each of those letters, by the Unicode Standard Annex 11: 太 and 郎 are wide, and so is an emoji.
  const columns = (text: string) => [...text].reduce((sum, letter) => sum + (/[太郎🎷]/u.test(letter) ? 2 : 1), 0);
  expect(mark.indexOf('^')).toBe(columns(line.slice(0, line.indexOf('1 kg'))));
  expect(mark.trim().replace('|', '').trim()).toBe('^^^^');
  const [cut, under] = marks('long.rig');
  expect(cut.length).toBeLessThanOrEqual(100);
  expect(cut.slice(under.indexOf('^'), under.lastIndexOf('^') + 1)).toBe('1 kg');
});

test('colour only where it is asked for, or on a terminal', () => {
  const folder = new Folder({ 'a.rig': WRONG });
  const plain = earloom(['check', 'a.rig'], { cwd: folder.path }).stdout;
  const forced = earloom(['check', 'a.rig'], { cwd: folder.path, env: { FORCE_COLOR: '1' } }).stdout;
  expect(forced).toContain('\u001b[31m');
  expect(stripVTControlCharacters(forced)).toBe(plain);
  expect(earloom(['check', 'a.rig'], { cwd: folder.path, env: { FORCE_COLOR: '0' } }).stdout).toBe(plain);
});

test('a reader that has seen enough is no mistake', async () => {
  const folder = new Folder({ 'a.rig': 'performer x at 1 kg, 2 m\n'.repeat(3_000) });
  const child = spawn(process.execPath, [EARLOOM, 'check', 'a.rig'], { cwd: folder.path, stdio: ['ignore', 'pipe', 'pipe'] });
  let errors = '';
  child.stderr.on('data', (data) => {
    errors += data;
  });
  child.stdout.once('data', () => child.stdout.destroy());
  const code = await new Promise((resolve) => child.once('close', resolve));
  expect(errors).toBe('');
  expect(code).toBeLessThan(2);
});

test.each<[words: string[], says: RegExp]>([
  [['check'], /missing required argument 'file'/],
  [['check', '--wrong', 'a.rig'], /unknown option '--wrong'/],
  [['check', '--format', 'xml', 'a.rig'], /Allowed choices are text, json/],
  [['chekc', 'a.rig'], /unknown command 'chekc'\n\(Did you mean check\?\)/],
  [[], /Usage: earloom/],
])('earloom %j cannot be understood: exit code 2', (words, says) => {
  const { status, stdout, stderr } = earloom(words);
  expect(status).toBe(2);
  expect(stderr).toMatch(says);
  expect(stdout).toBe('');
});

test('help, with examples, and the version', () => {
  for (const words of [['--help'], ['help', 'check'], ['check', '--help'], ['patch', '-h']]) {
    const { status, stdout, stderr } = earloom(words);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(stdout).toMatch(/Examples:\n {2}earloom /);
    expect(stdout).toContain('Exit codes: 0');
  }
  expect(earloom(['--version'])).toEqual({ status: 0, stdout: `${version}\n`, stderr: '' });
});
