/** Hovers: what is shown at `<|>`. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { MarkupContent } from 'vscode-languageserver';
import { plain, table } from '../../packages/language/editor/markdown';
import { otherUnits } from '../../packages/language/editor/quantities';
import { summaryOf } from '../../packages/language/editor/summary';
import { type Bench, offsets, open } from './bench';

const tour = readFileSync(new URL('../checks/tour.rig', import.meta.url), 'utf8');
const shelf = readFileSync(new URL('../checks/gear/our-shelf.rig', import.meta.url), 'utf8');

async function hover(bench: Bench): Promise<{ text: string; over: string }> {
  const shown = await bench.services.lsp.HoverProvider?.getHoverContent(bench.document, {
    textDocument: { uri: '' },
    position: bench.position,
  });
  const { start, end } = shown?.range ? offsets(bench.document, shown.range) : { start: 0, end: 0 };
  return {
    text: (shown?.contents as MarkupContent | undefined)?.value ?? '',
    over: bench.document.textDocument.getText().slice(start, end),
  };
}

/** The tour with the cursor put into a piece of it that is found by its text. */
function inTour(needle: string): Record<string, string> {
  const plainNeedle = needle.replace('<|>', '');
  expect(tour.split(plainNeedle).length, `"${plainNeedle}" is there once`).toBe(2);
  return { 'tour.rig': tour.replace(plainNeedle, needle), 'gear/our-shelf.rig': shelf };
}

interface Case {
  readonly at: string;
  readonly over: string;
  readonly shows: readonly (string | RegExp)[];
  readonly not?: readonly string[];
}

const CASES: Readonly<Record<string, Case>> = {
  'a source, with its ways to both desks': {
    at: 'source vo<|>ice ',
    over: 'voice',
    shows: [
      '**Lead vocal** `voice` · source, Dynamic microphone, by Ilse',
      'usual 100 dB SPL · loudest 120 dB SPL',
      '**To Interface input 1**',
      // 1.2 mV/Pa at 100 dB SPL is -50.2 dBu (94 dB SPL is 1 Pa); two inputs of 2 kohm on 150 ohm take 1.2 dB.
      /\| Lead vocal +\| Y-lead +\| -51\.4 dBu \| -31\.4 dBu \|/,
      /\| Y-lead 1 +\| Interface 1 \| -51\.4 dBu \| -31\.4 dBu \| 2 kohm \| XLR female to XLR male, 10 m +\|/,
      // 2 dBu ceiling, 6 dB margin over the peak: 2 - 6 + 31.4.
      'Set 27 dB of gain (the knob goes from 0 to 55 dB), which leaves 6 dB above the loudest peak.',
      // The noise is -127 dBu.
      'Its usual level is 75 dB above the noise there at that gain.',
      '**To house 8**',
      'In the mixes ilse 0 dB, tomek -5 dB.',
    ],
  },
  'what a split costs, and phantom power that a neighbour needs': {
    at: 'source vo<|>ice ',
    over: 'voice',
    shows: [
      // 150 ohm into 2 kohm twice, and once: 20 log10(1.15 / 1.075).
      'What else is plugged into its split takes 0.6 dB of it.',
      'Phantom power is on at Interface 1, for Overhead on the same switch.',
    ],
  },
  'phantom power where it is needed, and what is left of it': {
    at: 'source o<|>h ',
    over: 'oh',
    // P48 comes through 6.81 kohm in each leg, two side by side (IEC 61938): 48 - 0.004 * 3405 is 34.4 V for 4 mA.
    shows: ['Overhead has its phantom power from Interface 2: 34.4 V of the 48 are left at it.'],
  },
  'an input, with what to set there': {
    at: 'input iface.<|>2 ',
    over: '2',
    shows: ['Here it takes **Overhead**.', 'Set 8 dB of gain'],
    not: ['Leaves here'],
  },
  'how loud it is at its microphone': { at: 'peak 118 d<|>B SPL', over: '118 dB SPL', shows: ['Comes to Interface with -19.1 dBu.'] },
  'where something stands': {
    at: 'is passive-di          at 2.5<|> m',
    over: '2.5 m',
    shows: ['2.5 m to the left, 2.5 m from the front edge.'],
  },
  'a level in a mix': { at: 'oh -6<|> dB', over: '-6 dB', shows: ['In the mix oye: left usual'] },
  'a source where it is taken': {
    at: 'house 9   "Clarinet"    takes cl<|>ar',
    over: 'clar',
    shows: ['**Clarinet** `clar`', '**To Interface input 3**'],
  },
  'a source that lacks gain': { at: 'source ki<|>ck ', over: 'kick', shows: [/It wants \d+\.?\d* dB: \d+\.?\d* dB more than there is\./] },
  'a line of the house’s, and what our rig does to it': {
    at: 'house <|>8   "Lead vocal"',
    over: '8',
    shows: [
      '**House 8** · Lead vocal',
      'Tapped: our rig hangs on it by copper, at Y-lead.',
      'Re-plugged: the house’s plug goes into our Y-lead first.',
      // 150 ohm into one desk of 2 kohm, and into two: 20 log10(1.15 / 1.075).
      'It is 0.6 dB lower while our rig is plugged in, whether that is switched on or off.',
      '**To house 8**',
    ],
  },
  'the label of a line of the house’s': {
    at: 'house 1   "Ki<|>ck"',
    over: '"Kick"',
    shows: ['**House 1** · Kick', 'Untouched: the house has a microphone of its own here.'],
    not: ['does not get there'],
  },
  'a port, who sits on it and what else is free': {
    at: 'input iface.<|>3 ',
    over: '3',
    shows: [
      '**Interface input 3** `iface.3` · 6.35 mm TRS jack',
      'Here it takes **Clarinet**.',
      /\| line +\| +10 kohm \| +20 dBu \| -10\.\.12 dB \|/,
      'Free besides: 7 and 8 (line), usb3..usb8 (digital).',
    ],
  },
  'an output': {
    at: 'output iface.<|>5',
    over: '5',
    shows: [
      '**Interface output 5**',
      'Here it carries **for-house**.',
      'Leaves here: usual -4 dBu, loudest 10 dBu.',
      'Free besides: 6..8 (line).',
    ],
  },
  'the side a pack hears': {
    at: 'for ilse          hears tx.le<|>ft',
    over: 'left',
    shows: ['**Transmitter input left** `tx.left`', 'Here it takes **ilse**.'],
  },
  'the leg of a DI': {
    at: 'via bass-di.thr<|>u',
    over: 'thru',
    shows: ['**Bass DI output thru** `bass-di.thru` · 6.35 mm TS jack · joined to in', 'Here it carries **Double bass**.'],
  },
  'gear, with its figures and where they are from': {
    at: 'gear bass-d<|>i ',
    over: 'bass-di',
    shows: [
      '**Bass DI** `bass-di` · Passive DI `passive-di`',
      '2.5 m to the left, 2.5 m from the front edge · to buy, 25 EUR',
      /output out +\| xlr +\| in by transformer 12:1 \| mic/,
      'Figures: from memory: ratios from 8:1 to 13:1',
    ],
  },
  'a model of our own': {
    at: 'is our-inter<|>face',
    over: 'our-interface',
    shows: [
      'made from `interface`',
      /input 1 and 2 +\| combo \| mic +\|/,
      'mixes 4 stereo · phantom 20 mA in all · latency 1.4 ms · power mains · owned',
    ],
  },
  'a model of the library, with its caution': {
    at: 'carries oye        via headphone-am<|>p',
    over: 'headphone-amp',
    shows: ['One listener on a lead, in stereo.', 'Figures: from memory'],
  },
  'a performer': {
    at: 'performer il<|>se ',
    over: 'ilse',
    shows: [
      '**Ilse** `ilse` · performer, 1 m to the right, 1.5 m from the front edge',
      'Plays Lead vocal and Accordion.',
      'Hears ilse (mono), by Interface output 1 and Transmitter left.',
      "Wears Ilse's pack, hears Transmitter left.",
      // 1.4 ms and 0.1 ms; 1.5 ms at 343 m/s are 0.51 m.
      'Hears their own Lead vocal after 1.5 ms, as from a wedge 0.5 m away (1.4 ms in Interface and 0.1 ms in Transmitter); Accordion after 1.5 ms',
    ],
  },
  'a performer without a mix': { at: 'performer bra<|>na', over: 'brana', shows: ['Has no mix to hear.'], not: ['Wears'] },
  'a mix': {
    at: 'mix oy<|>e ',
    over: 'oye',
    shows: ['stereo mix for Oye', /\| Double bass \| -3 dB \| 20 % left \|/, 'It leaves by Interface output 3..4 and Headphone amplifier.'],
  },
  'a mix of what the computer plays': {
    at: 'mix for-hou<|>se ',
    over: 'for-house',
    // Taken to be lined up: 20 dB of headroom, 6 dB of margin. The output's 0 dBFS is 16 dBu.
    shows: [
      /\| Tracks +\| +0 dB \| +-6 dBFS \|/,
      'Adds up to: usual -20 dBFS, loudest -6 dBFS (0 dBFS clips; an estimate, as peaks seldom meet). Leaves by Interface 5 usual -4 dBu, loudest 10 dBu.',
    ],
  },
  'a send': {
    at: 'left 20 %  cli<|>ck -4 dB',
    over: 'click',
    // -20 and -6 dBFS, less 4 dB of the send and 3 dB on each side in the middle.
    shows: [
      'In the mix oye: left usual -27 dBFS, loudest -13 dBFS; right usual -27 dBFS, loudest -13 dBFS (no figures: taken to be lined up like the others).',
    ],
  },
  'what a mix comes to': {
    at: 'carries ilse       via tx.le<|>ft',
    over: 'left',
    shows: [/Comes here: usual -?\d+\.?\d* dBu, loudest \d+\.?\d* dBu\./],
  },
  'a frequency': { at: 'rate 48 k<|>Hz', over: '48 kHz', shows: ['`48 kHz` = 48000 Hz'] },
  'a length': { at: 'at -<|>1 m, 1.5 m', over: '-1 m', shows: ['`-1 m` = -3 ft 3 in'] },
  'a level': { at: 'squeeze -<|>3 dB', over: '-3 dB', shows: ['0.708 times the voltage'] },
  'how loud': { at: 'peak 118 dB S<|>PL', over: '118 dB SPL', shows: ['`118 dB SPL` = 15.9 Pa'] },
  'a word': { at: 'ta<|>kes oh', over: 'takes', shows: ['**takes** · The source that is plugged in here.', '`input iface.1 takes voice`'] },
  'a word that means something else elsewhere': { at: 'f<|>or ilse          hears', over: 'for', shows: ['Who wears or uses it.'] },
};

describe('hover', () => {
  it.each(Object.entries(CASES))('%s', async (_, { at, over, shows, not }) => {
    const shown = await hover(await open(inTour(at)));
    expect(shown.over).toBe(over);
    for (const each of shows) {
      if (typeof each === 'string') expect(shown.text).toContain(each);
      else expect(shown.text).toMatch(each);
    }
    for (const each of not ?? []) expect(shown.text).not.toContain(each);
    expect(shown.text).not.toMatch(/undefined|NaN|\[object|null/);
  });

  it.each(['# comm<|>ent', 'rig  <|>  "X"', 'source voice "La<|>bel" is dynamic-mic', 'input iface.99<|> takes x', 'mix m mono { <|> }'])(
    'shows nothing at %s',
    async (text) => {
      expect((await hover(await open(text))).text).toBe('');
    },
  );

  it('shows what a gain that is written leaves, and the right one', async () => {
    const rig = (gain: string) =>
      `rig "X"\nsource voice "Voice" is dynamic-mic\ngear iface "Interface" is interface-8-mic\ninput iface.1 takes voice gain ${gain}<|> dB`;
    // The peak arrives at -30.8 dBu: 1.2 mV/Pa at 120 dB SPL, less 0.6 dB into 2 kohm; the input clips at 6 dBu.
    expect((await hover(await open(rig('20')))).text).toMatch(
      /20 dB of gain is written \(the knob goes from 0 to 56 dB\): it leaves 16\.\d dB above the loudest peak\. With 30 dB it would be 6\.\d dB\./,
    );
    expect((await hover(await open(rig('50')))).text).toMatch(/: its peaks are 13\.\d dB too hot\. With 30 dB it would be 6\.\d dB\./);
  });

  it('says that nothing splits what two lines take, and not what a split would cost', async () => {
    const rig =
      'rig "X"\nsource bod<|>hran is dynamic-mic\ngear iface is interface-8-mic\ninput iface.3 takes bodhran\nhouse 2 takes bodhran';
    const { text } = await hover(await open(rig));
    expect(text).toContain('Nothing splits it: house 2 takes it from the same socket.');
    expect(text).toContain('Nothing splits it: iface input 3 takes it from the same socket.');
    expect(text).not.toContain('its split');
  });

  it.each([
    ['computer-channel', '1 channel'],
    ['click-channel', '1 channel'],
  ])('counts the channels of %s: %s', async (model, shows) => {
    const { text } = await hover(await open(`rig "X"\nsource x is ${model.replace('-', '<|>-')}`));
    expect(text).toContain(shows);
    expect(text).not.toContain('1 channels');
  });

  it('shows what else would fit a port, and what would be wrong with the rest', async () => {
    const { text } = await hover(
      await open(
        `rig "X"\nsource a "Flute" is clip-on-mic\nsource b "Drum" is dynamic-mic\nsource c "Lute" is piezo-pickup\nsource d "Click" is click-channel\ngear iface "Interface" is interface-8-mic\ninput iface.<|>1 takes a`,
      ),
    );
    expect(text).toContain('Not plugged in yet: Drum would fit here; Lute: needs a DI and a microphone input: a pickup into a line input.');
    expect(text).not.toContain('Click');
  });

  it('shows a port of a model in its own file', async () => {
    const { text } = await hover(
      await open('model box {\n  input in xlr mic impedance 2 kohm\n  output o<|>ut xlr from in transformer 1:1\n}'),
    );
    expect(text).toContain('**box output out** · XLR · in by transformer 1:1');
  });

  it('shows what a range comes to, at both its ends', async () => {
    const { text } = await hover(await open('model box is pack {\n  tunes 863..8<|>65 MHz\n  input 1 xlr mic max -20 dBu\n}'));
    expect(text).toContain('`863 MHz` = 863000 kHz');
    expect(text).toContain('`865 MHz` = 865000 kHz');
    expect((await hover(await open('model box {\n  input 1 xlr mic gain 0..5<|>5 dB\n}'))).text).toBe(
      '`0 dB` = 1 times the voltage\n\n`55 dB` = 562 times the voltage',
    );
  });
});

describe('user text', () => {
  it('is shown as it is', async () => {
    const label = '<b>*Lead* [x](http://evil.example) `a` | & <script>alert(1)</script> www.evil.example';
    const { text } = await hover(await open(`source vo<|>ice "${label}" is dynamic-mic`));
    // A backslash before any punctuation means that character (CommonMark, "Backslash escapes"; from memory); tags and entities are written out.
    const shown =
      '**&lt;b&gt;\\*Lead\\* \\[x\\](http\\://evil.example) \\`a\\` \\| &amp; &lt;script&gt;alert(1)&lt;/script&gt; www\\.evil.example** ';
    expect(text.slice(0, shown.length)).toBe(shown);
    expect(text).not.toContain('<');
  });

  it('keeps tables whole', () => {
    const drawn = table(
      [{ head: 'a' }, { head: 'b', align: 'right' }, { head: 'never' }],
      [
        [plain('x | y'), '1'],
        ['z', '10'],
      ],
    );
    expect(drawn).toBe(['| a      |   b |', '|--------|----:|', '| x \\| y |   1 |', '| z      |  10 |'].join('\n'));
  });
});

/** Source of each: the definitions in packages/rig/units.ts, or as it says. */
describe('other units', () => {
  const cases: readonly (readonly [number, string, readonly string[]])[] = [
    [0, 'dBu', ['-2.22 dBV', '775 mV']], // 0 dBu is 0.7746 V; 0 dBV is 2.218 dBu (definitions)
    [4, 'dBu', ['1.78 dBV', '1.23 V']], // 1.228 V
    [-10, 'dBV', ['-7.78 dBu', '316 mV']], // 0.3162 V
    [6, 'dB', ['2 times the voltage']], // 1.995
    [-20, 'dB', ['0.1 times the voltage']],
    [94, 'dB SPL', ['1 Pa']], // 1 Pa is 93.98 dB SPL
    [10, 'ft', ['3.05 m']], // 1 ft is 0.3048 m exactly
    [3, 'm', ['9 ft 10 in']],
    [12, 'in', ['0.305 m']],
    [2, 'kohm', ['2000 ohm']],
    [1, 'Mohm', ['1000 kohm']],
    [2, 'nF', ['2000 pF']],
    [20, 'mA', ['0.02 A']],
    [75, 'min', ['1.25 h']],
    [1.4, 'ms', ['sound goes 0.48 m in that time']], // 343 m/s, handbook, from memory
    [41.2, 'Hz', ['the note E1']], // equal temperament, A at 440 Hz
    [440, 'Hz', ['the note A4']],
    [27.5, 'Hz', ['the note A0']],
    // 299792458 m/s by the definition of the metre (SI): over 863.4 MHz 0.34722 m.
    [863.4, 'MHz', ['863400 kHz', 'a wave of 34.7 cm, a quarter of it 8.68 cm']],
    [2.4, 'GHz', ['2400 MHz', 'a wave of 12.5 cm, a quarter of it 3.12 cm']],
    [40, 'MHz', ['40000 kHz', 'a wave of 7.49 m, a quarter of it 1.87 m']],
    [1.2, 'mV/Pa', ['-58.4 dBV/Pa', '-56.2 dBu at 94 dB SPL']], // 20 log10(0.0012)
    [5, 'EUR', []],
    [5, 'parsecs', []],
  ];
  it.each(cases)('%d %s', (value, unit, shown) => {
    expect(otherUnits(value, unit)).toEqual(shown);
  });

  it('reckons with what stands beside', () => {
    expect(otherUnits(64, 'samples', { rateHz: 48_000 })).toEqual(['1.33 ms at 48 kHz']);
    // 100 dB/mW at 32 ohm is 114.9 dB/V, from the definition (IEC 60268-7 characteristic).
    expect(otherUnits(100, 'dB SPL/mW', { impedanceOhm: 32 })).toEqual(['114.9 dB SPL/V at 32 ohm']);
  });
});

describe('in any text, at any place', () => {
  it('never stumbles', async () => {
    const bench = await open({ 'tour.rig': tour, 'gear/our-shelf.rig': shelf });
    for (let offset = 0; offset <= tour.length; offset += 1) {
      const position = bench.document.textDocument.positionAt(offset);
      const shown = await bench.services.lsp.HoverProvider?.getHoverContent(bench.document, { textDocument: { uri: '' }, position });
      if (shown) expect((shown.contents as MarkupContent).value).not.toMatch(/undefined|NaN|\[object/);
    }
  });

  it('never stumbles over a text that breaks off', async () => {
    const bench = await open({ 'rig.rig': '', 'gear/our-shelf.rig': shelf });
    const whole = `${tour}\n${shelf}`;
    for (let cut = 5; cut < whole.length; cut += 61) {
      const document = await bench.add(`cut-${cut}.rig`, whole.slice(0, cut));
      for (let offset = Math.max(0, cut - 60); offset <= cut; offset += 3) {
        await bench.services.lsp.HoverProvider?.getHoverContent(document, {
          textDocument: { uri: '' },
          position: document.textDocument.positionAt(offset),
        });
      }
    }
  });
});

describe('gear that is plugged in by its name', () => {
  const rig = (output: string) => `rig "by name"
model box { output out  trs  line  impedance 600 ohm  ${output} }
model desk { input 1  trs  line  impedance 10 kohm  max 20 dBu  gain -10..12 dB }
gear amp is box
gear desk is desk
input desk.1  takes amp`;

  it.each([
    ['its own', (text: string) => text.replace('takes amp', 'takes a<|>mp')],
    ['that of the input', (text: string) => text.replace('input desk.1', 'input desk.<|>1')],
  ])('has its level in %s hover, or that none is stated', async (_, at) => {
    const stated = (await hover(await open(at(rig('level -4 dBu  max 12 dBu'))))).text;
    // 600 ohm into 10 kohm: 0.5 dB less than -4 and 12 dBu; 6 dB above the peak for 20 - 10 - 6 - 11.5 = -7.5 dB of gain, rounded down.
    expect(stated).toMatch(/Set -8 dB of gain/);
    expect(stated).not.toMatch(/not stated|Nothing says/);
    const silent = (await hover(await open(at(rig('max 12 dBu'))))).text;
    expect(silent).toMatch(/Nothing says how loud amp is, so its level and the gain to set are not known: write it, as in "level -4 dBu"/);
    expect(silent).not.toMatch(/Set /);
  });

  it('has it in the table of its way', async () => {
    const table = async (output: string) => (await hover(await open(rig(output).replace('takes amp', 'takes a<|>mp')))).text;
    expect(await table('level -4 dBu  max 12 dBu')).toMatch(/\| amp +\| desk +\| +-4\.5 dBu \| +11\.5 dBu \|/);
    expect(await table('max 12 dBu')).toMatch(/\| amp +\| desk +\| +not stated \| +not stated \|/);
  });
});

describe('the word that the whole begins with', () => {
  const SOLO = `rig "Mill Door"  budget 220 EUR
performer ilo "Ilo"
source zither "Zither" is clip-on-mic by ilo
source click "Click" is click-channel by ilo
gear iface "Interface" is interface-8-mic
gear amp "Amp" is headphone-amp  buy 40 EUR
gear split "Split" is y-lead  buy
input iface.5 takes zither
house 1 takes zither via split
mix ilo mono for ilo { zither 0 dB }
output iface.1 carries ilo via amp
`;

  it.each([
    ['it', 'r<|>ig'],
    ['the title behind it', 'rig "Mi<|>ll'],
  ])('tells of the rig: at %s', async (_, at) => {
    const { text } = await hover(await open(SOLO.replace(at.replace('<|>', ''), at)));
    expect(text).toMatch(/^\*\*Mill Door\*\*\n\n1 person, 2 sources, 1 mix, 1 house line\n\nInputs used: 1 of 8 of Interface\.\n/);
    expect(text).toMatch(/\nTo be put right: (1 error|.+)\.\n/);
    expect(text).toMatch(/\n\nTo buy and hire: 1 Headphone amplifier and 1 Y-lead: 40 EUR of 220 EUR and one thing without a price\./);
  });

  it('says what the word is for besides', async () => {
    expect((await hover(await open(SOLO.replace('rig', 'r<|>ig')))).text).toContain('**rig** · What this file is');
    expect((await hover(await open('r<|>ig'))).text).toContain('**rig** · What this file is');
  });

  it('has as many to be put right as are underlined, the gravest first, and not all of many', async () => {
    const wrong = Array.from({ length: 7 }, (_, at) => `input iface.1 takes no${'o'.repeat(at)}ne`).join('\n');
    const bench = await open(`r<|>ig "X"\ngear iface is interface-8-mic\n${wrong}\n`);
    const { text } = await hover(bench);
    expect(text.match(/^- .+$/gm)).toHaveLength(6);
    const summary = summaryOf(bench.services.rig.Analyser.of(bench.document));
    const grave = bench.services.rig.Analyser.of(bench.document).located.filter(({ finding }) => finding.severity !== 'note');
    expect(summary).toMatchObject({ wrong: grave.length, gravest: 'error', inputs: { used: 1, of: 8 } });
    expect(text).toContain(`- and ${grave.length - 5} more`);
  });

  it('finds nothing wrong in an example, and says so', async () => {
    const rig = readFileSync(new URL('../../examples/first.rig', import.meta.url), 'utf8').replace('\nrig ', '\nr<|>ig ');
    const { text } = await hover(await open(rig));
    expect(text).toContain('**Quince Door, cafe set**\n\n3 people, 3 sources, 3 mixes, 3 house lines\n\nInputs used: 3 of 8 of Interface.');
    expect(text).toMatch(/\nNothing found wrong/);
    expect(text).not.toContain('To buy');
  });

  it('has no summary where no rig is', async () => {
    const { services, document } = await open('model our-mic is dynamic-mic<|>');
    expect(summaryOf(services.rig.Analyser.of(document))).toBeUndefined();
  });
});

describe('the way to all other words', () => {
  const LINK = '[All words on one page](command:open.page)';
  const at = async (text: string, commands: object = { openLanguage: 'open.page' }) => {
    const bench = await open(text);
    bench.services.editor.Settings.takeCommands({ commands });
    return (await hover(bench)).text;
  };

  it('is one click from a word that starts a statement', async () => {
    for (const text of ['per<|>former ana', 'ri<|>g "A title"', 'hou<|>se 1 "Kick" own mic', 'mo<|>del di is passive-di'])
      expect(await at(text), text).toContain(LINK);
  });

  it('is not shown at other words, nor where the editor has no such page', async () => {
    for (const text of ['mix m mono for hou<|>se { }', 'model di { inp<|>ut 1 xlr mic }', 'rig "A ti<|>tle"'])
      expect(await at(text), text).not.toContain(LINK);
    expect(await at('per<|>former ana', {})).toContain('**performer**');
    expect(await at('per<|>former ana', {})).not.toContain('command:');
  });
});

it('a word of the language has its example in the unit of the rig', async () => {
  const said = async (length: string) =>
    (await hover(await open(`rig "R" stage ${length} by ${length}\nper<|>former ana at 0 ft, 3 ft`))).text;
  expect(await said('30 ft')).toContain('performer ilse "Ilse" at -3 ft, 5 ft');
  expect(await said('9 m')).toContain('performer ilse "Ilse" at -1 m, 1.5 m');
});
