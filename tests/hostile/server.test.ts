/** What a folder can hold that nobody meant for a rig: the server goes on, and says what is wrong where it is used. */
import { symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { generateRig } from '../generate';
import { Client } from '../protocol/client';
import { Folder } from '../protocol/folder';

test('a rig that uses what is no rig, is not there, is no text, is outside, or is itself', async () => {
  const text = ['shelf', 'notes.txt', 'sub', 'dir.rig', 'bytes.rig', '../secret.rig', 'gone.rig', 'a.rig']
    .map((name) => `use "${name}"`)
    .join('\n');
  const folder = new Folder({ 'a.rig': text, shelf: 'model m is dynamic-mic', 'notes.txt': 'hello', 'sub/x': '', 'dir.rig/x': '' });
  writeFileSync(path.join(folder.path, 'bytes.rig'), Buffer.from([0, 255, 254, 1, 2]));
  symlinkSync('loop.rig', path.join(folder.path, 'loop.rig'));
  const client = await Client.start({ folders: [folder.uri] });
  await client.open(folder.uriOf('a.rig'), `${text}\nrig "x"\nsource v is nomic\n`);
  const found = (await client.diagnostics(folder.uriOf('a.rig'))).map(({ code, range }) => `${range.start.line} ${code}`);
  expect(found).toEqual(
    expect.arrayContaining([
      '0 text/not-readable',
      '1 text/not-readable',
      '2 text/not-readable',
      '3 text/not-readable',
      '5 use/outside',
      '6 use/missing',
      '7 use/itself',
      '9 names/unknown',
    ]),
  );
  expect(await client.stop()).toBe(0);
});

test('every hostile keystroke is answered', async () => {
  const folder = new Folder({});
  const client = await Client.start({ folders: [folder.uri] });
  const uri = folder.uriOf('a.rig');
  await client.open(uri, generateRig(110, 4));
  const start = { line: 40, character: 0 };
  for (const text of [
    '{'.repeat(1_000),
    '"',
    '\0',
    '\ud800',
    '\u202e',
    '}'.repeat(1_000),
    'model m is m\n'.repeat(50),
    '\r',
    '1e999',
    'use "../../x"\n',
  ]) {
    const version = client.change(uri, { range: { start, end: start }, text });
    await client.diagnostics(uri, version);
  }
  const version = client.change(uri, { text: generateRig(60, 4) });
  expect(await client.diagnostics(uri, version)).toEqual([]);
  expect(await client.stop()).toBe(0);
});
