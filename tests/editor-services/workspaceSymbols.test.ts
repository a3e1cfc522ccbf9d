/** Names of all files, as they are found by a few letters. */
import { describe, expect, it } from 'vitest';
import { SymbolKind } from 'vscode-languageserver';
import { type Bench, open } from './bench';

const FILES = {
  'trio.rig':
    'rig "Marsh Lamp"\nperformer uxia "Uxía"\nsource voice "Lead vocal" is dynamic-mic\nsource voice is dynamic-mic\ngear desk "Mixing desk" is interface-2\nmix uxia mono for uxia { voice 0 dB }',
  'shelf.rig': 'model our-mic "Our microphone" is dynamic-mic\ngear vox is our-mic',
};

async function found({ services }: Bench, query: string) {
  return (await services.shared.lsp.WorkspaceSymbolProvider?.getSymbols({ query })) ?? [];
}

describe('workspace symbols', () => {
  it('are everything with a name in all files, without the library', async () => {
    const all = await found(await open(FILES), '');
    expect(all.map(({ name }) => name).sort()).toEqual([
      'desk "Mixing desk"',
      'our-mic "Our microphone"',
      'uxia',
      'uxia "Uxía"',
      'voice',
      'voice "Lead vocal"',
      'vox',
    ]);
  });

  const cases: Record<string, [string, string[]]> = {
    'by the start of a name': ['vo', ['voice "Lead vocal"', 'voice', 'vox']],
    'by a word of the label': ['vocal', ['voice "Lead vocal"']],
    'without its accents, and the other way round': ['ÚXIA', ['uxia "Uxía"', 'uxia']],
    'by some of its letters': ['mxd', ['desk "Mixing desk"']],
    'by letters that are in no word': ['zzz', []],
  };
  it.each(Object.entries(cases))('%s', async (_, [query, expected]) => {
    const names = (await found(await open(FILES), query)).filter(({ location }) => !location.uri.startsWith('earloom:'));
    expect(names.map(({ name }) => name).sort()).toEqual([...expected].sort());
  });

  it('have the library last', async () => {
    const names = (await found(await open(FILES), 'mic')).map(({ location }) => location.uri.startsWith('earloom:'));
    expect(names).toContain(true);
    expect(names).toContain(false);
    expect(names).toEqual([...names].sort((a, b) => Number(a) - Number(b)));
  });

  it('tell what they are, and where', async () => {
    const bench = await open(FILES);
    const [desk] = await found(bench, 'desk');
    expect(desk).toMatchObject({ kind: SymbolKind.Object, containerName: 'gear, Marsh Lamp' });
    const { location } = desk as { location: { uri: string; range: Parameters<typeof bench.document.textDocument.getText>[0] } };
    expect(location.uri).toBe(bench.documentOf('trio.rig').uri.toString());
    expect(bench.documentOf('trio.rig').textDocument.getText(location.range)).toBe('desk');
    expect((await found(bench, 'our-mic'))[0]).toMatchObject({ kind: SymbolKind.Class, containerName: 'model' });
  });
});
