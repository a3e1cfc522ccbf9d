/** What the editor shows of a rig that is half written or spoilt: nothing throws, and all of it stands inside the text. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { LangiumDocument } from 'langium';
import { expect, test } from 'vitest';
import type { CallHierarchyItem, CallHierarchyOutgoingCall, SelectionRange } from 'vscode-languageserver';
import { root } from '../build';
import { type Bench, open } from '../editor-services/bench';
import { isInside } from '../fuzz/sound';
import { generateRig, randomFrom } from '../generate';
import { some } from '../thorough';

const read = (name: string) => readFileSync(path.join(root, name), 'utf8');
const SHELF = { 'gear/our-shelf.rig': read('tests/checks/gear/our-shelf.rig') };
const TEXTS = [read('tests/checks/tour.rig'), read('examples/ten.rig'), generateRig(150, 3)];

/** Cut off, with a stretch gone, with a stretch twice, with its lines turned round: each at a random place. */
function* spoilt(text: string, random: () => number): Generator<string> {
  const at = () => Math.floor(random() * text.length);
  for (let round = 0; round < 12; round++) {
    const [from, to] = [at(), at()].sort((a, b) => a - b) as [number, number];
    yield text.slice(0, to);
    yield text.slice(0, from) + text.slice(from + 40);
    yield text.slice(0, to) + text.slice(from, from + 60) + text.slice(to);
    const lines = text.split('\n');
    yield [...lines.slice(round), ...lines.slice(0, round)].reverse().join('\r\n');
  }
}

async function look({ services }: Bench, document: LangiumDocument, random: () => number): Promise<number> {
  const { lsp, editor } = services;
  const { textDocument } = document;
  const asked = { textDocument: { uri: textDocument.uri } };
  const end = textDocument.positionAt(textDocument.getText().length);
  const range = { start: { line: 0, character: 0 }, end };
  const hints = (await lsp.InlayHintProvider?.getInlayHints(document, { ...asked, range })) ?? [];
  for (const { position, label, textEdits } of hints) {
    expect(isInside(document, { start: position, end: position })).toBe(true);
    expect(JSON.stringify(label)).not.toMatch(/undefined|NaN|Infinity/);
    for (const edit of textEdits ?? []) expect(isInside(document, edit.range)).toBe(true);
  }
  const lenses = (await lsp.CodeLensProvider?.provideCodeLens(document, asked)) ?? [];
  for (const lens of lenses) {
    expect(isInside(document, lens.range)).toBe(true);
    expect(lens.command?.title).toMatch(/./);
    expect(lens.command?.title).not.toMatch(/undefined|NaN/);
  }
  const tokens = (await lsp.SemanticTokenProvider?.semanticHighlight(document, asked))?.data ?? [];
  // Each is behind the one before it, and on one line.
  for (let at = 0, line = 0, character = 0, length = 0; at < tokens.length; at += 5) {
    const [lines, characters] = tokens.slice(at, at + 2) as [number, number];
    if (at > 0 && lines === 0) expect(characters).toBeGreaterThanOrEqual(length);
    line += lines;
    character = lines === 0 ? character + characters : characters;
    length = tokens[at + 2] as number;
    expect(isInside(document, { start: { line, character }, end: { line, character: character + length } })).toBe(true);
  }
  const positions = Array.from({ length: 8 }, () => textDocument.positionAt(Math.floor(random() * textDocument.getText().length)));
  for (const chain of editor.SelectionProvider.getSelectionRanges(document, { positions })) {
    for (let at: SelectionRange | undefined = chain; at; at = at.parent) expect(isInside(document, at.range)).toBe(true);
  }
  let items = 0;
  for (const position of positions) {
    lsp.DocumentHighlightProvider?.getDocumentHighlight(document, { ...asked, position });
    const starts = (await lsp.CallHierarchyProvider?.prepareCallHierarchy(document, { ...asked, position })) ?? [];
    for (const start of starts) {
      let item: CallHierarchyItem | undefined = start;
      for (let step = 0; step < 12 && item; step++) {
        items++;
        expect(item.name).toMatch(/./);
        const on: CallHierarchyOutgoingCall[] = (await lsp.CallHierarchyProvider?.outgoingCalls({ item })) ?? [];
        const back = (await lsp.CallHierarchyProvider?.incomingCalls({ item })) ?? [];
        const next: CallHierarchyItem[] = [...on.map(({ to }) => to), ...back.map(({ from }) => from)];
        item = next[Math.floor(random() * next.length)];
      }
    }
  }
  return hints.length + lenses.length + tokens.length + items;
}

test('hints, lenses, colours, selection and the signal path of spoilt rigs', { timeout: 120_000 }, async () => {
  const random = randomFrom(7);
  for (const text of some(TEXTS, 1)) {
    const bench = await open({ 'whole.rig': text, ...SHELF });
    bench.services.editor.Settings.take({ lenses: { mixes: true } });
    let seen = await look(bench, bench.document, random);
    expect(seen).toBeGreaterThan(100);
    let count = 0;
    for (const each of spoilt(text, random)) seen += await look(bench, await bench.add(`spoilt-${count++}.rig`, each), random);
    expect(seen).toBeGreaterThan(1000);
  }
});
