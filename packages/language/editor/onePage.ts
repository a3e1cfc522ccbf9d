/** The whole language on one page, in Markdown: made from the grammar, the words' own explanations, the tables of units and connectors, and the library. */
import { type AstNode, type Grammar, GrammarAST, type LangiumDocument, type LangiumDocuments } from 'langium';
import { spoken } from '#engine';
import { CONNECTORS, type Dimension, unitsFor } from '#rig';
import type * as ast from '../generated/ast';
import { isLibrary } from '../library';
import { EXAMPLES, type StatementWord } from '../syntax/words';
import { dimensionsOf, FIGURES } from './dimensions';
import { code } from './markdown';
import { wordAt } from './words';

/** Rules whose words are the user's. */
const FREE: ReadonlySet<string> = new Set(['Name', 'Word', 'OutputName', 'Unit']);

/** What a first rig needs comes first; a model of one's own, with its many figures, last. */
const ORDER: readonly StatementWord[] = ['rig', 'performer', 'source', 'gear', 'input', 'house', 'mix', 'output', 'use', 'model'];

/** Those that make a whole. */
const WHOLE = ORDER.filter((word) => word !== 'use' && word !== 'model');

/** `documents` has the files of the gear library. */
export function onePage(grammar: Grammar, documents: LangiumDocuments): string {
  const library = documents.all.filter(({ uri }) => isLibrary(uri)).toArray() as LangiumDocument<ast.RigFile>[];
  return [
    '# The language on one page',
    'A rig is a list of statements, in any order. A statement starts with one of ten words and goes on until the next; only these ten cannot be names. A number always has its unit. A label stands in "double quotes". A comment starts with #.',
    `This is a whole one: ${spoken(WHOLE.length)} statements, of which each has its part below.`,
    block(WHOLE.map((word) => EXAMPLES[word]).join('\n')),
    `Its words: ${ORDER.map((word) => `[${word}](#${word})`).join(', ')}. Then [units](#units), [connectors](#connectors), [the gear library](#the-gear-library).`,
    'What is found and does not matter may stand, with a reason: `# allow splits/needless: a recorder takes the other leg`, behind a line or above a statement.',
    ...statements(grammar),
    '## Units',
    table(['What', 'Units'], units()),
    'A price is in any currency of three letters.',
    '## Connectors',
    table(
      ['Word', 'What it is'],
      Object.entries(CONNECTORS).map(([word, { label }]) => [code(word), label]),
    ),
    '## The gear library',
    'Everything behind `is` is a model. These come with the program; their figures are a jump to the definition away.',
    ...library.map(shelf),
    '',
  ].join('\n\n');
}

/** A statement each, with the words that may stand in it. What an earlier one has as well is not said again. */
function statements(grammar: Grammar): string[] {
  const told = new Set<string>();
  const rules = grammar.rules.filter(GrammarAST.isParserRule);
  return ORDER.flatMap((statement) => {
    const rule = rules.find(
      (each) => !FREE.has(each.name) && wordAt(each.name, statement) && keywordsOf(each)[0] === statement && isStatement(each, rules),
    );
    if (!rule) return [];
    const within = reachable(rule);
    const words = within.flatMap((each) =>
      keywordsOf(each).map((word) => ({ word, key: `${each.name}/${word}`, says: wordAt(each.name, word) })),
    );
    const fresh = words.filter(({ key, says }) => says && key !== `${rule.name}/${statement}` && !told.has(key));
    const again = [...new Set(words.filter(({ key, says }) => says && told.has(key)).map(({ word }) => code(word)))];
    for (const { key } of words) told.add(key);
    return [
      `## ${statement}`,
      wordAt(rule.name, statement)?.says ?? '',
      block(EXAMPLES[statement]),
      ...(fresh.length > 0
        ? [
            table(
              ['Word', 'What it says', 'Example'],
              fresh.map(({ word, says }) => [code(word), says?.says ?? '', code(says?.example ?? '')]),
            ),
          ]
        : []),
      ...(again.length > 0 ? [`And as above: ${again.join(', ')}.`] : []),
    ];
  });
}

function isStatement(rule: GrammarAST.ParserRule, rules: readonly GrammarAST.ParserRule[]): boolean {
  const statement = rules.find(({ name }) => name === 'Statement');
  return statement !== undefined && calledBy(statement).includes(rule);
}

/** A rule and all that it is made of, in the order of the grammar. */
function reachable(rule: GrammarAST.ParserRule, seen = new Set<GrammarAST.ParserRule>()): GrammarAST.ParserRule[] {
  if (seen.has(rule) || FREE.has(rule.name)) return [];
  seen.add(rule);
  return [rule, ...calledBy(rule).flatMap((each) => reachable(each, seen))];
}

function calledBy(rule: GrammarAST.ParserRule): GrammarAST.ParserRule[] {
  return elementsOf(rule).flatMap((each) => {
    const called = GrammarAST.isRuleCall(each) ? each.rule.ref : undefined;
    return called && GrammarAST.isParserRule(called) ? [called] : [];
  });
}

function keywordsOf(rule: GrammarAST.ParserRule): string[] {
  return [...new Set(elementsOf(rule).flatMap((each) => (GrammarAST.isKeyword(each) ? [each.value] : [])))];
}

function elementsOf({ definition }: GrammarAST.ParserRule): AstNode[] {
  const visit = (element: object): AstNode[] => [
    element as AstNode,
    ...Object.entries(element).flatMap(([key, value]) =>
      key.startsWith('$') || typeof value !== 'object' || value === null || 'ref' in value ? [] : visit(value),
    ),
  ];
  return visit(definition).filter((each) => '$type' in each);
}

function units(): string[][] {
  const dimensions = new Set<Dimension>([
    ...FIGURES.flatMap((figure) => dimensionsOf(...(figure.split('/') as [string, string]))),
    'earphone-sensitivity-per-volt',
    'share',
  ]);
  return [...dimensions].map((dimension) => [dimension.replaceAll('-', ' '), unitsFor(dimension).map(code).join(', ')]);
}

function shelf({ uri, parseResult }: LangiumDocument<ast.RigFile>): string {
  const models = parseResult.value.statements.filter((each): each is ast.Model => each.$type === 'Model');
  const named = models.map(({ name, label }) => `${code(name)} ${label?.replace(/["\u201C\u201D]/g, '') ?? ''}`.trim());
  return `**${uri.path.replace(/^.*\/|\.rig$/g, '')}**: ${named.join(', ')}.`;
}

function block(text: string): string {
  return `\`\`\`rig\n${text}\n\`\`\``;
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}
