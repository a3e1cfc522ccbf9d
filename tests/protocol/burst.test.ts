/** Where an editor falls behind, many keys come at once: of the texts in between nobody would see anything, and they are not checked. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
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
