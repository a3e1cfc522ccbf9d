/** The words that start a statement: the only reserved ones. */
export const STATEMENT_WORDS = ['rig', 'use', 'model', 'gear', 'performer', 'source', 'input', 'house', 'mix', 'output'] as const;

export type StatementWord = (typeof STATEMENT_WORDS)[number];

const RESERVED: ReadonlySet<string> = new Set(STATEMENT_WORDS);

export function isStatementWord(word: string): word is StatementWord {
  return RESERVED.has(word);
}

/** A line of each kind, as it is shown to somebody whose own is not finished. */
export const EXAMPLES: Readonly<Record<StatementWord, string>> = {
  rig: 'rig "Our rig" region EU rate 48 kHz budget 200 EUR',
  use: 'use "our-shelf.rig"',
  model: 'model our-di is passive-di { owned }',
  gear: 'gear iface is interface-8 at 1 m, 4 m',
  performer: 'performer ada "Ada" at 0 m, 2 m',
  source: 'source voice "Lead vocal" is dynamic-mic by ada',
  input: 'input iface.1 takes voice via y-lead',
  house: 'house 8 "Lead vocal" takes voice',
  mix: 'mix ada mono for ada { voice 0 dB }',
  output: 'output iface.3 carries ada via headphone-amp',
};
