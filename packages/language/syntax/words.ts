/** The words that start a statement: the only reserved ones. */
export const STATEMENT_WORDS = ['rig', 'use', 'model', 'gear', 'performer', 'source', 'input', 'house', 'mix', 'output'] as const;

export type StatementWord = (typeof STATEMENT_WORDS)[number];

const RESERVED: ReadonlySet<string> = new Set(STATEMENT_WORDS);

export function isStatementWord(word: string): word is StatementWord {
  return RESERVED.has(word);
}

/** A line of each kind, as it is shown to somebody whose own cannot be read. */
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

const BOUGHT = ['hire 30 EUR', 'buy 90 EUR'];
const HEARD = ['typical 98 dB SPL', 'peak 120 dB SPL', 'lowest 82 Hz', 'highest 5 kHz'];

/** How a line of each kind starts, and what it may go on with: the clauses that have more than one word. */
export const ENDINGS: Readonly<Record<StatementWord, readonly [start: string, endings: readonly string[]]>> = {
  rig: [
    'rig "Our rig"',
    [
      'country SI',
      'buffer 128 samples',
      'set 45 min',
      'stage 8 m by 5 m',
      'headroom 12 dB',
      'margin 6 dB',
      'lengths 3 m, 6 m',
      'leads 6 xlr 5 m',
      'mains shared',
      'check 40 min',
      'listening 94 dB SPL',
      'circuit 16 A 230 V',
      'avoid 470..478 MHz',
      'scan "room.csv" above -85 dBm',
      'guard carriers 300 kHz',
      'date "12 June 2027"',
      'venue "Old sawmill, upper hall"',
      'contact "Maja, 555 0134"',
    ],
  ],
  use: ['use', ['"our-shelf.rig"']],
  model: [
    'model our-box is interface {',
    [
      ...HEARD,
      ...BOUGHT,
      'latency 2 ms',
      'rates 44.1 kHz, 48 kHz',
      'power battery 6 h',
      'mixes 4 stereo',
      'tunes 470..500 MHz',
      'carrier digital 400 kHz',
    ].map((item) => `${item} }`),
  ],
  gear: ['gear iface is interface-8', ['for ada', 'on 863.1 MHz', 'hears tx.left', ...BOUGHT]],
  performer: ['performer ada "Ada"', ['ears earphones']],
  source: ['source voice "Lead vocal" is dynamic-mic', ['at 0 m, 2 m', 'on 863.1 MHz', ...HEARD, ...BOUGHT]],
  input: ['input iface.1 takes voice', ['gain 20 dB', 'phantom on']],
  house: ['house', ['at 4 m, 1 m', 'none', 'ours', 'is stage-box', '8 "Lead vocal" own mic', '8 "Lead vocal" takes voice via y-lead']],
  mix: ['mix ada', ['stereo for ada']],
  output: ['output iface.3 carries ada', ['via headphone-amp']],
};

/** A line of a kind that has the first of these words which any has. */
export function exampleWith(statement: StatementWord, words: readonly string[]): string {
  const [start, endings] = ENDINGS[statement];
  const examples = [EXAMPLES[statement], ...endings.map((ending) => `${start} ${ending}`)];
  for (const word of words) {
    const found = examples.find((example) => example.split(/[\s,]+/).includes(word));
    if (found) return found;
  }
  return EXAMPLES[statement];
}
