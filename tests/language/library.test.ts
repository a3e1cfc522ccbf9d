/** Of the library only those models are read that a rig names; nobody can tell, whatever is looked at and in whatever order. */
import {
  AstUtils,
  type CompositeCstNode,
  type CstNode,
  CstUtils,
  EmptyFileSystemProvider,
  type LangiumDocument,
  type LeafCstNode,
  URI,
} from 'langium';
import { describe, expect, it } from 'vitest';
import { libraryFiles, RigLoader } from '#language';
import type { RigFile } from '../../packages/language/generated/ast';
import { shelfOf } from '../../packages/language/library/shelf';
import { treeOf } from '../../packages/language/syntax/factory';
import { headsOf } from '../../packages/language/syntax/heads';
import type { RigLexer } from '../../packages/language/syntax/lexer';
import { type RigParser, stretchesOf } from '../../packages/language/syntax/parser';
import { randomOf } from '../fuzz/mutate';
import { FOLDER, MemoryFiles } from '../hostile/open';

const load = () => new RigLoader(new EmptyFileSystemProvider(), URI.parse('file:///nowhere/'));
const documents = ({ services }: RigLoader): LangiumDocument<RigFile>[] =>
  libraryFiles().map(({ uri }) => services.shared.workspace.LangiumDocuments.getDocument(uri) as LangiumDocument<RigFile>);

/** A tree by all that can be seen of it: every leaf with its place and the statement it belongs to, every name and word. */
function told(document: LangiumDocument<RigFile>): unknown {
  const { value, parserErrors, lexerErrors } = document.parseResult;
  const leaf = (node: CstNode): unknown =>
    (node as CompositeCstNode).content?.map(leaf) ?? [
      node.offset,
      node.text,
      node.range,
      (node as LeafCstNode).tokenType.name,
      node.hidden,
    ];
  const nodes = [...AstUtils.streamAst(value)].map((node) => [
    node.$type,
    node.$containerProperty,
    node.$containerIndex,
    node.$cstNode?.offset,
    Object.entries(node).filter(([key, each]) => !key.startsWith('$') && typeof each !== 'object'),
    AstUtils.getDocument(node) === document,
  ]);
  return { errors: [parserErrors.length, lexerErrors.length], leaves: leaf(value.$cstNode as CstNode), nodes };
}

describe.each(libraryFiles().map(({ uri, text }) => [uri.path, text] as const))('%s', (path, text) => {
  const { services } = load();

  it('is cut where the parser cuts it, and declares what the parser finds', () => {
    const shelf = shelfOf(text);
    expect(shelf.length).toBeGreaterThan(1);
    const result = (services.parser.LangiumParser as RigParser).parseAgain(text);
    expect(stretchesOf(result)).toEqual(shelf.map(({ extent: { start, end } }) => ({ start, end, sound: true })));
    expect({ declared: shelf.map(({ head }) => head), used: [], scans: [], title: undefined }).toEqual(
      headsOf(text, services.parser.Lexer as RigLexer),
    );
  });

  it('is the same, read one model after the other and then whole', () => {
    const whole = documents(load()).find(({ uri }) => uri.path === path) as LangiumDocument<RigFile>;
    const expected = told(whole);
    const loader = load();
    const { Symbols } = loader.services.rig;
    const document = documents(loader).find(({ uri }) => uri.path === path) as LangiumDocument<RigFile>;
    const names = [...Symbols.of(document).names('Model').keys()];
    const random = randomOf(1, names.length);
    const some = names.filter(() => random() < 0.5).sort(() => random() - 0.5);
    const nodes = some.map((name) => Symbols.of(document).get('Model', name));
    expect(treeOf(document)).toBeUndefined();
    expect(nodes.map((node) => node && AstUtils.getDocument(node) === document)).toEqual(some.map(() => true));
    expect(some.map((name) => Symbols.of(document).get('Model', name) === nodes[some.indexOf(name)])).toEqual(some.map(() => true));
    // What stands around a model has the rest read.
    const comment = (node: CstNode | undefined) => CstUtils.findCommentNode(node, ['COMMENT'])?.text;
    const inWhole = (name: string) => whole.parseResult.value.statements.find((each) => 'name' in each && each.name === name);
    expect(some.map((name, index) => [name, comment(nodes[index]?.$cstNode)])).toEqual(
      some.map((name) => [name, comment(inWhole(name)?.$cstNode)]),
    );
    expect(treeOf(document)).toBeDefined();
    expect(told(document)).toEqual(expected);
    expect(some.map((name) => document.parseResult.value.statements.includes(Symbols.of(document).get('Model', name) as never))).toEqual(
      some.map(() => true),
    );
    expect(some.map((name) => Symbols.of(document).get('Model', name) === nodes[some.indexOf(name)])).toEqual(some.map(() => true));
  });
});

it('of a rig that is checked, only what it names is read', async () => {
  const text = 'rig "One"\nperformer ana\nsource voice is dynamic-mic by ana\ngear desk is interface-8-mic\ninput desk.1 takes voice\n';
  const loader = new RigLoader(new MemoryFiles({ [`${FOLDER}one.rig`]: text }), URI.parse(FOLDER));
  const { Analyser } = loader.services.rig;
  const { lowered } = Analyser.of(await loader.load(URI.parse(`${FOLDER}one.rig`)));
  expect([...lowered.rig.pieces.values()].find(({ name }) => name === 'desk')?.model.id).toBe('interface-8-mic');
  expect(
    documents(loader)
      .filter((document) => treeOf(document))
      .map(({ uri }) => uri.path),
  ).toEqual([]);
});

it('declares each name once, over all its files', () => {
  const names = libraryFiles().flatMap(({ text }) => shelfOf(text).flatMap(({ head }) => (head ? [`${head.word} ${head.name}`] : [])));
  expect(names.filter((name, index) => names.indexOf(name) !== index)).toEqual([]);
});
