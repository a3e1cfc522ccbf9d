/** What is let go of files that nobody has open, and that nobody can tell. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { EmptyFileSystemProvider, type LangiumDocument, URI } from 'langium';
import { expect, it } from 'vitest';
import { diagnosticOf, RigLoader, usedUri } from '#language';
import { treeOf } from '../../packages/language/syntax/factory';
import { pathsUsed } from '../../packages/language/syntax/uses';
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
  expect(treeOf(band)).not.toBe(own);
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

it('the paths of `use` are those of the whole tree, though they are read by themselves', async () => {
  const { services } = new RigLoader(new EmptyFileSystemProvider(), URI.parse(FOLDER));
  const { LangiumDocumentFactory } = services.shared.workspace;
  const files = readdirSync(path.join(root, 'tests/checks'), { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.rig'));
  const texts = [...files.map((file) => readFileSync(path.join(root, 'tests/checks', file), 'utf8')), ...Object.values(FILES)];
  const odd = [
    'use',
    'use\n"a.rig"',
    'rig "x" use "a.rig"',
    '# use "a.rig"\n',
    'model m {\nuse "a.rig"\n}',
    'x\n  use "a.rig" use "b.rig"',
    '// use "a.rig"',
  ];
  const cases = [...texts, ...odd];
  const withUse = cases.filter((text) => text.includes('use "'));
  for (let index = 0; index < 200; index++) cases.push(spoilt(withUse, randomOf(3, index)));
  for (const text of cases) {
    const whole = LangiumDocumentFactory.fromString(text, URI.parse(`${FOLDER}x.rig`));
    const uses = services.rig.Symbols.of(whole).uses.map((use) => [use.path, usedUri(use)?.toString()]);
    const read: string[] = [];
    const paths = pathsUsed(text, (part) => {
      read.push(part);
      return LangiumDocumentFactory.fromString(part, URI.parse(`${FOLDER}part.rig`)).parseResult as never;
    });
    expect(paths, text).toEqual(uses.map(([written]) => written));
    if (!text.includes('use')) expect(read).toEqual([]);
  }
});
