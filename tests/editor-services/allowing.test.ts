/** Comments that let a finding stand: offered, proposed and explained in the editor, kept by the formatter, told on the sheets. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CodeAction } from 'vscode-languageserver';
import { diagnosticOf, foundBy } from '#language';
import { sheetsOf } from '#sheets';
import { allNotes, headWords } from '../../packages/sheets/render/words';
import { applied, type Bench, open } from './bench';

const RIG = (before: string, behind = '', after = '') => `rig "Nettle Wine, gallery"
performer una  "Una"
source saw  "Singing saw"  is dynamic-mic  by una
gear iface  "Interface"  is interface-2
${before}input iface.1  takes saw  via y-lead${behind}
mix una  mono  for una  { saw 0 dB }
output iface.phones  carries una
${after}`;
const page = (code: string) => readFileSync(join(import.meta.dirname, `../../examples/mistakes/${code}.rig`), 'utf8');

const codes = (bench: Bench) => bench.analysis().located.map(({ finding }) => finding.code);

function actions(bench: Bench): CodeAction[] {
  const diagnostics = bench.analysis().located.map(diagnosticOf);
  return bench.services.lsp.CodeActionProvider?.getCodeActions(bench.document, {
    textDocument: { uri: bench.document.uri.toString() },
    range: diagnostics[0]?.range ?? { start: bench.position, end: bench.position },
    context: { diagnostics },
  }) as CodeAction[];
}

async function proposals(text: string) {
  const bench = await open(text);
  const params = { textDocument: { uri: bench.document.uri.toString() }, position: bench.position };
  return (await bench.services.lsp.CompletionProvider?.getCompletion(bench.document, params))?.items ?? [];
}

describe('what may stand', () => {
  it('is not told, and keeps its reason, its words and its place', async () => {
    const { located, allowed, checked } = (await open(RIG('# allow splits/needless: a recorder\n'))).analysis();
    expect(located).toEqual([]);
    expect(allowed.map(({ finding, range }) => [finding.code, finding.allowed, range.start.line])).toEqual([
      ['splits/needless', 'a recorder', 5],
    ]);
    expect(checked?.findings.map((each) => each.allowed)).toEqual(['a recorder']);
  });

  it.each([
    ['above a statement', RIG('# allow splits/needless: why\n')],
    ['above other comments', RIG('  ## allow splits/needless: why\n# as ever\n')],
    ['behind a line', RIG('', '  # allow splits/needless: why')],
    ['in a file with other line ends', RIG('# allow splits/needless: why\n').replaceAll('\n', '\r\n')],
    ['at the end of the file', `${RIG('').replace(/input.*\n/, '')}input iface.1 takes saw via y-lead # allow splits/needless: why`],
  ])('%s', async (_, text) => {
    const bench = await open(text);
    expect(codes(bench)).toEqual([]);
    expect(bench.analysis().allowed).toHaveLength(1);
  });

  it.each([
    ['no reason', '# allow splits/needless\n', ['splits/needless', 'allow/no-reason']],
    ['signs for a reason', '# allow splits/needless: …\n', ['splits/needless', 'allow/no-reason']],
    ['another code', '# allow splits/missing: why\n', ['splits/needless', 'allow/nothing-here']],
    ['a gap', '# allow splits/needless: why\n\n', ['splits/needless', 'allow/nothing-here']],
    ['what is about such comments', '# allow allow/no-reason: why\n', ['splits/needless', 'allow/not-this']],
    ['a slip in the code', '# allow splits/needles: why\n', ['splits/needless', 'allow/no-such-code']],
    ['prose', '# allow some time: it is and/or was\n', ['splits/needless']],
  ])('not with %s', async (_, before, found) => {
    const bench = await open(RIG(before));
    expect(codes(bench)).toEqual(found);
    expect(bench.analysis().allowed).toEqual([]);
  });

  it('is no danger, and nothing that is not understood', async () => {
    expect(codes(await open(page('levels/speaker-output').replace(/^(?=input)/m, '# allow levels/speaker-output: why\n')))).toEqual([
      'levels/speaker-output',
      'allow/not-this',
    ]);
    expect(codes(await open(RIG('', '', '# allow names/unknown: why\noutput iface.1 carries nobody')))).toEqual([
      'names/unknown',
      'splits/needless',
      'allow/not-this',
    ]);
  });

  it('is no cause to keep silent about what it would have overruled', async () => {
    const text = page('levels/top-end')
      .split('\n')
      .filter((line) => !/^ *#/.test(line))
      .join('\n');
    const before = codes(await open(text));
    expect(before).toEqual(['levels/top-end']);
    const after = await open(text.replace(/^(?=input)/m, '# allow levels/top-end: why\n'));
    expect(after.analysis().allowed.map(({ finding }) => finding.code)).toEqual(['levels/top-end']);
    expect(codes(after)).toEqual(['connectors/long-unbalanced']);
  });

  it('may be said where it is written, in a file that is used', async () => {
    const rig =
      'use "shelf.rig"\nrig "X"\ninput box.1 takes saw via y-lead\nmix una mono for una { saw 0 dB }\noutput box.phones carries una';
    const shelf = (comment: string) =>
      `performer una\n${comment}performer ada\nsource saw "Saw" is dynamic-mic by una\ngear box is interface-2`;
    const open2 = (comment: string) => open({ 'rig.rig': rig, 'shelf.rig': shelf(comment) });
    expect(codes(await open2(''))).toContain('use/trouble');
    const bench = await open2('# allow mixes/no-mix: she dances\n');
    expect(codes(bench)).not.toContain('use/trouble');
    expect(bench.analysis().allowed.map(({ finding }) => finding.code)).toEqual(['mixes/no-mix']);
    expect(bench.services.rig.Analyser.of(bench.documentOf('shelf.rig')).located).toEqual([]);
  });

  it('says nothing of what is not there while the text is not understood', async () => {
    expect(codes(await open(RIG('# allow splits/missing: why\n', '', 'mix')))).not.toContain('allow/nothing-here');
  });
});

describe('in the editor', () => {
  it('the light bulb writes the comment, last and never as the one to take', async () => {
    const bench = await open(RIG(''));
    const offered = actions(bench);
    expect(offered.length).toBeGreaterThan(1);
    const last = offered.at(-1) as CodeAction;
    expect(last).toMatchObject({ title: 'Allow this here, with a reason…', kind: 'quickfix' });
    expect(offered.filter(({ title }) => title.startsWith('Allow'))).toEqual([last]);
    expect(last.isPreferred).toBeUndefined();
    const text = applied(bench, last.edit)['rig.rig'] as string;
    expect(text).toBe(RIG('# allow splits/needless: …\n'));
    expect(codes(await open(text))).toEqual(['splits/needless', 'allow/no-reason']);
    expect(codes(await open(text.replace('…', 'a recorder')))).toEqual([]);
  });

  it('one comment lets stand all of its kind in a line', async () => {
    const bench = await open(RIG('source pads "Pads" is stereo-playback\ninput iface.usb1..usb2 takes pads\n', '', '# <|>'));
    const twice = bench.analysis().located.filter(({ finding }) => finding.code === 'connectors/no-mate');
    expect(twice).toHaveLength(2);
    const offered = bench.services.lsp.CodeActionProvider?.getCodeActions(bench.document, {
      textDocument: { uri: bench.document.uri.toString() },
      range: (twice[0] as (typeof twice)[0]).range,
      context: { diagnostics: twice.map(diagnosticOf) },
    }) as CodeAction[];
    const [allow, ...more] = offered.filter(({ title }) => title.startsWith('Allow'));
    expect(more).toEqual([]);
    expect(allow?.diagnostics).toHaveLength(2);
  });

  it('it does not so for a danger', async () => {
    const danger = await open(page('levels/speaker-output'));
    expect(actions(danger).filter(({ title }) => title.startsWith('Allow'))).toEqual([]);
  });

  it.each([
    ['no-reason', 'Delete this comment'],
    ['not-this', 'Delete this comment'],
    ['nothing-here', 'Delete this comment'],
    ['no-such-code', 'Write "splits/needless"'],
  ])('allow/%s: %s', async (code, title) => {
    const bench = await open(page(`allow/${code}`));
    const cure = actions(bench).find((each) => each.title === title) as CodeAction;
    expect(cure?.diagnostics?.map((each) => each.code)).toEqual([`allow/${code}`]);
    expect(codes(await open(applied(bench, cure.edit)['rig.rig'] as string))).not.toContain(`allow/${code}`);
  });

  it('completion offers what is found there', async () => {
    for (const text of [RIG('# allow <|>\n'), RIG('# allow spl<|>\n'), RIG('# allow splits/<|>\n'), RIG('', ' # allow <|>')]) {
      const items = await proposals(text);
      expect(items.map(({ label }) => label)).toEqual(['splits/needless']);
      expect(items[0]?.textEdit).toMatchObject({ newText: 'splits/needless: ' });
      expect(items[0]?.documentation).toMatchObject({ value: expect.stringContaining('Singing saw') });
    }
    expect(await proposals(RIG('# allow splits/needless: <|>\n'))).toEqual([]);
    expect(await proposals(RIG('# anything <|>\n'))).toEqual([]);
    expect(await proposals(RIG('', '', '# allow <|>\n'))).toEqual([]);
  });

  it('a hover over the code says what it is', async () => {
    const says = async (text: string) => {
      const bench = await open(text);
      const params = { textDocument: { uri: bench.document.uri.toString() }, position: bench.position };
      const found = await bench.services.lsp.HoverProvider?.getHoverContent(bench.document, params);
      return (found?.contents as { value: string } | undefined)?.value;
    };
    expect(await says(RIG('# allow splits/ne<|>edless: a recorder\n'))).toMatch(/Singing saw.*Allowed: a recorder/s);
    expect(await says(RIG('# allow splits/ne<|>edless\n'))).toContain('Singing saw');
    expect(await says(RIG('# allow splits/mis<|>sing: why\n'))).toBe('Nothing of this kind is found here.');
    expect(await says(RIG('# allow splits/needless: a rec<|>order\n'))).toBeUndefined();
  });

  it('the formatter keeps it where it is', async () => {
    const { format } = await import('#language/format');
    const bench = await open(RIG('# allow splits/needless: a recorder\n', ' # allow splits/needless:  so'));
    const { text } = format(bench.services, bench.document.textDocument.getText());
    expect(text.split('\n').filter((line) => line.includes('allow'))).toEqual([
      '# allow splits/needless: a recorder',
      expect.stringMatching(/^input iface\.1 .*via y-lead +# allow splits\/needless: {2}so$/),
    ]);
  });
});

describe('on the sheets', () => {
  it('it is listed last with its reason, and does not count as wrong', async () => {
    const analysis = (await open(RIG('# allow splits/needless: a recorder\n'))).analysis();
    if (!analysis.checked) throw new Error('a rig is checked');
    const [patchList] = await sheetsOf(analysis.checked, foundBy(analysis), ['patch-list']);
    if (!patchList) throw new Error('there is a patch list');
    expect(headWords(patchList)).toContain('Nothing found wrong, 1 allowed.');
    const notes = allNotes(patchList).map(({ note }) => note);
    expect(notes).toMatchObject([{ code: 'splits/needless', allowed: 'a recorder', cure: 'The reason: a recorder' }]);
  });
});
