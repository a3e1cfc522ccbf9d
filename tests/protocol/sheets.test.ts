import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { TextDocumentContentRequest } from 'vscode-languageserver/node';
import { libraryFiles } from '#language';
import {
  EXPORT,
  EXPORT_LABELS,
  EXPORT_LABELS_PDF,
  EXPORT_PDF,
  type Export,
  type Exported,
  type ExportLabels,
  type ExportPdf,
  type Sheets,
  type SheetsUpdate,
  UNWATCH,
  WATCH,
  type Watched,
} from '#server/protocol';
import { sheetsUpdated } from '#server/sheetsUpdate';
import { fields, SHEET_IDS, type SheetId } from '#sheets/sheet';
import { root } from '../build';
import { Client, START } from './client';
import { Folder } from './folder';

const tour = readFileSync(path.join(root, 'tests/checks/tour.rig'), 'utf8');
const shelf = readFileSync(path.join(root, 'tests/checks/gear/our-shelf.rig'), 'utf8');

/** A column of a table of the patch list, and the places that its rows are made of. */
function inputsOf(sheets: Sheets | undefined, title: string): { cell: unknown; place: string | undefined }[] {
  const table = sheets?.sheets?.[0]?.blocks.find(({ id }) => id === 'inputs');
  if (table?.kind !== 'table') return [];
  const at = fields(table.columns).findIndex((field) => field.title === title);
  return table.rows.map(({ cells, place }) => ({ cell: cells[at], place }));
}

it('sends the sheets of a watched rig, at once and after each change', async () => {
  const folder = new Folder({ 'gear/our-shelf.rig': shelf });
  const client = await Client.start();
  const uri = folder.uriOf('tour.rig');
  await client.open(uri, tour);
  await client.diagnostics(uri);
  expect(client.sheets).toEqual([]);

  await client.connection.sendNotification(WATCH, { uri, sheets: ['patch-list'] } satisfies Watched);
  await client.until(() => client.sheets.length === 1, 'the sheets');
  const [first] = client.sheets;
  expect(first).toMatchObject({ uri, version: 1, title: 'Lantern Quay, club set', titled: true });
  expect(inputsOf(first, 'Port').map(({ cell }) => cell)).toContain('Interface 3');

  // Each row can be found in the text: the spot of its place is the statement that it is made of.
  const lines = tour.split('\n');
  for (const { cell, place } of inputsOf(first, 'Port')) {
    const spot = first?.spots[place ?? ''];
    expect(spot?.uri).toBe(uri);
    expect(lines[spot?.range.start.line ?? -1]).toMatch(new RegExp(`^input +${String(cell).replace('Interface ', 'iface\\.')} `));
  }

  const line = lines.findIndex((text) => text.startsWith('source clar '));
  const at = lines[line]?.indexOf('Clarinet') ?? 0;
  const version = client.change(uri, {
    range: { start: { line, character: at }, end: { line, character: at + 'Clarinet'.length } },
    text: 'Klarinette',
  });
  await client.until(() => client.sheets.at(-1)?.version === version, 'the sheets of the change');
  expect(inputsOf(client.sheets.at(-1), 'Source').map(({ cell }) => cell)).toContain('Klarinette');

  await client.connection.sendNotification(UNWATCH, { uri });
  const sent = client.sheets.length;
  await client.diagnostics(uri, client.change(uri, { range: START, text: '# ' }));
  expect(client.sheets.length).toBe(sent);
  expect(await client.stop()).toBe(0);
});

it('sends of a sheet that has been sent only what is other now, to a client that wants no more', async () => {
  const client = await Client.start();
  const line = tour.split('\n').findIndex((text) => text.startsWith('source clar '));
  const [start, next] = [
    { line, character: 0 },
    { line: line + 1, character: 0 },
  ];
  const texts = ['# a line more\n', 'source hurdy "Hurdy-gurdy" is clip-on-mic\n', ''];
  const edits = [...texts.map((text) => ({ range: { start, end: start }, text })), { range: { start, end: next }, text: '' }];
  // Of two rigs that say the same, one is sent whole each time.
  const told = { whole: 'untitled:whole.rig', bit: 'untitled:bit.rig' };
  const watch = async (sheet: SheetId) => {
    await client.connection.sendNotification(WATCH, { uri: told.whole, sheets: [sheet] } satisfies Watched);
    await client.connection.sendNotification(WATCH, { uri: told.bit, sheets: [sheet], updates: true } satisfies Watched);
  };
  await client.open(told.whole, tour);
  await client.open(told.bit, tour);
  let heard = 0;
  let [whole, bit]: (Sheets | undefined)[] = [];
  const kinds = new Set<string>();
  const hear = () => {
    for (const each of client.sheets.slice(heard) as (Sheets | SheetsUpdate)[]) {
      const isUpdate = 'updates' in each;
      if (each.uri === told.bit) kinds.add(isUpdate ? 'update' : 'whole');
      if (!isUpdate) [whole, bit] = each.uri === told.whole ? [each, bit] : [whole, each];
      else if (bit) bit = sheetsUpdated(bit, each);
    }
    heard = client.sheets.length;
    return [whole, bit];
  };
  let version = 1;
  for (const [round, id] of (['patch-list', 'set-up', 'leads'] as const).entries()) {
    await watch(id);
    for (let step = 0; step <= edits.length; step++) {
      const edit = edits[(step - 1 + round) % edits.length];
      if (step > 0 && edit) [version] = [client.change(told.whole, edit), client.change(told.bit, edit)];
      await client.until(
        () => hear().every((each) => each?.version === version && each.sheets?.[0]?.id === id),
        `the ${id} of version ${version}`,
      );
      if (step === 0) kinds.clear();
      expect(JSON.parse(JSON.stringify(bit).replaceAll(told.bit, told.whole))).toEqual(whole);
    }
    expect([...kinds]).toEqual(['update']);
  }
  expect(await client.stop()).toBe(0);
});

it('sends them again when a used file changes', async () => {
  const folder = new Folder({ 'gear/our-shelf.rig': shelf });
  const client = await Client.start();
  const uri = folder.uriOf('tour.rig');
  await client.connection.sendNotification(WATCH, { uri, sheets: ['patch-list'] } satisfies Watched);
  await client.open(uri, tour);
  await client.until(() => client.sheets.length > 0, 'the sheets');
  const before = client.sheets.length;
  await client.open(folder.uriOf('gear/our-shelf.rig'), shelf.replace('phantom shared', ''));
  await client.until(() => client.sheets.length > before, 'the sheets after the change');
  expect(client.sheets.at(-1)?.version).toBe(1);
  expect(client.sheets.at(-1)?.sheets).not.toEqual(client.sheets[before - 1]?.sheets);
  expect(await client.stop()).toBe(0);
});

it('sends no sheet of a file that has no rig, and says so', async () => {
  const client = await Client.start();
  const uri = 'file:///band/gear/our-shelf.rig';
  await client.connection.sendNotification(WATCH, { uri, sheets: ['patch-list'] } satisfies Watched);
  await client.open(uri, shelf);
  await client.until(() => client.sheets.length > 0, 'word of it');
  expect(client.sheets.at(-1)).toEqual({ uri, version: 1, title: 'our-shelf.rig', lends: true, titled: false, spots: {} });
  expect(await client.stop()).toBe(0);
});

it('gives the text of each file of the library as it ships', async () => {
  const client = await Client.start();
  expect(libraryFiles().length).toBeGreaterThan(0);
  for (const { uri, text } of libraryFiles()) {
    expect(await client.connection.sendRequest(TextDocumentContentRequest.type, { uri: uri.toString() })).toEqual({ text });
  }
  expect(await client.stop()).toBe(0);
});

it('gives no text of a file on disk that way', async () => {
  const client = await Client.start();
  expect(await client.connection.sendRequest(TextDocumentContentRequest.type, { uri: 'file:///etc/hostname' })).toBeNull();
  expect(await client.stop()).toBe(0);
});

it('reports nothing on the library itself', async () => {
  const client = await Client.start();
  for (const { uri, text } of libraryFiles()) await client.open(uri.toString(), text);
  await client.open('file:///band/one.rig', '');
  await client.diagnostics('file:///band/one.rig');
  expect(client.published.map(({ uri }) => uri)).toEqual(['file:///band/one.rig']);
  expect(await client.stop()).toBe(0);
});

it('keeps the library whoever reads in it and is done', async () => {
  const client = await Client.start();
  for (const { uri, text } of libraryFiles()) await client.open(uri.toString(), text);
  for (const { uri } of libraryFiles()) await client.close(uri.toString());
  await client.open('file:///band/one.rig', 'source voice is dynamic-mic\n');
  await client.diagnostics('file:///band/one.rig');
  expect(client.codes('file:///band/one.rig')).not.toContain('names/unknown');
  expect(await client.stop()).toBe(0);
});

it('sends all that are asked for; what has to be laid out comes by itself when it is done, and of the latest text', async () => {
  const folder = new Folder({ 'gear/our-shelf.rig': shelf });
  const client = await Client.start();
  const uri = folder.uriOf('tour.rig');
  await client.open(uri, tour);
  await client.diagnostics(uri);
  await client.connection.sendNotification(WATCH, { uri } satisfies Watched);
  await client.until(() => client.sheets.length === 1, 'the sheets');
  expect(client.sheets[0]?.sheets?.map(({ id }) => id)).toEqual(SHEET_IDS.filter((id) => id !== 'signal-flow'));
  // Typed while it is waiting to be laid out: what was begun for the old text is of no use to anybody.
  const version = client.change(uri, { range: START, text: '# ' });
  await client.until(() => client.sheets.some(({ sheets }) => sheets?.[0]?.id === 'signal-flow'), 'the signal flow');
  const flows = client.sheets.filter(({ sheets }) => sheets?.some(({ id }) => id === 'signal-flow'));
  expect(flows.map(({ version: of, sheets }) => [of, sheets?.length])).toEqual([[version, 1]]);
  expect(Object.keys(flows[0]?.spots ?? {})).toContain('source:clar');
  expect(await client.stop()).toBe(0);
});

it('gives sheets as files: together, or each for itself', async () => {
  const folder = new Folder({ 'gear/our-shelf.rig': shelf });
  const client = await Client.start();
  const uri = folder.uriOf('tour.rig');
  await client.open(uri, tour);
  const files = async (asked: Omit<Export, 'uri'>) =>
    (await client.connection.sendRequest<Exported>(EXPORT, { uri, ...asked } satisfies Export)).files;
  const [page, ...more] = await files({ sheets: ['stage', 'mixes'], format: 'html', together: true });
  expect(more).toEqual([]);
  expect(page?.name).toBe('sheets.html');
  expect(page?.text).toMatch(/^<!DOCTYPE html>[\s\S]*<article class="sheet[\s\S]*id="mixes"[\s\S]*id="stage"/);
  expect((await files({ sheets: ['stage'], format: 'markdown', together: true })).map(({ name }) => name)).toEqual(['stage.md']);
  // And of each sheet each table by itself.
  const tables = (await files({ sheets: SHEET_IDS, format: 'csv', together: false })).map(({ name }) => name);
  expect(tables).toEqual(expect.arrayContaining([...SHEET_IDS.map((id) => `${id}.csv`), 'patch-list-inputs.csv']));
  expect(tables.filter((name) => !SHEET_IDS.some((id) => name.startsWith(id)))).toEqual([]);
  expect((await files({ sheets: ['stage'], format: 'svg', together: true }))[0]?.text).toMatch(/^<\?xml/);
  expect(await files({ sheets: ['patch-list'], format: 'svg', together: false })).toEqual([]);
  const pdf = await client.connection.sendRequest<string>(EXPORT_PDF, { uri, sheets: ['house'], paper: 'A4' } satisfies ExportPdf);
  expect(Buffer.from(pdf, 'base64').toString('latin1')).toMatch(/^%PDF-[\s\S]*%%EOF\s*$/);
  const lends = folder.uriOf('gear/our-shelf.rig');
  await expect(
    client.connection.sendRequest(EXPORT, { uri: lends, sheets: SHEET_IDS, format: 'html', together: true } satisfies Export),
  ).rejects.toThrow('This file has no rig of its own.');
  expect(await client.stop()).toBe(0);
});

it('gives the labels of the leads, or says why there are none', async () => {
  const folder = new Folder({ 'gear/our-shelf.rig': shelf });
  const client = await Client.start();
  const [uri, bare] = [folder.uriOf('tour.rig'), folder.uriOf('bare.rig')];
  await client.open(uri, tour);
  await client.open(bare, 'rig "Bare"\n');
  const asked = (method: string, wanted: ExportLabels) => client.connection.sendRequest<string>(method, wanted);
  const html = await asked(EXPORT_LABELS, { uri, stock: 'a4-3x8', style: 'plain', start: 24 });
  expect(html).toMatch(/^<!DOCTYPE html>/);
  expect(html).toContain('<title>Lantern Quay, club set: labels</title>');
  // One is left on the sheet that is begun.
  expect(html.match(/<section>/g)?.length).toBeGreaterThanOrEqual(2);
  expect(html.split('</section>')[0]).not.toContain('1 B');
  expect(html.split('</section>')[1]).toContain('1 B');
  const marks = (page: string) => page.match(/>\d+ [AB]\d*</g)?.length ?? 0;
  const all = await asked(EXPORT_LABELS, { uri, stock: 'a4-3x8', style: 'plain', all: true, band: 'Quay & Lantern' });
  expect(marks(all)).toBeGreaterThan(marks(html));
  expect(all.match(/>Quay &amp; Lantern</g)).toHaveLength(marks(all));
  const pdf = await asked(EXPORT_LABELS_PDF, { uri, stock: 'roll' });
  expect(Buffer.from(pdf, 'base64').toString('latin1')).toMatch(/^%PDF-[\s\S]*%%EOF\s*$/);
  for (const method of [EXPORT_LABELS, EXPORT_LABELS_PDF]) {
    for (const start of [25, 0, 1.5])
      await expect(asked(method, { uri, stock: 'a4-3x8', start })).rejects.toThrow(`There is no label ${start} on a sheet of these.`);
    await expect(asked(method, { uri: bare, stock: 'roll' })).rejects.toThrow('This rig has no leads yet');
    await expect(client.connection.sendRequest(method, { uri, stock: 'toString' })).rejects.toThrow(
      'There are no labels called "toString".',
    );
    await expect(asked(method, { uri: folder.uriOf('gear/our-shelf.rig'), stock: 'roll' })).rejects.toThrow(
      'This file has no rig of its own.',
    );
  }
  expect(await client.stop()).toBe(0);
});
