/** The rig that four questions write: nothing wrong with it, whatever the answers. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Answers, DEFAULT_ANSWERS, interfacesOf, newRig, peopleIn } from '#language';
import { linesOf } from '#language/people';
import { analyseText, foundIn, libraryServices } from '../checks/open';

const interfaces = interfacesOf(libraryServices);
const EARS = ['radio', 'wire'] as const;

/** What people might be called or play, up to names that mean something in the language or cannot be names in it. */
const WORDS = [
  ...[
    'Ana',
    'Brik',
    'Uxía',
    'große Trommel',
    'Łucja',
    'Дана',
    '弾',
    'Zoë-Mae',
    'O’Neill',
    'DJ 9',
    '9',
    '---',
    '"Q"',
    'back\\slash',
    '# hush',
  ],
  ...['rig', 'use', 'model', 'gear', 'performer', 'source', 'input', 'house', 'mix', 'output'],
  ...[
    'iface',
    'tx-1',
    'pack-ana',
    'takes',
    'via',
    'for',
    'by',
    'mono',
    'left',
    'own',
    'at',
    'm',
    'dB',
    'belt-pack',
    'dynamic-mic',
    'y-lead',
  ],
  ...[
    'voice',
    'sings',
    'bass clarinet',
    'click',
    'talkback',
    'tracks',
    'drums, and voice',
    'fiddle and voice',
    'uilleann + voice & bones',
    'and',
    'a: b',
    '{',
    '}',
    '😀',
    'e\u0301tude',
  ],
];

const answers = (people: string, rest: Partial<Answers> = {}): Answers => ({ ...DEFAULT_ANSWERS, people, ...rest });

async function expectNothingWrong(given: Answers): Promise<void> {
  const text = newRig(given);
  expect(foundIn(await analyseText(text)), text).toEqual([]);
}

describe('a new rig', () => {
  it('is whole and short for three people', async () => {
    for (const ears of EARS) {
      const text = newRig({ ...DEFAULT_ANSWERS, ears });
      const statements = text.split('\n').filter((line) => line !== '' && !line.startsWith('#'));
      expect(statements.length).toBeLessThanOrEqual(25);
      expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(140);
      const analysis = await analyseText(text);
      expect([...analysis.lowered.rig.performers.values()].map(({ label }) => label)).toEqual(['Ana', 'Brik', 'Cleo']);
      expect(foundIn(analysis)).toEqual([]);
    }
  });

  it('has nothing wrong on any interface, with as many people as it takes, by radio and by wire', async () => {
    expect(interfaces.length).toBeGreaterThan(3);
    for (const { model, people, lines } of interfaces) {
      const two = Array.from({ length: Math.min(people, Math.floor(lines / 2)) }, (_, index) => `P${index} accordion and voice`);
      for (const ears of EARS) if (two.length > 0) await expectNothingWrong(answers(two.join(', '), { interface: model, ears }));

      for (let count = 1; count <= people; count++) {
        for (const plays of ['voice', 'accordion']) {
          const names = Array.from({ length: count }, (_, index) => `P${index} ${plays}`).join(', ');
          for (const ears of EARS) await expectNothingWrong(answers(names, { interface: model, ears }));
        }
      }
    }
  });

  it('offers an interface for the default answers', () => {
    const { people, interface: model } = DEFAULT_ANSWERS;
    expect(interfaces.find((each) => each.model === model)?.people).toBeGreaterThanOrEqual(peopleIn(people).length);
  });

  it('has nothing wrong whatever people are called and play', async () => {
    const word = fc.oneof(fc.constantFrom(...WORDS), fc.string({ unit: 'grapheme', maxLength: 12 }));
    const person = fc.tuple(word, word, fc.constantFrom(' ', ': ')).map(([name, plays, gap]) => `${name}${gap}${plays}`);
    await fc.assert(
      fc.asyncProperty(fc.array(person, { minLength: 1, maxLength: 8 }), word, fc.constantFrom(...EARS), async (people, title, ears) => {
        let named = peopleIn(people.join(', '));
        // As many as the interface has microphone inputs.
        while (linesOf(named) > 8) named = named.slice(0, -1);
        fc.pre(named.length > 0);
        const written = named.map(({ name, plays }) => `${name}: ${plays.join(' and ')}`).join(', ');
        await expectNothingWrong(answers(written, { title, ears }));
      }),
      { numRuns: 300 },
    );
  });

  it('keeps two of one name apart', () => {
    expect(newRig(answers('Jo, Jo, Jo'))).toMatch(/performer jo .*performer jo-2.*performer jo-3/s);
  });
});

it('reads who plays what the way people write it', () => {
  expect(peopleIn('Ana voice,Brik  hurdy-gurdy ; Cleo,  , Ana Lu: bass clarinet')).toEqual([
    { name: 'Ana', plays: ['voice'] },
    { name: 'Brik', plays: ['hurdy-gurdy'] },
    { name: 'Cleo', plays: [] },
    { name: 'Ana Lu', plays: ['bass clarinet'] },
  ]);
});

it.each([
  ['Žofie hammered dulcimer and voice', ['Žofie: hammered dulcimer, voice']],
  ['Ana fiddle + voice, Brik bones & drum', ['Ana: fiddle, voice', 'Brik: bones, drum']],
  ['Ana fiddle, voice, Brik drum', ['Ana: fiddle, voice', 'Brik: drum']],
  ['Ana: fiddle, voice, and bones; Brik: drum', ['Ana: fiddle, voice, bones', 'Brik: drum']],
  // Where nobody has a capital, a comma is between people.
  ['ana fiddle, brik drum', ['ana: fiddle', 'brik: drum']],
  ['Sandra bandoneon', ['Sandra: bandoneon']],
])('tells what one person plays apart: %s', (written, people) => {
  expect(peopleIn(written).map(({ name, plays }) => `${name}: ${plays.join(', ')}`)).toEqual(people);
});

it('makes a source of each, a microphone to sing into for the voice alone', () => {
  const text = newRig(answers('Žofie hammered dulcimer and voice'));
  expect(text).toMatch(/^source hammered-dulcimer .* is clip-on-mic .*by žofie/m);
  expect(text).toMatch(/^source voice .* is dynamic-mic .*by žofie/m);
});
