/** Code actions through the built server: their kinds, their edits on the text of that moment, and a file that an edit makes. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type CodeAction, CodeActionRequest, type Diagnostic, type Range, type TextEdit } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { Client } from './client';

let client: Client;
beforeAll(async () => {
  client = await Client.start({ workspace: { workspaceEdit: { documentChanges: true, resourceOperations: ['create'] } } });
});
afterAll(async () => {
  expect(await client.stop()).toBe(0);
  expect(client.log).toEqual([]);
});

const uri = 'file:///band/one.rig';
const TEXT = [
  'rig "Copper Wren"',
  'performer ana at 1,5 m, 2 m',
  'source voice "Voice" is dynamic-mic by ana',
  'gear iface is interface-4',
  'input iface.1  takes voice  via y-lead',
  'house 1  takes voice',
  'mix ana mono for ana { voice 0 dB }',
  'output iface.1 carries ana via headphone-amp',
  '',
].join('\n');

const at = (line: number, character = 0): Range => ({ start: { line, character }, end: { line, character } });

async function ask(range: Range, diagnostics: Diagnostic[], only?: string[]): Promise<CodeAction[]> {
  const answer = await client.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri },
    range,
    context: { diagnostics, only },
  });
  return (answer ?? []) as CodeAction[];
}

/** The text with what an action does to it, which has to be for the text that is open. */
function applied(text: string, action: CodeAction | undefined, version = 1): string {
  const edits = (action?.edit?.documentChanges ?? []).flatMap((change) => {
    if (!('edits' in change) || change.textDocument.uri !== uri) return [];
    expect(change.textDocument.version).toBe(version);
    return change.edits as TextEdit[];
  });
  return TextDocument.applyEdits(TextDocument.create(uri, 'rig', version, text), edits);
}

it('says which kinds there are', () => {
  const { codeActionProvider } = client.capabilities;
  expect(codeActionProvider).toMatchObject({
    codeActionKinds: expect.arrayContaining(['quickfix', 'source.fixAll.earloom', 'refactor.extract.gear', 'refactor.move.shelf']),
  });
  // Every action comes with its edit.
  expect(codeActionProvider).not.toHaveProperty('resolveProvider');
});

it('mends a slip, and again on save', async () => {
  await client.open(uri, TEXT);
  const diagnostics = await client.diagnostics(uri);
  const slip = diagnostics.find(({ code }) => code === 'text/decimal-comma') as Diagnostic;
  const [fix] = await ask(slip.range, [slip]);
  expect(fix).toMatchObject({ title: 'Write "1.5"', kind: 'quickfix', isPreferred: true, diagnostics: [{ code: 'text/decimal-comma' }] });
  expect(applied(TEXT, fix)).toBe(TEXT.replace('1,5', '1.5'));
  const [save, more] = await ask({ start: at(0).start, end: at(8).start }, [], ['source.fixAll']);
  expect(more).toBeUndefined();
  expect(save?.kind).toBe('source.fixAll.earloom');
  expect(applied(TEXT, save)).toBe(TEXT.replace('1,5', '1.5'));
});

it('does not take a finding of an older text for one of this', async () => {
  const before = (await client.diagnostics(uri)).find(({ code }) => code === 'text/decimal-comma') as Diagnostic;
  const version = client.change(uri, { range: at(1), text: '# one more line\n' });
  expect(await ask(before.range, [before], ['quickfix'])).toEqual([]);
  await client.diagnostics(uri, version);
  const now = TEXT.replace('performer', '# one more line\nperformer');
  const [name] = await ask(at(5, 34), [], ['refactor.extract']);
  expect(applied(now, name, version)).toBe(
    now
      .replace('gear iface is interface-4', 'gear iface is interface-4\ngear voice-y-lead "Voice Y-lead" is y-lead at 1.5 m, 2 m')
      .replace('via y-lead', 'via voice-y-lead'),
  );
});

it('makes a file for what several rigs share', async () => {
  const version = client.change(uri, { text: TEXT });
  const [move] = await ask(at(3), [], ['refactor.move']);
  expect(move?.title).toBe('Move iface to a new file, our-shelf.rig');
  expect(move?.edit?.documentChanges).toEqual([
    { kind: 'create', uri: 'file:///band/our-shelf.rig', options: { overwrite: false, ignoreIfExists: false } },
    expect.objectContaining({ textDocument: { uri: 'file:///band/our-shelf.rig', version: null } }),
    expect.objectContaining({ textDocument: { uri, version } }),
  ]);
});
