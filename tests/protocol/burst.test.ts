/** Where an editor falls behind, many keys come at once: of the texts in between nobody would see anything, and they are not checked. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { CancellationTokenSource, CompletionRequest } from 'vscode-languageserver/node';
import { root } from '../build';
import { Client } from './client';

const URI = 'file:///band/ten.rig';
const KEYS = 60;

it('checks the last of many texts that come at once, not each of them', async () => {
  const text = readFileSync(path.join(root, 'examples/ten.rig'), 'utf8');
  const client = await Client.start();
  await client.open(URI, text);
  await client.diagnostics(URI);
  const end = { line: text.split('\n').length, character: 0 };
  let last = 1;
  for (const key of '#'.repeat(KEYS)) last = client.change(URI, { range: { start: end, end }, text: key });
  await client.diagnostics(URI, last);
  const checked = client.published.filter(({ uri, version }) => uri === URI && (version ?? 0) > 1);
  expect(checked.at(-1)?.version).toBe(last);
  // The pipe may hand them over in a few pieces.
  expect(checked.length).toBeLessThan(KEYS / 6);
  await client.stop();
});

it('names the ports behind a dot however fast it was typed, while what is typed is checked', async () => {
  const text = `${readFileSync(path.join(root, 'examples/ten.rig'), 'utf8').trimEnd()}\n`;
  const client = await Client.start();
  await client.open(URI, text);
  await client.diagnostics(URI);
  const gear = /^gear (\S+).* is interface/m.exec(text)?.[1] as string;
  const line = text.split('\n').length - 1;
  const ask = (character: number, triggerCharacter: string | undefined, { token }: CancellationTokenSource) =>
    client.connection.sendRequest(
      CompletionRequest.type,
      { textDocument: { uri: URI }, position: { line, character }, context: { triggerKind: triggerCharacter ? 2 : 1, triggerCharacter } },
      token,
    );
  for (const delay of [0, 1, 5, 20, 60]) {
    const words = `input ${gear}.`;
    // As an editor asks: at the first letter of each word, and no more once the next word has begun.
    let asked = new CancellationTokenSource();
    for (const [at, key] of [...words].entries()) {
      client.change(URI, { range: { start: { line, character: at }, end: { line, character: at } }, text: key });
      if (key === '.') break;
      if (/\w/.test(key) && !/\w$/.test(words.slice(0, at))) {
        asked.cancel();
        asked = new CancellationTokenSource();
        ask(at + 1, undefined, asked).catch(() => {});
      }
      if (delay > 0) await setTimeout(delay);
    }
    asked.cancel();
    const list = await ask(words.length, '.', new CancellationTokenSource());
    const items = Array.isArray(list) ? list : (list?.items ?? []);
    expect(items.map(({ label }) => label)).toContain('usb1');
    client.change(URI, { range: { start: { line, character: 0 }, end: { line, character: words.length } }, text: '' });
  }
  await client.stop();
});
