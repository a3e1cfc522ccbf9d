/** The rig that four questions write: nothing wrong with it, whatever the answers. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Answers, DEFAULT_ANSWERS, fileNameOf, interfacesOf, newRig, peopleIn } from '#language';
import { linesOf } from '#language/people';
import { analyseText, foundIn, libraryServices } from '../checks/open';
import { cases } from '../thorough';

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
    'count in',
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
  expect((await analyseText(text)).located, text).toEqual([]);
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
      expect(analysis.located).toEqual([]);
      // That the house's plugs go into our splits is told as what is so on purpose.
      expect(analysis.allowed.map(({ finding }) => finding.code)).toEqual(['house/replugged']);
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
      { numRuns: cases(100, 30) },
    );
  });

  it('keeps two of one name apart', () => {
    expect(newRig(answers('Jo, Jo, Jo'))).toMatch(/performer jo .*performer jo-2.*performer jo-3/s);
  });
});

it.each([
  ['Copper Wren, first rig', 'copper-wren-first-rig'],
  ['Kärcher Straße / "Keller"', 'kärcher-straße-keller'],
  ['../../etc', 'etc'],
  ['9', 'rig'],
  ['', 'rig'],
  [`${'a'.repeat(39)} b`, 'a'.repeat(39)],
])('names the file of %j %s', (title, name) => {
  expect(fileNameOf(title)).toBe(name);
});

it('has its title in the first line, by which an editor calls what has no file', () => {
  const text = (title: string) =>
    newRig({ ...DEFAULT_ANSWERS, title })
      .split('\n')
      .slice(0, 3);
  expect(text('Copper Wren, first rig')[0]).toBe('# Copper Wren, first rig');
  // Nothing in it ends the line.
  expect(text('Copper\nWren')).toEqual(['# Copper Wren', expect.stringMatching(/^#/), expect.stringMatching(/^rig "Copper Wren"/)]);
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
  ['Pia sings, Odile plays clarinet', ['Pia: voice', 'Odile: clarinet']],
  ['Pia sings and plays fiddle, Odile sings soprano', ['Pia: voice, fiddle', 'Odile: soprano']],
  ['Pia is on drums; Bo sings lead', ['Pia: drums', 'Bo: lead voice']],
  ['Gašper double bass with piezo', ['Gašper: double bass with piezo']],
  // Who has no name is called by what they play.
  ['double bass with piezo, keys (stereo)', ['double bass: double bass with piezo', 'keys: keys (stereo)']],
  ['2 trumpets', ['trumpet 1: trumpet 1', 'trumpet 2: trumpet 2']],
  ['two singers', ['singer 1: voice', 'singer 2: voice']],
  ['2 fiddle and voice', ['fiddle and voice 1: fiddle, voice', 'fiddle and voice 2: fiddle, voice']],
  ['Ann: 2 trumpets and voice', ['Ann: trumpet 1, trumpet 2, voice']],
  ['Jürgen große Trommel', ['Jürgen: große Trommel']],
  ['Viola sings', ['Viola: voice']],
  ['', []],
  [' , ;', []],
])('tells what one person plays apart: %s', (written, people) => {
  expect(peopleIn(written).map(({ name, plays }) => `${name}: ${plays.join(', ')}`)).toEqual(people);
});

/** What is asked for, and what each source is: `label is model`, with what it goes through on the way to us. */
it.each([
  ['Pia sings', ['Voice is dynamic-mic']],
  ['Odile plays clarinet', ['Clarinet is clip-on-mic']],
  ['Gašper double bass with piezo', ['Double bass is piezo-pickup via active-di']],
  ['Pia sings, Odile sings', ["Pia's voice is dynamic-mic", "Odile's voice is dynamic-mic"]],
  ['two singers', ["Singer 1's voice is dynamic-mic", "Singer 2's voice is dynamic-mic"]],
  ['Ann: fiddle and voice', ['Fiddle is clip-on-mic', 'Voice is dynamic-mic']],
  ['Bo keys (stereo)', ['Keys is stereo-keyboard via passive-di', 'Keys is stereo-keyboard via passive-di']],
  ['2 trumpets', ['Trumpet 1 is clip-on-mic', 'Trumpet 2 is clip-on-mic']],
  ['Jürgen große Trommel, Zoë Ätherwellengeige', ['Große Trommel is clip-on-mic', 'Ätherwellengeige is clip-on-mic']],
  ['Ulf bass guitar, Eli electric guitar', ['Bass guitar is magnetic-pickup via active-di', 'Electric guitar is dynamic-mic']],
])('plugs in what a person would expect, with nothing wrong: %s', async (people, sources) => {
  for (const ears of EARS) {
    const text = newRig(answers(people, { ears }));
    const analysis = await analyseText(text);
    expect(foundIn(analysis), text).toEqual([]);
    const { rig } = analysis.lowered;
    const taken = rig.inputs.map(({ takes }) => (takes ? rig.sources.get(takes.id) : undefined));
    const written = rig.inputs.map(({ via }, index) => {
      const boxes = via.map(({ piece }) => rig.pieces.get(piece)?.model.id).filter((each) => each !== 'transformer-split');
      const is = rig.pieces.get(taken[index]?.id ?? '')?.model.id;
      return `${taken[index]?.label} is ${is}${boxes.length > 0 ? ` via ${boxes.join(', ')}` : ''}`;
    });
    expect(written, text).toEqual(sources);
  }
});

it.each(['click', 'count in', 'count-in', 'Count', 'talkback'])('keeps from the house what is for the band alone: %s', async (alone) => {
  const { rig } = (await analyseText(newRig(answers(`Bo drum and ${alone}`)))).lowered;
  expect(rig.inputs.map(({ takes }) => rig.sources.get(takes?.id ?? '')?.label)).toEqual([
    'Drum',
    `${alone[0]?.toUpperCase()}${alone.slice(1)}`,
  ]);
  expect(rig.house.map(({ takes }) => takes?.id)).toEqual(['source:drum']);
});

it.each([
  'Ana: fiddle and voice and bones and flute and drum and kora',
  'Ana: voice and voice and voice and voice and voice and voice and voice and voice',
  'Ana: fiddle and voice and bones and kora, Brik drum, Cleo voice, Dado flute, Eli voice',
])('keeps a mix of many below what an output can give: %s', async (people) => {
  for (const ears of EARS) await expectNothingWrong(answers(people, { ears }));
});

it('still writes a rig for more people than there are frequencies for', async () => {
  const text = newRig(answers(Array.from({ length: 50 }, (_, index) => `P${index} voice`).join(', ')));
  expect(text).not.toContain('undefined');
  expect((await analyseText(text)).lowered.rig.performers.size).toBe(50);
});

it('makes a source of each, a microphone to sing into for the voice alone', () => {
  const text = newRig(answers('Žofie hammered dulcimer and voice'));
  expect(text).toMatch(/^source hammered-dulcimer .* is clip-on-mic .*by žofie/m);
  expect(text).toMatch(/^source voice .* is dynamic-mic .*by žofie/m);
});
