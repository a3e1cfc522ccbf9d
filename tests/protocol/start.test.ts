/** However an editor starts a server, with whatever folders it has, and whatever little it can do itself. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { expect, it } from 'vitest';
import {
  ConfigurationRequest,
  createProtocolConnection,
  ExitNotification,
  InitializedNotification,
  type InitializeParams,
  InitializeRequest,
  PublishDiagnosticsNotification,
  type PublishDiagnosticsParams,
  RegistrationRequest,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { SERVER } from './client';
import { Folder } from './folder';

const MISTAKE = 'source voice is dynamic-mik\n';

/** A server that is started with just these words, one file opened in it, and what it says until it has ended. */
async function session(params: InitializeParams, opened: string, wanted: readonly string[]): Promise<Map<string, string[]>> {
  const server = spawn(process.execPath, [SERVER, '--stdio'], { stdio: ['pipe', 'pipe', 'pipe'] });
  const ended = once(server, 'exit');
  const connection = createProtocolConnection(new StreamMessageReader(server.stdout), new StreamMessageWriter(server.stdin));
  const told: string[] = [];
  server.stderr.on('data', (data) => told.push(String(data)));
  // A client that can do nothing is asked for nothing, neither to show nor to log what went wrong.
  connection.onUnhandledNotification(({ method }) => told.push(method));
  for (const { method } of [RegistrationRequest, ConfigurationRequest])
    connection.onRequest(method, () => {
      told.push(method);
    });
  const found = new Map<string, string[]>();
  const all = new Promise<void>((resolve) =>
    connection.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics }: PublishDiagnosticsParams) => {
      found.set(
        uri,
        diagnostics.map(({ code }) => String(code)),
      );
      if (wanted.every((each) => found.has(each))) resolve();
    }),
  );
  connection.listen();
  const { capabilities } = await connection.sendRequest(InitializeRequest.type, params);
  expect(capabilities.hoverProvider).toBeTruthy();
  await connection.sendNotification(InitializedNotification.type, {});
  await connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri: opened, languageId: 'rig', version: 1, text: MISTAKE },
  });
  await all;
  await connection.sendRequest(ShutdownRequest.type);
  await connection.sendNotification(ExitNotification.type);
  expect(await ended).toEqual([0, null]);
  connection.dispose();
  expect(told).toEqual([]);
  return found;
}

const bare = { processId: null, rootUri: null, capabilities: {} };

it('by a client that can do nothing and has no folder', async () => {
  const found = await session(bare, 'untitled:Untitled-1', ['untitled:Untitled-1']);
  expect(found.get('untitled:Untitled-1')).toContain('names/unknown');
});

it('by a client that knows of no folders but names its root', async () => {
  const folder = new Folder({ 'deep/other.rig': MISTAKE });
  const other = folder.uriOf('deep/other.rig');
  const found = await session({ ...bare, rootUri: folder.uri }, folder.uriOf('one.rig'), [folder.uriOf('one.rig'), other]);
  expect(found.get(other)).toContain('names/unknown');
});

it('with an empty list of folders', async () => {
  const folder = new Folder({ 'shelf.rig': '' });
  const found = await session({ ...bare, workspaceFolders: [] }, folder.uriOf('one.rig'), [folder.uriOf('one.rig')]);
  expect(found.get(folder.uriOf('one.rig'))).toContain('names/unknown');
});

it('with several folders, each of which keeps to itself', async () => {
  const [first, second] = [
    new Folder({ 'a.rig': 'use "../second.rig"\nrig "A"\n', 'shelf.rig': 'model our-mic is dynamic-mic\n' }),
    new Folder({ 'b.rig': 'use "shelf.rig"\nrig "B"\n', 'c.rig': MISTAKE }),
  ];
  const folders = [first, second].map(({ uri }) => ({ uri, name: path.basename(uri) }));
  const wanted = [first.uriOf('a.rig'), second.uriOf('b.rig'), second.uriOf('c.rig')];
  const found = await session(
    { ...bare, rootUri: first.uri, workspaceFolders: folders, capabilities: { workspace: { workspaceFolders: true } } },
    first.uriOf('one.rig'),
    [...wanted, first.uriOf('one.rig')],
  );
  expect(found.get(wanted[0] as string)).toContain('use/outside');
  expect(found.get(wanted[1] as string)).toContain('use/missing');
  expect(found.get(wanted[2] as string)).toContain('names/unknown');
});

it('with a folder that is not there', async () => {
  const folder = new Folder();
  const gone = folder.uriOf('gone');
  const found = await session({ ...bare, workspaceFolders: [{ uri: gone, name: 'gone' }] }, `${gone}/one.rig`, [`${gone}/one.rig`]);
  expect(found.get(`${gone}/one.rig`)).toContain('names/unknown');
});
