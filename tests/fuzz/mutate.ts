/** Makes of a rig what hurried fingers, a bad disk or a bad day make of it. The same for the same random numbers. */
import { randomFrom } from '../generate';

/** Each case has random numbers of its own, so that it can be made again without those before it. */
export function randomOf(seed: number, index: number): () => number {
  return randomFrom(Math.imul(seed, 0x9e3779b1) ^ Math.imul(index + 1, 0x85ebca6b));
}

const STATEMENTS = ['rig', 'use', 'model', 'gear', 'performer', 'source', 'input', 'house', 'mix', 'output'];
const WORDS =
  `is takes via for at on by hears carries mono stereo left right own mic line instrument speaker digital phones phantom shared each from
  parallel transformer active switch separate tail gain pad peak typical impedance max noise latency power mixes region rate buffer set stage
  owned borrowed theirs spare hire buy must should could private public floating inductance self-noise dynamic-range highest lowest ears mains needed off nobody out in iso`.split(
    /\s+/,
  );
const MODELS =
  `y-lead passive-di active-di transformer-split dynamic-mic condenser-mic clip-on-mic piezo-pickup magnetic-pickup computer-channel interface-2
  interface-8 interface-16 preamp-expander headphone-amp in-ear-transmitter belt-pack modeller their-di talkback-mic click-channel`.split(
    /\s+/,
  );
const NUMBERS =
  `0 -0 1 -1 2 3 8 0.5 -3 1000000 1e9 99999999999999999999 0.000000000001 -99999999 1..2 3..4 9..1 1..999999 00 .5 5. 1,5 1:4 2:1 −3`.split(
    ' ',
  );
const UNITS = 'dB dBu dBV dBFS m ft cm ohm kohm Mohm mV/Pa kHz Hz MHz min mA ms pF nF H % EUR samples V mV W dB SPL h s'.split(' ');
const ODD = [
  ...[
    '{',
    '}',
    '"',
    '“',
    '”',
    '.',
    '..',
    ',',
    ':',
    '/',
    '%',
    '#',
    '(',
    '=',
    '\\',
    '|',
    ';',
    '\t',
    '\r',
    '\r\n',
    '\n',
    '\n\n\n',
    '\0',
    '\u007f',
  ],
  ...[
    '🎷',
    '\u202e',
    '\ud800',
    '\udc00',
    '\uFEFF',
    '\u2028',
    '\u00a0',
    'é',
    'e\u0301',
    'ß',
    'ſ',
    '太',
    'שלום',
    '👨‍👩‍👧',
    '−',
    '–',
    '‑',
    '\u200b',
  ],
  ...['__proto__', 'constructor', 'toString', '<b>&amp;', '%s', '$1'],
];

const pick = <T>(from: readonly T[], random: () => number): T => from[Math.floor(random() * from.length)] as T;
const isNumber = (token: string) => /^\d/.test(token);
const isName = (token: string) => /^[\p{L}_]/u.test(token);

type Mutation = (text: string, random: () => number, others: readonly string[]) => string;

/** Changes the pieces that a text falls into. */
const tokens =
  (change: (all: string[], at: number, random: () => number) => string[]): Mutation =>
  (text, random) => {
    const all: string[] = text.match(/\s+|\d[\d.]*|[\p{L}\p{N}_-]+|[^\s]/gu) ?? [];
    return all.length === 0 ? text : change(all, Math.floor(random() * all.length), random).join('');
  };

const lines =
  (change: (all: string[], at: number, random: () => number) => string[]): Mutation =>
  (text, random) => {
    const all = text.split('\n');
    return change(all, Math.floor(random() * all.length), random).join('\n');
  };

/** The nearest piece behind `at` of a kind, from the start again where there is none. */
function near(all: readonly string[], at: number, is: (token: string) => boolean): number {
  const behind = all.findIndex((token, index) => index >= at && is(token));
  return behind >= 0 ? behind : all.findIndex(is);
}

const replaced = (is: (token: string) => boolean, by: (all: readonly string[], random: () => number) => string) =>
  tokens((all, from, random) => {
    const at = near(all, from, is);
    return at < 0 ? all : all.with(at, by(all, random));
  });

const MUTATIONS: readonly Mutation[] = [
  tokens((all, at, random) => all.toSpliced(at, 1 + Math.floor(random() * 3))),
  tokens((all, at, random) => {
    const other = Math.floor(random() * all.length);
    return all.with(at, all[other] as string).with(other, all[at] as string);
  }),
  tokens((all, at, random) => all.toSpliced(at, 0, pick(ODD, random))),
  tokens((all, at, random) => all.toSpliced(at, 0, ` ${pick([...WORDS, ...STATEMENTS, ...MODELS], random)} `)),
  tokens((all, at) => all.map((token, index) => (index >= at && index < at + 6 && /^\s/.test(token) ? '' : token))),
  tokens((all, at, random) => {
    const from = Math.floor(random() * all.length);
    return all.toSpliced(at, 0, ...all.slice(from, from + 12));
  }),
  replaced(isNumber, (_, random) => pick(NUMBERS, random)),
  replaced(isNumber, (_, random) => String(Math.round((random() * 2 - 0.7) * 10 ** (random() * 6) * 100) / 100)),
  // One name for another: what can still be read and means something else.
  replaced(isName, (all, random) => all[near(all, Math.floor(random() * all.length), isName)] as string),
  replaced(isName, (all, random) => all[near(all, Math.floor(random() * all.length), isName)] as string),
  replaced(
    (token) => UNITS.includes(token),
    (_, random) => pick(UNITS, random),
  ),
  replaced(
    (token) => MODELS.includes(token),
    (_, random) => pick(MODELS, random),
  ),
  (text, random) => text.slice(0, Math.floor(random() * (text.length + 1))),
  (text, random) => {
    const at = Math.floor(random() * text.length);
    return text.slice(0, at) + text.slice(at + Math.floor(random() * 60));
  },
  (text, random) => {
    const at = Math.floor(random() * text.length);
    const bytes = Array.from({ length: 1 + Math.floor(random() * 8) }, () => String.fromCharCode(Math.floor(random() * 256)));
    return text.slice(0, at) + bytes.join('') + text.slice(at);
  },
  lines((all, at) => all.toSpliced(at, 1)),
  lines((all, at, random) => all.toSpliced(Math.floor(random() * all.length), 0, all[at] as string)),
  lines((all, at, random) => {
    const other = Math.floor(random() * all.length);
    return all.with(at, all[other] as string).with(other, all[at] as string);
  }),
  lines((all, at, random) => all.with(at, (all[at] as string).slice(0, Math.floor(random() * (all[at] as string).length)))),
  // Some lines of another rig.
  (text, random, others) => {
    const [own, theirs] = [text.split('\n'), pick(others, random).split('\n')];
    const from = Math.floor(random() * theirs.length);
    const taken = theirs.slice(from, from + 1 + Math.floor(random() * 12));
    return own.toSpliced(Math.floor(random() * (own.length + 1)), 0, ...taken).join('\n');
  },
  (text) => text.replace(/\r?\n/g, '\r\n'),
];

/** One text of those, spoilt in up to eight ways, mostly in a few. */
export function spoilt(texts: readonly string[], random: () => number): string {
  let text = pick(texts, random);
  const times = 1 + Math.floor(8 * random() ** 2);
  for (let time = 0; time < times; time++) text = pick(MUTATIONS, random)(text, random, texts);
  return text;
}
