/** What is let go of files that nobody has open, and that nobody can tell. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { AstUtils, DocumentState, EmptyFileSystemProvider, type LangiumDocument, URI } from 'langium';
import { expect, it, vi } from 'vitest';
import type { Range } from 'vscode-languageserver-types';
import { diagnosticOf, RigLoader } from '#language';
import { isDeclaration, nameRange } from '../../packages/language/editor/things';
import type { Model, RigFile, Statement } from '../../packages/language/generated/ast';
import { treeOf } from '../../packages/language/syntax/factory';
import { headsOf } from '../../packages/language/syntax/heads';
import type { RigLexer } from '../../packages/language/syntax/lexer';
import { root } from '../build';
import { randomOf, spoilt } from '../fuzz/mutate';
import { FOLDER, MemoryFiles } from '../hostile/open';

/** A diamond (left and right use the ground), a circle, a slip in the ground, and rigs that use them. */
const FILES: Readonly<Record<string, string>> = {
  'ground.rig': 'model our-mic is dynamic-mic\nmodel odd is dynamic-mik\ngear desk is interface-8-mic\n',
  'left.rig': 'use "ground.rig"\nmodel ours is our-mic\n',
  'right.rig': 'use "ground.rig"\nuse "circle.rig"\nmodel theirs is our-mic\n',
  'circle.rig': 'use "right.rig"\nmodel ours is theirs\n',
  ...Object.fromEntries(
    Array.from({ length: 8 }, (_, index) => [
      `band-${index}.rig`,
      [
        `use "left.rig"\nuse "right.rig"\nrig "Band ${index}"\nperformer ana`,
        `source voice is ${['ours', 'theirs', 'odd', 'nowhere'][index % 4]} by ana`,
        'input desk.1 takes voice\nmix m mono for ana { voice 0 dB }\noutput desk.1 carries m\n',
      ].join('\n'),
    ]),
  ),
};
const NAMES = Object.keys(FILES);

function load(): { loader: RigLoader; document: (name: string) => Promise<LangiumDocument> } {
  const files = new MemoryFiles(Object.fromEntries(NAMES.map((name) => [`${FOLDER}${name}`, FILES[name] as string])));
  const loader = new RigLoader(files, URI.parse(FOLDER));
  return { loader, document: (name) => loader.load(URI.parse(`${FOLDER}${name}`)) };
}

it('a file is read as text until somebody looks at it, and its tree is let go after', async () => {
  const { loader, document } = load();
  const { Analyser, Symbols, Trees } = loader.services.rig;
  const band = await document('band-0.rig');
  const others = await Promise.all(['left.rig', 'right.rig', 'ground.rig', 'circle.rig'].map(document));
  expect([band, ...others].map(treeOf)).toEqual([undefined, undefined, undefined, undefined, undefined]);
  const before = Analyser.of(band).located.map(diagnosticOf);
  const own = treeOf(band);
  expect(own).toBeDefined();
  Trees.settle();
  expect([band, ...others].map(treeOf)).toEqual([undefined, undefined, undefined, undefined, undefined]);
  // Names are known without it.
  expect([...Symbols.of(band).names('Source').keys()]).toEqual(['voice']);
  expect(Symbols.closure(band)).toHaveLength(5);
  expect(treeOf(band)).toBeUndefined();
  expect(Analyser.of(band).located.map(diagnosticOf)).toEqual(before);
  // Compared here: where two trees are alike, the test runner would look through all that hangs on them.
  expect(treeOf(band) === own).toBe(false);
});

it('what is named as needed keeps its tree, and all that it uses', async () => {
  const { loader, document } = load();
  const { Analyser, Trees } = loader.services.rig;
  const [band, other, ground] = await Promise.all(['band-0.rig', 'band-1.rig', 'ground.rig'].map(document));
  for (const each of [band, other]) Analyser.of(each as LangiumDocument);
  const kept = treeOf(ground as LangiumDocument);
  Trees.settle(band as LangiumDocument);
  expect(treeOf(band as LangiumDocument)).toBeDefined();
  expect(treeOf(ground as LangiumDocument)).toBe(kept);
  expect(treeOf(other as LangiumDocument)).toBeUndefined();
});

it('the findings of many files are those of each by itself, whatever has been let go between them', async () => {
  const alone = await Promise.all(
    NAMES.map(async (name) => {
      const { loader, document } = load();
      const wanted = await document(name);
      // Each is checked knowing what is in the others.
      for (const each of NAMES) await document(each);
      return loader.services.rig.Analyser.of(wanted).located.map(diagnosticOf);
    }),
  );
  for (const settles of [false, true]) {
    const { loader, document } = load();
    const documents = await Promise.all(NAMES.map(document));
    const together = documents.map((each) => {
      const found = loader.services.rig.Analyser.of(each).located.map(diagnosticOf);
      if (settles) loader.services.rig.Trees.settle();
      return found;
    });
    expect(together).toEqual(alone);
  }
  expect(alone.flat().map(({ code }) => code)).toEqual(expect.arrayContaining(['names/unknown', 'use/trouble', 'names/elsewhere-too']));
});

it('who uses a file is known, of a diamond and of a circle', async () => {
  const { loader, document } = load();
  const { Symbols } = loader.services.rig;
  for (const each of ['band-0.rig', 'left.rig', 'right.rig']) await document(each);
  const users = (name: string) => [...Symbols.usersOf([`${FOLDER}${name}`])].map((address) => address.slice(FOLDER.length)).sort();
  expect(users('ground.rig')).toEqual(['band-0.rig', 'circle.rig', 'ground.rig', 'left.rig', 'right.rig']);
  expect(users('circle.rig')).toEqual(['band-0.rig', 'circle.rig', 'right.rig']);
  expect(users('band-0.rig')).toEqual(['band-0.rig']);
});

it('a name is found where the nearest file has it, however files use each other', async () => {
  for (let round = 0; round < 12; round++) {
    const random = randomOf(5, round);
    const pick = (count: number) => Math.floor(random() * count);
    const uses = Array.from({ length: 8 }, () => Array.from({ length: pick(4) }, () => pick(9)));
    const declares = uses.map(() => new Set(Array.from({ length: pick(4) }, () => ['a', 'b', 'c', 'd', 'dynamic-mic'][pick(5)] as string)));
    const texts = uses.map((used, index) => [
      ...used.map((each) => `use "${each}.rig"`),
      ...[...(declares[index] as Set<string>)].map((name) => `model ${name} is condenser-mic`),
    ]);
    const files = new MemoryFiles(Object.fromEntries(texts.map((lines, index) => [`${FOLDER}${index}.rig`, lines.join('\n')])));
    const loader = new RigLoader(files, URI.parse(FOLDER));
    const { Symbols } = loader.services.rig;
    for (const index of uses.keys()) {
      const document = await loader.load(URI.parse(`${FOLDER}${index}.rig`));
      // Breadth first; the last that is used is not there.
      const reached = new Set([index]);
      for (const each of reached) for (const next of uses[each] ?? []) if (next < uses.length) reached.add(next);
      expect(Symbols.closure(document).map((each) => each.document.uri.toString())).toEqual(
        [...reached].map((each) => `${FOLDER}${each}.rig`),
      );
      for (const name of ['a', 'b', 'c', 'd', 'dynamic-mic', 'ribbon-mic']) {
        const nearest = [...reached].find((each) => declares[each]?.has(name));
        const found = Symbols.find(document, 'Model', name);
        const at = found && AstUtils.getDocument(found).uri.toString();
        if (nearest !== undefined) expect(at).toBe(`${FOLDER}${nearest}.rig`);
        else expect(at?.startsWith('earloom:') ?? false).toBe(name.endsWith('-mic'));
      }
      const twice = [...reached].flatMap((each) => [...(declares[each] as Set<string>)].map((name) => `${each} ${name}`));
      const clashing = [...Symbols.clashes(document)].map(
        ({ symbols, name }) => `${symbols.document.uri.path.match(/(\d+)\.rig/)?.[1]} ${name}`,
      );
      // More may be told, of files beyond what this one uses; none may be missed.
      for (const each of twice) {
        const name = each.split(' ')[1];
        if (twice.filter((other) => other.endsWith(` ${name}`)).length > 1) expect(clashing).toContain(each);
      }
    }
  }
});

it('what the tokens alone tell of a text is what its whole tree tells', async () => {
  const { services } = new RigLoader(new EmptyFileSystemProvider(), URI.parse(FOLDER));
  const { LangiumDocumentFactory } = services.shared.workspace;
  const folders = ['tests/checks', 'examples', 'packages/language/library'].map((folder) => path.join(root, folder));
  const files = folders.flatMap((folder) =>
    readdirSync(folder, { recursive: true, encoding: 'utf8' }).flatMap((file) => (file.endsWith('.rig') ? [path.join(folder, file)] : [])),
  );
  const texts = [...files.map((file) => readFileSync(file, 'utf8')), ...Object.values(FILES)];
  const odd = [
    'use',
    'use\n"a.rig"',
    'rig "x" use "a.rig"',
    '# use "a.rig"\n',
    'model m {\nuse "a.rig"\n}',
    'x\n  use "a.rig" use "b.rig"',
    '// use "a.rig"',
    'source',
    'source\nmodel m "M"',
    'source 3 x is dynamic-mic',
    'source "x" is dynamic-mic',
    'source mic\n  "On the next line"\nis dynamic-mic',
    'rig "a"\nrig "b"\nmix m {\n  voice 0 dB\nmix m "again"',
    'model a { input 1 xlr source x is b }',
    'gear e\u0301 "e" is x\ngear \u00e9 is x',
    'surce x is dynamic-mic\ninput a.1 takes x\n mix for ana',
    '// source x is dynamic-mic\nsource § y is dynamic-mic',
  ];
  const cases = [...texts, ...odd];
  for (let index = 0; index < 400; index++) cases.push(spoilt(texts, randomOf(3, index)));
  let sure = 0;
  for (const text of cases) {
    const heads = headsOf(text, services.parser.Lexer as RigLexer);
    if (!heads) continue;
    sure++;
    const { value } = LangiumDocumentFactory.fromString<RigFile>(text, URI.parse(`${FOLDER}x.rig`)).parseResult;
    const of = <T extends Statement['$type']>(type: T) =>
      value.statements.filter((each): each is Extract<Statement, { $type: T }> => each.$type === type);
    const declared = value.statements.filter(isDeclaration).filter(({ name }) => name !== undefined);
    expect(
      heads.declared.map(({ word, name, label, line, character, length }) => [word, name, label, line, character, length]),
      text,
    ).toEqual(
      declared.map((node) => {
        const { start, end } = nameRange(node) as Range;
        return [node.$type.toLowerCase(), node.name, node.label, start.line, start.character, end.character - start.character];
      }),
    );
    expect(heads.used, text).toEqual(of('Use').map(({ path: written }) => written));
    const [header] = of('Header');
    expect(heads.title, text).toEqual(header && { label: header.label });
  }
  // Of what is not spoilt, all is told so.
  expect(sure).toBeGreaterThan(texts.length);
});

it('a name that nothing has is looked up in silence, also in a file that has only just been read', async () => {
  const { loader, document } = load();
  const ground = await document('ground.rig');
  const odd = (ground.parseResult.value as RigFile).statements.find((each): each is Model => each.$type === 'Model' && each.name === 'odd');
  loader.services.references.Linker.unlink(ground);
  ground.state = DocumentState.Parsed;
  const warned = vi.spyOn(console, 'warn').mockReturnValue();
  expect(odd?.parent?.$refText).toBe('dynamic-mik');
  expect(odd?.parent?.ref).toBeUndefined();
  expect(warned).not.toHaveBeenCalled();
  warned.mockRestore();
});
