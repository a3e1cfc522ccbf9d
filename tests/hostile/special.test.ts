/** Pipes, sockets, devices and folders that are called rigs: told, and never read. Names that no file can have: answered. */
import { execFileSync } from 'node:child_process';
import { once } from 'node:events';
import { symlinkSync, writeFileSync } from 'node:fs';
import net from 'node:net';
import path from 'node:path';
import fc from 'fast-check';
import { URI } from 'langium';
import { expect, onTestFinished, test } from 'vitest';
import { usedUri } from '#language';
import { earloom } from '../cli/earloom';
import { Client } from '../protocol/client';
import { Folder } from '../protocol/folder';
import { Bench, expectSound } from './open';

const SHELF = 'model our-mic is dynamic-mic\n';

/** What only looks like a file, in a folder: by itself and behind links. */
async function special(): Promise<Folder> {
  const folder = new Folder({ 'shelf.rig': SHELF, 'dir.rig/x.txt': '' });
  execFileSync('mkfifo', [path.join(folder.path, 'pipe.rig')]);
  const server = net.createServer().listen(path.join(folder.path, 'socket.rig'));
  await once(server, 'listening');
  onTestFinished(() => void server.close());
  symlinkSync('pipe.rig', path.join(folder.path, 'to-pipe.rig'));
  symlinkSync('/dev/zero', path.join(folder.path, 'device.rig'));
  symlinkSync('loop.rig', path.join(folder.path, 'loop.rig'));
  return folder;
}

const SPECIAL: readonly (readonly [name: string, reason: string])[] = [
  ['pipe.rig', 'it is a pipe and not a file'],
  ['to-pipe.rig', 'it is a pipe and not a file'],
  ['socket.rig', 'it is a socket and not a file'],
  ['dir.rig', 'it is a folder'],
  ['loop.rig', 'it is a link that leads back to itself'],
  [`${'x'.repeat(300)}.rig`, 'its name is longer than a file can have'],
];

test.skipIf(process.platform === 'win32')('the server says so where they are used, and goes on', async () => {
  const folder = await special();
  const client = await Client.start({ folders: [folder.uri] });
  const uri = folder.uriOf('a.rig');
  await client.open(
    uri,
    `${SPECIAL.map(([name]) => `use "${name}"\n`).join('')}use "device.rig"\nuse "shelf.rig"\nrig "x"\nsource v is our-mic\n`,
  );
  const found = await client.diagnostics(uri);
  const told = found.filter(({ code }) => code === 'text/not-readable').map(({ range, message }) => `${range.start.line} ${message}`);
  expect(told).toHaveLength(SPECIAL.length);
  for (const [line, [name, reason]] of SPECIAL.entries()) expect(told[line]).toContain(`${line} ${name} cannot be read: ${reason}.`);
  // The device is behind a link that leads out of the folder.
  expect(found.map(({ code, range }) => `${range.start.line} ${code}`)).toContain(`${SPECIAL.length} use/outside`);
  expect(client.codes(uri)).not.toContain('names/unknown');
  expect(await client.stop()).toBe(0);
});

test.skipIf(process.platform === 'win32')('one that takes the place of a file that was read', async () => {
  const folder = new Folder({ 'shelf.rig': SHELF });
  const client = await Client.start({ folders: [folder.uri] });
  const uri = folder.uriOf('a.rig');
  await client.open(uri, 'use "shelf.rig"\nrig "x"\nsource v is our-mic\n');
  await client.diagnostics(uri);
  folder.remove('shelf.rig');
  execFileSync('mkfifo', [path.join(folder.path, 'shelf.rig')]);
  await client.onDisk(folder.uriOf('shelf.rig'), 2);
  await client.until(() => client.codes(uri).includes('text/not-readable'), 'the pipe');
  expect(await client.stop()).toBe(0);
});

test.skipIf(process.platform === 'win32')('the command line says so, given by name, found in a folder, and in use', async () => {
  const folder = await special();
  const run = (...words: string[]) => earloom(words, { cwd: folder.path, timeout: 120_000 });
  const given = [...SPECIAL.slice(0, 3), ['device.rig', 'it is a device and not a file'] as const];
  for (const command of ['check', 'format']) {
    const { status, stderr } = run(command, ...given.map(([name]) => name));
    const cure = 'Name the file that you meant, or hand its text over on standard input, as "-".';
    expect(stderr.trim().split('\n')).toEqual(given.map(([name, reason]) => `earloom: ${name} cannot be read: ${reason}. ${cure}`));
    expect(status).toBe(2);
  }
  expect(run('patch', 'pipe.rig').stderr).toContain('pipe.rig cannot be read: it is a pipe and not a file.');
  const all = run('check', '.');
  expect(all.status).toBe(2);
  for (const name of ['pipe.rig', 'to-pipe.rig', 'socket.rig', 'device.rig'])
    expect(all.stderr).toContain(`earloom: ${name} cannot be read: it is a `);
  expect(all.stdout).toContain('1 file checked: nothing found. 5 could not be read.');
  writeFileSync(path.join(folder.path, 'a.rig'), `${SPECIAL.map(([name]) => `use "${name}"\n`).join('')}rig "x"\n`);
  const { stdout, status } = run('check', 'a.rig');
  expect(status).toBe(1);
  for (const [, reason] of SPECIAL) expect(stdout.replace(/\s+/g, ' ')).toContain(`cannot be read: ${reason}.`);
});

/** What a person, or a broken editor, may write behind `use`. */
const ODD = [
  '\ud800.rig',
  'a\udfff/b.rig',
  '%.rig',
  '%zz%2F..%2fx.rig',
  '%2e%2e%2fsecret.rig',
  '%ED%A0%80.rig',
  'a\0b.rig',
  'a?b#c.rig',
  `${'long/'.repeat(2_000)}x.rig`,
  'C:\\rigs\\x.rig',
  'c:x.rig',
  '\\\\?\\C:\\x.rig',
  '\\\\server\\share\\x.rig',
  'file:///tmp/x.rig',
  'file:x.rig',
  'untitled:Untitled-1.rig',
  '//x.rig',
  'x.rig:stream.rig',
  '.rig',
];

test('a file that cannot be had for its name: a finding at its line', async () => {
  const bench = new Bench();
  for (const name of ODD) {
    const analysis = await bench.analyse(`use "${name}"\nrig "x"\n`);
    expectSound(analysis);
    const codes = analysis.located.filter(({ range }) => range.start.line === 0).map(({ finding }) => finding.code);
    expect(codes.join(), name.slice(0, 40)).toMatch(/use\/(missing|outside)|text\/not-readable/);
  }
});

test('one server, all of them, and another file beside them', async () => {
  const folder = new Folder({ 'shelf.rig': SHELF });
  const client = await Client.start({ folders: [folder.uri] });
  const [odd, other] = [folder.uriOf('odd.rig'), folder.uriOf('other.rig')];
  await client.open(other, 'use "shelf.rig"\nrig "y"\nsource v is our-mik\n');
  await client.open(odd, '');
  for (const name of ODD) {
    const version = client.change(odd, { text: `use "${name}"\nrig "x"\n` });
    expect((await client.diagnostics(odd, version)).length).toBeGreaterThan(0);
    expect(await client.diagnostics(other, client.change(other, { text: 'use "shelf.rig"\nrig "y"\nsource v is our-mik\n' }))).not.toEqual(
      [],
    );
  }
  const unsaved = 'untitled:Untitled-1';
  await client.open(unsaved, ODD.map((name) => `use "${name}"\n`).join(''));
  expect(await client.diagnostics(unsaved)).not.toEqual([]);
  expect(await client.stop()).toBe(0);
});

test('whatever is written, where it points can be said', () => {
  const base = fc.constantFrom(
    'file:///a/b/c.rig',
    'untitled:Untitled-1',
    'memory:/c.rig',
    'vscode-remote://host/a/c.rig',
    'file://host/c.rig',
  );
  const name = fc.oneof(
    fc.string({ unit: 'binary' }),
    fc.string({ unit: fc.constantFrom('.', '/', '\\', '%', ':', '\ud800', '\0', 'a', '?', '#') }),
  );
  fc.assert(
    fc.property(base, name, (address, written) => {
      const use = { $type: 'Use', path: written, $document: { uri: URI.parse(address) } } as unknown as Parameters<typeof usedUri>[0];
      const uri = usedUri(use);
      if (uri) expect(URI.parse(uri.toString()).toString()).toBe(uri.toString());
    }),
  );
});
