/** `earloom sheets`, as a process: which sheets, how written, where to, and what it refuses. */
import { existsSync, readdirSync, readFileSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import papaparse from 'papaparse';
import { expect, test } from 'vitest';
import { SHEET_IDS } from '#sheets/sheet';
import { Folder } from '../protocol/folder';
import { earloom } from './earloom';

const RIG = `rig "Two Kettles" stage 4 m by 3 m
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

const list = (folder: Folder, name = '.') => readdirSync(path.join(folder.path, name)).sort();
const read = (folder: Folder, name: string) => readFileSync(path.join(folder.path, name), 'utf-8');

test('printed: all of them, one under the other', () => {
  const folder = new Folder({ 'a.rig': RIG });
  const { status, stdout } = earloom(['sheets', 'a.rig'], { cwd: folder.path });
  expect(status).toBe(0);
  const titles = stdout.split('\n').filter((line) => line.startsWith('Two Kettles: '));
  expect(titles).toHaveLength(SHEET_IDS.length);
  expect(titles[0]).toBe('Two Kettles: Patch list');
});

test('those that are named, in the order of the sheets, whatever the order of the names', () => {
  const folder = new Folder({ 'a.rig': RIG });
  const { stdout } = earloom(['sheets', 'a.rig', '--sheet', 'stage, Mixes'], { cwd: folder.path });
  expect(stdout.split('\n').filter((line) => line.startsWith('Two Kettles: '))).toEqual(['Two Kettles: Mixes', 'Two Kettles: Stage']);
});

test('`patch` is the patch list and nothing else', () => {
  const folder = new Folder({ 'a.rig': RIG });
  for (const format of ['text', 'markdown', 'csv', 'html'])
    expect(earloom(['patch', 'a.rig', '-f', format], { cwd: folder.path }).stdout).toBe(
      earloom(['sheets', 'a.rig', '-s', 'patch-list', '-f', format], { cwd: folder.path }).stdout,
    );
});

test.each([
  ['all.html', /^<!DOCTYPE html>/],
  ['all.md', /^# Two Kettles/],
  ['all.csv', /^\ufeff?Section,/],
  ['all.txt', /^Two Kettles: Patch list/],
])('-o %s: one file, written as its name says', (name, begins) => {
  const folder = new Folder({ 'a.rig': RIG });
  expect(earloom(['sheets', 'a.rig', '-o', name], { cwd: folder.path })).toMatchObject({ status: 0, stdout: '' });
  expect(read(folder, name)).toMatch(begins);
  expect(list(folder)).toEqual(['a.rig', name].sort());
});

test('a folder gets a file for each sheet, the same each time; it is made if need be', () => {
  const folder = new Folder({ 'a.rig': RIG });
  for (const [out, words] of [
    ['new/deep/', []],
    ['there', ['-f', 'csv']],
  ] as const) {
    if (out === 'there') earloom(['sheets', 'a.rig', '-o', 'there/', '-s', 'mixes', '-f', 'csv'], { cwd: folder.path });
    expect(earloom(['sheets', 'a.rig', '-o', out, ...words], { cwd: folder.path })).toMatchObject({
      status: 0,
      stdout: '',
      stderr:
        out === 'there'
          ? expect.stringMatching(/^earloom: Written to there: 13 sheets whole, and \d+ tables of them, each a file\.\n$/)
          : '',
    });
    const ending = out === 'there' ? 'csv' : 'html';
    // As CSV, each table by itself as well: mixes-strips.csv.
    const whole = list(folder, out).filter((name) => SHEET_IDS.some((id) => name === `${id}.${ending}`));
    expect(whole).toEqual(SHEET_IDS.map((id) => `${id}.${ending}`).sort());
    const tables = list(folder, out).filter((name) => !whole.includes(name));
    if (out === 'there') expect(tables).toContain('patch-list-inputs.csv');
    else expect(tables).toEqual([]);
    const before = list(folder, out).map((name) => read(folder, path.join(out, name)));
    earloom(['sheets', 'a.rig', '-o', out, ...words], { cwd: folder.path });
    expect(list(folder, out).map((name) => read(folder, path.join(out, name)))).toEqual(before);
  }
  const { errors } = papaparse.parse(read(folder, 'there/leads.csv'), { skipEmptyLines: true });
  expect(errors).toEqual([]);
});

test('several tables in a file for a spreadsheet: says so, and how a file for each is had', () => {
  const folder = new Folder({ 'a.rig': RIG });
  const { status, stderr } = earloom(['patch', 'a.rig', '-o', 'a.csv'], { cwd: folder.path });
  const [, command = ''] =
    /^earloom: a\.csv has three tables in it, one below the other\. For a file for each, name a folder: "earloom (.*)"\.$/m.exec(stderr) ??
    [];
  expect(status).toBe(0);
  // What it names is what does it, and says what it has done.
  expect(earloom(command.split(' '), { cwd: folder.path })).toEqual(
    expect.objectContaining({
      status: 0,
      stdout: '',
      stderr: 'earloom: Written to tables: one sheet whole, and three tables of it, each a file.\n',
    }),
  );
  expect(list(folder, 'tables')).toHaveLength(1 + 3);
  expect(list(folder, 'tables')).toEqual(expect.arrayContaining(['patch-list-inputs.csv', 'patch-list.csv']));
  const other = earloom(['sheets', 'a.rig', '-s', 'stage', '-o', 'b.md'], { cwd: folder.path });
  expect(other.stderr).toBe('');
});

test('drawings: one as a file, several to a folder', () => {
  const folder = new Folder({ 'a.rig': RIG });
  expect(earloom(['sheets', 'a.rig', '-s', 'stage', '-o', 'plan.svg'], { cwd: folder.path }).status).toBe(0);
  expect(read(folder, 'plan.svg')).toMatch(/^<\?xml [\s\S]*<svg /);
  const { status, stderr } = earloom(['sheets', 'a.rig', '-o', 'all.svg'], { cwd: folder.path });
  expect(status).toBe(2);
  expect(stderr).toMatch(/There are \d+ drawings on these sheets, and an SVG file holds one\. Write them to a folder/);
  expect(existsSync(path.join(folder.path, 'all.svg'))).toBe(false);
  expect(earloom(['sheets', 'a.rig', '-f', 'svg', '-o', 'drawings/'], { cwd: folder.path }).status).toBe(0);
  expect(list(folder, 'drawings')).toContain('stage.svg');
  const none = earloom(['sheets', 'a.rig', '-s', 'patch-list', '-f', 'svg'], { cwd: folder.path });
  expect(none).toMatchObject({ status: 2, stdout: '' });
  expect(none.stderr).toContain('There is no drawing on the sheet "Patch list".');
});

test('a label leads nowhere: no file is written but those named by what they are', () => {
  const folder = new Folder({ 'a.rig': RIG.replace('Two Kettles', '../../../evil/<script>').replace('"Voice"', '"../voice\\.."') });
  expect(earloom(['sheets', 'a.rig', '-o', 'out/'], { cwd: folder.path }).status).toBe(0);
  expect(list(folder)).toEqual(['a.rig', 'out']);
  expect(list(folder, 'out')).toEqual(SHEET_IDS.map((id) => `${id}.html`).sort());
});

test('no rig is written over, by its name or behind a link', () => {
  const folder = new Folder({ 'a.rig': RIG, 'out/x': '' });
  symlinkSync('../a.rig', path.join(folder.path, 'out/stage.html'));
  for (const output of ['a.rig', 'new.RIG', 'out/']) {
    const { status, stderr } = earloom(['sheets', 'a.rig', '-o', output], { cwd: folder.path });
    expect(status).toBe(2);
    expect(stderr).toContain('would overwrite a rig, or look like one.');
  }
  expect(read(folder, 'a.rig')).toBe(RIG);
  expect(list(folder, 'out')).toEqual(['stage.html', 'x']);
});

test.each<[what: string, words: string[], says: RegExp]>([
  ['a sheet that there is not', ['a.rig', '-s', 'stage,wardrobe'], /There is no sheet "wardrobe"\. There are patch-list, mixes, /],
  ['no sheet', ['a.rig', '-s', ''], /There is no sheet ""/],
  ['a format that there is not', ['a.rig', '-f', 'papyrus'], /Allowed choices are text, markdown, csv, html/],
  ['a folder', ['.'], /is a folder\. Sheets are of one rig/],
  ['a file that only lends its gear', ['shelf.rig'], /shelf\.rig has no rig in it/],
  ['a folder below a file', ['a.rig', '-o', 'a.rig/out/'], /is a file and not a folder|cannot be written/],
])('%s: exit code 2', (_what, words, says) => {
  const folder = new Folder({ 'a.rig': RIG, 'shelf.rig': 'model our-mic is dynamic-mic { owned }\n' });
  const { status, stdout, stderr } = earloom(['sheets', ...words], { cwd: folder.path });
  expect(stderr).toMatch(says);
  expect(stdout).toBe('');
  expect(status).toBe(2);
});

test('mistakes do not stop it; standard error says that there are some', () => {
  const { status, stdout, stderr } = earloom(['sheets', '-', '-s', 'mixes'], { input: RIG.replace('takes voice', 'takes voise') });
  expect(status).toBe(0);
  expect(stdout).toContain('Harp');
  expect(stderr).toMatch(/wrong in standard input\. "earloom check -" tells what/);
});
