/** What the editor shows in and around the text, through the built server: asked for, kept fresh, and switched off by the settings. */
import { expect, it } from 'vitest';
import {
  CallHierarchyIncomingCallsRequest,
  CallHierarchyOutgoingCallsRequest,
  CallHierarchyPrepareRequest,
  CodeLensRefreshRequest,
  CodeLensRequest,
  DidChangeConfigurationNotification,
  DocumentHighlightRequest,
  type InlayHintLabelPart,
  InlayHintRefreshRequest,
  InlayHintRequest,
  SelectionRangeRequest,
  type SemanticTokens,
  SemanticTokensDeltaRequest,
  SemanticTokensRangeRequest,
  SemanticTokensRefreshRequest,
  SemanticTokensRequest,
  WorkspaceSymbolRequest,
} from 'vscode-languageserver/node';
import { DEFAULT_WISHES } from '#language/editor';
import { SUMMARY, type Summary } from '#server/protocol';
import { contributes } from '../../package.json';
import { Client, START } from './client';
import { Folder } from './folder';

const RIG = `rig "Marsh Lamp"
use "shelf.rig"
performer io at 0 m, 0 m
source voice "Voice" is our-mic by io
gear iface is interface-2 at 1 m, 1 m
input iface.1 takes voice
mix io mono for io { voice 0 dB }
output iface.1..2 carries io via headphone-amp
`;
const SHELF = 'model our-mic is dynamic-mic { typical 94 dB SPL  peak 114 dB SPL }\n';
const WHOLE = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };
const REFRESHES = {
  inlayHint: { refreshSupport: true },
  codeLens: { refreshSupport: true },
  semanticTokens: { refreshSupport: true },
};

class Shown {
  readonly uri: string;
  readonly shelf: string;

  private constructor(
    readonly client: Client,
    folder: Folder,
  ) {
    this.uri = folder.uriOf('rig.rig');
    this.shelf = folder.uriOf('shelf.rig');
  }

  static async start(options: Parameters<typeof Client.start>[0] = {}): Promise<Shown> {
    const folder = new Folder({ 'rig.rig': RIG, 'shelf.rig': SHELF });
    const shown = new Shown(await Client.start({ folders: [folder.uri], ...options }), folder);
    await shown.client.open(shown.uri, RIG);
    await shown.client.diagnostics(shown.uri);
    return shown;
  }

  async hints(): Promise<string[]> {
    const params = { textDocument: { uri: this.uri }, range: WHOLE };
    return ((await this.client.connection.sendRequest(InlayHintRequest.type, params)) ?? []).map(({ label }) =>
      (label as InlayHintLabelPart[]).map(({ value }) => value).join(''),
    );
  }

  async lenses(): Promise<string[]> {
    const found = await this.client.connection.sendRequest(CodeLensRequest.type, { textDocument: { uri: this.uri } });
    return (found ?? []).map(({ command }) => command?.title ?? '');
  }

  /** As an editor does: the whole file, and how many names of it have a colour. */
  tokens(): Promise<SemanticTokens | null> {
    return this.client.connection.sendRequest(SemanticTokensRequest.type, { textDocument: { uri: this.uri } });
  }

  at(words: string) {
    const lines = RIG.split('\n');
    const line = lines.findIndex((text) => text.includes(words));
    return { textDocument: { uri: this.uri }, position: { line, character: lines[line]?.indexOf(words) ?? 0 } };
  }

  async stop(): Promise<void> {
    expect(this.client.log).toEqual([]);
    expect(await this.client.stop()).toBe(0);
  }
}

it('offers all that it can do', async () => {
  const { client, ...shown } = await Shown.start();
  expect(client.capabilities).toMatchObject({
    inlayHintProvider: { resolveProvider: false },
    codeLensProvider: { resolveProvider: false },
    semanticTokensProvider: { full: { delta: true }, range: true, legend: { tokenTypes: expect.arrayContaining(['class']) } },
    selectionRangeProvider: true,
    documentHighlightProvider: true,
    callHierarchyProvider: {},
    workspaceSymbolProvider: { resolveProvider: false },
  });
  expect(shown.uri).toMatch(/rig\.rig$/);
  await client.stop();
});

it('says what a rig comes to, after each edit, and nothing of a file that only lends its gear', async () => {
  const shown = await Shown.start();
  const summary = (uri: string) => shown.client.connection.sendRequest<Summary | null>(SUMMARY, { uri });
  expect(await summary(shown.uri)).toMatchObject({ wrong: 0, inputs: { used: 1, of: 2 }, text: expect.stringContaining('**Marsh Lamp**') });
  expect(await summary(shown.shelf)).toBeNull();
  const line = RIG.split('\n').findIndex((text) => text.startsWith('input '));
  const start = { line, character: 0 };
  shown.client.change(shown.uri, { range: { start, end: start }, text: 'input iface.1 takes voice\n' });
  expect(await summary(shown.uri)).toMatchObject({
    wrong: 1,
    gravest: 'error',
    text: expect.stringContaining('To be put right: 1 error.'),
  });
  await shown.stop();
});

const figure = (label: string | undefined) => Number(/-?\d+/.exec(label ?? '')?.[0]);

it('hints and lenses follow an edit', async () => {
  const shown = await Shown.start({ initializationOptions: { commands: { openSheets: 'earloom.openPreview' } } });
  const [gain] = await shown.hints();
  expect(gain).toMatch(/^gain \d+ dB · headroom \d+ dB · XLR, 5 m$/);
  expect(await shown.lenses()).toEqual(['Open the sheets', '1 of 2 inputs, 1 of 1 stereo mixes']);
  const { position } = shown.at(' by io');
  const end = { ...position, character: position.character + ' by io'.length };
  shown.client.change(shown.uri, { range: { start: end, end }, text: '  peak 124 dB SPL' });
  // Peaks 10 dB louder leave room for 10 dB less gain.
  const [less] = await shown.hints();
  expect(figure(less)).toBe(figure(gain) - 10);
  shown.client.change(shown.uri, { range: { start: START.start, end: { line: 1, character: 0 } }, text: 'gear second is interface-2\n' });
  expect(await shown.lenses()).toEqual(['Open the sheets', '1 of 2 inputs, 1 of 1 stereo mixes']);
  await shown.stop();
});

it('tells the client to ask again where another file has changed what it shows, and only there', async () => {
  const shown = await Shown.start({ workspace: REFRESHES });
  const { client } = shown;
  expect(client.refreshed).toEqual([]);
  const [before] = await shown.hints();
  await client.open(shown.shelf, SHELF);
  await client.diagnostics(shown.shelf);
  // What the client itself edits it asks for again by itself.
  await client.diagnostics(shown.uri, client.change(shown.uri, { range: START, text: '# ' }));
  client.refreshed.length = 0;
  await client.diagnostics(shown.uri, client.change(shown.uri, { range: START, text: '# ' }));
  expect(client.refreshed).toEqual([]);
  const at = { line: 0, character: SHELF.indexOf('114') };
  client.change(shown.shelf, { range: { start: at, end: { ...at, character: at.character + 3 } }, text: '104' });
  await client.until(() => client.refreshed.length >= 3, 'the refreshes');
  const all = [InlayHintRefreshRequest.method, CodeLensRefreshRequest.method, SemanticTokensRefreshRequest.method];
  expect([...client.refreshed].sort()).toEqual([...all].sort());
  const [after] = await shown.hints();
  expect(figure(after)).toBeGreaterThan(figure(before));
  await shown.stop();
});

it('asks nothing of a client that cannot refresh', async () => {
  const shown = await Shown.start();
  await shown.client.open(shown.shelf, SHELF);
  await shown.client.diagnostics(shown.shelf, shown.client.change(shown.shelf, { range: START, text: '# ' }));
  await shown.hints();
  expect(shown.client.refreshed).toEqual([]);
  await shown.stop();
});

const SILENT = {
  hints: { gain: false, headroom: false, lead: false },
  lenses: { rig: false, gear: false, mixes: false },
};
const LOUD = { hints: { gain: true, headroom: false, lead: false }, lenses: { rig: false, gear: false, mixes: true } };

it('reads the settings as it starts, and again when they change', async () => {
  const shown = await Shown.start({
    workspace: { ...REFRESHES, configuration: true, didChangeConfiguration: { dynamicRegistration: true } },
    configuration: { earloom: SILENT },
  });
  const { client } = shown;
  expect(await shown.hints()).toEqual([]);
  expect(await shown.lenses()).toEqual([]);
  const registered = client.registrations.find(({ method }) => method === DidChangeConfigurationNotification.method);
  expect(registered?.registerOptions).toEqual({ section: ['earloom'] });

  // Some clients send them along …
  client.refreshed.length = 0;
  await client.connection.sendNotification(DidChangeConfigurationNotification.type, { settings: { earloom: LOUD } });
  await client.until(() => client.refreshed.length >= 2, 'the refreshes');
  expect([...client.refreshed].sort()).toEqual([CodeLensRefreshRequest.method, InlayHintRefreshRequest.method].sort());
  expect((await shown.hints()).every((label) => label.startsWith('gain'))).toBe(true);
  expect((await shown.hints()).length).toBe(1);
  expect(await shown.lenses()).toEqual([expect.stringMatching(/^io hears it by /)]);

  // … others only say that they have changed.
  client.refreshed.length = 0;
  client.configuration = { earloom: SILENT };
  await client.connection.sendNotification(DidChangeConfigurationNotification.type, { settings: null });
  await client.until(() => client.refreshed.length >= 2, 'the refreshes');
  expect(await shown.hints()).toEqual([]);

  // What is not about us changes nothing.
  client.refreshed.length = 0;
  await client.connection.sendNotification(DidChangeConfigurationNotification.type, { settings: { editor: { hints: true } } });
  expect(await shown.hints()).toEqual([]);
  expect(client.refreshed).toEqual([]);
  await shown.stop();
});

it('gives a client without settings the same as one that leaves them as they are', async () => {
  const defaults = Object.fromEntries(
    Object.entries(contributes.configuration.properties).flatMap(([name, { default: value }]) =>
      typeof value === 'boolean' && /\.(hints|lenses)\./.test(name) ? [[name.replace('earloom.', ''), value]] : [],
    ),
  );
  const flat = Object.entries(DEFAULT_WISHES).flatMap(([group, wishes]) =>
    Object.entries(wishes).map(([name, value]) => [`${group}.${name}`, value]),
  );
  expect(Object.fromEntries(flat)).toEqual(defaults);

  const without = await Shown.start();
  const empty = await Shown.start({
    workspace: { configuration: true },
    configuration: { earloom: { hints: { gain: 'perhaps' }, lenses: null } },
  });
  expect((await without.hints())[0]).toMatch(/^gain .* · headroom .* · XLR/);
  expect(await empty.hints()).toEqual(await without.hints());
  expect(await empty.lenses()).toEqual(await without.lenses());
  await without.stop();
  await empty.stop();
});

it('colours: the whole, a part, and the difference after an edit', async () => {
  const shown = await Shown.start();
  const { client, uri } = shown;
  const first = await shown.tokens();
  expect(first?.data.length).toBeGreaterThan(50);
  const part = await client.connection.sendRequest(SemanticTokensRangeRequest.type, {
    textDocument: { uri },
    range: { start: { line: 5, character: 0 }, end: { line: 6, character: 0 } },
  });
  // iface, 1, voice.
  expect(part?.data.length).toBe(15);
  const { position } = shown.at('takes voice');
  const end = { ...position, character: position.character + 'takes voice'.length };
  client.change(uri, { range: { start: position, end }, text: 'takes nobody' });
  const delta = await client.connection.sendRequest(SemanticTokensDeltaRequest.type, {
    textDocument: { uri },
    previousResultId: first?.resultId ?? '',
  });
  if (!delta || !('edits' in delta)) throw new Error('It is no difference.');
  const data = [...(first?.data ?? [])];
  for (const edit of [...delta.edits].sort((a, b) => b.start - a.start)) data.splice(edit.start, edit.deleteCount, ...(edit.data ?? []));
  expect(data).toEqual((await shown.tokens())?.data);
  expect(data.length).toBe((first?.data.length ?? 0) - 5);
  await shown.stop();
});

it('selection, highlights, symbols', async () => {
  const shown = await Shown.start();
  const { client, uri } = shown;
  const at = shown.at('voice "Voice"');
  const chains = await client.connection.sendRequest(SelectionRangeRequest.type, {
    textDocument: { uri },
    positions: [at.position, { line: 0, character: 0 }],
  });
  expect(chains).toHaveLength(2);
  expect(chains?.[0]?.range).toEqual({ start: at.position, end: { ...at.position, character: at.position.character + 5 } });
  const lit = await client.connection.sendRequest(DocumentHighlightRequest.type, at);
  expect(lit?.map(({ range }) => range.start.line).sort()).toEqual([3, 5, 6]);
  const symbols = await client.connection.sendRequest(WorkspaceSymbolRequest.type, { query: 'voi' });
  expect(symbols?.[0]).toMatchObject({ name: 'voice "Voice"', containerName: 'source, Marsh Lamp', location: { uri } });
  await shown.stop();
});

it('the signal path, both ways', async () => {
  const shown = await Shown.start();
  const { connection } = shown.client;
  const [voice] = (await connection.sendRequest(CallHierarchyPrepareRequest.type, shown.at('voice "Voice"'))) ?? [];
  if (!voice) throw new Error('There is no source.');
  expect(voice.name).toBe('Voice');
  const on = (await connection.sendRequest(CallHierarchyOutgoingCallsRequest.type, { item: voice })) ?? [];
  expect(on.map(({ to }) => to.name)).toEqual(['iface in 1']);
  const [first] = on;
  if (!first) throw new Error('It is plugged in nowhere.');
  const back = (await connection.sendRequest(CallHierarchyIncomingCallsRequest.type, { item: first.to })) ?? [];
  expect(back.map(({ from }) => from.name)).toEqual(['Voice']);
  await shown.stop();
});
