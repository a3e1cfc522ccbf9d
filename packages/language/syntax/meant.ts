/** Words that people write for ours, and what stands after which word. */
import { canonicalUnit, unitsMeant } from '#rig';
import { nearest } from '../near';
import { STATEMENT_WORDS, type StatementWord } from './words';

/** Whose a thing is, and what it costs. */
const HOLDING = ['owned', 'borrowed', 'theirs', 'spare', 'hire', 'buy'];

/** The clauses of each statement, by their first words. */
const CLAUSES: Readonly<Record<StatementWord, readonly string[]>> = {
  rig: [
    'region',
    'country',
    'licensed',
    'rate',
    'buffer',
    'budget',
    'set',
    'check',
    'listening',
    'stage',
    'by',
    'headroom',
    'margin',
    'lengths',
    'leads',
    'mains',
    'circuit',
    'date',
    'venue',
    'contact',
    'avoid',
    'scan',
    'above',
    'guard',
  ],
  use: ['whole', 'without'],
  model: [
    'is',
    'input',
    'output',
    'phantom',
    'mixes',
    'latency',
    'rates',
    'power',
    'lowest',
    'highest',
    'tunes',
    'step',
    'carrier',
    'side-select',
    'mono-switch',
    'private',
    'public',
    'origin',
    'typical',
    'peak',
    ...HOLDING,
    'separate',
    'tail',
    'from',
    'parallel',
    'transformer',
    'active',
    'switch',
    'gain',
    'pad',
    'isolated',
    'mic',
    'instrument',
    'line',
    'phones',
    'speaker',
    'digital',
    'radio',
    'impedance',
    'capacitance',
    'inductance',
    'max',
    'limiter',
    'level',
    'sensitivity',
    'noise',
    'self-noise',
    'dynamic-range',
    'draws',
    'channels',
    'balanced',
    'unbalanced',
    'floating',
  ],
  gear: ['is', 'at', 'for', 'on', 'hears', ...HOLDING, 'instead'],
  performer: ['at', 'ears', 'instead'],
  source: [
    'is',
    'by',
    'at',
    'typical',
    'peak',
    'lowest',
    'highest',
    'must',
    'should',
    'could',
    'private',
    'public',
    'on',
    ...HOLDING,
    'instead',
  ],
  input: ['takes', 'via', 'gain', 'pad', 'phantom', 'instead'],
  house: ['at', 'is', 'none', 'ours', 'own', 'mic', 'takes', 'via', 'instead'],
  mix: ['mono', 'stereo', 'for', 'left', 'right', 'instead'],
  output: ['carries', 'via', 'instead'],
};

/** Other words for ours: common in speech, no source. */
const OTHER_WORDS: Readonly<Record<string, readonly string[]>> = {
  via: ['through', 'thru', 'with', 'using', 'over', 'to', 'into'],
  takes: ['carries', 'carry', 'gets', 'get', 'from', 'has', 'receives', 'plug', 'plugs'],
  carries: ['carry', 'takes', 'sends', 'send', 'plays', 'play', 'feeds', 'feed', 'gives', 'give', 'has'],
  is: ['are', 'type', 'as', 'model'],
  by: ['for', 'from', 'played', 'player', 'performer'],
  for: ['to', 'by', 'of'],
  own: ['our', 'their', 'theirs', 'house'],
  hears: ['receives', 'listens', 'from', 'via', 'channel'],
  on: ['frequency', 'freq', 'at'],
  ears: ['earphones', 'headphones', 'phones', 'in-ears', 'earpieces'],
  at: ['position', 'pos', 'place', 'stands'],
  peak: ['max', 'maximum', 'loudest'],
  typical: ['usual', 'average', 'level', 'normal'],
  buy: ['price', 'cost', 'costs', 'bought'],
  hire: ['rent', 'rented', 'hired'],
  rate: ['samplerate', 'sample-rate'],
};

const OTHER_STATEMENTS: Readonly<Record<StatementWord, readonly string[]>> = {
  rig: ['title', 'band', 'show', 'setup', 'project', 'name'],
  use: ['include', 'import', 'uses', 'require'],
  model: ['type', 'kind', 'define', 'models'],
  gear: ['device', 'equipment', 'unit', 'item', 'kit', 'interface', 'box'],
  performer: ['musician', 'player', 'artist', 'member', 'person', 'performers'],
  source: ['instrument', 'signal', 'mic', 'microphone', 'sources'],
  input: ['in', 'channel', 'inputs', 'patch', 'line'],
  house: ['foh', 'venue', 'pa', 'desk'],
  mix: ['monitor', 'aux', 'bus', 'mixes', 'iem', 'ears'],
  output: ['out', 'outputs', 'send'],
};

function meant<W extends string>(
  written: string,
  ours: readonly W[],
  others: Readonly<Record<string, readonly string[]>>,
  isSlip = true,
): W | undefined {
  const word = written.toLowerCase();
  return (
    ours.find((each) => each === word) ??
    ours.find((each) => others[each]?.includes(word)) ??
    (isSlip ? (nearest(word, ours)[0] as W | undefined) : undefined)
  );
}

/** The clause of a statement that somebody meant by another word, or by a slip of the keys. What other things have for a clause is no slip. */
export function clauseMeant(written: string, statement: StatementWord): string | undefined {
  const isOthers = ownersOf(written, statement).some(([owner]) => !WHOLES.has(owner));
  return meant(written, CLAUSES[statement], OTHER_WORDS, !isOthers);
}

export function statementMeant(written: string): StatementWord | undefined {
  return meant(written, STATEMENT_WORDS, OTHER_STATEMENTS);
}

/** Whether a word starts a clause of this statement. */
export function isClause(word: string, statement: StatementWord): boolean {
  return CLAUSES[statement].includes(word);
}

/** What a word is said of that starts no clause of this statement, with how such a statement is called; nothing where that may be anything. */
export function ownersOf(word: string, statement: StatementWord): readonly (readonly [StatementWord, string])[] {
  if (isClause(word, statement) || ANYWHERE.has(word)) return [];
  const owners = STATEMENT_WORDS.filter((each) => isClause(word, each)).map((each) => [each, CALLED[each]] as const);
  const things = owners.filter(([each]) => !WHOLES.has(each));
  return things.length > 0 ? things : owners;
}

/** In common speech of anything; a frequency and a kind of signal to us. */
const ANYWHERE: ReadonlySet<string> = new Set(['on', 'mic']);

/** Statements with words of their own that others have for something else. */
const WHOLES: ReadonlySet<StatementWord> = new Set(['rig', 'house', 'model']);

export const CALLED: Readonly<Record<StatementWord, string>> = {
  rig: 'the rig as a whole',
  use: 'a file that is used',
  model: 'a model',
  gear: 'gear',
  performer: 'a performer',
  source: 'a source',
  input: 'an input',
  house: 'a line of the house’s',
  mix: 'a mix',
  output: 'an output',
};

/** Whether a word at the start of a line, outside braces, goes on with this statement. */
export function goesOn(word: string, statement: StatementWord): boolean {
  if (statement === 'model') return word === 'is';
  return isClause(word, statement) && !SECOND.has(word);
}

/** Words of clauses that do not start one. */
const SECOND: ReadonlySet<string> = new Set(['mic', 'left', 'right']);

export function isUnit(word: string): boolean {
  return canonicalUnit(word) !== undefined || unitsMeant(word).length > 0;
}

/** The units to offer where one is missing, by the rule of the grammar that the number stands in. */
export const UNITS_AFTER: Readonly<Record<string, readonly string[]>> = {
  At: ['m'],
  Stage: ['m'],
  Tail: ['m'],
  Lengths: ['m'],
  LeadHad: ['m'],
  Budget: ['EUR'],
  Holding: ['EUR'],
  Rate: ['kHz'],
  BufferSize: ['samples'],
  SetTime: ['min'],
  SoundCheck: ['min'],
  Listening: ['dB SPL'],
  Circuit: ['A'],
  Avoid: ['MHz'],
  GuardDistance: ['kHz'],
  CarrierKind: ['kHz'],
  Headroom: ['dB'],
  Margin: ['dB'],
  Latency: ['ms'],
  Power: ['h'],
  Lowest: ['Hz'],
  Highest: ['kHz'],
  Tunes: ['MHz'],
  OnFrequency: ['MHz'],
  PhantomBudget: ['mA'],
  Typical: ['dB SPL', 'dBu'],
  Peak: ['dB SPL', 'dBu'],
  InputClause: ['dB'],
  TiePart: ['dB'],
  Send: ['dB'],
  Mix: ['dB'],
  Percent: ['%'],
};

/** What has to stand after a word, in words. */
export const AFTER: Readonly<Record<string, string>> = {
  is: 'the name of a model',
  or: 'the name of another model',
  by: 'the name of a performer',
  for: 'the name of a performer, or "house"',
  takes: 'the name of a source or mix',
  carries: 'the name of a mix',
  via: 'what it goes through',
  mains: '"shared", where one mains distribution feeds us and the house',
  phantom: '"on" or "off"',
  hears: 'a transmitter and its side, as in tx.left',
  from: 'an input of this model',
  own: '"mic"',
  region: 'a region, as in "region EU"',
  country: 'a country, as in "country SI"',
  guard: 'of what, and how far, as in "guard carriers 300 kHz"',
  carrier: '"analogue", "digital" or "hopping"',
  ears: 'the name of a model',
  '.': 'a socket',
  ',': 'one more',
  at: 'a distance, as in 2 m',
};

/** What each rule of the grammar is for, in words, where it is what is missing. */
export const MISSING: Readonly<Record<string, string>> = {
  GearPort: 'a dot and a socket, as in iface.1',
  Taken: 'what it takes',
  Step: 'what it goes through',
  Via: 'what it goes through',
  Connector: 'a connector',
  SignalKind: 'the kind of signal (mic, instrument, line, phones, speaker, digital or radio)',
  Quantity: 'a number with its unit',
  Range: 'a range with its unit, as in 0..55 dB',
  Ratio: 'a ratio, as in 12:1',
  Percent: 'a share, as in 20 %',
  PortRange: 'the number or name of a socket',
  At: 'a comma and the second distance, as in "at -1 m, 2 m"',
  Stage: '"by" and the depth, as in "stage 8 m by 5 m"',
  Circuit: 'the voltage, as in "circuit 16 A 230 V"',
  GuardDistance: '"carriers", "pairs", "triples" or "fifths", and how far',
  Tie: 'how it comes from the input (parallel, transformer, active or switch)',
};

/** What goes on where a statement stops, or goes wrong, between its clauses. */
export const NEXT: Readonly<Record<StatementWord, string>> = {
  rig: 'a clause such as "rate 48 kHz"',
  use: 'a path in quotes',
  model: '"is" and another model, or its sockets in { }',
  gear: '"is" and the name of a model',
  performer: 'a place such as "at 0 m, 2 m"',
  source: '"is" and the name of a model',
  input: '"takes" and a source',
  house: '"own mic", or "takes" and a source',
  mix: 'who it is for, and its sends in { }',
  output: '"carries" and a mix',
};

/** What stands right after the word that starts a statement. */
export const FIRST: Readonly<Record<StatementWord, string>> = {
  rig: 'a title in quotes',
  use: 'a path in quotes',
  model: 'a name',
  gear: 'a name',
  performer: 'a name',
  source: 'a name',
  input: 'a socket, as in iface.1',
  house: 'the number of its line',
  mix: 'a name',
  output: 'a socket, as in iface.1',
};
