import { symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { FileChangeType } from 'vscode-languageserver/node';
import { Client } from './client';
import { Folder } from './folder';

const running: Client[] = [];
async function start(...folders: string[]): Promise<Client> {
  const client = await Client.start({ folders });
  running.push(client);
  return client;
}

afterEach(async () => {
  for (const client of running.splice(0)) expect(await client.stop()).toBe(0);
});

describe('what is published', () => {
  it('tells of a mistake where it stands, for the version it is in', async () => {
    const folder = new Folder();
    const client = await start(folder.uri);
    const uri = folder.uriOf('one.rig');
    await client.open(uri, 'source voice is dynamic-mik\n');
    const [unknown] = (await client.diagnostics(uri)).filter(({ code }) => code === 'names/unknown');
    expect(unknown).toMatchObject({
      severity: 1,
      source: 'earloom',
      range: { start: { line: 0, character: 16 }, end: { line: 0, character: 27 } },
      message: expect.stringContaining('dynamic-mic'),
    });
    expect(client.latest(uri)?.version).toBe(1);
  });

  it('counts positions in UTF-16 code units', async () => {
    const folder = new Folder();
    const client = await start(folder.uri);
    const uri = folder.uriOf('one.rig');
    expect(client.capabilities.positionEncoding).toBe('utf-16');
    // A clef takes two code units (The Unicode Standard, U+1D11E), four bytes in UTF-8 and one code point.
    await client.open(uri, 'source voice "𝄞𝄞" is dynamic-mik\n');
    const [unknown] = (await client.diagnostics(uri)).filter(({ code }) => code === 'names/unknown');
    expect(unknown?.range.start.character).toBe('source voice "𝄞𝄞" is '.length);
  });

  it('takes what is mended away again', async () => {
    const folder = new Folder();
    const client = await start(folder.uri);
    const uri = folder.uriOf('one.rig');
    await client.open(uri, 'source voice is dynamic-mik\n');
    await client.diagnostics(uri);
    expect(client.codes(uri)).toContain('names/unknown');
    const version = client.change(uri, { range: { start: { line: 0, character: 26 }, end: { line: 0, character: 27 } }, text: 'c' });
    await client.diagnostics(uri, version);
    expect(client.codes(uri)).not.toContain('names/unknown');
  });

  it('covers files of the folder that nobody has opened', async () => {
    const folder = new Folder({ 'deep/down/other.rig': 'source voice is dynamic-mik\n' });
    const client = await start(folder.uri);
    await client.open(folder.uriOf('one.rig'), '');
    await client.until(() => client.codes(folder.uriOf('deep/down/other.rig')).includes('names/unknown'), 'the other file');
  });
});

describe('files that a rig uses', () => {
  it('are read from disk where no folder is open', async () => {
    const folder = new Folder({ 'gear/shelf.rig': 'use "more/mics.rig"\n', 'gear/more/mics.rig': 'model our-mic is dynamic-mic\n' });
    const client = await start();
    const uri = folder.uriOf('one.rig');
    await client.open(uri, 'use "gear/shelf.rig"\nsource voice is our-mic\n');
    await client.diagnostics(uri);
    expect(client.codes(uri).filter((code) => /^(names|use)\//.test(code))).toEqual([]);
  });

  it('may not lie outside the folder, and are not read then', async () => {
    const outer = new Folder({ 'secret.rig': 'source voice is dynamic-mik\n', 'inner/one.rig': '' });
    const client = await start(outer.uriOf('inner'));
    const uri = outer.uriOf('inner/one.rig');
    await client.open(uri, 'use "../secret.rig"\n');
    await client.diagnostics(uri);
    expect(client.codes(uri)).toContain('use/outside');
    expect(client.published.map((each) => each.uri)).not.toContain(outer.uriOf('secret.rig'));
  });

  it('count as they stand in an unsaved buffer, and as on disk once that is closed', async () => {
    const folder = new Folder({ 'shelf.rig': 'model our-mic is dynamic-mic\n' });
    const client = await start(folder.uri);
    const uri = folder.uriOf('one.rig');
    const shelf = folder.uriOf('shelf.rig');
    await client.open(uri, 'use "shelf.rig"\nsource voice is our-mic\n');
    await client.diagnostics(uri);
    expect(client.codes(uri)).not.toContain('names/unknown');

    await client.open(shelf, 'model their-mic is dynamic-mic\n');
    await client.until(() => client.codes(uri).includes('names/unknown'), 'the name that the buffer took away');
    // What happens on disk meanwhile is not what counts.
    folder.remove('shelf.rig');
    await client.onDisk(shelf, FileChangeType.Deleted);
    client.change(shelf, { text: 'model our-mic is ribbon-mik\n' });
    await client.until(() => client.codes(uri).includes('use/trouble'), 'the trouble in the buffer');
    expect(client.codes(uri)).not.toContain('use/missing');
    folder.write('shelf.rig', 'model our-mic is condenser-mic\n');
    await client.onDisk(shelf, FileChangeType.Created);

    await client.close(shelf);
    await client.until(() => client.codes(shelf).length === 0 && !client.codes(uri).includes('use/trouble'), 'the file as on disk');
    expect(client.codes(uri)).not.toContain('names/unknown');
  });

  it.each([
    ['with the folder open', true],
    ['with no folder open', false],
  ])('are missed until they are there, and again when they are deleted, %s', async (_, isOpen) => {
    const folder = new Folder();
    const client = await start(...(isOpen ? [folder.uri] : []));
    const uri = folder.uriOf('one.rig');
    const shelf = folder.uriOf('gear/shelf.rig');
    await client.open(uri, 'use "gear/shelf.rig"\nsource voice is our-mic\n');
    await client.diagnostics(uri);
    expect(client.codes(uri)).toEqual(expect.arrayContaining(['use/missing', 'names/unknown']));

    folder.write('gear/shelf.rig', 'model our-mic is dynamic-mic\n');
    await client.onDisk(shelf, FileChangeType.Created);
    await client.until(() => !client.codes(uri).some((code) => /^(use|names)\//.test(code)), 'the file that was made');

    folder.write('gear/shelf.rig', 'model their-mic is dynamic-mic\n');
    await client.onDisk(shelf, FileChangeType.Changed);
    await client.until(() => client.codes(uri).includes('names/unknown'), 'the change on disk');

    // Clients tell of a deleted folder, not of what was in it.
    folder.remove('gear');
    await client.onDisk(folder.uriOf('gear'), FileChangeType.Deleted);
    await client.until(() => client.codes(uri).includes('use/missing'), 'the deleted file');
  });

  it('are found out to be gone even where nobody tells', async () => {
    const folder = new Folder({ 'shelf.rig': 'model our-mic is dynamic-mic\n' });
    const client = await start();
    const uri = folder.uriOf('one.rig');
    await client.open(uri, 'use "shelf.rig"\n');
    await client.diagnostics(uri);
    await client.open(folder.uriOf('shelf.rig'), 'model our-mic is dynamic-mic\n');
    folder.remove('shelf.rig');
    await client.close(folder.uriOf('shelf.rig'));
    await client.until(() => client.codes(uri).includes('use/missing'), 'the file that was deleted while it was open');
  });

  it('may not be reached over a link that leads out of the folder', async () => {
    const outer = new Folder({ 'secret.rig': 'model secret-mic is dynamic-mic\n', 'inner/one.rig': '' });
    symlinkSync(path.join(outer.path, 'secret.rig'), path.join(outer.path, 'inner/link.rig'));
    const client = await start(outer.uriOf('inner'));
    const uri = outer.uriOf('inner/one.rig');
    await client.open(uri, 'use "link.rig"\n');
    await client.diagnostics(uri);
    expect(client.codes(uri)).toContain('use/outside');

    // A file of its own in the place of the link is another matter.
    outer.remove('inner/link.rig');
    outer.write('inner/link.rig', 'model our-mic is dynamic-mic\n');
    await client.onDisk(outer.uriOf('inner/link.rig'), FileChangeType.Changed);
    await client.until(() => !client.codes(uri).includes('use/outside'), 'the file instead of the link');

    // Nor is one that is put in the place of a file that has been read.
    outer.remove('inner/link.rig');
    symlinkSync(path.join(outer.path, 'secret.rig'), path.join(outer.path, 'inner/link.rig'));
    await client.onDisk(outer.uriOf('inner/link.rig'), FileChangeType.Changed);
    await client.until(() => client.codes(uri).includes('use/outside'), 'the link instead of the file');
  });

  it('are said to be no text where they are none', async () => {
    const folder = new Folder();
    writeFileSync(path.join(folder.path, 'latin.rig'), Buffer.from('performer zoe "Zo\xEB"\n', 'latin1'));
    const client = await start();
    const uri = folder.uriOf('one.rig');
    await client.open(uri, 'use "latin.rig"\n');
    const [first] = (await client.diagnostics(uri)).filter(({ code }) => code === 'text/not-readable');
    expect(first?.message).toContain('not text in UTF-8');
  });

  it('may use each other in a circle', async () => {
    const folder = new Folder({ 'a.rig': 'use "b.rig"\nmodel mic-a is dynamic-mic\n', 'b.rig': 'use "a.rig"\nmodel mic-b is mic-a\n' });
    const client = await start();
    const uri = folder.uriOf('a.rig');
    await client.open(uri, 'use "b.rig"\nmodel mic-a is dynamic-mic\nsource voice is mic-b\n');
    await client.diagnostics(uri);
    expect(client.codes(uri).filter((code) => /^(names|use)\//.test(code))).toEqual([]);
  });
});

describe('files and folders that come and go', () => {
  it('forgets a file without a folder when it is closed, and what it used', async () => {
    const folder = new Folder({ 'shelf.rig': 'model our-mic is ribbon-mik\n' });
    const client = await start();
    const uri = folder.uriOf('one.rig');
    const shelf = folder.uriOf('shelf.rig');
    await client.open(uri, 'use "shelf.rig"\nsource voice is dynamic-mik\n');
    await client.diagnostics(uri);
    await client.until(() => client.codes(shelf).length > 0, 'the shelf');
    await client.close(uri);
    await client.until(() => client.codes(uri).length === 0 && client.codes(shelf).length === 0, 'both files to be cleared');
  });

  it('asks the client to watch its folders, and those of rigs outside of them', async () => {
    const open = new Folder();
    const other = new Folder();
    const client = await start(open.uri);
    await client.open(other.uriOf('one.rig'), 'use "gear/shelf.rig"\n');
    await client.diagnostics(other.uriOf('one.rig'));
    const globs = () =>
      client.registrations.flatMap(
        ({ registerOptions }) => registerOptions?.watchers?.map((watcher: { globPattern: unknown }) => watcher.globPattern) ?? [],
      );
    await client.until(() => globs().length >= 5, 'the watchers');
    expect(globs()).toEqual(
      expect.arrayContaining([
        '**/*.rig',
        '**/*.csv',
        { baseUri: other.uri, pattern: '*.{rig,csv}' },
        { baseUri: `${other.uri}/gear`, pattern: '*.{rig,csv}' },
      ]),
    );
  });

  it('reads a folder that is opened later and lets go of one that is closed', async () => {
    const folder = new Folder({ 'one.rig': 'source voice is dynamic-mik\n' });
    const client = await start();
    const uri = folder.uriOf('one.rig');
    const event = { uri: folder.uri, name: 'later' };
    await client.connection.sendNotification('workspace/didChangeWorkspaceFolders', { event: { added: [event], removed: [] } });
    await client.until(() => client.codes(uri).includes('names/unknown'), 'the folder that was opened');
    await client.connection.sendNotification('workspace/didChangeWorkspaceFolders', { event: { added: [], removed: [event] } });
    await client.until(() => client.codes(uri).length === 0, 'the folder that was closed');
  });

  it('keeps of a folder that is closed what is in another one that is open', async () => {
    const folder = new Folder({ 'one.rig': 'source voice is dynamic-mik\n', 'inner/two.rig': 'source voice is dynamic-mik\n' });
    const client = await start(folder.uri, folder.uriOf('inner'));
    const [one, two] = [folder.uriOf('one.rig'), folder.uriOf('inner/two.rig')];
    await client.until(() => [one, two].every((uri) => client.codes(uri).includes('names/unknown')), 'both');
    const removed = [{ uri: folder.uri, name: 'outer' }];
    await client.connection.sendNotification('workspace/didChangeWorkspaceFolders', { event: { added: [], removed } });
    await client.until(() => client.codes(one).length === 0, 'the folder that was closed');
    folder.write('inner/three.rig', '');
    await client.onDisk(folder.uriOf('inner/three.rig'), FileChangeType.Created);
    await client.until(() => client.latest(folder.uriOf('inner/three.rig')) !== undefined, 'what comes after it');
    expect(client.codes(two)).toEqual(['names/unknown']);
  });

  it('takes a buffer that was never saved', async () => {
    const client = await start();
    await client.open('untitled:Untitled-1', 'source voice is dynamic-mik\n');
    await client.diagnostics('untitled:Untitled-1');
    expect(client.codes('untitled:Untitled-1')).toContain('names/unknown');
    await client.close('untitled:Untitled-1');
    await client.until(() => client.codes('untitled:Untitled-1').length === 0, 'the closed buffer');
  });

  it('passes over a byte order mark on disk as an editor does', async () => {
    const folder = new Folder({ 'one.rig': '\uFEFFsource voice is dynamic-mik\n' });
    const client = await start(folder.uri);
    const uri = folder.uriOf('one.rig');
    await client.open(folder.uriOf('two.rig'), '');
    await client.until(() => client.latest(uri) !== undefined, 'the file');
    const unknown = client.latest(uri)?.diagnostics.find(({ code }) => code === 'names/unknown');
    expect(unknown?.range.start).toEqual({ line: 0, character: 16 });
  });
});
