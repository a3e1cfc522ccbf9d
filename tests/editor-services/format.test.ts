/** Formatting: what it makes of texts, and that it changes nothing but white space, and that only once. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { EmptyFileSystem } from 'langium';
import { describe, expect, it } from 'vitest';
import { createRigCore, libraryFiles } from '#language';
import { format } from '#language/format';
import type { RigLexer } from '../../packages/language/syntax/lexer';
import { type RigParser, stretchesOf } from '../../packages/language/syntax/parser';
import { isStatementWord } from '../../packages/language/syntax/words';
import { root } from '../build';
import { analyseText, rigsIn } from '../checks/open';
import { generateRig } from '../generate';
import { cases } from '../thorough';
import { applyTo, marked, open } from './bench';

const { Rig } = createRigCore(EmptyFileSystem);
const lexer = Rig.parser.Lexer as RigLexer;
const parser = Rig.parser.LangiumParser as RigParser;
const formatted = (text: string) => format(Rig, text).text;
const read = (name: string) => readFileSync(path.join(root, name), 'utf8');

const examples = rigsIn(path.join(root, 'examples')).filter((file) => !file.includes(`${path.sep}mistakes${path.sep}`));
const library = libraryFiles().map(({ uri, text }): [string, string] => [uri.path, text]);
const readme = [...read('README.md').matchAll(/```\n(.*?)```/gs)].map((match) => match[1] as string).find((text) => /^rig "/m.test(text));

/** Whole and broken, by hand and by a generator. */
const TEXTS: readonly (readonly [name: string, text: string])[] = [
  ...[...rigsIn(path.join(root, 'examples')), ...rigsIn(path.join(root, 'tests'))].map((file): [string, string] => [
    path.relative(root, file),
    readFileSync(file, 'utf8'),
  ]),
  ...library,
  ...[1, 2, 3].map((seed): [string, string] => [`generated ${seed}`, generateRig(300, seed)]),
];

/** Everything but white space, in its order: words, and comments without what trails them. */
function words(text: string): string[] {
  const { tokens, hidden } = lexer.tokenizeAt(text, 0, 0);
  const comments = hidden.filter(({ tokenType }) => tokenType.name === 'COMMENT');
  return [...tokens, ...comments].sort((a, b) => a.startOffset - b.startOffset).map(({ image }) => image.trimEnd());
}

/**
 * The lines of what cannot be read, but for comments and blank lines between. A byte order mark belongs to the file: once blank lines
 * before it are gone, one that stood inside is its first character.
 */
function brokenLines(text: string): string[] {
  return (stretchesOf(parser.parseAgain(text)) ?? [])
    .filter(({ sound }) => !sound)
    .flatMap(({ start, end }) =>
      text
        .slice(start, end)
        .replace(/^\uFEFF/, '')
        .split(/\r\n|\n|\r/),
    )
    .filter((line) => !/^\s*(#.*)?$/.test(line));
}

/** What a text says: the rig as data, and what is wrong with it; without offsets, which places of broken text have in them. */
async function meaning(text: string): Promise<unknown> {
  const { lowered, located } = await analyseText(text);
  return {
    rig: lowered.rig,
    findings: located.map(({ finding: { code, place, figures } }) => ({ code, place: place.replace(/@.*/, ''), figures })),
  };
}

function expectSound(text: string): string {
  const once = formatted(text);
  expect(once.replace(/\s/g, '')).toBe(text.replace(/\s/g, ''));
  expect(words(once)).toEqual(words(text));
  expect(brokenLines(once)).toEqual(brokenLines(text));
  expect(formatted(once)).toBe(once);
  return once;
}

describe('what is in columns already stays', () => {
  it.each(examples.map((file) => path.relative(root, file)))('%s', (file) => {
    expect(formatted(read(file))).toBe(read(file));
  });

  it.each(library)('library %s', (_, text) => {
    expect(formatted(text)).toBe(text);
  });

  it('README', () => {
    expect(readme).toBeDefined();
    expect(formatted(readme ?? '')).toBe(readme);
  });
});

describe('nothing but white space changes, once, and the rig stays the same', () => {
  it.each(TEXTS)('%s', async (_, text) => {
    const once = expectSound(text);
    expect(await meaning(once)).toEqual(await meaning(text));
  });
});

describe('however it was written', () => {
  const choices = fc.infiniteStream(fc.nat(1000));
  const whole = TEXTS.filter(([, text]) => brokenLines(text).length === 0);
  const texts = fc.constantFrom(...whole.filter(([, text]) => text.length < 12_000).map(([, text]) => text));

  /** The text with other white space between its words, as `other` makes it of what is there and of the word behind. */
  function mangle(text: string, other: (space: string, next: string) => string): string {
    const { tokens, hidden } = lexer.tokenizeAt(text, 0, 0);
    const pieces = [...tokens, ...hidden.filter(({ image }) => image.trim() !== '')].sort((a, b) => a.startOffset - b.startOffset);
    let at = 0;
    let result = '';
    for (const { image, startOffset } of pieces) {
      const space = text.slice(at, startOffset);
      result += (space === '' ? '' : other(space, image)) + image;
      at = startOffset + image.length;
    }
    return result + text.slice(at);
  }

  it('spaces inside lines make no difference', () => {
    fc.assert(
      fc.property(texts, choices, (text, stream) => {
        const kinds = [' ', '  ', '\t', '       ', ' \t ', '\u00a0'];
        const pick = () => kinds[(stream.next().value as number) % kinds.length] as string;
        const mangled = mangle(text, (space, next) => {
          if (!/[\r\n]/.test(space)) return pick();
          // Whether a comment is set in is its writer's to say.
          const indent = next.startsWith('#') ? (/[^\r\n]*$/.exec(space)?.[0] ?? '') : pick();
          return `${pick()}${space.replace(/[^\r\n]+/g, '')}${indent}`;
        });
        expect(expectSound(mangled)).toBe(formatted(text));
      }),
      { numRuns: cases(60, 15) },
    );
  });

  it('lines broken and joined, comments in between: the same rig', async () => {
    await fc.assert(
      fc.asyncProperty(texts, choices, async (text, stream) => {
        const mangled = mangle(text, (space, next) => {
          const chance = (stream.next().value as number) % 12;
          if (/[\r\n]/.test(space)) return ['\n\n\n\n', '\r\n', ' \t\n', '\n# note  \n', '\n    # note\n\n   '][chance] ?? space;
          if (isStatementWord(next)) return space;
          return ['\n', '\n      ', ' # why\n', '\n\n'][chance] ?? space;
        });
        const once = expectSound(mangled);
        expect(await meaning(once)).toEqual(await meaning(mangled));
      }),
      { numRuns: cases(40, 10) },
    );
  });

  it('broken anywhere: nothing is lost', () => {
    const junk = [
      '',
      '{',
      '}',
      '"',
      '#',
      '§',
      '.',
      '3',
      ' -',
      'input ',
      '\n',
      '\t',
      '\r',
      'model x is di {\n',
      '//',
      '\u2028',
      'é\u0301',
      '🎤',
      '\uFEFF',
    ];
    fc.assert(
      fc.property(
        fc.constantFrom(...TEXTS.map(([, text]) => text)),
        fc.array(
          fc.record({
            at: fc.double({ min: 0, max: 1, noNaN: true }),
            cut: fc.integer({ min: 0, max: 30 }),
            put: fc.constantFrom(...junk),
          }),
          { minLength: 1, maxLength: 5 },
        ),
        (text, edits) => {
          let broken = text;
          for (const { at, cut, put } of edits) {
            const offset = Math.floor(at * broken.length);
            broken = broken.slice(0, offset) + put + broken.slice(offset + cut);
          }
          expectSound(broken);
        },
      ),
      { numRuns: cases(150, 40) },
    );
  });

  it('whatever it is', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
        expectSound(text);
      }),
      { numRuns: cases(300, 60) },
    );
  });
});

describe('before and after', () => {
  it('columns by kind, two spaces apart; clauses in columns where those before them are of the same kinds', () => {
    expect(
      formatted(`performer ana "Ana" at -1m,1.5m
performer brik at 2.5 m , 0 m ears earphones
source voice "Lead vocal" is dynamic-mic by ana typical 104 dB SPL peak 118 dB SPL
# stays where it is
source kit is drum-module by brik should
source tb "Talkback" is talkback-mic by brik typical 96 dB SPL peak 110 dB SPL

source far is audience-mic
input iface.1 takes voice via y-lead gain 20 dB
input iface.usb1 takes kit gain 3 dB
house 1 "Voice" takes voice
house 12 own mic
output iface.1 .. 2 carries ana via headphone-amp
`),
    ).toBe(`performer ana   "Ana"  at -1 m,   1.5 m
performer brik         at  2.5 m, 0 m    ears earphones
source voice  "Lead vocal"  is dynamic-mic   by ana   typical 104 dB SPL  peak 118 dB SPL
# stays where it is
source kit                  is drum-module   by brik  should
source tb     "Talkback"    is talkback-mic  by brik  typical 96 dB SPL   peak 110 dB SPL

source far  is audience-mic
input iface.1     takes voice  via y-lead  gain 20 dB
input iface.usb1  takes kit                gain 3 dB
house 1   "Voice"  takes voice
house 12           own mic
output iface.1..2  carries ana  via headphone-amp
`);
  });

  it('models: blocks set in, ports, modes and facts in columns', () => {
    expect(
      formatted(`model box "Box" is interface {
input 1..2 combo {
mic impedance 2 kohm max 2 dBu gain 0..55 dB
  line impedance 10 kohm max 20 dBu
}
input usb1..usb4 digital
output a,b trs { line impedance 150 ohm max 16 dBu }
phantom 20 mA # for all
owned
mixes 4 stereo
}
model one "One" is box { tunes 520..560 MHz owned }
model second "The second" is box {tunes 5..6 MHz}
`),
    ).toBe(`model box "Box" is interface {
  input  1..2        combo {
    mic   impedance 2 kohm   max 2 dBu   gain 0..55 dB
    line  impedance 10 kohm  max 20 dBu
  }
  input  usb1..usb4  digital
  output a, b        trs { line  impedance 150 ohm  max 16 dBu }
  phantom 20 mA  # for all
  owned
  mixes   4 stereo
}
model one    "One"        is box { tunes 520..560 MHz  owned }
model second "The second" is box { tunes 5..6 MHz }
`);
  });

  it('mixes: sends in columns, in lines of their own with their figures to the right', () => {
    expect(
      formatted(`mix a mono for ana { voice 0 dB kit -3 dB }
mix brik stereo for brik, ana { kit -10 dB left 20 % voice 0 dB }
mix c "See" mono {
voice 0 dB kit -12 dB left 5 %
tb -3 dB left 100 % click 0 dB
}
`),
    ).toBe(
      `mix a            mono    for ana        { voice 0 dB  kit -3 dB }
mix brik         stereo  for brik, ana  { kit -10 dB left 20 %  voice 0 dB }
mix c     "See"  mono {
  voice  0 dB              kit   -12 dB left 5 %
  tb    -3 dB left 100 %  click   0 dB
}
`.replace('  voice  0 dB              kit   -12 dB left 5 %', '  voice  0 dB             kit   -12 dB left 5 %'),
    );
  });

  it('sends are not spread where a line would become longer than 120 characters', () => {
    const text = `mix a  mono  for ana  { voice 0 dB  hammered-dulcimer -3 dB left 20 %  tb 0 dB  kit -3 dB  bass -4 dB  click -9 dB }
mix b  mono  for ana  { hammered-dulcimer -3 dB  voice -6 dB  tb -3 dB  kit -3 dB  bass -4 dB  clarinet-d-amore -3 dB  click -9 dB }
`;
    expect(formatted(text)).toBe(text);
  });

  it('the rest of a column does not wait for one that is far longer', () => {
    const text = `source a  "A"  is dynamic-mic  by ana
source b  "B, which somebody has described at very great length"  is dynamic-mic  by ana
source c  "C"  is dynamic-mic  by ana
`;
    expect(formatted(text)).toBe(text);
  });

  it('line breaks stay; what goes on is set in, comments stand as what follows', () => {
    expect(
      formatted(`rig "Evening"
region EU rate   48 kHz
      # how long
      set 60 min



   # people
performer ana
    "Ana"
at 1 m, 2 m # here
  # not here: at 2 m, 2 m

mix a mono for ana
{ # all
 voice 0 dB
     # loud
  }


`),
    ).toBe(`rig "Evening"
  region EU  rate 48 kHz
  # how long
  set 60 min

# people
performer ana
  "Ana"
  at 1 m, 2 m  # here
  # not here: at 2 m, 2 m

mix a  mono  for ana
{  # all
  voice 0 dB
  # loud
}
`);
  });

  it('comments behind lines stand in a column, as far as one of them is not far out', () => {
    expect(
      formatted(`performer a # one
performer bertil # two
performer c
performer d at 3.25 m, 4.25 m ears earphones # three
`),
    ).toBe(`performer a       # one
performer bertil  # two
performer c
performer d       at 3.25 m, 4.25 m  ears earphones  # three
`);
  });

  it('signs and figures of any width: wide letters take two columns (UAX #11), marks that combine none', () => {
    expect(
      formatted('performer ana "合唱団" at 1 m, 2 m\nperformer b "Zo\u0065\u0301" at \u22121 m, 2 m\nperformer c "Anna" at 1 m, 2 m\n'),
    ).toBe(
      'performer ana  "合唱団"  at  1 m, 2 m\nperformer b    "Zo\u0065\u0301"     at \u22121 m, 2 m\nperformer c    "Anna"    at  1 m, 2 m\n',
    );
  });

  it('what is in strings and comments stays', () => {
    const text = 'rig "A   b\t c"  # is   dynamic-mic   {  "\t#\n';
    expect(formatted(text)).toBe(text);
  });

  it('line ends as they are, a byte order mark, tabs, no end of the last line', () => {
    expect(formatted('\uFEFFrig "A"\r\n\tregion EU  \r\n\r\n\r\n\r\nperformer\tana')).toBe(
      '\uFEFFrig "A"\r\n  region EU\r\n\r\nperformer ana\r\n',
    );
    expect(formatted('rig "A"\rperformer a\r\n performer b\n\n\n')).toBe('rig "A"\rperformer a\r\nperformer b\n');
    expect(formatted('')).toBe('');
    expect(formatted(' \n\n')).toBe('');
    expect(formatted('# only\n\n\n')).toBe('# only\n');
  });

  it('what cannot be read stays, to its last space, between neighbours that are formatted', () => {
    const broken = 'source   kit  by  ana is  \n   and   so on,  §\t\n';
    expect(
      formatted(
        `source voice is dynamic-mic by ana\n${broken}# note\nsource tb   is talkback-mic\n\n\n\n  mix a   mono for ana {  voice 0\n`,
      ),
    ).toBe(`source voice  is dynamic-mic  by ana\n${broken}# note\nsource tb  is talkback-mic\n\n  mix a   mono for ana {  voice 0\n`);
  });

  it('two statements in a line are in no column', () => {
    expect(formatted('performer a   performer b at 1 m, 1 m\nperformer cecilia   "C"\n')).toBe(
      'performer a  performer b  at 1 m, 1 m\nperformer cecilia  "C"\n',
    );
  });
});

describe('in the editor', () => {
  const options = { tabSize: 8, insertSpaces: false };
  const uri = 'memory:///rigs/rig.rig';

  it('edits touch the white space that changes, and no other', async () => {
    const text = 'performer ana "Ana"\nperformer b  "B"  \n';
    const { services, document } = await open(text);
    const edits = (await services.lsp.Formatter?.formatDocument(document, { textDocument: { uri }, options })) ?? [];
    expect(edits).toEqual([
      { range: { start: { line: 0, character: 13 }, end: { line: 0, character: 14 } }, newText: '  ' },
      { range: { start: { line: 1, character: 11 }, end: { line: 1, character: 13 } }, newText: '    ' },
      { range: { start: { line: 1, character: 16 }, end: { line: 1, character: 18 } }, newText: '' },
    ]);
  });

  it.each([
    [
      'by themselves where the lines around stand otherwise',
      'source a-long-name "X" is dynamic-mic\n[|source b "Y"   is   dynamic-mic\nsource cc "Z" is dynamic-mic\n|]',
      'source a-long-name "X" is dynamic-mic\nsource b   "Y"  is dynamic-mic\nsource cc  "Z"  is dynamic-mic\n',
    ],
    [
      'with the lines around where these stand as the whole would have them',
      'source a-long-name  "X"  is dynamic-mic\n[|source b "Y"   is   dynamic-mic\n|]',
      'source a-long-name  "X"  is dynamic-mic\nsource b            "Y"  is dynamic-mic\n',
    ],
    [
      'by themselves where they would make the column wider',
      'source a  "X"  is dynamic-mic\n[|source long-name "Y" is dynamic-mic\n|]',
      'source a  "X"  is dynamic-mic\nsource long-name  "Y"  is dynamic-mic\n',
    ],
  ])('a range: %s', async (_, before, after) => {
    const { text, ranges } = marked(before);
    const { services, document } = await open(text);
    const [{ start, end }] = ranges as [{ start: number; end: number }];
    const range = { start: document.textDocument.positionAt(start), end: document.textDocument.positionAt(end) };
    const edits = await services.lsp.Formatter?.formatDocumentRange(document, { textDocument: { uri }, range, options });
    expect(applyTo(document.textDocument, edits ?? [])).toBe(after);
  });

  it('a range: in a text that is formatted around it, what the whole would be, and nothing outside', async () => {
    const lines = formatted(`${read('tests/checks/tour.rig')}\n\n\n${generateRig(100)}`).split('\n');
    const [first, last] = [30, 44];
    const text = lines
      .map((line, index) => (index >= first && index <= last ? line.replace(/(?<=\S) {2,}(?=\S)/g, '    ') : line))
      .join('\n');
    const { services, document } = await open(text);
    const all = (await services.lsp.Formatter?.formatDocument(document, { textDocument: { uri }, options })) ?? [];
    expect(all.length).toBeGreaterThan(10);
    const line = fc.nat(document.textDocument.lineCount - 1);
    const range = fc.oneof(
      fc.tuple(line, line),
      fc.tuple(fc.nat(first), fc.integer({ min: last + 1, max: document.textDocument.lineCount - 1 })),
    );
    await fc.assert(
      fc.asyncProperty(range, fc.nat(60), async ([a, b], character) => {
        const [start, end] = [
          { line: Math.min(a, b), character },
          { line: Math.max(a, b), character },
        ];
        const edits =
          (await services.lsp.Formatter?.formatDocumentRange(document, { textDocument: { uri }, range: { start, end }, options })) ?? [];
        expect(edits.every((edit) => edit.range.start.line >= start.line && edit.range.end.line <= end.line)).toBe(true);
        if (start.line <= first && end.line > last) expect(edits).toEqual(all);
      }),
      { numRuns: cases(100, 25) },
    );
  });

  const typed = async (text: string, ch: string): Promise<string> => {
    const { services, document, position } = await open(text);
    const edits = await services.lsp.Formatter?.formatDocumentOnType(document, { textDocument: { uri }, position, ch, options });
    return applyTo(document.textDocument, edits ?? []);
  };

  it.each([
    ['a new line in a block', 'model   a {\n<|>\n}\n', 'model   a {\n  \n}\n'],
    ['the rest of a line', 'mix a   mono for b {\n<|>voice   0 dB }\n', 'mix a   mono for b {\n  voice   0 dB }\n'],
    ['a block in a block, not closed yet', 'model a {\n  input 1   xlr {\n<|>', 'model a {\n  input 1   xlr {\n    '],
    ['what goes on', 'source   a\n<|>is dynamic-mic\n', 'source   a\n  is dynamic-mic\n'],
    ['a statement', 'source   a is b\n    <|>source c is d\n', 'source   a is b\nsource c is d\n'],
    ['an empty line outside blocks', 'rig "A"\n  <|>\n', 'rig "A"\n  \n'],
    // Faster than the editor sets it back.
    ['a brace above, set in', 'mix a {\n  b 0 dB\n  }\n  <|>', 'mix a {\n  b 0 dB\n}\n'],
    [
      'what came behind such a brace',
      'mix a {\n  b 0 dB\n  }\n  input i.1 takes b\n    gain 20 dB\n  <|>\nrig "A"',
      'mix a {\n  b 0 dB\n}\ninput i.1 takes b\n  gain 20 dB\n\nrig "A"',
    ],
    ['what is at the edge again', 'mix a {\n  b 0 dB\n  }\nhouse 1\n  own mic\n<|>', 'mix a {\n  b 0 dB\n}\nhouse 1\n  own mic\n'],
    [
      'a brace that is where it belongs',
      'model a {\n  input 1 xlr {\n    mic\n  }\n  <|>\n}',
      'model a {\n  input 1 xlr {\n    mic\n  }\n  \n}',
    ],
    [
      'braces in each other',
      'model a {\n  input 1 xlr {\n    mic\n    }\n    owned\n  }\n<|>',
      'model a {\n  input 1 xlr {\n    mic\n  }\n  owned\n}\n',
    ],
    [
      'braces in each other, none of them set back',
      'model a {\n  input 1 xlr {\n    mic\n    }\n    owned\n    }\n    rig\n    <|>',
      'model a {\n  input 1 xlr {\n    mic\n  }\n  owned\n}\nrig\n',
    ],
    // Two line ends come as fast as one.
    ['a brace behind a blank line', 'mix a {\n  b 0 dB\n  }\n\n<|>', 'mix a {\n  b 0 dB\n}\n\n'],
    [
      'a brace, a blank line and what is set in like it',
      'mix a {\n  b 0 dB\n  }\n\n  output i.1 carries a\n  <|>',
      'mix a {\n  b 0 dB\n}\n\noutput i.1 carries a\n',
    ],
    [
      'a blank line that is set in',
      'mix a {\n  b 0 dB\n  }\n  \n  output i.1 carries a\n    via b\n    <|>',
      'mix a {\n  b 0 dB\n}\n\noutput i.1 carries a\n  via b\n  ',
    ],
    [
      'what goes on behind a brace that is in its place',
      'mix a {\n  b 0 dB\n}\n\n  instead\n  <|>',
      'mix a {\n  b 0 dB\n}\n\n  instead\n  ',
    ],
    ['a brace in what stands further above', 'mix a {\n  b 0 dB\n  }\n\nrig "A"\n<|>', 'mix a {\n  b 0 dB\n  }\n\nrig "A"\n'],
    ['a brace behind two blank lines', 'mix a {\n  b 0 dB\n  }\n\n\n<|>', 'mix a {\n  b 0 dB\n  }\n\n\n'],
  ])('after a line end: %s', async (_, before, after) => {
    expect(await typed(before, '\n')).toBe(after);
  });

  it.each([
    ['its own line', 'model   a {\n  owned\n  }<|>\n', 'model   a {\n  owned\n}\n'],
    ['a block in a block', 'model a {\n  input 1 xlr {\n}<|>\n', 'model a {\n  input 1 xlr {\n  }\n'],
    ['a line with words', 'mix   a {  voice 0 dB }<|>\n', 'mix   a {  voice 0 dB }\n'],
    ['a brace that closes nothing', '   }<|>\n', '   }\n'],
  ])('after a brace: %s', async (_, before, after) => {
    expect(await typed(before, '}')).toBe(after);
  });
});

it('lines without end and files without end are formatted, too', () => {
  const line = `mix a  mono  for ana  { ${Array.from({ length: 20_000 }, (_, index) => `s${index} 0 dB`).join('  ')} }\n`;
  expect(formatted(line.replaceAll('  s', ' s'))).toBe(line);
  const lines = Array.from({ length: 30_000 }, () => 'use  "a"\n').join('');
  expect(formatted(lines)).toBe(lines.replaceAll('  ', ' '));
});
