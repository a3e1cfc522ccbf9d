/** The page of the whole language, held against the grammar, the tables and the library. */
import { GrammarAST } from 'langium';
import { expect, it } from 'vitest';
import { onePage } from '#language/editor';
import { CONNECTORS, type Dimension, unitsFor } from '#rig';
import { dimensionsOf, FIGURES } from '../../packages/language/editor/dimensions';
import { STATEMENT_WORDS } from '../../packages/language/syntax/words';
import { open } from './bench';

const { services, add } = await open('');
const page = onePage(services.Grammar, services.shared.workspace.LangiumDocuments);

function blocks(): string[] {
  return [...page.matchAll(/```rig\n([^`]*)\n```/g)].map(([, text]) => text as string);
}

it('has every word of the grammar', () => {
  const words = services.Grammar.rules.filter(GrammarAST.isParserRule).flatMap((rule) => {
    const all = JSON.stringify(rule.definition, (key, value) =>
      key.startsWith('$') && key !== '$type' ? undefined : key === 'ref' ? undefined : value,
    );
    return rule.name === 'Unit' ? [] : [...all.matchAll(/"\$type":"Keyword","value":"([a-z][a-z-]*)"/g)].map(([, word]) => word as string);
  });
  expect(words.length).toBeGreaterThan(100);
  expect([...new Set(words)].filter((word) => !page.includes(`\`${word}\``) && !page.includes(`## ${word}\n`))).toEqual([]);
  expect([...page.matchAll(/^## ([a-z]+)$/gm)].map(([, word]) => word).sort()).toEqual([...STATEMENT_WORDS].sort());
});

it('has every unit, connector and model of the library', () => {
  const dimensions = new Set<Dimension>(FIGURES.flatMap((each) => dimensionsOf(...(each.split('/') as [string, string]))));
  const units = [...dimensions].flatMap(unitsFor);
  const models = services.rig.Symbols.all(services.shared.workspace.LangiumDocuments.all.head() as never, 'Model').map(({ name }) => name);
  expect(models.length).toBeGreaterThan(60);
  expect([...units, ...Object.keys(CONNECTORS), ...models].filter((each) => !page.includes(`\`${each}\``))).toEqual([]);
});

it('begins with a whole rig that has nothing wrong with it, made of the examples below', async () => {
  const [whole = '', ...examples] = blocks();
  const { checked, located } = services.rig.Analyser.of(await add('whole.rig', whole));
  expect(checked?.rig).toMatchObject({ inputs: [{}], house: [{}], outputs: [{}] });
  expect(located.map(({ finding }) => finding.code).filter((code) => code !== 'house/replugged')).toEqual([]);
  for (const statement of whole.split('\n')) expect(examples).toContain(statement);
});

it('leads to each of its parts', () => {
  const parts = [...page.matchAll(/^## (.*)$/gm)].map(([, title = '']) => title.toLowerCase().replaceAll(' ', '-'));
  expect([...page.matchAll(/\]\(#([^)]*)\)/g)].map(([, to]) => to)).toEqual(parts);
});

it('has an example of each statement, and each can be read', async () => {
  const [, ...examples] = blocks();
  expect(examples).toHaveLength(STATEMENT_WORDS.length);
  for (const [index, text] of examples.entries()) {
    const { parseResult } = await add(`example-${index}.rig`, text);
    expect([...parseResult.lexerErrors, ...parseResult.parserErrors], text).toEqual([]);
  }
});

it('is tables that are whole', () => {
  for (const row of page.split('\n').filter((line) => line.startsWith('|'))) expect(row.match(/(?<!\\)\|/g)?.length, row).toBeOneOf([3, 4]);
  expect(page).not.toMatch(/undefined|\[object/);
});
