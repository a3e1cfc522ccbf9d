/** A slip costs its own statement and no other. */
import { readFileSync } from 'node:fs';
import { EmptyFileSystem, URI } from 'langium';
import { describe, expect, test } from 'vitest';
import { createRigCore } from '#language';
import type { RigFile } from '../../packages/language/generated/ast';
import { some } from '../thorough';

const tour = readFileSync(new URL('../checks/tour.rig', import.meta.url), 'utf8');
const shelf = readFileSync(new URL('../checks/gear/our-shelf.rig', import.meta.url), 'utf8');
const { shared, Rig } = createRigCore(EmptyFileSystem);

function parse(text: string) {
  return shared.workspace.LangiumDocumentFactory.fromString<RigFile>(text, URI.parse('memory:/x.rig'));
}

/** Each statement by its text, with its kind: what a person would say is still there. */
function statements(text: string): string[] {
  const root = parse(text).parseResult.value;
  return root.statements.map((statement) => `${statement.$type} ${statement.$cstNode?.text.replace(/\s+/g, ' ') ?? ''}`);
}

function tokens(text: string) {
  return Rig.parser.Lexer.tokenize(text).tokens;
}

/** The statements of `before` that are not in `after`, of which there may be one: the one that was damaged. */
function lost(before: readonly string[], after: readonly string[]): string[] {
  const there = new Map<string, number>();
  for (const each of after) there.set(each, (there.get(each) ?? 0) + 1);
  return before.filter((each) => {
    const count = there.get(each) ?? 0;
    there.set(each, count - 1);
    return count <= 0;
  });
}

describe.each([
  ['the tour', tour],
  // A model just before inputs is the hard case: its own ports start with the same words.
  ['a model in the middle', tour.replace('# what we plug in where', `${shelf}# what we plug in where`)],
])('%s', (_, text) => {
  const whole = statements(text);

  test('parses without an error', () => {
    const { parserErrors, lexerErrors } = parse(text).parseResult;
    expect(parserErrors.map((error) => error.message)).toEqual([]);
    expect(lexerErrors).toEqual([]);
  });

  test('any one token left out costs no other statement', () => {
    const bad: string[] = [];
    for (const token of some(tokens(text), 80)) {
      const cut = text.slice(0, token.startOffset) + text.slice((token.endOffset ?? 0) + 1);
      // Without its first word a statement is no statement, and runs into the one before.
      const gone = lost(whole, statements(cut));
      const allowed = /^(rig|use|model|gear|performer|source|input|house|mix|output)$/.test(token.image) ? 2 : 1;
      if (gone.length > allowed) bad.push(`line ${token.startLine}, ${token.image}: lost ${gone.length}\n    ${gone.join('\n    ')}`);
    }
    expect(bad).toEqual([]);
  });

  test('any line cut off anywhere costs no other statement', () => {
    const bad: string[] = [];
    const lines = text.split('\n');
    for (const [index, line] of some([...lines.entries()], 20)) {
      for (let length = 1; length < line.length; length += 3) {
        const cut = [...lines.slice(0, index), line.slice(0, length), ...lines.slice(index + 1)].join('\n');
        const gone = lost(whole, statements(cut));
        if (gone.length > 1)
          bad.push(`line ${index + 1} cut to "${line.slice(0, length)}": lost ${gone.length}\n    ${gone.join('\n    ')}`);
      }
    }
    expect(bad).toEqual([]);
  });
});
