/** Many files in a folder: an edit costs what hangs on it, and files whose syntax trees have been let go answer as if they had not. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, expect, it } from 'vitest';
import { FileChangeType, type Range } from 'vscode-languageserver/node';
import { root } from '../build';
import { generateRig } from '../generate';
import { Client } from './client';
import { Folder } from './folder';

const read = (name: string) => readFileSync(path.join(root, 'tests/checks', name), 'utf8');

const running: Client[] = [];
async function start(...folders: string[]): Promise<Client> {
  const client = await Client.start({ folders });
  running.push(client);
  return client;
}

afterEach(async () => {
  for (const client of running.splice(0)) expect(await client.stop()).toBe(0);
});

const MODEL = 'model our-mic is dynamic-mic\n';
/** `top` uses `left` and `right`, which use `shelf`; `shelf` and `circle` use each other; the rest use nothing. */
const FILES: Readonly<Record<string, string>> = {
  'shelf.rig': `use "circle.rig"\n${MODEL}mix m mono { }\n`,
  'circle.rig': 'use "shelf.rig"\nsource hum is our-mic\n',
  'left.rig': 'use "shelf.rig"\nsource left is our-mic\n',
  'right.rig': 'use "shelf.rig"\nsource right is our-mic\n',
  'top.rig': 'use "left.rig"\nuse "right.rig"\nmodel a is our-mic\n',
  // Enough to have what was read before it let go.
  ...Object.fromEntries(Array.from({ length: 30 }, (_, index) => [`apart-${index}.rig`, `${MODEL}${'# our-mic\n'.repeat(400)}`])),
};
const CHAIN = ['shelf.rig', 'circle.rig', 'left.rig', 'right.rig', 'top.rig'];

async function opened(files = FILES) {
  const folder = new Folder(files);
  const client = await start(folder.uri);
  await client.until(() => Object.keys(files).every((name) => client.latest(folder.uriOf(name))), 'all files to be checked', 30_000);
  let last = 0;
  /** The files that an edit of another has checked again. */
  const checked = async (name: string, range: Range, text: string) => {
    const before = client.published.length;
    await client.diagnostics(folder.uriOf(name), client.change(folder.uriOf(name), { range, text }));
    // A file that is new is checked after all that waits to be checked.
    const after = `new-${last++}.rig`;
    folder.write(after, '');
    await client.onDisk(folder.uriOf(after), FileChangeType.Created);
    await client.until(() => client.latest(folder.uriOf(after)) !== undefined, 'a new file to be checked');
    const names = client.published.slice(before).map(({ uri }) => uri.slice(folder.uri.length + 1));
    return [...new Set(names)].filter((each) => each !== after).sort();
  };
  await client.open(folder.uriOf('shelf.rig'), files['shelf.rig'] as string);
  await client.diagnostics(folder.uriOf('shelf.rig'));
  return { folder, client, checked };
}

const at = (line: number, character: number): Range => ({ start: { line, character }, end: { line, character } });

it('an edit has only those checked again that can see it', async () => {
  const { checked } = await opened();
  // In a mix, which is nobody else's.
  expect(await checked('shelf.rig', at(2, 10), ' ')).toEqual(['shelf.rig']);
  expect(await checked('shelf.rig', at(3, 0), '# a remark')).toEqual(['shelf.rig']);
  // In the model, which all of them use.
  expect(await checked('shelf.rig', at(1, 28), ' { peak 120 dB SPL }')).toEqual(CHAIN.toSorted());
  // What a comment allows is allowed in others, too.
  expect(await checked('shelf.rig', at(3, 0), '# allow splits/needless: so it is\n')).toEqual(CHAIN.toSorted());
  // Where it stands is told in others, too.
  expect(await checked('shelf.rig', at(0, 0), '\n')).toEqual(CHAIN.toSorted());
});

it('a name that a file lacks is looked for again as soon as another has it', async () => {
  const { folder, client, checked } = await opened({ ...FILES, 'lacks.rig': 'source x is new-mic\n' });
  const message = () => client.latest(folder.uriOf('lacks.rig'))?.diagnostics.find(({ code }) => code === 'names/unknown')?.message;
  expect(message()).not.toContain('shelf.rig');
  expect(await checked('shelf.rig', at(3, 0), 'model new-mic is dynamic-mic\n')).toEqual([...CHAIN, 'lacks.rig'].toSorted());
  expect(message()).toContain('shelf.rig');
});

it('a name that a used file lacks is looked for again for those who use that file, and of several files that have it the nearest is told', async () => {
  const lacking = { 'lacks.rig': 'source x is new-mic\n', 'asks.rig': 'rig "Asks"\nuse "lacks.rig"\n' };
  const { folder, client, checked } = await opened({ ...FILES, ...lacking });
  const message = () => String(client.latest(folder.uriOf('asks.rig'))?.diagnostics.find(({ code }) => code === 'use/trouble')?.message);
  expect(message()).toContain('new-mic');
  expect(await checked('shelf.rig', at(3, 0), 'model new-mic is dynamic-mic\n')).toEqual([...CHAIN, ...Object.keys(lacking)].toSorted());
  expect(message()).toContain('use "shelf.rig"');
  // Whichever was there first.
  folder.write('box.rig', 'model new-mic is dynamic-mic\n');
  await client.onDisk(folder.uriOf('box.rig'), FileChangeType.Created);
  await client.until(() => message().includes('use "box.rig"'), 'the nearest to be told');
});

it('in what lengths are written is told to the nights of a rig, also where nobody can read them', async () => {
  const { checked } = await opened({
    'shelf.rig': 'rig "Band"\ngear i is interface-2 at 1 m, 1 m\n',
    'night.rig': 'rig "N"\nuse "shelf.rig" whole\n',
  });
  expect(await checked('shelf.rig', at(1, 34), ' 1 ft 2 ft 3 ft')).toEqual(['night.rig', 'shelf.rig']);
});

it('renaming reaches files whose trees have been let go, and no others', async () => {
  const { folder, client } = await opened();
  const textDocument = { uri: folder.uriOf('shelf.rig') };
  const position = { line: 1, character: 8 };
  for (const newName of ['their-mic', 'another-mic']) {
    const { changes } = (await client.connection.sendRequest('textDocument/rename', { textDocument, position, newName })) as {
      changes: Record<string, { range: { start: { line: number } }; newText: string }[]>;
    };
    const lines = Object.entries(changes).map(([uri, edits]) => [
      uri.slice(folder.uri.length + 1),
      edits.map(({ range }) => range.start.line),
    ]);
    expect(lines.sort()).toEqual([
      ['circle.rig', [1]],
      ['left.rig', [1]],
      ['right.rig', [1]],
      ['shelf.rig', [1]],
      ['top.rig', [2]],
    ]);
  }
});

it('references of a library model are found in all files, and go to leads there', async () => {
  const { folder, client } = await opened();
  const at = { textDocument: { uri: folder.uriOf('shelf.rig') }, position: { line: 1, character: 18 } };
  const found = (await client.connection.sendRequest('textDocument/references', { ...at, context: { includeDeclaration: false } })) as {
    uri: string;
  }[];
  expect(new Set(found.map(({ uri }) => uri).filter((uri) => uri.startsWith(folder.uri))).size).toBe(31);
  const [link] = (await client.connection.sendRequest('textDocument/definition', at)) as { targetUri?: string; uri?: string }[];
  expect(link?.targetUri ?? link?.uri).toContain('earloom:/library/');
});

it('what has no tree any more is found by its name', async () => {
  const { folder, client } = await opened();
  const found = (await client.connection.sendRequest('workspace/symbol', { query: 'hum' })) as {
    name: string;
    location: { uri: string; range: object };
  }[];
  expect(found[0]).toMatchObject({
    name: 'hum',
    location: { uri: folder.uriOf('circle.rig'), range: { start: { line: 1, character: 7 }, end: { line: 1, character: 10 } } },
  });
});

it('the names of all files are found, and an open one is checked, before the others are', async () => {
  const rigs = Object.fromEntries(Array.from({ length: 60 }, (_, index) => [`rig-${index}.rig`, generateRig(75, index + 1)]));
  const folder = new Folder(rigs);
  const client = await start(folder.uri);
  const uri = folder.uriOf('rig-59.rig');
  await client.open(uri, rigs['rig-59.rig'] as string);
  const checked = () => new Set(client.published.map((each) => each.uri)).size;
  const found = (await client.connection.sendRequest('workspace/symbol', { query: 'iface-1' })) as { location: { uri: string } }[];
  // The library has names with these letters, too.
  const files = found.map(({ location }) => location.uri).filter((each) => each.startsWith(folder.uri));
  expect(new Set(files).size).toBe(60);
  expect(checked()).toBeLessThan(60);
  await client.diagnostics(uri);
  expect(checked()).toBeLessThan(60);
  await client.until(() => checked() === 60, 'all files to be checked', 30_000);
});

it('what a check broken off has looked up in an old text is looked up again', async () => {
  const shelf = read('gear/our-shelf.rig');
  const files: Readonly<Record<string, string>> = {
    'shelf.rig': shelf,
    'open.rig': 'use "zither/more.rig"\nrig "Open"\ngear box is other\n',
    // So many that the next change comes in while they are checked.
    ...Object.fromEntries(Array.from({ length: 400 }, (_, index) => [`many-${index}.rig`, 'use "shelf.rig"\ngear box is our-interface\n'])),
    'zither/more.rig': 'use "../shelf.rig"\nmodel other is our-interface\n',
  };
  const folder = new Folder(files);
  const client = await start(folder.uri);
  const [own, between] = ['shelf.rig', 'zither/more.rig'].map(folder.uriOf, folder) as [string, string];
  await client.until(() => Object.keys(files).every((name) => client.latest(folder.uriOf(name))), 'all files to be checked', 30_000);
  await client.open(folder.uriOf('open.rig'), files['open.rig'] as string);
  await client.open(own, shelf);
  await client.diagnostics(own);
  const range = { start: { line: 5, character: 21 }, end: { line: 5, character: 24 } };
  await client.diagnostics(own, client.change(own, { range, text: 'lute' }));
  expect(client.codes(own)).toContain('models/no-such-connector');
  const count = client.published.length;
  await client.close(own);
  const since = (uri: string) => client.published.slice(count).findLast((each) => each.uri === uri)?.diagnostics;
  await client.until(() => since(own)?.length === 0 && since(between) !== undefined, 'all to be checked again');
  const after = folder.uriOf('new.rig');
  folder.write('new.rig', '');
  await client.onDisk(after, FileChangeType.Created);
  await client.until(() => since(after) !== undefined, 'a new file to be checked, after all that waits to be');
  expect(client.codes(between)).toEqual([]);
});
