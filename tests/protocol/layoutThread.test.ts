/** The server answers while a rig is laid out. */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it, vi } from 'vitest';
import { CompletionRequest, HoverRequest } from 'vscode-languageserver/node';
import { WATCH, type Watched } from '#server/protocol';
import { type LayOut, layOutHere, oneFileOf, type Sheet, TooLarge } from '#sheets';
import { layOutOnThread } from '../../packages/server/layoutOnThread';
import { root } from '../build';
import { generateRig } from '../generate';
import { Client, START } from './client';
import { Folder } from './folder';

const LARGE = generateRig(500);
const PATIENCE = { timeout: 60_000, interval: 20 };

/** A server whose layouts are held up until they are let go; somebody looks at the signal flow of a large rig. */
async function watched() {
  const folder = new Folder({ 'large.rig': LARGE, held: '' });
  const begun = path.join(folder.path, 'begun');
  const client = await Client.start({
    env: {
      NODE_OPTIONS: `--require "${path.join(root, 'tests/protocol/heldLayout.cjs')}"`,
      HELD: path.join(folder.path, 'held'),
      BEGUN: begun,
    },
  });
  const uri = folder.uriOf('large.rig');
  await client.open(uri, LARGE);
  await client.connection.sendNotification(WATCH, { uri, sheets: ['signal-flow'] } satisfies Watched);
  const layouts = () => (existsSync(begun) ? readFileSync(begun, 'utf8').length : 0);
  await vi.waitFor(() => expect(layouts()).toBe(1), PATIENCE);
  return { client, uri, file: path.join(folder.path, 'large.rig'), layouts, letGo: () => folder.remove('held') };
}

it('answers while a large rig is laid out, and then sends what the command line writes', { timeout: 120_000 }, async () => {
  const { client, uri, file, letGo } = await watched();
  const textDocument = { uri };
  const line = LARGE.split('\n').findIndex((text) => /^source \S+ .*\bis /.test(text));
  const character = (LARGE.split('\n')[line] ?? '').indexOf(' is ') + 4;
  const hover = await client.connection.sendRequest(HoverRequest.type, { textDocument, position: { line, character } });
  expect(hover?.contents).toBeTruthy();
  const completion = await client.connection.sendRequest(CompletionRequest.type, { textDocument, position: { line, character } });
  expect(completion).toBeTruthy();
  expect(client.sheets).toEqual([]);

  letGo();
  await client.until(() => client.sheets.length > 0, 'the signal flow', 60_000);
  const [{ sheets = [] } = {}, ...more] = client.sheets;
  expect(more).toEqual([]);
  expect(sheets.map(({ id, blocks }) => [id, blocks.length > 1])).toEqual([['signal-flow', true]]);
  const cli = [path.join(root, 'dist/cli.cjs'), 'sheets', file, '--sheet', 'signal-flow', '--format', 'html'];
  const written = execFileSync(process.execPath, cli, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'], maxBuffer: 1 << 26 });
  expect(oneFileOf(sheets as Sheet[], 'html')?.trim()).toBe(written.trim());
  expect(await client.stop()).toBe(0);
});

it('ends a layout that is out of date before its time', { timeout: 120_000 }, async () => {
  const { client, uri, layouts, letGo } = await watched();
  const version = client.change(uri, {
    range: START,
    text: 'source further is dynamic-mic\ngear aside is preamp-expander\ninput aside.1 takes further\n',
  });
  // There is one thread: the second is begun there only if the first, which is still held up, is at an end.
  await vi.waitFor(() => expect(layouts()).toBe(2), PATIENCE);
  letGo();
  await client.until(() => client.sheets.length > 0, 'the signal flow', 60_000);
  expect(client.sheets.map((sent) => sent.version)).toEqual([version]);
  expect(await client.stop()).toBe(0);
});

it('ends when asked to in the middle of a layout', { timeout: 120_000 }, async () => {
  const { client } = await watched();
  expect(await client.stop()).toBe(0);
  expect(client.sheets).toEqual([]);
});

const GRAPH: Parameters<LayOut>[0] = {
  id: 'rig',
  layoutOptions: { 'elk.algorithm': 'layered', 'elk.randomSeed': '1' },
  children: ['a', 'b'].map((id) => ({ id, width: 30, height: 20 })),
  edges: [{ id: 'e', sources: ['a'], targets: ['b'] }],
};
const wanted = () => new AbortController().signal;
const placed = ({ children = [] }: Awaited<ReturnType<LayOut>>) => children.map(({ id, x, y }) => [id, x, y]);

it('lays out on the thread as on this one, and goes on after a graph that it cannot lay out', async () => {
  const layOut = layOutOnThread(path.join(root, 'dist/layoutThread.cjs'));
  const here = placed(await layOutHere(structuredClone(GRAPH), wanted()));
  expect(placed(await layOut(GRAPH, wanted()))).toEqual(here);
  await expect(layOut({ ...GRAPH, edges: [{ id: 'e', sources: ['a'], targets: ['none'] }] }, wanted())).rejects.toThrow('none');
  expect(placed(await layOut(GRAPH, wanted()))).toEqual(here);
});

it('lays out on this thread where there can be no other', async () => {
  const warned = vi.spyOn(console, 'warn').mockImplementation(() => undefined);
  const layOut = layOutOnThread(path.join(root, 'dist/nowhere.cjs'));
  const here = placed(await layOutHere(structuredClone(GRAPH), wanted()));
  expect(placed(await layOut(structuredClone(GRAPH), wanted()))).toEqual(here);
  expect(placed(await layOut(structuredClone(GRAPH), wanted()))).toEqual(here);
  expect(warned).toHaveBeenCalledOnce();
});

it('gives up a layout after its time, and one that nobody wants, and begins the next on a new thread', async () => {
  // It answers every graph but one.
  const folder = new Folder({
    'mute.cjs': `const { parentPort } = require('node:worker_threads');
      parentPort.on('message', (graph) => graph.id !== 'mute' && parentPort.postMessage({ kind: 'laid', graph }));
      parentPort.postMessage({ kind: 'ready' });`,
  });
  const layOut = layOutOnThread(path.join(folder.path, 'mute.cjs'), 200);
  const mute = { ...GRAPH, id: 'mute' };
  await expect(layOut(mute, wanted())).rejects.toBeInstanceOf(TooLarge);
  const unwanted = new AbortController();
  const [first, queued, next] = [layOut(mute, unwanted.signal), layOut(mute, unwanted.signal), layOut(GRAPH, wanted())];
  unwanted.abort(new Error('superseded'));
  await expect(first).rejects.toThrow('superseded');
  await expect(queued).rejects.toThrow('superseded');
  expect(await next).toEqual(GRAPH);
});
