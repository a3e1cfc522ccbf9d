/** `earloom patch`, as a process: what it prints and writes, what it refuses, and what others make of it. */
import { chmodSync, existsSync, readdirSync, readFileSync, statSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import papaparse from 'papaparse';
import { type DefaultTreeAdapterTypes, parse } from 'parse5';
import { expect, test } from 'vitest';
import { Folder } from '../protocol/folder';
import { earloom } from './earloom';

const RIG = `rig "Two Kettles"
performer ada "Ada" at 0 m, 2 m
source voice "Voice" is dynamic-mic by ada
source harp "Harp" is piezo-pickup by ada
gear iface "Interface" is interface-8-mic at 1 m, 3 m
input iface.1 takes voice
input iface.5 takes harp via active-di
house at 4 m, 0 m
house 3 "Lead" own mic
mix ada mono for ada { voice 0 dB harp -3 dB }
output iface.phones1 carries ada
`;

/** Labels that would do harm if one of the formats took them for its own. */
const HOSTILE = {
  html: `<script>alert(1)</script><img src=x onerror=alert(2)>&amp;' --> </style>`,
  csv: `=HYPERLINK("http://x.invalid";A1), "quoted"`.replaceAll('"', "'"),
  markdown: '| a | b `c` [d](e)',
};

test('printed: each part of it, and nothing on standard error where nothing is wrong', () => {
  const folder = new Folder({ 'a.rig': RIG });
  const { status, stdout } = earloom(['patch', 'a.rig'], { cwd: folder.path });
  expect(status).toBe(0);
  for (const word of ['Two Kettles', 'Interface 1', 'Voice', 'Interface 5', 'Harp', 'DI out', 'Lead', 'Ada'])
    expect(stdout).toContain(word);
});

test('mistakes do not stop it; standard error says that there are some', () => {
  const folder = new Folder({ 'a.rig': RIG.replace('takes voice', 'takes voise') });
  const { status, stdout, stderr } = earloom(['patch', 'a.rig'], { cwd: folder.path });
  expect(status).toBe(0);
  expect(stdout).toContain('Harp');
  expect(stderr).toMatch(/wrong in a\.rig\. "earloom check a\.rig" tells what/);
});

test('from standard input', () => {
  expect(earloom(['patch', '-'], { input: RIG }).stdout).toContain('Two Kettles');
});

test.each([
  ['patch.html', /^<!DOCTYPE html>/],
  ['patch.md', /^# /m],
  ['patch.csv', /^\ufeff?Section,/],
  ['patch.txt', /^Two Kettles/],
  ['patch', /^Two Kettles/],
])('-o %s: written as its name says, and nothing is printed', (name, begins) => {
  const folder = new Folder({ 'a.rig': RIG });
  expect(earloom(['patch', 'a.rig', '-o', name], { cwd: folder.path })).toMatchObject({ status: 0, stdout: '' });
  expect(readFileSync(path.join(folder.path, name), 'utf-8')).toMatch(begins);
  expect(readdirSync(folder.path).sort()).toEqual(['a.rig', name].sort());
});

test('--format goes before the name', () => {
  const folder = new Folder({ 'a.rig': RIG });
  earloom(['patch', 'a.rig', '-f', 'csv', '-o', 'patch.html'], { cwd: folder.path });
  expect(readFileSync(path.join(folder.path, 'patch.html'), 'utf-8')).toMatch(/^\ufeff?Section,/);
});

test('a rig is never written over', () => {
  const folder = new Folder({ 'a.rig': RIG, 'b.rig': 'rig "Other"\n' });
  for (const name of ['a.rig', 'b.rig', 'new.RIG', './a.rig']) {
    const { status, stderr } = earloom(['patch', 'a.rig', '-o', name], { cwd: folder.path });
    expect(status).toBe(2);
    expect(stderr).toContain('would overwrite a rig, or look like one.');
  }
  expect(readFileSync(path.join(folder.path, 'a.rig'), 'utf-8')).toBe(RIG);
  expect(readdirSync(folder.path).sort()).toEqual(['a.rig', 'b.rig']);
});

test('nor is one by way of a link', () => {
  const folder = new Folder({ 'a.rig': RIG });
  symlinkSync('a.rig', path.join(folder.path, 'patch.html'));
  expect(earloom(['patch', 'a.rig', '-o', 'patch.html'], { cwd: folder.path }).status).toBe(2);
  expect(readFileSync(path.join(folder.path, 'a.rig'), 'utf-8')).toBe(RIG);
});

test('an older patch list is replaced as a whole, and keeps who may read it', () => {
  const folder = new Folder({ 'a.rig': RIG, 'patch.txt': 'yesterday\n'.repeat(100_000) });
  const file = path.join(folder.path, 'patch.txt');
  chmodSync(file, 0o640);
  expect(earloom(['patch', 'a.rig', '-o', 'patch.txt'], { cwd: folder.path }).status).toBe(0);
  expect(readFileSync(file, 'utf-8')).not.toContain('yesterday');
  if (process.platform !== 'win32') expect(statSync(file).mode & 0o777).toBe(0o640);
});

test('a link to a patch list stays a link', () => {
  const folder = new Folder({ 'a.rig': RIG, 'real/patch.txt': 'old' });
  symlinkSync('real/patch.txt', path.join(folder.path, 'patch.txt'));
  earloom(['patch', 'a.rig', '-o', 'patch.txt'], { cwd: folder.path });
  expect(readFileSync(path.join(folder.path, 'real/patch.txt'), 'utf-8')).toContain('Two Kettles');
  expect(readdirSync(path.join(folder.path, 'real'))).toEqual(['patch.txt']);
});

test.each([
  ['a folder', 'sub', /sub is a folder/],
  ['a folder that is not there', 'gone/patch.txt', /its folder does not exist/],
  ['a path through a file', 'a.rig/patch.txt', /is a file and not a folder/],
  ['a name that is too long', `${'x'.repeat(300)}.txt`, /its name is longer than a file can have/],
])('%s cannot be written: a clear message, exit code 2', (_what, name, says) => {
  const folder = new Folder({ 'a.rig': RIG, 'sub/x': '' });
  const { status, stderr } = earloom(['patch', 'a.rig', '-o', name], { cwd: folder.path });
  expect(status).toBe(2);
  expect(stderr).toMatch(says);
});

test.runIf(existsSync('/dev/full'))('a full disk: a clear message, exit code 2', () => {
  const { status, stderr } = earloom(['patch', '-', '-o', '/dev/full'], { input: RIG });
  expect(stderr).toContain('/dev/full cannot be written: the disk is full. What has gone into it is not whole.');
  expect(status).toBe(2);
});

test.each<[what: string, words: string[], says: RegExp]>([
  ['a file that only lends its gear', ['shelf.rig'], /shelf\.rig has no rig in it/],
  ['a folder', ['.'], /is a folder\. A patch list is of one rig/],
  ['a file that is not there', ['gone.rig'], /There is no file gone\.rig/],
  ['a format that there is not', ['a.rig', '-f', 'pdf'], /Allowed choices are text, markdown, csv, html/],
  ['two rigs', ['a.rig', 'shelf.rig'], /too many arguments/],
])('%s: exit code 2', (_what, words, says) => {
  const folder = new Folder({ 'a.rig': RIG, 'shelf.rig': 'model our-mic is dynamic-mic { owned }\n' });
  const { status, stdout, stderr } = earloom(['patch', ...words], { cwd: folder.path });
  expect(stderr).toMatch(says);
  expect(stdout).toBe('');
  expect(status).toBe(2);
});

test('a hostile label in a page is text and nothing else (parse5)', () => {
  const folder = new Folder({ 'a.rig': RIG.replace('"Voice"', `"${HOSTILE.html}"`) });
  const { stdout } = earloom(['patch', 'a.rig', '-f', 'html'], { cwd: folder.path });
  const elements: DefaultTreeAdapterTypes.Element[] = [];
  const texts: string[] = [];
  const visit = (node: DefaultTreeAdapterTypes.Node) => {
    if ('tagName' in node) elements.push(node);
    if ('value' in node) texts.push(node.value);
    if ('childNodes' in node) node.childNodes.forEach(visit);
  };
  visit(parse(stdout));
  // A long word may stand in an element of its own.
  expect(texts.join('')).toContain(HOSTILE.html);
  expect(elements.filter(({ tagName }) => ['script', 'img', 'iframe', 'object'].includes(tagName))).toEqual([]);
  expect(
    elements.flatMap(({ attrs }) => attrs).filter(({ name, value }) => name.startsWith('on') || value.includes('javascript:')),
  ).toEqual([]);
});

test('CSV is read back by another program (Papa Parse): records of one length, labels as written, no formulas', () => {
  const awkward = 'Voice, "the" best; both\tof us';
  const folder = new Folder({ 'a.rig': RIG.replace('"Voice"', `"${HOSTILE.csv}"`).replace('"Harp"', `“${awkward}”`) });
  const { stdout } = earloom(['patch', 'a.rig', '-f', 'csv'], { cwd: folder.path });
  const { data, errors } = papaparse.parse<string[]>(stdout.replace(/^\ufeff/, ''), { skipEmptyLines: true });
  expect(errors).toEqual([]);
  expect(new Set(data.map((record) => record.length)).size).toBe(1);
  const cells = data.flat();
  expect(cells.some((cell) => cell === awkward)).toBe(true);
  // An apostrophe in front is how a spreadsheet is told that a cell is text.
  expect(cells.some((cell) => cell === `'${HOSTILE.csv}`)).toBe(true);
  expect(cells.filter((cell) => /^[=+@]/.test(cell) || (/^-/.test(cell) && Number.isNaN(Number(cell))))).toEqual([]);
});

test('a Markdown table keeps its columns whatever a label says', () => {
  const folder = new Folder({ 'a.rig': RIG, 'b.rig': RIG.replace('"Voice"', `"${HOSTILE.markdown}"`) });
  const columns = (name: string) => {
    const lines = earloom(['patch', name, '-f', 'markdown'], { cwd: folder.path }).stdout.split('\n');
    // A vertical bar that is not escaped ends a cell (GitHub Flavored Markdown, tables).
    return lines.filter((line) => line.startsWith('|')).map((line) => line.replaceAll('\\|', '').split('|').length);
  };
  expect(columns('b.rig')).toEqual(columns('a.rig'));
});
