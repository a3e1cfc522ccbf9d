/** Reading a text again after an edit gives what reading it afresh gives, to the last place of the last token. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { type AstNode, AstUtils, type CompositeCstNode, type CstNode, EmptyFileSystem, type ParseResult } from 'langium';
import { expect, test } from 'vitest';
import { createRigCore } from '#language';
import type { RigParser } from '../../packages/language/syntax/parser';
import { rigsIn } from '../checks/open';
import { cases } from '../thorough';

const tour = readFileSync(new URL('../checks/tour.rig', import.meta.url), 'utf8');
const shelf = readFileSync(new URL('../checks/gear/our-shelf.rig', import.meta.url), 'utf8');
const start = tour.replace('# what we plug in where', `${shelf}# what we plug in where`);
const { Rig } = createRigCore(EmptyFileSystem);
const parser = Rig.parser.LangiumParser as RigParser;

/** Everything that anybody can see of a syntax tree, as text. */
function picture(result: ParseResult): string {
  const lines: string[] = [];
  const leaf = (node: CstNode, depth: number): void => {
    const { start: from, end } = node.range;
    lines.push(
      `${' '.repeat(depth)}${node.offset}+${node.length} ${from.line}:${from.character}-${end.line}:${end.character} ${node.hidden ? 'hidden ' : ''}${node.text.slice(0, 20)}`,
    );
    for (const child of (node as CompositeCstNode).content ?? []) {
      expect(child.container).toBe(node);
      leaf(child, depth + 1);
    }
  };
  const root = result.value.$cstNode;
  if (root) leaf(root, 0);
  for (const node of AstUtils.streamAst(result.value as AstNode)) {
    lines.push(
      `${node.$type} in ${node.$container?.$type}.${node.$containerProperty}[${node.$containerIndex}] at ${node.$cstNode?.offset}`,
    );
  }
  for (const error of result.parserErrors)
    lines.push(`${error.name} at ${error.token.startOffset} ${error.token.image} ${error.token.startLine}`);
  for (const error of result.lexerErrors) lines.push(`stray at ${error.offset}+${error.length}`);
  lines.push(JSON.stringify(result.lexerReport, (key, value) => (key === 'tokenType' ? value.name : value)));
  return lines.join('\n');
}

/** What people type, and what breaks things. */
const pieces = [
  '\n',
  '\r\n',
  ' ',
  '{',
  '}',
  '"',
  '#',
  '.',
  ',',
  '3',
  ' -3 dB',
  'input ',
  'output ',
  'house ',
  'model x is di {\n',
  'input iface.7 takes bass\n',
  '🎤',
  'ä',
  '\t',
  'mix q mono for ilse { voice 0 dB }\n',
  '-',
  '§',
  'input 1..2 xlr\n',
  '',
];

const edits = fc.array(
  fc.record({
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    /** Where lines start is where statements do. */
    atLine: fc.boolean(),
    cut: fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 4 }), fc.integer({ min: 0, max: 400 })),
    put: fc.constantFrom(...pieces),
  }),
  { minLength: 1, maxLength: 6 },
);

test('the tree after edits is the tree of the text', () => {
  fc.assert(
    fc.property(edits, (list) => {
      let text = start;
      let result = parser.parseAgain(text);
      for (const { at, atLine, cut, put } of list) {
        const place = Math.floor(at * text.length);
        const from = atLine ? text.lastIndexOf('\n', place) + 1 : place;
        text = text.slice(0, from) + put + text.slice(from + cut);
        result = parser.parseAgain(text, result);
      }
      expect(picture(result)).toBe(picture(parser.parseAgain(text)));
    }),
    { numRuns: cases(200, 20) },
  );
});

test('a text that stays the same, and one that loses everything', () => {
  let result = parser.parseAgain(start);
  for (const text of [start, '', '\n', start, `${start}\n`, start.slice(1)]) {
    result = parser.parseAgain(text, result);
    expect(picture(result)).toBe(picture(parser.parseAgain(text)));
  }
});

test.each([
  ['a statement before a word that begins none', '', ['é', 'use "a.rig"\n', 'use "a.rig"\n', 'x']],
  ['the same, and an end of line', 'use "a.rig"\n', ['é', '\n', '#']],
])('what is cut again is read again as a whole: %s', (_, before, puts) => {
  let text = `${before}${shelf}`;
  let result = parser.parseAgain(text);
  for (const put of puts) {
    const from = put === 'é' ? before.length : 0;
    text = text.slice(0, from) + put + text.slice(from);
    result = parser.parseAgain(text, result);
    expect(picture(result)).toBe(picture(parser.parseAgain(text)));
  }
});

/** Types a text at the end of another, letter by letter, and looks at the tree after each. */
function typed(before: string, text: string, wrong = ''): void {
  let now = before;
  let result = parser.parseAgain(now);
  for (const letter of text) {
    for (const next of wrong === '' ? [now + letter] : [now + letter, now + letter + wrong, now + letter]) {
      now = next;
      result = parser.parseAgain(now, result);
      expect(picture(result), JSON.stringify(now.slice(-60))).toBe(picture(parser.parseAgain(now)));
    }
  }
}

test.each([
  ['', 'model m {\noutput 1..2 xlr\n}\n'],
  ['', 'model m {\ninput a.\ninput b..c jack\n'],
  ['rig "A"\n', 'é\nmodel m {\n  output 1..2 xlr  # x\n}'],
  ['use "a.rig"\n', 'x\noutput m.1 carries y\n'],
])('what is typed at the very end, after %j: %j', (before, text) => typed(before, text));

/** Texts as people write them: the examples, and every mistake that has a page. */
const written = ['examples', 'tests/checks'].flatMap((folder) =>
  rigsIn(fileURLToPath(new URL(`../../${folder}`, import.meta.url))).map((path) => readFileSync(path, 'utf8')),
);

test('what is typed at the end of any text, letter by letter, with a slip taken back now and then', () => {
  const anywhere = fc.record({ text: fc.constantFrom(...written), at: fc.double({ min: 0, max: 1, noNaN: true }), atLine: fc.boolean() });
  // Whether `output 1.` starts a statement is decided by what comes next.
  const ports = written.flatMap((text) =>
    [...text.matchAll(/^ *(?:in|out)put +\S+\.\./gm)].map(({ index }) => ({ text, at: index / text.length, atLine: true })),
  );
  const places = fc.record({
    where: fc.oneof(anywhere, fc.constantFrom(...ports)),
    length: fc.integer({ min: 12, max: 24 }),
    wrong: fc.constantFrom('', '', ...pieces),
  });
  fc.assert(
    fc.property(places, ({ where: { text, at, atLine }, length, wrong }) => {
      const place = Math.ceil(at * text.length);
      const from = atLine ? text.lastIndexOf('\n', place) + 1 : place;
      // A few lines are enough before it, and make it quick.
      typed(text.slice(Math.max(0, text.lastIndexOf('\n', Math.max(0, from - 300))), from), text.slice(from, from + length), wrong);
    }),
    { numRuns: 20 },
  );
});
