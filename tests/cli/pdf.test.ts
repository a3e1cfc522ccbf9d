/** `earloom sheets` to PDF, as a process: one file or a folder, the paper, and what it refuses. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { expect, test } from 'vitest';
import { SHEET_NAMES } from '#sheets/sheet';
import { Folder } from '../protocol/folder';
import { earloom } from './earloom';

const RIG = `rig "Two Kettles"
performer ada "Ada"
source voice "Voice" is dynamic-mic by ada
gear iface "Interface" is interface-8-mic
input iface.1 takes voice
`;

async function opened(file: string) {
  return getDocument({ data: new Uint8Array(readFileSync(file)), verbosity: 0 }).promise;
}

test('all sheets as one document, on the paper that was asked for', async () => {
  const folder = new Folder({ 'a.rig': RIG });
  const { status, stdout } = earloom(['sheets', 'a.rig', '-o', 'a.pdf', '--paper', 'Letter'], { cwd: folder.path });
  expect([status, stdout]).toEqual([0, '']);
  const document = await opened(path.join(folder.path, 'a.pdf'));
  const first = await document.getPage(1);
  const { items } = await first.getTextContent();
  const contents = items.map((item) => ('str' in item ? item.str : ''));
  // What has nothing to show has no page, but is named.
  expect(contents).toEqual(expect.arrayContaining(Object.values(SHEET_NAMES)));
  expect(first.view.slice(2)).toEqual([612, 792]);
});

test('each as a file in a folder, and twice the same', () => {
  const folder = new Folder({ 'a.rig': RIG });
  for (const to of ['one/', 'two/'])
    expect(earloom(['sheets', 'a.rig', '--sheet', 'house,mixes', '--format', 'pdf', '-o', to], { cwd: folder.path }).status).toBe(0);
  const read = (name: string) => readFileSync(path.join(folder.path, name));
  expect(readdirSync(path.join(folder.path, 'one')).sort()).toEqual(['house.pdf', 'mixes.pdf']);
  expect(read('one/house.pdf').equals(read('two/house.pdf'))).toBe(true);
});

test('not on a terminal, and no paper that there is not', () => {
  const folder = new Folder({ 'a.rig': RIG });
  const printed = earloom(['sheets', 'a.rig', '--format', 'pdf'], { cwd: folder.path });
  expect(printed.status).toBe(2);
  expect(printed.stderr).toContain('Name a file for it, as in "-o sheets.pdf".');
  expect(earloom(['sheets', 'a.rig', '-o', 'a.pdf', '--paper', 'A3'], { cwd: folder.path }).status).toBe(2);
  expect(existsSync(path.join(folder.path, 'a.pdf'))).toBe(false);
});

test('a plan, with what it says', async () => {
  const folder = new Folder({ 'a.rig': RIG.replace('input iface.1 takes voice', 'mix ada mono for ada { voice 0 dB }') });
  const { status, stdout } = earloom(['plan', 'a.rig', '-o', 'plan.pdf', '--paper', 'Letter'], { cwd: folder.path });
  expect([status, stdout]).toEqual([0, '']);
  const page = await (await opened(path.join(folder.path, 'plan.pdf'))).getPage(1);
  expect(page.view.slice(2)).toEqual([612, 792]);
  const words = (await page.getTextContent()).items.map((item) => ('str' in item ? item.str : '')).join(' ');
  for (const each of ['Plan', 'Two Kettles', 'Voice', 'Interface']) expect(words).toContain(each);
  const { status: refused, stderr } = earloom(['plan', 'a.rig', '--format', 'pdf'], { cwd: folder.path });
  expect(refused).toBe(2);
  expect(stderr).toContain('-o plan.pdf');
});

test.each([
  [['plan', 'a.rig'], 'plan.csv', 'A plan cannot be written as ".csv".'],
  [['plan', 'a.rig'], 'plan.SVG', 'A plan cannot be written as ".svg".'],
  [['compare', 'a.rig', 'a.rig'], 'changes.svg', 'A list of changes cannot be written as ".svg".'],
  [['sheets', 'a.rig'], 'sheets.json', 'These sheets cannot be written as ".json".'],
  [['sheets', 'a.rig', '--sheet', 'house'], 'house.docx', 'This sheet cannot be written as ".docx".'],
])('%j -o %s: no text in a file that is called something else', (words, output, says) => {
  const folder = new Folder({ 'a.rig': RIG });
  const { status, stderr } = earloom([...words, '-o', output], { cwd: folder.path });
  expect(status).toBe(2);
  expect(stderr).toContain(says);
  expect(stderr).toContain('another ending: ');
  expect(existsSync(path.join(folder.path, output))).toBe(false);
});
