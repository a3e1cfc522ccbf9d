/** Enter ends a line: nothing is offered where a line that somebody types is whole, so that no editor has anything to put in its place. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { rigsIn } from '../checks/open';
import { type Bench, open } from './bench';

const folder = new URL('../../examples/', import.meta.url);
const files = Object.fromEntries(
  rigsIn(folder.pathname)
    .map((path) => path.slice(folder.pathname.length))
    .filter((name) => !name.startsWith('mistakes'))
    .map((name) => [name, readFileSync(new URL(name, folder), 'utf8')]),
);

/** What an editor asks by itself behind a character that was typed. */
const TRIGGERS = ['.', ' ', '"', '/'];

/** Of what the server offers, what an editor shows: what has the letters of the word in it, in their order. */
async function shownAt(bench: Bench, text: string, offset: number): Promise<string[]> {
  const typed = text[offset - 1] ?? '';
  const trigger = TRIGGERS.includes(typed) ? typed : undefined;
  if (trigger === undefined && !/[\p{L}\p{M}\p{N}_-]/u.test(typed)) return [];
  const document = await bench.add('typed.rig', text);
  const list = await bench.services.lsp.CompletionProvider?.getCompletion(document, {
    textDocument: { uri: document.uri.toString() },
    position: document.textDocument.positionAt(offset),
    context: trigger === undefined ? { triggerKind: 1 } : { triggerKind: 2, triggerCharacter: trigger },
  });
  bench.services.shared.workspace.LangiumDocuments.deleteDocument(document.uri);
  return (list?.items ?? []).flatMap(({ label, filterText = label, textEdit }) => {
    const start = textEdit && 'range' in textEdit ? document.textDocument.offsetAt(textEdit.range.start) : offset;
    const letters = [...text.slice(start, offset)].map((letter) => letter.replace(/[\\^$.*+?()[\]{}|/-]/g, '\\$&'));
    return new RegExp(letters.join('.*'), 'i').test(filterText) ? [label] : [];
  });
}

const TYPED = ['first.rig', 'street.rig', 'gear/hall-shelf.rig'];

it.each(Object.entries(files).filter(([name]) => TYPED.includes(name)))(
  'nothing is offered at the end of a line or of a label while %s is typed',
  async (name, text) => {
    const bench = await open(files);
    const ends = [...text.matchAll(/(?<=\S)$|(?<=^[^"#\n]*(?:"[^"\n]*"[^"#\n]*)*"[^"\n]*")/gm)].map(({ index }) => index);
    expect(ends.length).toBeGreaterThan(10);
    const wrong: string[] = [];
    for (const end of ends) {
      const typed = text.slice(0, end);
      const behind = `${typed}\n${text.slice(end).replace(/^[^\n]*\n?/, '')}`;
      // At the end of the file; and, in a short one, with all its lines behind it.
      for (const written of name === 'first.rig' ? [typed, behind] : [typed]) {
        const shown = await shownAt(bench, written, end);
        if (shown.length > 0) wrong.push(`${typed.slice(typed.lastIndexOf('\n') + 1)}: ${shown.slice(0, 3).join(', ')}`);
      }
    }
    expect(wrong).toEqual([]);
  },
);

it.each([
  ['a longer name begins with it', 'source drum-2 is clip-on-mic\nsource drum is clip-on-mic\nhouse 1 takes drum'],
  ['a word may follow', 'gear iface is interface-8-mic owned'],
  ['other figures may follow a number', 'model m {\n  output a trs line channels 2'],
])('nothing is offered behind a word that is whole, though %s', async (_why, text) => {
  expect(await shownAt(await open(''), text, text.length)).toEqual([]);
});

it('a word that is not whole is completed', async () => {
  const text = 'source drum-2 is clip-on-mic\nsource drum is clip-on-mic\nhouse 1 takes dru';
  expect(await shownAt(await open(''), text, text.length)).toEqual(['drum-2', 'drum']);
});

it('a model is offered to a source of the same name', async () => {
  const text = 'source click "Click" is click';
  expect(await shownAt(await open(''), text, text.length)).toEqual(['click-channel']);
});
