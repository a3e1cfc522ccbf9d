/**
 * A busy editor: many files that use each other, edits at random places, every kind of request under way, some of them cancelled, files that
 * change, come and go on disk. Once it is quiet, what was published last is what a server publishes that only ever saw the files as they are.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { CancellationTokenSource, type Diagnostic, FileChangeType } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { root } from '../build';
import { randomOf } from '../fuzz/mutate';
import { generateRig } from '../generate';
import { Client } from './client';
import { Folder } from './folder';

const read = (name: string) => readFileSync(path.join(root, 'tests/checks', name), 'utf8');
const STEPS = 160;
const FILES: Readonly<Record<string, string>> = {
  'tour.rig': read('tour.rig'),
  'gear/our-shelf.rig': read('gear/our-shelf.rig'),
  'evening.rig': `use "gear/our-shelf.rig"\nuse "more.rig"\n${generateRig(150, 5)}`,
  'more.rig': 'use "gear/our-shelf.rig"\nmodel our-mic is dynamic-mic\nmodel other is our-interface\n',
  'small.rig':
    'use "more.rig"\nrig "Small"\nperformer ana\nsource voice is our-mic by ana\ngear iface is other\ninput iface.1 takes voice\n',
  ...Object.fromEntries(
    Array.from({ length: 12 }, (_, index) => [`many/${index}.rig`, `use "../more.rig"\nsource s is our-mic\nrig "${index}"\n`]),
  ),
};
const TYPED = [
  '\n',
  ' ',
  '{',
  '}',
  '"',
  '#',
  ' via y-lead',
  'source x is our-mic\n',
  '3 dB',
  '𝄞',
  'use "more.rig"\n',
  '',
  '.',
  '\r\n',
  'mix a for ana {',
];

/** -32800 RequestCancelled, -32801 ContentModified, -32803 RequestFailed: Language Server Protocol 3.17, "Base Protocol", ErrorCodes. */
const REFUSALS = [-32800, -32801, -32803];

interface Open {
  document: TextDocument;
  version: number;
}

it.each([1, 2, 3])('of seed %i', { timeout: 120_000 }, async (seed) => {
  const random = randomOf(seed, 0);
  const pick = <T>(all: readonly T[]): T => all[Math.floor(random() * all.length)] as T;
  const folder = new Folder(FILES);
  const onDisk = new Map(Object.entries(FILES));
  const client = await Client.start({ folders: [folder.uri] });
  const open = new Map<string, Open>();
  const asked: Promise<unknown>[] = [];
  const kinds = new Set<string>();
  let [answered, cancelled] = [0, 0];

  const ask = (name: string) => {
    const { document } = open.get(name) as Open;
    const textDocument = { uri: folder.uriOf(name) };
    const position = document.positionAt(Math.floor(random() * document.getText().length));
    const range = { start: { line: 0, character: 0 }, end: document.positionAt(document.getText().length) };
    const at = { textDocument, position };
    const options = { tabSize: 2, insertSpaces: true };
    const diagnostics = client.latest(textDocument.uri)?.diagnostics ?? [];
    const around = { start: position, end: position };
    const [method, params] = pick<readonly [string, object]>([
      ['textDocument/completion', at],
      ['textDocument/hover', at],
      ['textDocument/definition', at],
      ['textDocument/references', { ...at, context: { includeDeclaration: true } }],
      ['textDocument/documentHighlight', at],
      ['textDocument/prepareRename', at],
      ['textDocument/rename', { ...at, newName: 'quite-another' }],
      ['textDocument/prepareCallHierarchy', at],
      ['textDocument/selectionRange', { textDocument, positions: [position] }],
      ['textDocument/codeAction', { textDocument, range: around, context: { diagnostics: diagnostics.slice(0, 3) } }],
      ['textDocument/formatting', { textDocument, options }],
      ['textDocument/rangeFormatting', { textDocument, range: around, options }],
      ['textDocument/onTypeFormatting', { ...at, ch: '\n', options }],
      ['textDocument/semanticTokens/full', { textDocument }],
      ['textDocument/inlayHint', { textDocument, range }],
      ['textDocument/codeLens', { textDocument }],
      ['textDocument/documentSymbol', { textDocument }],
      ['textDocument/foldingRange', { textDocument }],
      ['textDocument/documentLink', { textDocument }],
      ['workspace/symbol', { query: pick(['', 'voice', 'our']) }],
    ]);
    kinds.add(method);
    const token = new CancellationTokenSource();
    const isCancelled = random() < 0.25;
    const answer = client.connection.sendRequest(method, params, token.token).then(
      () => {
        answered++;
      },
      (problem: { code?: number; message: string }) => {
        // A position that is gone by now, a name that cannot be changed, what was cancelled: refused, and by the protocol's own codes.
        // What has been closed, and deleted, since it was asked about is not there.
        if (problem.code === -32603 && !onDisk.has(name)) return;
        expect(REFUSALS, `${method}: ${problem.message}`).toContain(problem.code);
        if (problem.code === -32800) {
          expect(isCancelled, `${method} was cancelled by nobody`).toBe(true);
          cancelled++;
        }
      },
    );
    asked.push(answer);
    if (isCancelled) setTimeout(() => token.cancel(), random() * 6);
  };

  const steps: readonly (() => Promise<void> | void)[] = [
    ...Array.from({ length: 6 }, () => () => {
      const name = pick([...open.keys()]);
      const each = open.get(name) as Open;
      const text = each.document.getText();
      const whole = (offset: number) => (/^[\uDC00-\uDFFF]/.test(text.slice(offset)) ? offset - 1 : offset);
      const from = whole(Math.floor(random() * text.length));
      const to = whole(Math.min(text.length, from + pick([0, 0, 1, 3, 40])));
      const change = {
        range: { start: each.document.positionAt(from), end: each.document.positionAt(Math.max(from, to)) },
        text: pick(TYPED),
      };
      each.version = client.change(folder.uriOf(name), change);
      each.document = TextDocument.update(each.document, [change], each.version);
    }),
    ...Array.from({ length: 8 }, () => () => ask(pick([...open.keys()]))),
    async () => {
      const name = pick([...onDisk.keys()]);
      if (open.has(name)) return;
      const text = onDisk.get(name) as string;
      open.set(name, { document: TextDocument.create(folder.uriOf(name), 'rig', 1, text), version: 1 });
      await client.open(folder.uriOf(name), text);
    },
    async () => {
      if (open.size < 3) return;
      const name = pick([...open.keys()]);
      open.delete(name);
      await client.close(folder.uriOf(name));
    },
    async () => {
      const name = pick([...onDisk.keys()]);
      const text = (onDisk.get(name) as string).replace(/our-mic|voice/, pick(['our-mic', 'other-mic', 'voice']));
      onDisk.set(name, text);
      folder.write(name, text);
      await client.onDisk(folder.uriOf(name), FileChangeType.Changed);
    },
    async () => {
      const name = pick([...onDisk.keys()]);
      const text = onDisk.get(name) as string;
      const renamed = `${name.replace(/(-\d+)?\.rig$/, '')}-${Math.floor(random() * 50)}.rig`;
      if (open.has(name) || onDisk.has(renamed)) return;
      folder.write(renamed, text);
      folder.remove(name);
      onDisk.set(renamed, text);
      onDisk.delete(name);
      await client.onDisk(folder.uriOf(name), FileChangeType.Deleted);
      await client.onDisk(folder.uriOf(renamed), FileChangeType.Created);
    },
  ];

  for (const name of ['tour.rig', 'gear/our-shelf.rig', 'evening.rig']) {
    const text = onDisk.get(name) as string;
    open.set(name, { document: TextDocument.create(folder.uriOf(name), 'rig', 1, text), version: 1 });
    await client.open(folder.uriOf(name), text);
  }
  await client.diagnostics(folder.uriOf('evening.rig'));
  for (let step = 0; step < STEPS; step++) {
    await pick(steps)();
    if (random() < 0.15) await new Promise((resolve) => setTimeout(resolve, random() * 30));
  }
  await Promise.all(asked);
  expect(kinds.size).toBeGreaterThan(15);
  expect(answered).toBeGreaterThan(20);

  const fresh = await Client.start({ folders: [folder.uri] });
  for (const [name, { document }] of open) await fresh.open(folder.uriOf(name), document.getText());
  const published = (from: Client): Record<string, Diagnostic[]> =>
    Object.fromEntries([...onDisk.keys()].sort().map((name) => [name, from.latest(folder.uriOf(name))?.diagnostics ?? []]));
  await fresh.until(() => [...onDisk.keys()].every((name) => fresh.latest(folder.uriOf(name))), 'all files to be checked', 60_000);
  await quiet(fresh, [...open.keys()].map(folder.uriOf, folder));
  await quiet(client, [...open.keys()].map(folder.uriOf, folder));
  expect(published(client)).toEqual(published(fresh));
  // Nothing is said any more of what is gone.
  for (const { uri } of client.published)
    if (!onDisk.has(decodeURIComponent(uri.slice(folder.uri.length + 1)))) expect(client.codes(uri)).toEqual([]);
  expect(await client.stop()).toBe(0);
  expect(await fresh.stop()).toBe(0);
  expect(client.log).toEqual([]);
  expect(fresh.log).toEqual([]);
  expect(cancelled).toBeLessThan(asked.length);
});

/** Waits until all is checked and nothing has been published for a while. */
async function quiet(client: Client, uris: readonly string[]): Promise<void> {
  for (const uri of uris)
    await client.connection.sendRequest('textDocument/codeAction', {
      textDocument: { uri },
      range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
      context: { diagnostics: [] },
    });
  for (let count = -1; count !== client.published.length; ) {
    count = client.published.length;
    await new Promise((resolve) => setTimeout(resolve, 400));
  }
}
