/** `earloom labels`, as a process: both kinds of file, the options, and what it refuses. */
import { readdirSync, readFileSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import { parse } from 'parse5';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { expect, test } from 'vitest';
import { Folder } from '../protocol/folder';
import { earloom } from './earloom';

const RIG = `rig "Two Kettles"
performer ada "Ada"
source voice "Voice" is dynamic-mic by ada
source harp "Harp" is dynamic-mic by ada
gear iface "Interface" is interface-8-mic
input iface.1 takes voice
input iface.2 takes harp
mix ada mono for ada { voice 0 dB harp -3 dB }
output iface.phones1 carries ada
`;

/** The same rig, with so many leads and more. */
const MANY = `rig "Many Kettles"
performer ada "Ada"
${Array.from({ length: 13 }, (_, at) => `source s${at} "Drum ${at}" is dynamic-mic by ada`).join('\n')}
gear one "One" is interface-8-mic
gear two "Two" is interface-8-mic
${Array.from({ length: 13 }, (_, at) => `input ${at < 8 ? `one.${at + 1}` : `two.${at - 7}`} takes s${at}`).join('\n')}
`;

const read = (folder: Folder, name: string) => readFileSync(path.join(folder.path, name));
const list = (folder: Folder) => readdirSync(folder.path).sort();
const marksIn = (text: string) => text.match(/(?<!\d)\d+ [AB](?![\w ])/g) ?? [];

/** What stands on each page and how large it is, in mm. */
async function pagesOf(bytes: Uint8Array): Promise<{ size: number[]; words: { text: string; x: number; y: number }[] }[]> {
  const document = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  return Promise.all(
    Array.from({ length: document.numPages }, async (_, index) => {
      const page = await document.getPage(index + 1);
      const { items } = await page.getTextContent();
      const words = items.flatMap((item) =>
        'str' in item && item.str.trim() !== '' ? [{ text: item.str, x: item.transform[4] ?? 0, y: item.transform[5] ?? 0 }] : [],
      );
      return { size: page.view.slice(2).map((points) => Math.round((points * 254) / 72) / 10), words };
    }),
  );
}

test('as PDF: pages as large as the sheet, both ends of each lead, twice the same', async () => {
  const folder = new Folder({ 'a.rig': RIG });
  for (const name of ['one.pdf', 'two.PDF'])
    expect(earloom(['labels', 'a.rig', '-o', name, '--style', 'plain'], { cwd: folder.path })).toMatchObject({ status: 0, stdout: '' });
  expect(read(folder, 'one.pdf').equals(read(folder, 'two.PDF'))).toBe(true);
  const pages = await pagesOf(read(folder, 'one.pdf'));
  // ISO 216.
  expect(pages.map(({ size }) => size)).toEqual([[210, 297]]);
  const marks = pages[0]?.words.map(({ text }) => text).filter((text) => /^\d+ [AB]$/.test(text)) ?? [];
  expect(marks.slice(0, 4)).toEqual(['1 A', '1 B', '2 A', '2 B']);
  expect(pages[0]?.words.map(({ text }) => text)).toContain('Voice');
});

test('as HTML: a page that stands alone, of the stock and style that were asked for', () => {
  const folder = new Folder({ 'a.rig': RIG });
  const write = (name: string, ...words: string[]) => {
    expect(earloom(['labels', 'a.rig', '-o', name, ...words], { cwd: folder.path })).toMatchObject({ status: 0, stdout: '' });
    return read(folder, name).toString();
  };
  const flags = write('flags.html');
  const plain = write('plain.htm', '--style', 'plain', '--stock', 'letter-3x10');
  const errors: string[] = [];
  for (const html of [flags, plain]) parse(html, { onParseError: ({ code }) => errors.push(code) });
  expect(errors).toEqual([]);
  expect(plain).toContain('size: 215.9mm 279.4mm');
  expect(flags).toContain('size: 210mm 297mm');
  // A flag says the same on both its faces.
  const texts = (html: string) => marksIn(html.replace(/<title>.*?<\/title>|aria-label="[^"]*"/g, '').replace(/<[^>]+>/g, '|'));
  expect(texts(flags)).toHaveLength(2 * texts(plain).length);
  expect(texts(plain).slice(0, 2)).toEqual(['1 A', '1 B']);
  const trial = write('trial.html', '--outlines');
  expect((trial.match(/<rect/g) ?? []).length - (flags.match(/<rect/g) ?? []).length).toBe(24);
});

test('a sheet that is begun goes on where it was left, and what does not fit comes on the next', async () => {
  const folder = new Folder({ 'a.rig': MANY });
  const count = async (...words: string[]) => {
    expect(earloom(['labels', 'a.rig', '-o', 'a.pdf', '--style', 'plain', ...words], { cwd: folder.path }).status).toBe(0);
    const pages = await pagesOf(read(folder, 'a.pdf'));
    return pages.map(({ words }) => words.filter(({ text }) => /^\d+ [AB]$/.test(text)).length);
  };
  expect(await count()).toEqual([24, 2]);
  expect(await count('--start', '24')).toEqual([1, 24, 1]);
  expect(await count('--start', '4', '--stock', 'a4-5x13')).toEqual([26]);
  expect(await count('--stock', 'roll')).toEqual(Array.from({ length: 26 }, () => 1));
});

const labelled = (folder: Folder, ...words: string[]) => {
  expect(earloom(['labels', ...words, '-o', 'a.html', '--style', 'plain'], { cwd: folder.path })).toMatchObject({ status: 0 });
  return read(folder, 'a.html').toString();
};
const marksOn = (html: string): string[] => [...html.matchAll(/>(\d+ [AB]\d*)</g)].flatMap(([, mark]) => mark ?? []);

test('of ours alone, unless all are asked for', () => {
  const folder = new Folder({ 'a.rig': RIG.replace('takes voice', 'takes voice via y-lead').concat('house 1 "Voice" takes voice\n') });
  const ours = marksOn(labelled(folder, 'a.rig'));
  const all = marksOn(labelled(folder, 'a.rig', '--all'));
  expect(ours.length).toBeGreaterThan(0);
  expect(all.length).toBeGreaterThan(ours.length);
  expect(all.filter((mark) => ours.includes(mark))).toEqual(ours);
});

test('of none where all are the house’s, which says how they are had', () => {
  const folder = new Folder({ 'a.rig': 'rig "Theirs"\nsource voice "Voice" is dynamic-mic\nhouse 1 takes voice\n' });
  const { status, stderr } = earloom(['labels', 'a.rig', '-o', 'a.html'], { cwd: folder.path });
  expect([status, list(folder)]).toEqual([2, ['a.rig']]);
  expect(stderr).toMatch(/All leads in a\.rig are the house’s\. Give "--all" for labels on those\./);
  expect(marksOn(labelled(folder, 'a.rig', '--all'))).toEqual(['1 A', '1 B']);
});

test('with the name of the band on each where it is given', () => {
  const folder = new Folder({ 'a.rig': RIG });
  const html = labelled(folder, 'a.rig', '--band', 'Pots & Kettles');
  expect(html.match(/>Pots &amp; Kettles</g)).toHaveLength(marksOn(html).length);
});

test.each<[what: string, words: string[], says: RegExp]>([
  ['no file', ['a.rig'], /Name a file for them, as in "-o labels\.pdf"\./],
  ['standard output', ['a.rig', '-o', '-'], /Name a file for them/],
  [
    'neither PDF nor HTML',
    ['a.rig', '-o', 'labels.csv'],
    /Labels are a PDF or a page of HTML, and "labels\.csv" is called neither\. Name a file/,
  ],
  ['stock that there is not', ['a.rig', '-o', 'a.pdf', '--stock', 'a3'], /Allowed choices are a4-3x8, a4-5x13, letter-3x10, roll\./],
  ['a style that there is not', ['a.rig', '-o', 'a.pdf', '--style', 'round'], /Allowed choices are flag, plain\./],
  [
    'a start beyond the sheet',
    ['a.rig', '-o', 'a.pdf', '--start', '25'],
    /There is no label 25 on a sheet of a4-3x8\. They are counted row by row from 1 to 24/,
  ],
  ['a start before the sheet', ['a.rig', '-o', 'a.pdf', '--start', '0'], /There is no label 0 on a sheet/],
  ['a start that is no number', ['a.rig', '-o', 'a.html', '--start', '3rd'], /There is no label "3rd" on a sheet/],
  [
    'a start on a roll',
    ['a.rig', '-o', 'a.pdf', '--stock', 'roll', '--start', '2'],
    /On a roll there is always a next label\. Leave "--start" out\./,
  ],
  [
    'a rig without leads',
    ['bare.rig', '-o', 'a.pdf'],
    /There are no leads in bare\.rig yet, so there is nothing to label\. Write what is plugged in/,
  ],
  ['a file that only lends its gear', ['shelf.rig', '-o', 'a.pdf'], /shelf\.rig has no rig in it/],
  ['a file that is not there', ['gone.rig', '-o', 'a.pdf'], /gone\.rig/],
  ['a folder', ['.', '-o', 'a.pdf'], /is a folder\. Labels are of one rig: name it\./],
  ['a folder that is not there', ['a.rig', '-o', 'no/a.html'], /cannot be written: its folder does not exist/],
  ['a rig to write over', ['a.rig', '-o', 'a.rig'], /would overwrite a rig, or look like one\./],
  ['a rig behind a link', ['a.rig', '-o', 'link.pdf'], /would overwrite a rig, or look like one\./],
])('%s: exit code 2, and nothing is written', (_what, words, says) => {
  const folder = new Folder({ 'a.rig': RIG, 'bare.rig': 'rig "Bare"\n', 'shelf.rig': 'model our-mic is dynamic-mic { owned }\n' });
  symlinkSync('a.rig', path.join(folder.path, 'link.pdf'));
  const before = list(folder);
  const { status, stdout, stderr } = earloom(['labels', ...words], { cwd: folder.path });
  expect(stderr).toMatch(says);
  expect([status, stdout]).toEqual([2, '']);
  expect(list(folder)).toEqual(before);
  expect(read(folder, 'a.rig').toString()).toBe(RIG);
});

test('mistakes do not stop it; standard error says that there are some', () => {
  const folder = new Folder();
  const { status, stderr } = earloom(['labels', '-', '-o', 'a.html'], { cwd: folder.path, input: RIG.replace('takes harp', 'takes herp') });
  expect(status).toBe(0);
  expect(stderr).toMatch(/wrong in standard input\. "earloom check -" tells what/);
  expect(list(folder)).toEqual(['a.html']);
});

test('its help names all there is to print on', () => {
  const { status, stdout } = earloom(['help', 'labels']);
  expect(status).toBe(0);
  for (const name of ['A4, 24 labels of 70 × 37 mm', 'Roll, labels of 50 × 25 mm', 'Print at 100 %']) expect(stdout).toContain(name);
});
