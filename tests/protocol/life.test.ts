import { spawn } from 'node:child_process';
import { once } from 'node:events';
import type { Readable } from 'node:stream';
import { expect, it } from 'vitest';
import {
  CodeActionRequest,
  DidOpenTextDocumentNotification,
  DocumentSymbolRequest,
  FileChangeType,
  HoverRequest,
  Message,
  StreamMessageReader,
} from 'vscode-languageserver/node';
import { Client, SERVER, START } from './client';
import { Folder } from './folder';

it('says what it can do', async () => {
  const client = await Client.start();
  expect(client.capabilities).toMatchObject({
    positionEncoding: 'utf-16',
    textDocumentSync: { openClose: true, change: 2 },
    workspace: { workspaceFolders: { supported: true, changeNotifications: true }, textDocumentContent: { schemes: ['earloom'] } },
  });
  expect(await client.stop()).toBe(0);
});

it('ends with 1 where the client goes without a word', async () => {
  const client = await Client.start();
  client.process.stdin?.end();
  expect(await client.exit).toBe(1);
  client.connection.dispose();
});

it('ends with 1 on an exit that no shutdown came before', async () => {
  const client = await Client.start();
  await client.connection.sendNotification('exit');
  expect(await client.exit).toBe(1);
  client.connection.dispose();
});

it('ends when asked to in the middle of its work', async () => {
  const client = await Client.start();
  await client.open('file:///band/one.rig', 'source voice is dynamic-mic\n'.repeat(2000));
  expect(await client.stop()).toBe(0);
});

it('speaks on standard input and output where nothing is said of how', async () => {
  const client = await Client.start({ args: [] });
  expect(await client.stop()).toBe(0);
});

it('answers over the channel that editors fork it with', async () => {
  const server = spawn(process.execPath, [SERVER, '--node-ipc'], { stdio: ['ignore', 'pipe', 'pipe', 'ipc'] });
  server.send({
    jsonrpc: '2.0',
    id: 1,
    method: 'initialize',
    params: { processId: process.pid, rootUri: null, capabilities: {}, workspaceFolders: null },
  });
  const [answer] = await once(server, 'message');
  expect(answer).toMatchObject({ id: 1, result: { serverInfo: { name: 'Earloom' } } });
  server.send({ jsonrpc: '2.0', id: 2, method: 'shutdown' });
  await once(server, 'message');
  server.send({ jsonrpc: '2.0', method: 'exit' });
  expect(await once(server, 'exit')).toEqual([0, null]);
});

/** Takes a server a good part of a second. */
const LONG = Array.from({ length: 1500 }, (_, n) => `source s${n} "Source ${n}" is dynamic-mic\n`).join('');

it('answers whatever an editor asks right after an edit', async () => {
  const client = await Client.start();
  const uri = 'file:///band/one.rig';
  const textDocument = { uri };
  const position = { line: 0, character: 18 };
  const questions = {
    'textDocument/completion': { textDocument, position },
    'textDocument/hover': { textDocument, position },
    'textDocument/definition': { textDocument, position },
    'textDocument/references': { textDocument, position, context: { includeDeclaration: true } },
    'textDocument/documentHighlight': { textDocument, position },
    'textDocument/documentSymbol': { textDocument },
    'textDocument/foldingRange': { textDocument },
    'textDocument/codeAction': { textDocument, range: START, context: { diagnostics: [] } },
    'textDocument/prepareRename': { textDocument, position: { line: 0, character: 8 } },
    'workspace/symbol': { query: 'voice' },
  };
  // So much that an answer is asked for while the text is still being worked in.
  await client.open(uri, `source voice is dynamic-mic\n${LONG}`);
  await client.diagnostics(uri);
  for (const [method, params] of Object.entries(questions)) {
    client.change(uri, {
      range: { start: { line: 1, character: 0 }, end: { line: 1, character: 0 } },
      text: `performer after-${method.split('/')[1]}\n`,
    });
    await Promise.race([client.connection.sendRequest(method, params), rejectAfter(5_000, method)]);
  }
  expect(await client.stop()).toBe(0);
});

it('finishes what it was at when word comes that a file was saved', async () => {
  const client = await Client.start();
  const uri = 'file:///band/one.rig';
  await client.open(uri, LONG);
  await client.diagnostics(uri);
  for (let round = 0; round < 6; round++) {
    const version = client.change(uri, { range: START, text: `performer saved${round}\n` });
    await new Promise((resolve) => setTimeout(resolve, round * 5));
    await client.onDisk(uri, FileChangeType.Changed);
    await client.diagnostics(uri, version);
  }
  expect(await client.stop()).toBe(0);
});

it('answers for a file that was opened before the folder was read', async () => {
  const folder = new Folder({ 'a.rig': LONG, 'b.rig': LONG });
  const client = await Client.start({ folders: [folder.uri] });
  const uri = 'untitled:Untitled-1';
  await client.open(uri, 'performer early\n');
  const symbols = await client.connection.sendRequest(DocumentSymbolRequest.type, { textDocument: { uri } });
  expect(symbols?.map(({ name }) => name)).toEqual(['early']);
  expect(await client.stop()).toBe(0);
});

it('answers from the text as it is, also while it is busy with another file', async () => {
  const client = await Client.start();
  const [busy, uri] = ['file:///band/busy.rig', 'file:///band/one.rig'];
  await client.open(busy, LONG);
  await client.open(uri, 'performer first\n');
  await client.diagnostics(busy);
  await client.diagnostics(uri);
  for (let round = 0; round < 8; round++) {
    client.change(busy, { range: START, text: `performer busy${round}\n` });
    await new Promise((resolve) => setTimeout(resolve, round * 7));
    client.change(uri, { text: `performer round${round}\n` });
    const symbols = await client.connection.sendRequest(DocumentSymbolRequest.type, { textDocument: { uri } });
    expect(symbols?.map(({ name }) => name)).toEqual([`round${round}`]);
  }
  expect(await client.stop()).toBe(0);
});

it('tells of every file, also where another one is changed just as its checks end', async () => {
  const client = await Client.start();
  const [long, other] = ['file:///band/long.rig', 'file:///choir/other.rig'];
  await client.open(long, LONG);
  await client.open(other, '');
  await client.diagnostics(long);
  await client.diagnostics(other);
  for (let round = 0; round < 12; round++) {
    const version = client.change(long, { range: START, text: `performer long${round}\n` });
    // Sent while the file above is worked on, so that the server finds it waiting wherever it looks up from that.
    let last = 0;
    for (let times = 0; times < 10; times++) {
      await new Promise((resolve) => setTimeout(resolve, 1 + round));
      last = client.change(other, { text: `performer round${round}-${times}\n` });
    }
    await client.diagnostics(other, last);
    await client.diagnostics(long, version);
  }
  expect(await client.stop()).toBe(0);
});

function rejectAfter(ms: number, what: string): Promise<never> {
  return new Promise((_, reject) => setTimeout(() => reject(new Error(`${what} was not answered within ${ms} ms`)), ms).unref());
}

it('answers a request for a file it does not know, and one for nonsense, and goes on', async () => {
  const client = await Client.start();
  const nowhere = { textDocument: { uri: 'file:///nowhere/none.rig' }, position: { line: 0, character: 0 } };
  await expect(client.connection.sendRequest(HoverRequest.type, nowhere)).rejects.toThrow('No document found');
  await expect(client.connection.sendRequest('earloom/nonsense', {})).rejects.toThrow('nonsense');
  await client.connection.sendNotification('textDocument/didChange', {
    textDocument: { uri: 'file:///nowhere/none.rig', version: 2 },
    contentChanges: [{ text: 'x' }],
  });
  await client.connection.sendNotification('textDocument/didOpen', { textDocument: null });
  await client.open('file:///band/one.rig', 'source voice is dynamic-mik\n');
  await client.diagnostics('file:///band/one.rig');
  expect(client.codes('file:///band/one.rig')).toContain('names/unknown');
  expect(await client.stop()).toBe(0);
});

it('answers what was asked about a file that is closed, and forgotten, before it could be looked at', async () => {
  const client = await Client.start();
  const uri = 'untitled:Untitled-1';
  for (let round = 0; round < 5; round++) {
    await client.open(uri, LONG);
    const asked = client.connection.sendRequest(HoverRequest.type, { textDocument: { uri }, position: { line: 0, character: 18 } });
    const answered = asked.then(
      () => 'answered',
      ({ code }: { code: number }) => code,
    );
    await new Promise((resolve) => setTimeout(resolve, round * 10));
    await client.close(uri);
    // Answered in time, or -32803 RequestFailed: Language Server Protocol 3.17, "Base Protocol", ErrorCodes.
    expect(['answered', -32803]).toContain(await Promise.race([answered, rejectAfter(10_000, 'a hover')]));
  }
  expect(await client.stop()).toBe(0);
  expect(client.log).toEqual([]);
});

it("answers what was cancelled as cancelled, by the protocol's own code", async () => {
  const client = await Client.start();
  const uri = 'file:///band/one.rig';
  const messages = [
    {
      method: DidOpenTextDocumentNotification.method,
      params: { textDocument: { uri, languageId: 'rig', version: 1, text: 'source voice is dynamic-mic\n'.repeat(2000) } },
    },
    { id: 'asked', method: CodeActionRequest.method, params: { textDocument: { uri }, range: START, context: { diagnostics: [] } } },
    { method: '$/cancelRequest', params: { id: 'asked' } },
  ];
  const { stdin, stdout } = client.process;
  const answer = new Promise((resolve) =>
    new StreamMessageReader(stdout as Readable).listen(
      (message) => Message.isResponse(message) && message.id === 'asked' && resolve(message),
    ),
  );
  // At one stroke, so that however busy the machine is the cancelling is there before the text has been checked.
  stdin?.write(
    messages
      .map((message) => JSON.stringify({ jsonrpc: '2.0', ...message }))
      .map((body) => `Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`)
      .join(''),
  );
  // -32800 is RequestCancelled: Language Server Protocol 3.17, "Base Protocol", ErrorCodes.
  expect(await answer).toMatchObject({ error: { code: -32800 } });
  expect(await client.stop()).toBe(0);
});
