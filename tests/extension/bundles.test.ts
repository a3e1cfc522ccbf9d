/** What is made for the browser needs nothing that a browser has not. */
import { readFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import path from 'node:path';
import { beforeAll, describe, expect, inject, it } from 'vitest';
import {
  EXPORT,
  EXPORT_LABELS,
  EXPORT_LABELS_PDF,
  type Export,
  type Exported,
  type ExportLabels,
  PLAN,
  type Planned,
} from '#server/protocol';
import { root } from '../build';
import { WebServer } from './webServer';

const read = (file: string) => readFileSync(path.join(root, 'dist', file), 'utf8');

beforeAll(() => {
  const failure = inject('buildFailure');
  if (failure) throw new Error(`dist/ could not be built:\n${failure}`);
});

describe.each(['extension.web.js', 'server.web.js', 'preview.js'])('%s', (file) => {
  it('loads no module of Node', () => {
    // A library asks for "util" by a name of its own, inside a try, where it finds itself on Node.
    const loaded = [...read(file).matchAll(/(?<![\w.$])(?:require|import)\(["']([^"']+)["']\)/g)].map(([, name = '']) => name);
    expect(loaded.filter((name) => builtinModules.includes(name.replace(/^node:/, '')))).toEqual([]);
    expect(loaded.filter((name) => name !== 'vscode')).toEqual([]);
    expect(read(file)).not.toMatch(/["']node:[a-z_/]+["']/);
  });
});

/** In a world that has what a worker has and nothing else: no process, no require, no Buffer. */
describe('the server in a worker', () => {
  const RIG = [
    'rig "Umber Finch"',
    'use "gear/shelf.rig"',
    'performer ana "Ana"',
    'source voice "Voice" is dynamic-mic by ana',
    'gear iface "Interface" is our-interface',
    'input iface.1 takes voice',
    'mix ana mono for ana { voice 0 dB }',
    'output iface.phones carries ana',
    '',
  ].join('\n');
  const SHELF = 'model our-interface "Our interface" is interface-2\n';

  it('reads the files of a folder by way of its client', async () => {
    const server = await WebServer.start(root, { '/rigs/umber.rig': RIG, '/rigs/gear/shelf.rig': SHELF });
    expect(await server.codes('memory:/rigs/umber.rig')).toEqual([]);
    expect(
      server.asked
        .filter(([method]) => method === 'earloom/read')
        .map(([, uri]) => uri)
        .sort(),
    ).toEqual(['memory:/rigs/gear/shelf.rig', 'memory:/rigs/umber.rig']);
  });

  it('plans, with the solver that lies beside it', async () => {
    const text = RIG.replace(/^(input|output) .*\n/gm, '');
    const server = await WebServer.start(root, { '/rigs/umber.rig': text, '/rigs/gear/shelf.rig': SHELF });
    await server.codes('memory:/rigs/umber.rig');
    const planned = await server.request<Planned>(PLAN, { uri: 'memory:/rigs/umber.rig' });
    expect(planned.changes.map(({ says }) => says)).toEqual(['input iface.1 takes voice', 'output iface.phones carries ana']);
  });

  it('says that a used file is not there, and sees it come', async () => {
    const server = await WebServer.start(root, { '/rigs/umber.rig': RIG });
    expect(await server.codes('memory:/rigs/umber.rig')).toContain('use/missing');
    server.files.set('/rigs/gear/shelf.rig', SHELF);
    server.forgetPublished();
    server.notify('workspace/didChangeWatchedFiles', { changes: [{ uri: 'memory:/rigs/gear/shelf.rig', type: 1 }] });
    expect(await server.codes('memory:/rigs/umber.rig')).toEqual([]);
  });

  it('says why a file that is there cannot be read', async () => {
    const server = await WebServer.start(root, { '/rigs/umber.rig': RIG, '/rigs/gear/shelf.rig': { reason: 'it is not text in UTF-8' } });
    const found = await server.published('memory:/rigs/umber.rig');
    expect(found.map(({ message }) => message).join('\n')).toContain('it is not text in UTF-8');
  });

  it('completes, and makes a new rig', async () => {
    const server = await WebServer.start(root, { '/rigs/umber.rig': RIG, '/rigs/gear/shelf.rig': SHELF });
    const text = RIG.replace('takes voice', 'takes voice via ');
    const uri = 'memory:/rigs/umber.rig';
    server.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'rig', version: 1, text } });
    const line = text.split('\n').findIndex((each) => each.includes(' via '));
    const offered = await server.request<{ items: { label: string }[] }>('textDocument/completion', {
      textDocument: { uri },
      position: { line, character: text.split('\n')[line]?.length ?? 0 },
    });
    expect(offered.items.map(({ label }) => label)).toContain('transformer-split');
    const { defaults } = await server.request<{ defaults: object }>('earloom/newRigChoices');
    expect(await server.request<object>('earloom/newRig', defaults)).toEqual({
      fileName: 'copper-wren-first-rig',
      text: expect.stringMatching(/^performer ana /m),
    });
  });

  it('draws the signal flow, laid out by what lies beside it', async () => {
    const server = await WebServer.start(root, { '/rigs/umber.rig': RIG, '/rigs/gear/shelf.rig': SHELF });
    const uri = 'memory:/rigs/umber.rig';
    server.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'rig', version: 1, text: RIG } });
    const wanted = { uri, sheets: ['signal-flow'], format: 'svg', together: false } satisfies Export;
    const { files } = await server.request<Exported>(EXPORT, wanted);
    expect(files.map(({ text }) => text).join('')).toMatch(/<svg[\s\S]*<path/);
  });

  it('makes labels as a page, and no PDF', async () => {
    const server = await WebServer.start(root, { '/rigs/umber.rig': RIG, '/rigs/gear/shelf.rig': SHELF });
    const uri = 'memory:/rigs/umber.rig';
    server.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'rig', version: 1, text: RIG } });
    const wanted = { uri, stock: 'a4-3x8', style: 'flag', start: 1 } satisfies ExportLabels;
    expect(await server.request<string>(EXPORT_LABELS, wanted)).toContain('<title>Umber Finch: labels</title>');
    await expect(server.request(EXPORT_LABELS_PDF, wanted)).rejects.toThrow();
  });
});
