/** Whatever can be written counts for something: without it, or with another figure, something else is found or a sheet is another. */
import { AstUtils, GrammarAST } from 'langium';
import { describe, expect, it } from 'vitest';
import { message } from '#engine';
import { foundBy } from '#language';
import { SHEET_IDS, sheetsOf } from '#sheets';
import { RigGrammar } from '../../packages/language/generated/grammar';
import { ELSEWHERE, PAIRS, RIG } from './clauses';
import { analyseText } from './open';

const rules = RigGrammar().rules.filter((rule) => GrammarAST.isParserRule(rule) && !['Word', 'OutputName', 'Unit'].includes(rule.name));

const ownWords = (rule: (typeof rules)[number]) =>
  [...AstUtils.streamAllContents(rule)].flatMap((node) => (GrammarAST.isKeyword(node) && /^\p{L}/u.test(node.value) ? [node.value] : []));

/** Each word of the grammar with the rule it is in; those that are only names or units apart. */
const words = rules.flatMap((rule) => ownWords(rule).map((word) => `${rule.name} ${word}`));

/** What stands in several statements, with the rule that has it there. */
const calls = rules.flatMap((rule) =>
  [...AstUtils.streamAllContents(rule)].flatMap((node) => {
    const called = GrammarAST.isRuleCall(node) ? node.rule.ref : undefined;
    return called && rules.includes(called as never) && ownWords(called as never).length > 0 ? [`${rule.name} ${called.name}`] : [];
  }),
);
const called = calls.map((call) => call.split(' ')[1]);
const shared = calls.filter((_, at) => called.filter((each) => each === called[at]).length > 1);
const all = [...new Set([...words, ...shared])];

/** The signal flow is laid out by a library, which takes its time; it shows nothing that no other sheet does. */
const shown = SHEET_IDS.filter((id) => id !== 'signal-flow');

async function told(text: string): Promise<string[]> {
  const analysis = await analyseText(text);
  const findings = foundBy(analysis);
  const sheets = analysis.checked ? await sheetsOf(analysis.checked, findings, shown) : [];
  return [
    ...analysis.located.map(({ finding }) => `${finding.code}: ${message(finding)}`),
    ...sheets.map((sheet) => JSON.stringify(sheet)),
  ];
}

describe('what can be written counts', async () => {
  const before = await told(RIG);

  it('has a pair of rigs for each word of the grammar', () => {
    expect(all.filter((word) => !(word in PAIRS) && !(word in ELSEWHERE))).toEqual([]);
    expect(Object.keys({ ...PAIRS, ...ELSEWHERE }).filter((word) => !all.includes(word))).toEqual([]);
  });

  it.each(Object.entries(PAIRS))('%s', async (_, [from, to]) => {
    expect(RIG.split(from).length, `"${from}" stands once in the rig`).toBe(2);
    expect(await told(RIG.replace(from, to))).not.toEqual(before);
  });
});
