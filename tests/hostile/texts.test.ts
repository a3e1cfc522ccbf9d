/** Texts that are no rigs, or far too much of one: each ends soon, with a finding or without, and never with an exception. */
import { describe, expect, test } from 'vitest';
import { renderSheet, renderSheets, SHEET_FORMATS, sheetsOf } from '#sheets';
import { generateRig, randomFrom } from '../generate';
import { analyse, expectSound } from './open';

const random = randomFrom(5);
const many = (count: number, make: (index: number) => string, between = '\n') =>
  Array.from({ length: count }, (_, index) => make(index)).join(between);
const bytes = Buffer.from(Array.from({ length: 20_000 }, () => Math.floor(random() * 256)));
const letters = many(50_000, () => String.fromCharCode(32 + Math.floor(random() * 95)), '');
const MB = 1 << 20;
const VOICE = 'rig "x"\nsource voice is dynamic-mic\ngear iface is interface-8\n';

/** Each with a finding that there has to be; with none where all is well. */
const TEXTS: Readonly<Record<string, readonly [text: string, code: string | undefined]>> = {
  'nothing at all': ['', undefined],
  'random bytes': [bytes.toString('utf-8'), 'text/not-readable'],
  'random letters': [letters, 'text/no-statement'],
  noughts: ['\0'.repeat(10_000), 'text/not-readable'],
  'a nought in a label': [`${VOICE}performer ada "A\0da"`, 'text/not-readable'],
  'everything left open': ['rig "x\nmodel a is b {\n input 1 {\n mic {\nmix q { \n', 'text/unclosed-quote'],
  'the same, two hundred times': ['rig "x\nmodel a is b {\n input 1 {\n mic {\nmix q { \n'.repeat(200), 'text/unclosed-brace'],
  quotes: ['"'.repeat(100_000), 'text/no-statement'],
  'typographic quotes': ['\u201c'.repeat(100_000), 'text/unclosed-quote'],
  'a hundred thousand braces, opened': ['{'.repeat(100_000), 'text/no-statement'],
  'the same in a model': [`model a ${'{ '.repeat(100_000)}`, 'text/unclosed-brace'],
  'the same, closed again': [`model a ${'{'.repeat(50_000)}${'}'.repeat(50_000)}`, 'text/unexpected'],
  'a hundred thousand braces, closed': ['}'.repeat(100_000), 'text/no-statement'],
  'mixes in mixes': ['mix a {'.repeat(2_000), 'text/unclosed-brace'],
  dots: ['.'.repeat(100_000), 'text/no-statement'],
  minuses: ['-'.repeat(100_000), 'text/stray-character'],
  'numbers and minuses': ['1-'.repeat(100_000), 'text/dash-range'],
  'a statement word, again and again': ['rig '.repeat(5_000), 'rig/two-titles'],
  'a chain of five thousand models': [`${many(5_000, (i) => `model m${i} is m${i + 1}`)}\ngear g is m0\nrig "x"`, 'text/too-deep'],
  'the same from its end': [
    `${many(5_000, (i) => `model m${4_999 - i} is m${5_000 - i} { input in${i} xlr mic }`)}\nrig "x"`,
    'text/too-deep',
  ],
  'a circle of five thousand models': [`${many(5_000, (i) => `model m${i} is m${(i + 1) % 5_000}`)}\ngear g is m0\nrig "x"`, 'models/loop'],
  'a model that is itself': ['model m is m\ngear g is m\nrig "x"', 'models/loop'],
  'ten thousand steps': [`${VOICE}input iface.1 takes voice via ${many(10_000, () => 'y-lead', ', ')}`, 'text/too-deep'],
  'ten thousand steps through one piece': [
    `${VOICE}gear y is y-lead\ninput iface.1 takes voice via ${many(10_000, () => 'y', ', ')}`,
    'text/too-deep',
  ],
  'gear that is plugged into itself': [
    `${VOICE}gear a is y-lead\ngear b is y-lead\n${many(200, (i) => `input ${i % 2 ? 'a' : 'b'}.in takes voice via ${i % 2 ? 'b' : 'a'}`)}`,
    'capacity/input-taken-twice',
  ],
  'gear that takes gear in a circle': [
    `rig "x"\n${many(200, (i) => `gear g${i} is preamp-expander\ninput g${i}.1 takes g${(i + 1) % 200}`)}`,
    'connectors/no-mate',
  ],
  'numbers beyond all measure': [
    `rig "x"\n  set 9${'9'.repeat(400)} min\nperformer a at 1${'0'.repeat(400)} m, -1${'0'.repeat(400)} m`,
    'units/impossible',
  ],
  'a number as calculators write it': ['rig "x"\n  rate 1e999 Hz', 'text/unexpected'],
  'ranges without end': [
    'model a { input 1..999999999 xlr mic\n output 999999999..1 xlr\n input a1..b9 xlr }\ngear g is a\ninput g.1..999999999 takes x\nrig "x"',
    'models/bad-range',
  ],
  'a line of a megabyte, in a label': [`performer a "${'x'.repeat(MB)}"`, undefined],
  'a line of a megabyte, in a comment': [`# ${'x'.repeat(MB)}`, undefined],
  'a line of a megabyte, in a name': [`performer ${'x'.repeat(MB)}\nsource v is ${'y'.repeat(MB)}`, 'names/unknown'],
  'a line of a megabyte, in a number': [`performer a at ${'1'.repeat(MB)} m, 2 m`, 'units/impossible'],
  'a line of many clauses': [`performer a ${'at 1 m, 2 m '.repeat(10_000)}`, 'text/clause-twice'],
  'a line of many sends': [`${VOICE}mix a { ${'nobody 0 dB '.repeat(10_000)} }`, 'names/unknown'],
  'a megabyte of nothing': [`${' '.repeat(MB)}\nperformer a`, undefined],
  'a megabyte of line ends': [`${'\n'.repeat(MB)}performer a`, undefined],
  'three thousand twins': [`${'performer a\n'.repeat(3_000)}rig "x"`, 'names/duplicate'],
  'three thousand names that are not there': [
    `rig "x"\n${many(3_000, (i) => `source s${i} is nomodel${i} by nobody${i}`)}`,
    'names/unknown',
  ],
  'a model with ten thousand ports': [
    `rig "x"\nmodel big {\n${many(5_000, (i) => `input a${i} xlr mic\noutput b${i} xlr from a${i} parallel`)}\n}\ngear g is big`,
    undefined,
  ],
  'the most ports that a model can name in few words': [
    `rig "x"\nmodel big {\n${many(256, (i) => `input a${i}x1..a${i}x256 xlr mic`)}\n}\ngear g is big`,
    'text/too-many',
  ],
  'eight boxes for each of 256 channels, again and again': [
    `rig "x"\nsource s is dynamic-mic\nmodel big { input 1..256 xlr mic }\n${many(3, (i) => `gear g${i} is big\ninput g${i}.1..256 takes s via ${many(8, () => 'passive-di', ', ')}`)}`,
    'text/too-many',
  ],
  'somebody who stands farther away than the moon': [
    'rig "x"\nperformer a at 100000000000000000 m, 1 m\nhouse at 100000000000000000 m, 1 m\nhouse 1 own mic',
    'units/impossible',
  ],
  'a stage as large as a country': ['rig "x" stage 1000000000000 m by 300000 m\nperformer a at 1 m, 1 m', 'units/impossible'],
  'one input that a thousand take': [
    `rig "x"\ngear i is interface-16\n${many(1_000, (i) => `source s${i} is dynamic-mic\ninput i.1 takes s${i}`)}`,
    'capacity/input-taken-twice',
  ],
  'one source that many take': [
    `rig "x"\nsource s is dynamic-mic\n${many(300, (i) => `gear i${i} is interface-16\ninput i${i}.1 takes s via y-lead`)}`,
    'splits/needless',
  ],
  'names that JavaScript knows': [
    'rig "x"\nperformer __proto__\nperformer constructor\nsource toString is dynamic-mic by constructor\nsource hasOwnProperty is __proto__\ngear valueOf is interface-8\ninput valueOf.1 takes toString\ninput valueOf.constructor takes __proto__\nmix isPrototypeOf for __proto__ { toString 0 dB }\noutput valueOf.__proto__ carries isPrototypeOf',
    'names/unknown',
  ],
  'letters of all kinds': [
    'rig "🎺 שלום \u202e"\nperformer 太郎 "مرحبا"\nsource 🎷 "👨‍👩‍👧‍👦" is dynamic-mic by 太郎\ngear g is interface-8\ninput g.1 takes 🎷\nmix m for 太郎 { 🎷 0 dB }\noutput g.phones1 carries m',
    undefined,
  ],
  'halves of letters': ['performer \ud800 "\udc00\ud800"\nsource \udfff is x', 'names/unknown'],
  'labels that a page could take for its own': ['rig "<script>alert(1)</script>"\nperformer a "<img src=x onerror=alert(1)>"\n', undefined],
};

describe('a hostile text', () => {
  test.each(Object.entries(TEXTS))('%s', { timeout: 120_000 }, async (_name, [text, code]) => {
    const analysis = await analyse(text);
    expectSound(analysis);
    const codes = new Set(analysis.located.map(({ finding }) => finding.code as string));
    if (code === undefined) expect(codes).toEqual(new Set());
    else expect(codes).toContain(code);
    if (!analysis.checked) return;
    const sheets = await sheetsOf(
      analysis.checked,
      analysis.located.map(({ finding }) => finding),
    );
    for (const format of SHEET_FORMATS) {
      for (const sheet of sheets) expect(renderSheet(sheet, format).length).toBeGreaterThan(0);
      expect(renderSheets(sheets, format).length).toBeGreaterThan(0);
    }
  });
});

test('ten thousand lines end as soon as they should, whatever ends their lines', { timeout: 60_000 }, async () => {
  const text = generateRig(10_000, 3);
  const plain = await analyse(text);
  const of = ({ located }: typeof plain) => located.map(({ finding, range }) => ({ code: finding.code, range }));
  expectSound(plain);
  expect(plain.located.length).toBeGreaterThan(10);
  expect(of(await analyse(text.replaceAll('\n', '\r\n')))).toEqual(of(plain));
});
