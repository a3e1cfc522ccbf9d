/** Whatever goes wrong with one document, in whichever step, is told at that document; the others are answered. */
import { PassThrough } from 'node:stream';
import { EmptyFileSystemProvider, type LangiumDocument } from 'langium';
import { afterEach, expect, it, vi } from 'vitest';
import {
  createConnection,
  createProtocolConnection,
  DidChangeTextDocumentNotification,
  DidOpenTextDocumentNotification,
  HoverRequest,
  InitializedNotification,
  InitializeRequest,
  PublishDiagnosticsNotification,
  type PublishDiagnosticsParams,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { RigAnalyser } from '../../packages/language/analysis';
import { SymbolTable } from '../../packages/language/symbols';
import { RigParser } from '../../packages/language/syntax/parser';
import { UsedFiles } from '../../packages/language/used';
import { RigDocumentValidator } from '../../packages/language/validator';
import { RigIndexManager } from '../../packages/language/workspace';
import { WATCH } from '../../packages/server/protocol';
import { serve } from '../../packages/server/server';

afterEach(() => vi.restoreAllMocks());

const SOUND = 'source voice is dynamic-mik\n';
const POISON = '# poison\nsource voice is dynamic-mic\n';

/** The server in this process, with two texts open: one that the step at hand stumbles over, and one like any other. */
async function opened() {
  const [there, back] = [new PassThrough(), new PassThrough()];
  serve(createConnection(new StreamMessageReader(there), new StreamMessageWriter(back)), new EmptyFileSystemProvider(), {
    planner: () => Promise.reject(new Error('nothing is planned here')),
  });
  const client = createProtocolConnection(new StreamMessageReader(back), new StreamMessageWriter(there));
  const published: PublishDiagnosticsParams[] = [];
  let heard = () => {};
  client.onNotification(PublishDiagnosticsNotification.type, (params) => {
    published.push(params);
    heard();
  });
  client.listen();
  await client.sendRequest(InitializeRequest.type, { processId: null, rootUri: null, capabilities: {} });
  await client.sendNotification(InitializedNotification.type, {});
  const messages = async (uri: string, version: number): Promise<string[]> => {
    const latest = () => published.findLast((each) => each.uri === uri && each.version === version);
    while (!latest()) await new Promise<void>((resolve) => (heard = resolve));
    return latest()?.diagnostics.map(({ message }) => String(message)) ?? [];
  };
  const open = (uri: string, text: string) =>
    client.sendNotification(DidOpenTextDocumentNotification.type, { textDocument: { uri, languageId: 'rig', version: 1, text } });
  const change = (uri: string, version: number, text: string) =>
    client.sendNotification(DidChangeTextDocumentNotification.type, { textDocument: { uri, version }, contentChanges: [{ text }] });
  return { client, messages, open, change };
}

const textOf = (document: LangiumDocument) => document.textDocument.getText();

/** Makes a method fail at what is poisoned, as told from its arguments. */
function poison<T extends object>(owner: T, method: keyof T & string, isPoisoned: (...args: never[]) => boolean): void {
  const original = owner[method] as (...args: unknown[]) => unknown;
  vi.spyOn(owner as Record<string, (...args: unknown[]) => unknown>, method).mockImplementation(function (this: unknown, ...args) {
    if (isPoisoned(...(args as never[]))) throw new Error(`no ${method}`);
    return original.apply(this, args);
  });
}

it.each<[step: string, spoil: () => void, told: boolean]>([
  ['reading', () => poison(RigParser.prototype, 'parseAgain', (text: string) => text === POISON), true],
  [
    'finding what it sees',
    () => poison(SymbolTable.prototype, 'closure', (document: LangiumDocument) => textOf(document) === POISON),
    true,
  ],
  ['indexing', () => poison(RigIndexManager.prototype, 'updateContent', (document: LangiumDocument) => textOf(document) === POISON), true],
  [
    'reading what it uses',
    () => poison(UsedFiles.prototype, 'read', ([document]: LangiumDocument[]) => !!document && textOf(document) === POISON),
    true,
  ],
  ['checking', () => poison(RigAnalyser.prototype, 'of', (document: LangiumDocument) => textOf(document) === POISON), true],
  [
    'making diagnostics',
    () => poison(RigDocumentValidator.prototype, 'validateDocument', (document: LangiumDocument) => textOf(document) === POISON),
    true,
  ],
  [
    'asking whether it is affected',
    () => poison(RigIndexManager.prototype, 'isAffected', (document: LangiumDocument) => textOf(document) === POISON),
    false,
  ],
])('%s', async (_step, spoil, told) => {
  const { client, messages, open, change } = await opened();
  vi.spyOn(console, 'error').mockImplementation(() => undefined);
  spoil();
  await client.sendNotification(WATCH, { uri: 'untitled:bad' });
  await open('untitled:bad', POISON);
  await open('untitled:good', SOUND);
  expect((await messages('untitled:good', 1)).join()).toContain('dynamic-mik');
  if (told) expect((await messages('untitled:bad', 1)).join()).toContain('Earloom could not check this file');
  // The next keystrokes in either are worked in like any other.
  await change('untitled:good', 2, 'source voice is ribbon-mik\n');
  expect((await messages('untitled:good', 2)).join()).toContain('ribbon-mik');
  await change('untitled:bad', 2, 'source voice is condenser-mik\n');
  const mended = (await messages('untitled:bad', 2)).join();
  expect(mended).toContain('condenser-mik');
  expect(mended).not.toContain('could not check');
  await client.sendRequest(HoverRequest.type, { textDocument: { uri: 'untitled:bad' }, position: { line: 0, character: 8 } });
  client.dispose();
});
