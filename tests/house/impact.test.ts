/** What a rig does to each line of the house's: what it is, what it costs, whether it is re-plugged; what dies with us, and each cure. */
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CodeAction } from 'vscode-languageserver';
import { type Checked, message, touching, touchLong, touchShort } from '#engine';
import { diagnosticOf } from '#language';
import { patchSheet, renderSheet } from '#sheets';
import { analyse, analyseText } from '../checks/open';
import { READS_WELL } from '../checks/reads-well';
import { applied, type Bench, open } from '../editor-services/bench';

async function checkedOf(text: string): Promise<Checked> {
  const { checked } = await analyseText(text);
  if (!checked) throw new Error('no rig');
  return checked;
}

const lineOf = (checked: Checked, number: string) => checked.impact.lines.find(({ run }) => run.number === number);
const causesOf = (checked: Checked, number: string) => lineOf(checked, number)?.causes.map(({ kind }) => kind) ?? [];
const codes = (checked: Checked, code: string) => checked.findings.filter((finding) => finding.code === code);

describe('a line of each kind', async () => {
  const { checked } = await analyse(join(import.meta.dirname, 'each-kind.rig'));
  if (!checked) throw new Error('no rig');

  it.each([
    ['1', 'untouched', false, 'their own microphone'],
    ['2', 'untouched', false, 'a source of ours that only they take'],
    ['3', 'untouched', false, "the receiver's other output is ours"],
    ['4', 'tapped', true, 'a Y-lead'],
    ['5', 'isolated', true, 'our transformer split, the house on its direct side'],
    ['6', 'dependent', true, 'our 48 V by a Y-lead'],
    ['7', 'isolated', false, "the house's split, whose transformer is on our side"],
    ['8', 'isolated', false, "the house's split and microphone, the transformer on their side"],
    ['9', 'tapped', true, 'the thru of our DI, whose own output is no transformer'],
    ['10', 'isolated', false, 'the output proper of our DI, which would stand there without us'],
    ['11', 'isolated', true, 'the thru of our transformer DI'],
    ['12', 'dependent', false, 'a DI of ours on a battery'],
    ['13', 'dependent', true, 'a split of ours on the mains'],
    ['14', 'dependent', true, 'a preamp that our own line ends at'],
    ['15', 'dependent', true, "the player's pedal, and a Y-lead behind it"],
    ['16', 'brought', false, 'a mix of ours'],
  ])('house %s is %s (re-plugged: %s): %s', (number, how, replugged) => {
    expect(lineOf(checked, number)).toMatchObject({ how, replugged });
  });

  it('counts their lines and those that are re-plugged', () => {
    expect(checked.impact.count).toBe(16);
    expect(checked.impact.replugged.map(({ run }) => run.number)).toEqual(['4', '5', '6', '9', '11', '13', '14', '15']);
    const [told, ...more] = codes(checked, 'house/replugged');
    expect(more).toEqual([]);
    expect(told && message(told)).toContain(
      'Eight of the house’s 16 lines are re-plugged for us: each goes into our gear first, as house 4 (Tenor) does into our Y-lead. That is how a split works, and nothing is wrong with it.',
    );
  });

  it('warns of what dies with us, and not of what makes the sound', () => {
    expect(codes(checked, 'house/dependent').map(({ figures }) => (figures as { house: string }).house)).toEqual([
      'house 6',
      'house 12',
      'house 13',
      'house 14',
    ]);
    expect(lineOf(checked, '15')?.causes).toMatchObject([{ kind: 'power', power: 'battery', sounds: true }]);
  });

  it('reckons what a parallel leg costs: 150 ohm into one desk of 2 kohm, and into two', () => {
    // By the voltage divider: 20 log10((1 + 150 / 1000) / (1 + 150 / 2000)).
    expect(lineOf(checked, '4')?.lossDb).toBeCloseTo(20 * Math.log10(1.15 / 1.075), 6);
    for (const number of ['1', '2', '3', '16']) expect(lineOf(checked, number)?.lossDb).toBeUndefined();
  });

  it('so it is where the house’s own desk makes the mixes of our ears: by a split of ours, and not by one of theirs', async () => {
    const { impact } = await checkedOf(
      `rig "Tidal Finch, granary"
performer odd "Odd"
source voice   "Voice"    is dynamic-mic  by odd
source fiddle  "Fiddle"   is clip-on-mic  by odd
source horn    "Horn"     is dynamic-mic  by odd
gear desk  "Monitor desk"  is interface-16  theirs
gear split "House split"   is shared-split  theirs
input desk.1  takes voice   via y-lead
input desk.5  takes fiddle  via transformer-split.iso
input desk.2  takes horn    via split.iso1
house 1  takes voice
house 2  takes fiddle
house 3  takes horn  via split.1
mix odd mono for odd { voice 0 dB  fiddle 0 dB  horn 0 dB }
output desk.phones1 carries odd`,
    );
    expect(impact.lines.map(({ how, replugged, into }) => [how, replugged, into?.label])).toEqual([
      ['tapped', true, 'Y-lead'],
      ['isolated', true, 'Transformer split'],
      ['untouched', false, undefined],
    ]);
  });

  it('tells each line in words that read well', () => {
    for (const line of checked.impact.lines) {
      const told = touching(checked.network, checked.supplies, line);
      for (const sentence of touchLong(told)) expect(sentence).toMatch(READS_WELL);
      expect(`${touchShort(told)}.`).toMatch(READS_WELL);
    }
  });
});

const HEAD = `rig "Copper Wren"
performer ana "Ana"
gear iface "Interface" is interface-8-mic
model battery-di "Battery DI" is di {
  input  in   ts   { instrument  impedance 1 Mohm  max 10 dBu }
  output thru ts   from in parallel
  output out  xlr  from in active  mic  impedance 200 ohm
  power  battery 100 h
}
model mains-split "Powered split" is splitter {
  input  in    xlr  mic  impedance 5 kohm  max 10 dBu
  output a, b  xlr  from in active isolated  mic  impedance 75 ohm
  power  mains
}
model direct-preamp "Preamp" is expander {
  input  1..2        xlr  mic  impedance 2 kohm  max 6 dBu  gain 0..56 dB
  output out1..out2  xlr  from 1..2 active  line  impedance 100 ohm  max 20 dBu
  power  mains
}
gear split "Split" is shared-split
source clip "Clip" is clip-on-mic
source reed "Reed" is condenser-mic
source horn "Horn" is dynamic-mic
source lute "Lute" is preamp-pickup
`;

describe('what makes a line dependent', () => {
  it.each([
    ['a microphone on our 48 V', 'input iface.1 takes clip via y-lead\nhouse 1 takes clip', ['phantom']],
    ['a microphone on theirs', 'input iface.1 takes clip via transformer-split.iso\nhouse 1 takes clip', []],
    ['the sides of a split the wrong way round', 'input iface.1 takes clip via split.1\nhouse 1 takes clip via split.iso1', ['phantom']],
    ['an active DI on our 48 V', 'input iface.1 takes lute via active-di, y-lead\nhouse 1 takes lute', ['phantom']],
    [
      'an active DI of ours on their 48 V',
      'gear di is active-di\ninput iface.1 takes lute via di.thru, passive-di\nhouse 1 takes lute via di.out',
      [],
    ],
    ['a battery', 'gear di is battery-di\ninput iface.1 takes lute via di.thru, passive-di\nhouse 1 takes lute via di.out', ['power']],
    [
      'electronics on our side only',
      'gear di is battery-di\ninput iface.1 takes lute via di.out\nhouse 1 takes lute via di.thru, their-di',
      [],
    ],
    ['the mains', 'gear ps is mains-split\ninput iface.1 takes horn via ps.a\nhouse 1 takes horn via ps.b', ['power']],
    ['electronics of theirs', 'gear ps is mains-split theirs\ninput iface.1 takes horn via ps.a\nhouse 1 takes horn via ps.b', []],
    ['their fresh DI', 'input iface.1 takes lute via passive-di.out\nhouse 1 takes lute via their-di', []],
    ['what our line ends at', 'gear pre is direct-preamp\ninput pre.1 takes horn\nhouse 1 takes horn via pre.out1', ['device']],
    ['a mix', 'mix fx mono for house { horn 0 dB }\ninput iface.5 takes horn\noutput iface.1 carries fx\nhouse 1 takes fx', []],
  ])('%s', async (_, runs, causes) => {
    expect(causesOf(await checkedOf(HEAD + runs), '1')).toEqual(causes);
  });

  it('leaves a line alone that cannot be followed', async () => {
    const checked = await checkedOf(`${HEAD}input iface.1 takes horn\nhouse 1 takes horn\nhouse 2\nhouse 3 takes nobody`);
    expect(checked.impact.lines).toEqual([]);
    expect(codes(checked, 'house/replugged')).toEqual([]);
  });
});

async function cures(bench: Bench, code: string): Promise<CodeAction[]> {
  const located = bench.analysis().located.find(({ finding }) => finding.code === code);
  if (!located) throw new Error(`${code} is not found`);
  const diagnostic = diagnosticOf(located);
  const actions = await bench.services.lsp.CodeActionProvider?.getCodeActions(bench.document, {
    textDocument: { uri: bench.document.uri.toString() },
    range: diagnostic.range,
    context: { diagnostics: [diagnostic] },
  });
  return ((actions ?? []) as CodeAction[]).filter(({ title }) => !title.startsWith('Allow this here'));
}

describe('cures', () => {
  it.each([
    [
      'our 48 V by a Y-lead',
      'house/dependent',
      'input iface.1 takes clip via y-lead\nhouse 1 takes clip',
      {
        'Go through split.iso1 instead of y-lead': 'input iface.1 takes clip via split.iso1',
        'Go through transformer-split.iso instead of y-lead': 'input iface.1 takes clip via transformer-split.iso',
        'Switch phantom power off at Interface input 1': 'input iface.1 takes clip via y-lead phantom off',
      },
    ],
    [
      'our 48 V, and something else on the switch',
      'house/dependent',
      'input iface.1 takes clip via y-lead\ninput iface.2 takes reed\nhouse 1 takes clip',
      {
        'Go through split.iso1 instead of y-lead': 'input iface.1 takes clip via split.iso1',
        'Go through transformer-split.iso instead of y-lead': 'input iface.1 takes clip via transformer-split.iso',
      },
    ],
    [
      'the sides of a split the wrong way round',
      'house/dependent',
      'input iface.1 takes clip via split.1\nhouse 1 takes clip via split.iso1',
      {
        'Go through split.iso1 instead of split.1 and go through split.1 instead of split.iso1':
          'input iface.1 takes clip via split.iso1\nhouse 1 takes clip via split.1',
      },
    ],
    [
      'a split on the mains',
      'house/dependent',
      'input iface.1 takes horn via mains-split\nhouse 1 takes horn',
      { 'Go through split.iso1 instead of mains-split': undefined, 'Go through transformer-split.iso instead of mains-split': undefined },
    ],
    [
      'a preamp of ours',
      'house/dependent',
      'gear pre "Preamp" is direct-preamp\ninput pre.1 takes horn\nhouse 1 takes horn via pre.out1',
      {
        'Take Preamp out of house 1 and put Split iso1 into Preamp input 1': 'input pre.1 takes horn via split.iso1\nhouse 1 takes horn',
        'Take Preamp out of house 1 and put a Transformer split into Preamp input 1':
          'input pre.1 takes horn via transformer-split.iso\nhouse 1 takes horn',
      },
    ],
    [
      'a split that a receiver does not need',
      'house/replugged',
      'source voice is wireless-mic\ngear y "Y-lead" is y-lead\ninput iface.1 takes voice via y.1\nhouse 1 takes voice via y.2',
      {
        'Take voice.jack, take Y-lead out of Interface input 1 and take Y-lead out of house 1':
          'input iface.1 takes voice.jack\nhouse 1 takes voice',
      },
    ],
  ] as const)('%s', async (_, code, runs, offers) => {
    // On one mains, so that no cure is kept back for the hum that it may bring.
    const bench = await open(HEAD.replace('"Copper Wren"', '"Copper Wren" mains shared') + runs);
    const actions = await cures(bench, code);
    expect(actions.map(({ title }) => title)).toEqual(Object.keys(offers));
    for (const action of actions) {
      const text = applied(bench, action.edit)['rig.rig'] as string;
      const lines = (offers as Readonly<Record<string, string | undefined>>)[action.title];
      if (lines !== undefined) expect(text.replace(/ +/g, ' ')).toContain(lines);
      const after = await checkedOf(text);
      expect(codes(after, code), action.title).toEqual([]);
      expect(after.impact.lines.map(({ how }) => how)).not.toContain('dependent');
    }
  });

  it('a split that is the house’s own is no re-plugging', async () => {
    const runs = 'input iface.1 takes clip via split.iso1\nhouse 1 takes clip via split.1';
    expect(codes(await checkedOf(HEAD + runs), 'house/replugged')).toHaveLength(1);
    const theirs = await checkedOf(HEAD.replace('is shared-split', 'is shared-split theirs') + runs);
    expect(codes(theirs, 'house/replugged')).toEqual([]);
    expect(lineOf(theirs, '1')).toMatchObject({ how: 'isolated', replugged: false });
  });

  it('a rig with nothing but that note has nothing wrong, and says so', async () => {
    const { checked, located } = await analyse(join(import.meta.dirname, '../../examples/first.rig'));
    expect(located.map(({ finding }) => finding.code)).toEqual(['house/replugged']);
    const sheet = checked && renderSheet(patchSheet(checked), 'text');
    expect(sheet).toContain('Nothing found wrong, 1 note.');
    expect(sheet).toContain('Two of the house’s three lines are re-plugged for us: ');
  });
});
