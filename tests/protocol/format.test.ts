/** Formatting through the built server: of the text as it is at that moment, saved or not. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { DocumentFormattingRequest, DocumentOnTypeFormattingRequest, DocumentRangeFormattingRequest } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { Client, START } from './client';

let client: Client;
beforeAll(async () => {
  client = await Client.start();
});
afterAll(async () => {
  expect(await client.stop()).toBe(0);
  expect(client.log).toEqual([]);
});

const uri = 'file:///band/one.rig';
const textDocument = { uri };
const options = { tabSize: 4, insertSpaces: true };

it('says that it formats', () => {
  expect(client.capabilities).toMatchObject({
    documentFormattingProvider: true,
    documentRangeFormattingProvider: true,
    documentOnTypeFormattingProvider: { firstTriggerCharacter: '\n', moreTriggerCharacter: ['}'] },
  });
});

it('formats what has just been typed', async () => {
  let text = 'performer ana "Ana"\n';
  await client.open(uri, text);
  for (const typed of ['performer brik   "B"\n', 'mix a mono for ana {\n', '# so\n', 'performer   \n']) {
    client.change(uri, { range: START, text: typed });
    text = typed + text;
  }
  const edits = await client.connection.sendRequest(DocumentFormattingRequest.type, { textDocument, options });
  expect(TextDocument.applyEdits(TextDocument.create(uri, 'rig', 1, text), edits ?? [])).toBe(
    'performer   \n# so\nmix a mono for ana {\nperformer brik  "B"\nperformer ana   "Ana"\n',
  );
  // The line above it is not set as the whole would have it: so by itself.
  const range = { start: { line: 4, character: 3 }, end: { line: 4, character: 4 } };
  expect(await client.connection.sendRequest(DocumentRangeFormattingRequest.type, { textDocument, range, options })).toEqual([
    { range: { start: { line: 4, character: 13 }, end: { line: 4, character: 14 } }, newText: '  ' },
  ]);
});

it('sets in a line as it is begun', async () => {
  client.change(uri, { text: 'mix a mono for ana {\n' });
  const position = { line: 1, character: 0 };
  expect(await client.connection.sendRequest(DocumentOnTypeFormattingRequest.type, { textDocument, position, ch: '\n', options })).toEqual([
    { range: { start: position, end: position }, newText: '  ' },
  ]);
});
