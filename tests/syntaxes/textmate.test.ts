/** The TextMate grammar: marked text, and that it knows every word the language knows. */
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { expect, test } from 'vitest';
import * as oniguruma from 'vscode-oniguruma';
import { type IGrammar, INITIAL, parseRawGrammar, Registry } from 'vscode-textmate';
import { CONNECTORS, type Dimension, unitsFor } from '#rig';

const root = new URL('../../', import.meta.url);
const read = (path: string) => readFileSync(new URL(path, root), 'utf8');

const { buffer } = readFileSync(createRequire(import.meta.url).resolve('vscode-oniguruma/release/onig.wasm'));
await oniguruma.loadWASM(buffer);
const registry = new Registry({
  onigLib: Promise.resolve({
    createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
    createOnigString: (text) => new oniguruma.OnigString(text),
  }),
  loadGrammar: async () => parseRawGrammar(read('syntaxes/rig.tmLanguage.json'), 'rig.tmLanguage.json'),
});
const grammar = (await registry.loadGrammar('source.rig')) as IGrammar;

/** For each line, the scopes of each of its columns. */
function scopesByColumn(text: string): string[][][] {
  let stack = INITIAL;
  return text.split(/\r?\n/).map((line) => {
    const { tokens, ruleStack } = grammar.tokenizeLine(line, stack);
    stack = ruleStack;
    return tokens.flatMap(({ startIndex, endIndex, scopes }) => Array.from({ length: endIndex - startIndex }, () => scopes));
  });
}

interface Mark {
  readonly line: number;
  readonly from: number;
  readonly to: number;
  readonly scope: string;
}

function marksIn(text: string): Mark[] {
  let line = 0;
  return text.split(/\r?\n/).flatMap((content, index): Mark[] => {
    const mark = /^#(\s*)(\^+) (\S+)$/.exec(content);
    if (mark === null) {
      line = index;
      return [];
    }
    const [, gap = '', carets = '', scope = ''] = mark;
    const from = 1 + gap.length;
    return [{ line, from, to: from + carets.length, scope }];
  });
}

const marked = read('tests/syntaxes/tokens.rig');
const markedScopes = scopesByColumn(marked);

test.each(marksIn(marked))('tokens.rig, line $line from column $from: $scope', ({ line, from, to, scope }) => {
  const columns = markedScopes[line] ?? [];
  const bears = (column: number) => columns[column]?.includes(`${scope}.rig`) ?? false;
  const length = marked.split(/\r?\n/)[line]?.length ?? 0;
  const found = Array.from({ length }, (_, column) => (bears(column) ? '^' : ' ')).join('');
  expect(found.slice(from, to)).toBe('^'.repeat(to - from));
  expect([bears(from - 1), bears(to)], 'the scope goes no further').toEqual([false, false]);
});

/** What colours `word` standing alone: outside everything, in a model, in a mix, or after a number. */
function colours(word: string): string[] {
  return ['', 'model m { ', 'mix m { a 0 dB ', 'peak 1 dB '].map(
    (before) => scopesByColumn(before + word)[0]?.[before.length]?.at(-1) ?? '',
  );
}

const isName = (scope: string) => /^(source\.rig$|variable\.|entity\.)/.test(scope);

const rules = read('packages/language/grammar/rig.langium').replace(/\/\/.*$/gm, '');
const keywords = new Set([...rules.matchAll(/'([a-zA-Z-]+)'/g)].map(([, keyword = '']) => keyword));

test('the language has keywords to look for', () => expect(keywords.size).toBeGreaterThan(80));

test.each([...keywords])('the keyword %s is coloured', (keyword) => {
  expect(colours(keyword).some((scope) => !isName(scope))).toBe(true);
});

test.each(Object.keys(CONNECTORS))('the connector %s is coloured', (connector) => {
  expect(scopesByColumn(`model m { input a ${connector} }`)[0]?.[18]?.at(-1)).toBe('support.constant.connector.rig');
});

const dimensions: readonly Dimension[] = [
  'length',
  'resistance',
  'capacitance',
  'current',
  'frequency',
  'time',
  'samples',
  'voltage-level',
  'relative-level',
  'sound-level',
  'sensitivity',
  'earphone-sensitivity',
  'share',
  'power',
  'cells',
  'money',
];

test.each(dimensions.flatMap(unitsFor))('the unit %s is coloured to its end', (unit) => {
  const columns = scopesByColumn(`max 1 ${unit} on`)[0]?.slice(6, 6 + unit.length);
  expect(columns?.map((scopes) => scopes.at(-1))).toEqual(Array(unit.length).fill('keyword.other.unit.rig'));
});

const library = readdirSync(new URL('packages/language/library/', root)).filter((name) => name.endsWith('.rig'));
const wellFormed = library.map((name) => [name, read(`packages/language/library/${name}`)] as const);

test.each(wellFormed)('%s has nothing invalid in it', (_, text) => {
  const scopes = new Set(scopesByColumn(text).flat(2));
  expect([...scopes].filter((scope) => scope.startsWith('invalid.'))).toEqual([]);
});
