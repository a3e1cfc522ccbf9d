/** However edits come in, what is published last is what a server that only ever saw the last text would publish. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { CodeActionRequest, type Diagnostic } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { root } from '../build';
import { cases } from '../thorough';
import { Client, START } from './client';

const read = (name: string) => readFileSync(path.join(root, 'tests/checks', name), 'utf8');
const FILES = { 'file:///band/tour.rig': read('tour.rig'), 'file:///band/gear/our-shelf.rig': read('gear/our-shelf.rig') };
const URIS = Object.keys(FILES) as (keyof typeof FILES)[];

/** What fingers do: letters, words of the language, whole statements, ends of lines of both kinds, marks of two code units. */
const typed = fc.oneof(
  fc.constantFrom(
    '',
    ' ',
    '\n',
    '\r\n',
    '{',
    '}',
    '"',
    '#',
    '.',
    ',',
    '-',
    '−',
    '3 dB',
    ' via ',
    'source ',
    'input iface.7 takes ',
    '𝄞',
    'é',
    '\t',
  ),
  fc.constantFrom(
    'use "gear/our-shelf.rig"\n',
    'source new is dynamic-mic\n',
    'model twin is passive-di\n',
    'mix oye mono for oye { voice 0 dB }\n',
  ),
  fc.string({ maxLength: 12 }),
);

/** An edit as shares of the text it falls on, because how long that is depends on the edits before. */
const edit = fc.record({
  file: fc.nat(URIS.length - 1),
  from: fc.double({ min: 0, max: 1, noNaN: true }),
  length: fc.oneof(fc.constant(0), fc.nat(30), fc.nat(400)),
  text: typed,
  /** 0: in the same message as the next; 1: in a message of its own; more: and that many milliseconds before the next. */
  pause: fc.oneof({ weight: 4, arbitrary: fc.constantFrom(0, 1) }, { weight: 1, arbitrary: fc.integer({ min: 2, max: 25 }) }),
});

let client: Client;
let fresh: Client;
beforeAll(async () => {
  [client, fresh] = await Promise.all([Client.start(), Client.start()]);
});
afterAll(async () => {
  await Promise.all([client.stop(), fresh.stop()]);
});

async function everything(from: Client, versions: ReadonlyMap<string, number>): Promise<Record<string, Diagnostic[]>> {
  for (const uri of URIS) await from.diagnostics(uri, versions.get(uri) ?? 1);
  // A change in one file is news for the other: this is answered once a file's checks are done, and those of what it uses.
  for (const uri of URIS.toReversed()) {
    await from.connection.sendRequest(CodeActionRequest.type, { textDocument: { uri }, range: START, context: { diagnostics: [] } });
  }
  return Object.fromEntries(URIS.map((uri) => [uri, from.latest(uri)?.diagnostics ?? []]));
}

it('ends in the diagnostics of the last text', { timeout: 120_000 }, async () => {
  let rounds = 0;
  await fc.assert(
    fc.asyncProperty(fc.array(edit, { minLength: 5, maxLength: 60 }), async (edits) => {
      rounds++;
      client.published.length = 0;
      fresh.published.length = 0;
      const texts = new Map(Object.entries(FILES).map(([uri, text]) => [uri, TextDocument.create(uri, 'rig', 1, text)]));
      for (const [uri, text] of texts) await client.open(uri, text.getText());

      const versions = new Map<string, number>();
      let together: { uri: string; changes: { range: ReturnType<typeof rangeOf>; text: string }[] } | undefined;
      const flush = () => {
        if (together) versions.set(together.uri, client.change(together.uri, ...together.changes));
        together = undefined;
      };
      for (const { file, from, length, text, pause } of edits) {
        const uri = URIS[file] as string;
        const document = texts.get(uri) as TextDocument;
        const change = { range: rangeOf(document, from, length), text };
        texts.set(uri, TextDocument.update(document, [change], document.version + 1));
        if (together && together.uri !== uri) flush();
        together ??= { uri, changes: [] };
        together.changes.push(change);
        if (pause > 0) flush();
        if (pause > 1) await new Promise((resolve) => setTimeout(resolve, pause));
      }
      flush();
      const ended = await everything(client, versions);
      for (const uri of URIS) {
        const told = client.published.filter((each) => each.uri === uri).map((each) => each.version ?? 0);
        expect(told, 'no version is told of after a later one').toEqual(told.toSorted((a, b) => a - b));
        await client.close(uri);
      }

      for (const [uri, text] of texts) await fresh.open(uri, text.getText());
      expect(ended).toEqual(await everything(fresh, new Map()));
      for (const uri of URIS) await fresh.close(uri);
    }),
    { numRuns: cases(40, 15) },
  );
  expect(rounds).toBeGreaterThanOrEqual(cases(40, 15));
});

/** Never between the two halves of one character, where no editor edits. */
function rangeOf(document: TextDocument, from: number, length: number) {
  const text = document.getText();
  const whole = (offset: number) => (/^[\uDC00-\uDFFF]/.test(text.slice(offset)) ? offset - 1 : offset);
  const start = whole(Math.floor(from * text.length));
  const end = whole(Math.min(text.length, start + length));
  return { start: document.positionAt(start), end: document.positionAt(Math.max(start, end)) };
}
