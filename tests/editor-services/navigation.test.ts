/** Definition, references and rename: the cursor is `<|>`, what is to be found stands in `[| |]`. */
import { describe, expect, it } from 'vitest';
import { ResponseError } from 'vscode-languageserver';
import { applied, type Bench, offsets, open } from './bench';

type Files = Readonly<Record<string, string>> | string;

const at = (bench: Bench) => ({ textDocument: { uri: bench.document.uri.toString() }, position: bench.position });

/** The marked ranges, as `file: text at offset`, so that a failure can be read. */
function marks(bench: Bench): string[] {
  return [...bench.marks]
    .flatMap(([name, { text, ranges }]) => ranges.map(({ start, end }) => `${name} ${start} ${text.slice(start, end)}`))
    .sort();
}

function found(bench: Bench, places: readonly { uri: string; range: Parameters<typeof offsets>[1] }[]): string[] {
  return places
    .map(({ uri, range }) => {
      const name = [...bench.marks.keys()].find((each) => bench.documentOf(each).uri.toString() === uri) ?? uri;
      const document = bench.marks.has(name) ? bench.documentOf(name) : undefined;
      const { start, end } = document ? offsets(document, range) : { start: 0, end: 0 };
      return `${name} ${start} ${document?.textDocument.getText().slice(start, end) ?? ''}`;
    })
    .sort();
}

describe('definition', () => {
  const cases: Record<string, Files> = {
    'a source where it is taken': 'source [|voice|] is dynamic-mic\ngear iface is interface-2\ninput iface.1 takes vo<|>ice',
    'a source in a mix': 'source [|voice|] is dynamic-mic\nmix m mono { voi<|>ce 0 dB }',
    'the name itself': 'source [|vo<|>ice|] is dynamic-mic',
    'behind the last letter': 'source [|voice|] is dynamic-mic\nmix m mono { voice<|> 0 dB }',
    'gear in a via': 'source bass is piezo-pickup\ngear [|bass-di|] is passive-di\ninput iface.1 takes bass via bas<|>s-di.thru',
    'a name that is also a word of the language': 'source [|left|] is dynamic-mic\nmix m mono { le<|>ft 0 dB left 20 % }',
    'a performer, not the mix of the same name': 'performer [|ilse|] "Ilse"\nmix ilse mono for il<|>se { }',
    'the mix, not the performer of the same name':
      'performer ilse "Ilse"\ngear iface is interface-2\nmix [|ilse|] mono for ilse { }\noutput iface.1 carries il<|>se',
    'a model in another file': { 'rig.rig': 'use "shelf.rig"\ngear iface is ou<|>r-box', 'shelf.rig': 'model [|our-box|] is interface-2' },
    'a file that is used': { 'rig.rig': 'use "she<|>lf.rig"', 'shelf.rig': '[||]model our-box is interface-2' },
    'a port of gear':
      'model box is interface {\n  input 1..4 combo mic\n  input [|5|] trs line\n}\ngear iface is box\ninput iface.<|>5 takes x',
    'a port in a range':
      'model box is interface {\n  input [|1..4|] combo mic\n  output 1..2 trs line\n}\ngear iface is box\ninput iface.<|>3 takes x',
    'an output and not the input of that number':
      'model box is interface {\n  input 1..4 combo mic\n  output [|1..2|] trs line\n}\ngear iface is box\noutput iface.<|>2 carries m',
    'a port that the model has from another':
      'model base {\n  input [|in|] xlr\n}\nmodel box is base {\n  output out xlr from in parallel\n}\ngear di is box\ninput x.1 takes y via di.i<|>n',
    'a port that the model replaces':
      'model base {\n  input in xlr\n}\nmodel box is base {\n  input [|in|] trs\n}\ngear di is box\ninput x.1 takes y via di.i<|>n',
    'a port in a tie': 'model box {\n  input [|a|], b ts\n  output out ts from <|>a, b switch\n}',
    'a port of a fresh piece':
      'model split {\n  input in xlr\n  output [|one|], two xlr from in parallel\n}\nhouse 1 takes x via split.on<|>e',
    'a channel of a source':
      'model keys {\n  output [|left|], right ts separate line\n}\nsource piano is keys\ninput x.1 takes piano.lef<|>t',
    'an output that is for the band alone':
      'model deck {\n  output left, [|right|] ts separate line\n}\nsource tape is deck private righ<|>t',
    'a channel in a mix':
      'model keys {\n  output left, [|right|] ts separate line\n}\nsource piano is keys\nmix m mono { piano.righ<|>t 0 dB }',
    'the side that a pack hears':
      'model link {\n  input [|left|], right combo line\n  output air from left, right active radio\n}\ngear tx is link\ngear pack is belt-pack hears tx.le<|>ft',
    'the mix whose side is taken': 'mix [|m|] stereo for house { }\nhouse 3 takes m.lef<|>t',
    'a port on both ends, in and out':
      'model loom {\n  input [|1..8|] xlr\n  output [|1..8|] xlr from 1..8 parallel\n}\ngear l is loom\ninput x.1 takes y via l.<|>3',
  };
  it.each(Object.entries(cases))('%s', async (_, files) => {
    const bench = await open(files);
    const links = (await bench.services.lsp.DefinitionProvider?.getDefinition(bench.document, at(bench))) ?? [];
    expect(links.length).toBeGreaterThan(0);
    expect(
      found(
        bench,
        links.map((link) => ({ uri: link.targetUri, range: link.targetSelectionRange })),
      ),
    ).toEqual(marks(bench));
  });

  it('opens the library where a figure comes from', async () => {
    const bench = await open('source voice is dyna<|>mic-mic');
    const [link] = (await bench.services.lsp.DefinitionProvider?.getDefinition(bench.document, at(bench))) ?? [];
    expect(link?.targetUri).toBe('earloom:/library/microphones.rig');
  });

  it('links every use to its file, without the quotes', async () => {
    const bench = await open({ 'rig.rig': 'use "[|shelf.rig|]"\nuse "[|shelf.rig|]\nuse "nowhere.rig"', 'shelf.rig': '' });
    const links = (await bench.services.lsp.DocumentLinkProvider?.getDocumentLinks(bench.document, at(bench))) ?? [];
    expect(
      found(
        bench,
        links.map(({ range }) => ({ uri: bench.document.uri.toString(), range })),
      ),
    ).toEqual(marks(bench));
    expect(new Set(links.map(({ target }) => target))).toEqual(new Set([bench.documentOf('shelf.rig').uri.toString()]));
  });
});

describe('references', () => {
  const cases: Record<string, Files> = {
    'of a source':
      'source [|vo<|>ice|] is dynamic-mic\ngear iface is interface-2\ninput iface.1 takes [|voice|]\nhouse 1 takes [|voice|]\nmix voice2 mono { [|voice|] 0 dB }',
    'of a performer, not of what else has the name':
      'performer [|il<|>se|] "Ilse"\nsource v is dynamic-mic by [|ilse|]\ngear p is belt-pack for [|ilse|]\nmix ilse mono for [|ilse|] { }',
    'of a model, in all files': {
      'shelf.rig': 'model [|our-<|>box|] is interface-2\nmodel other is [|our-box|]',
      'rig.rig': 'use "shelf.rig"\ngear a is [|our-box|]\ngear b is interface-2\ninput x.1 takes y via [|our-box|]',
      'alone.rig': 'gear a is our-box',
    },
    'of a port':
      'model box {\n  input [|i<|>n|] xlr\n  output thru, out xlr from [|in|] parallel\n}\ngear di is box\ninput x.1 takes y via di.[|in|]\ninput x.2 takes y via di.out\nhouse 1 takes y via box.[|in|]',
    'of one of several ports, ranges included':
      'model box is interface {\n  input [|1..4|] combo mic\n}\ngear iface is box\ninput iface.<|>[|2|] takes x\ninput iface.[|1..2|] takes x\ninput iface.3 takes x',
    'of all ports that are declared together':
      'model box is interface {\n  input [|1<|>..4|] combo mic\n}\ngear iface is box\ninput iface.[|2|] takes x\ninput iface.[|3|] takes x\ninput other.1 takes x',
    'none in a comment': 'source voice is dynamic-mic # vo<|>ice',
  };
  it.each(Object.entries(cases))('%s', async (_, files) => {
    const bench = await open(files);
    const locations =
      (await bench.services.lsp.ReferencesProvider?.findReferences(bench.document, {
        ...at(bench),
        context: { includeDeclaration: true },
      })) ?? [];
    expect(found(bench, locations)).toEqual(marks(bench));
  });

  it('leaves the declaration out where it is not asked for, and lights it up as written', async () => {
    const bench = await open('source vo<|>ice is dynamic-mic\nmix m mono { [|voice|] 0 dB }');
    const locations =
      (await bench.services.lsp.ReferencesProvider?.findReferences(bench.document, {
        ...at(bench),
        context: { includeDeclaration: false },
      })) ?? [];
    expect(found(bench, locations)).toEqual(marks(bench));
    const lit = (await bench.services.lsp.DocumentHighlightProvider?.getDocumentHighlight(bench.document, at(bench))) ?? [];
    expect(lit.map(({ kind }) => kind)).toEqual([3, 2]);
  });
});

describe('rename', () => {
  async function rename(files: Files, name: string): Promise<{ bench: Bench; after: Record<string, string> }> {
    const bench = await open(files);
    const edit = await bench.services.lsp.RenameProvider?.rename(bench.document, { ...at(bench), newName: name });
    return { bench, after: applied(bench, edit) };
  }

  const cases: Record<string, { files: Files; name: string; becomes: Record<string, string> | string }> = {
    'a source, in runs and mixes': {
      files: 'source vo<|>ice is dynamic-mic\ngear i is interface-2\ninput i.1 takes voice\nmix m mono { voice 0 dB }',
      name: 'lead',
      becomes: 'source lead is dynamic-mic\ngear i is interface-2\ninput i.1 takes lead\nmix m mono { lead 0 dB }',
    },
    'a performer and not the mix of that name': {
      files: 'performer il<|>se\nmix ilse mono for ilse { }\ngear p is belt-pack for ilse',
      name: 'ilsa',
      becomes: 'performer ilsa\nmix ilse mono for ilsa { }\ngear p is belt-pack for ilsa',
    },
    'a model, from a file that uses it': {
      files: {
        'rig.rig': 'use "shelf.rig"\ngear a is our-<|>box',
        'shelf.rig': 'model our-box is interface-2',
        'far.rig': 'use "rig.rig"\ngear b is our-box',
      },
      name: 'new-box',
      becomes: {
        'rig.rig': 'use "shelf.rig"\ngear a is new-box',
        'shelf.rig': 'model new-box is interface-2',
        'far.rig': 'use "rig.rig"\ngear b is new-box',
      },
    },
    'a port, in ties and runs, and where another model replaces it': {
      files:
        'model base {\n  input i<|>n xlr\n  output out xlr from in parallel\n}\nmodel box is base {\n  input in trs\n}\ngear d is box\ninput x.1 takes y via d.in',
      name: 'entry',
      becomes:
        'model base {\n  input entry xlr\n  output out xlr from entry parallel\n}\nmodel box is base {\n  input entry trs\n}\ngear d is box\ninput x.1 takes y via d.entry',
    },
    'a port to a number': {
      files: 'model box {\n  input i<|>n xlr\n}\ngear d is box\ninput d.in takes y',
      name: '1',
      becomes: 'model box {\n  input 1 xlr\n}\ngear d is box\ninput d.1 takes y',
    },
    'to letters of another script, in one way of writing them': {
      files: 'source drum is dynamic-mic\nmix m mono { dr<|>um 0 dB }',
      name: 'gro\u0073\u0065-tro\u006d\u006d\u0065\u006c-\u0061\u0308',
      becomes: 'source grose-trommel-\u00e4 is dynamic-mic\nmix m mono { grose-trommel-\u00e4 0 dB }',
    },
    'the second of two of one name, alone': {
      files: 'source a is dynamic-mic\nsource <|>a is clip-on-mic\nmix m mono { a 0 dB }',
      name: 'b',
      becomes: 'source a is dynamic-mic\nsource b is clip-on-mic\nmix m mono { a 0 dB }',
    },
    'to a word of the language': { files: 'source dr<|>um is dynamic-mic', name: 'stereo', becomes: 'source stereo is dynamic-mic' },
    'to what it is called already': { files: 'source dr<|>um is dynamic-mic', name: 'drum', becomes: 'source drum is dynamic-mic' },
  };
  it.each(Object.entries(cases))('%s', async (_, { files, name, becomes }) => {
    const { after } = await rename(files, name);
    expect(after).toEqual(typeof becomes === 'string' ? { 'rig.rig': becomes } : becomes);
  });

  const refused: Record<string, { files: Files; name: string; says: RegExp }> = {
    'a statement word': { files: 'source vo<|>ice is dynamic-mic', name: 'house', says: /starts a statement.*house-1/ },
    'two words': { files: 'source vo<|>ice is dynamic-mic', name: 'lead vocal', says: /is not a name/ },
    'a number': { files: 'source vo<|>ice is dynamic-mic', name: '1st', says: /is not a name/ },
    'a number alone, but for a port': { files: 'source vo<|>ice is dynamic-mic', name: '12', says: /is not a name/ },
    nothing: { files: 'source vo<|>ice is dynamic-mic', name: '  ', says: /at least one letter/ },
    signs: { files: 'source vo<|>ice is dynamic-mic', name: 'a.b', says: /is not a name/ },
    'a comment': { files: 'source vo<|>ice is dynamic-mic', name: 'a#b', says: /is not a name/ },
    'a name that is taken': {
      files: 'source vo<|>ice is dynamic-mic\nsource lead is dynamic-mic',
      name: 'lead',
      says: /already a source called lead/,
    },
    'a name that a mix has': {
      files: 'source vo<|>ice is dynamic-mic\nmix lead mono { }',
      name: 'lead',
      says: /already a mix called lead/,
    },
    'a name that is taken where it is used': {
      files: { 'shelf.rig': 'model our-<|>box is interface-2', 'rig.rig': 'use "shelf.rig"\nmodel mine is interface-2\ngear a is our-box' },
      name: 'mine',
      says: /already a model called mine/,
    },
    'a name of the library': {
      files: 'model our-<|>box is interface-2',
      name: 'y-lead',
      says: /already a model called y-lead in the library/,
    },
    'gear to a model that a via could mean': { files: 'gear d<|>i is passive-di', name: 'y-lead', says: /already a model called y-lead/ },
    'what belongs to the library': {
      files: 'source voice is dynamic<|>-mic',
      name: 'mine',
      says: /belongs to the library.*model our-dynamic-mic is dynamic-mic/,
    },
    'a port of the library': {
      files: 'gear d is passive-di\ninput x.1 takes y via d.thr<|>u',
      name: 'link',
      says: /thru is a port of passive-di.*library/,
    },
    'one of ports that are counted': {
      files: 'model b {\n  input 1..4 xlr\n}\ngear d is b\ninput d.<|>2 takes y',
      name: 'two',
      says: /1\.\.4 counts through several ports/,
    },
    'a port name that is taken': { files: 'model b {\n  input i<|>n, aux xlr\n}', name: 'aux', says: /already has a port called aux/ },
  };
  it.each(Object.entries(refused))('refuses %s', async (_, { files, name, says }) => {
    const error = await rename(files, name).then(
      () => undefined,
      (problem: unknown) => problem,
    );
    expect(error).toBeInstanceOf(ResponseError);
    expect((error as Error).message).toMatch(says);
  });

  it.each([
    'source [|vo<|>ice|] is dynamic-mic',
    'source [|große-tro<|>mmel|] is dynamic-mic',
    'source voice is dynamic-mic\nmix m mono { [|voice<|>|] 0 dB }',
    'model b {\n  input [|i<|>n|], aux xlr\n}',
  ])('offers exactly the name: %s', async (text) => {
    const bench = await open(text);
    const range = await bench.services.lsp.RenameProvider?.prepareRename(bench.document, at(bench));
    expect(range && found(bench, [{ uri: bench.document.uri.toString(), range }])).toEqual(marks(bench));
  });

  it.each([
    'source voice is dynamic-mic pe<|>ak 120 dB SPL',
    'source voice "Le<|>ad" is dynamic-mic',
    '# vo<|>ice',
    'source voice is dynamic-mic peak 1<|>20 dB SPL',
  ])('offers nothing at %s', async (text) => {
    const bench = await open(text);
    expect(await bench.services.lsp.RenameProvider?.prepareRename(bench.document, at(bench))).toBeUndefined();
  });
});
