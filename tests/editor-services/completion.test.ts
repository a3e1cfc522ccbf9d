/** Completion: what is proposed at `<|>`, and what comes first. */
import { readFileSync } from 'node:fs';
import type { IToken } from 'chevrotain';
import type { CstNode } from 'langium';
import { describe, expect, it } from 'vitest';
import type { CompletionItem, TextEdit } from 'vscode-languageserver';
import type { RigFile } from '../../packages/language/generated/ast';
import { applyTo, type Bench, open } from './bench';

const tour = readFileSync(new URL('../checks/tour.rig', import.meta.url), 'utf8').replace(/^ *#.*\n/gm, '');
const shelf = readFileSync(new URL('../checks/gear/our-shelf.rig', import.meta.url), 'utf8');

async function items(bench: Bench, trigger?: string): Promise<CompletionItem[]> {
  const list = await bench.services.lsp.CompletionProvider?.getCompletion(bench.document, {
    textDocument: { uri: bench.document.uri.toString() },
    position: bench.position,
    context: trigger === undefined ? undefined : { triggerKind: 2, triggerCharacter: trigger },
  });
  return [...(list?.items ?? [])].sort((a, b) => ((a.sortText ?? '') < (b.sortText ?? '') ? -1 : 1));
}

/** A place for the caret in what is inserted. */
const hole = (index: number, text: string) => `\${${index}:${text}}`;

/** A small rig to write in: two sources that are plugged in, two that are not; one performer without a mix. */
const RIG = `rig "Copper Wren"
performer ana "Ana"
performer brik "Brik"
performer cleo "Cleo"
source voice "Voice" is dynamic-mic by ana
source gurdy "Hurdy-gurdy" is modeller by brik
source drum "Frame drum" is clip-on-mic by cleo
source tracks "Tracks" is computer-channel
source click "Click" is click-channel
gear iface "Interface" is interface-4
gear tx "Transmitter" is in-ear-transmitter
gear pack-a "Ana's pack" is belt-pack for ana hears tx.left
gear di-1 "DI" is passive-di
input iface.1 takes voice
input iface.3 takes gurdy.jack
house 1 takes gurdy.main
mix ana mono for ana { voice 0 dB }
mix for-house mono for house { tracks 0 dB }
output iface.1 carries ana via tx.left
`;

interface Case {
  /** A line that is added to the rig, or a whole rig of its own. */
  readonly line?: string;
  readonly files?: Readonly<Record<string, string>>;
  /** What comes first, in this order. */
  readonly first?: readonly string[];
  readonly has?: readonly string[];
  readonly not?: readonly string[];
  /** What stands beside a label. */
  readonly detail?: Readonly<Record<string, RegExp>>;
  /** The line once the first proposal is taken, with its holes as `${1:…}`. */
  readonly becomes?: string;
  readonly only?: readonly string[];
}

const CASES: Readonly<Record<string, Case>> = {
  'sources that are plugged in nowhere, and fit this input': {
    line: 'input iface.2 takes <|>',
    first: ['drum'],
    has: ['voice', 'gurdy'],
    detail: { drum: /not plugged in/, voice: /already on Interface/ },
  },
  'which output of a player is for the band alone': { line: 'source tape is stereo-playback private <|>', has: ['left', 'right', 'by'] },
  'sources for a playback channel': { line: 'input iface.usb1 takes <|>', first: ['tracks', 'click'] },
  'free ports before taken ones': {
    line: 'input iface.<|>',
    first: ['2', '4'],
    has: ['1', 'usb1'],
    not: ['phones'],
    detail: { '2': /mic, instrument or line, free/, '1': /takes Voice/ },
  },
  'ports that fit what is taken further on': {
    line: 'input iface.<|> takes drum',
    first: ['2'],
    detail: { '4': /free, needs a microphone input: /, usb1: /nothing joins the two/ },
  },
  'ports that fit what comes out of the steps': { line: 'input iface.<|> takes drum via transformer-split', first: ['2'] },
  'ports that need a pad, saying by how much': {
    files: {
      'rig.rig': `rig "X"
model hot-mic is dynamic-mic {
  output out xlr mic impedance 150 ohm sensitivity 20 mV/Pa max 150 dB SPL
}
model box is interface-4 {
  input 1 xlr mic impedance 2 kohm max 0 dBu gain 0..40 dB
  input 2 xlr mic impedance 2 kohm max 26 dBu gain 0..60 dB
}
source kick "Kick" is hot-mic typical 125 dB SPL peak 148 dB SPL
gear iface "Interface" is box
input iface.<|> takes kick`,
    },
    first: ['2', '1'],
    // 20 mV/Pa at 148 dB SPL, 54.02 dB over 1 Pa: 20 log10(0.02 / 0.7746) + 54.02 = 22.3 dBu; 2 kohm on 150 ohm take 0.6 dB.
    detail: { '1': /needs a pad: 21\.\d dB too hot|21\.\d dB too hot/, '2': /^mic, free$/ },
  },
  'a microphone that needs phantom power, on a port that has none': {
    files: {
      'rig.rig': `rig "X"
model box is interface-4 {
  input 1 xlr mic impedance 2 kohm max 10 dBu gain 0..60 dB
  input 2 xlr mic impedance 2 kohm max 10 dBu gain 0..60 dB phantom each
}
source over "Overhead" is condenser-mic
gear iface "Interface" is box
input iface.<|> takes over`,
    },
    first: ['2', '1'],
    detail: { '1': /no phantom power here/ },
  },
  'an adapter where the plugs differ': {
    files: {
      'rig.rig': `rig "X"
model box is interface-4 { input 1 trs line impedance 10 kohm max 20 dBu gain -10..12 dB  input 2 xlr line impedance 10 kohm max 20 dBu gain -10..12 dB }
source lectern "Lectern" is house-feed
gear iface "Interface" is box
input iface.<|> takes lectern`,
    },
    first: ['2', '1'],
    detail: { '1': /adapter XLR to jack/ },
  },
  'a source that the house has already, and the same through a split': {
    line: 'house 3 takes drum\ninput iface.2 takes <|>',
    first: ['drum', 'drum via y-lead'],
    detail: { drum: /needs a split: taken by house 3/, voice: /already on Interface/ },
  },
  'no second split where there is one': {
    line: 'house 3 takes drum\ninput iface.2 takes <|> via transformer-split',
    first: ['drum'],
    not: ['drum via y-lead'],
  },
  'a DI for an instrument into a microphone input': {
    files: {
      'rig.rig': `rig "X"
model box is interface-4 { input 1..2 xlr mic impedance 2 kohm max 2 dBu gain 0..55 dB phantom each }
source bass "Bass" is magnetic-pickup
gear iface "Interface" is box
input iface.1 takes bass via <|>`,
    },
    first: ['passive-di', 'active-di'],
    detail: { 'passive-di': /cures: an instrument into a microphone input/ },
  },
  'the free leg of a split that the house goes through': {
    line: 'gear stage-split "Split" is shared-split\nhouse 4 takes drum via stage-split.5\ninput iface.2 takes drum via <|>',
    first: ['stage-split.iso5'],
  },
  'its own legs first inside such a split': {
    line: 'gear stage-split "Split" is shared-split\nhouse 4 takes drum via stage-split.5\ninput iface.2 takes drum via stage-split.<|>',
    first: ['iso5'],
  },
  'the DI that a source goes through already, on the way to the house': {
    line: 'source bass "Bass" is magnetic-pickup\ninput iface.2 takes bass via di-1\nhouse 5 takes bass via <|>',
    first: ['di-1', 'their-di'],
  },
  'the transmitter that the listener hears': { line: 'output iface.2 carries ana via <|>', first: ['tx'] },
  'a DI for a mix to the house': { line: 'output iface.2 carries for-house via <|>', first: ['di-1', 'passive-di'] },
  'phantom power at an input': { line: 'input iface.2 takes drum phantom <|>', only: ['on', 'off'] },
  'what an input may say': { line: 'input iface.2 takes drum <|>', has: ['phantom', 'gain', 'pad', 'via'] },
  'the house’s sockets': { line: 'house at 1 m, 1 m is <|>', first: ['stage-box'], not: ['earphones', 'y-lead'] },
  'the plugs of leads that there are': { files: { 'rig.rig': 'rig "X" leads 6 <|>' }, has: ['xlr', 'trs', 'mini-trs'] },
  'the other plug, or how long': { files: { 'rig.rig': 'rig "X" leads 6 xlr <|>' }, has: ['trs', 'ts'] },
  'one mains for all': { files: { 'rig.rig': 'rig "X" mains <|>' }, only: ['shared'] },
  'what a source may say of its sound': { line: 'source x is dynamic-mic <|>', has: ['highest', 'lowest', 'typical'] },
  'a pickup’s winding': { line: 'model m { output a ts instrument <|>', has: ['inductance', 'capacitance', 'floating'] },
  'one kind of balance': { line: 'model m { output a trs line balanced <|>', not: ['floating', 'unbalanced'] },
  'a unit typed without a space': {
    line: 'input iface.2 takes drum gain 34d<|>',
    only: ['dB'],
    becomes: 'input iface.2 takes drum gain 34 dB',
  },
  'megahertz for a transmitter': { line: 'gear y is in-ear-transmitter on 863.3 <|>', first: ['MHz'] },
  'minutes for the set': { files: { 'rig.rig': 'rig "X" set 60 <|>' }, first: ['min'] },
  'ohms for an output': { line: 'model m { output a xlr mic impedance 150 <|>', first: ['ohm'] },
  'kilohms for an input': { line: 'model m { input a xlr mic impedance 2 <|>', first: ['kohm'] },
  'volts for what gives no sound pressure': { line: 'source x is modeller peak 4 <|>', first: ['dBu'] },
  'feet where the rig is in feet': {
    files: { 'rig.rig': 'rig "X" stage 20 ft by 12 ft\nperformer x at 1 <|>' },
    first: ['ft'],
  },
  'the money of the budget': { files: { 'rig.rig': 'rig "X" budget 50 GBP\ngear x is y-lead buy 9 <|>' }, first: ['GBP'] },
  'nothing inside a number': { line: 'input iface.2 takes drum gain 3<|>4 dB', only: [] },
  'ports of a model that are named by a range': {
    files: { 'rig.rig': 'model box {\n  input 1..2 <|>\n}' },
    has: ['combo', 'xlr'],
    not: ['via', 'pad'],
  },
  'the house’s desk behind our own, and none of its boxes': {
    line: 'gear mon "Monitor desk" is interface-8-mic theirs\ngear box "Their DI" is passive-di theirs\noutput <|>',
    first: ['iface', 'mon'],
    not: ['box'],
  },
  'a pack for who has none': { line: '<|>', has: ['gear for'] },
  'its own port is free while it is written': { line: 'input iface.<|>2 takes drum', first: ['2'] },
  'gear to plug into, with its dot': { line: 'input <|>', first: ['iface'], not: ['pack-a', 'voice'], becomes: 'input iface.' },
  'splits before what does not mate': {
    line: 'input iface.2 takes drum via <|>',
    first: ['y-lead', 'transformer-split'],
    not: ['interface-4', 'in-ear-transmitter', 'iface', 'dynamic-mic', 'pack-a'],
  },
  'a step after a step': { line: 'input iface.2 takes drum via y-lead, <|>', has: ['pad-20'] },
  'the legs of a split, with what makes them': {
    line: 'input iface.2 takes drum via transformer-split.<|>',
    first: ['direct', 'iso'],
    detail: { iso: /output.*transformer 1:1/ },
  },
  'a socket for earphones that nobody has yet before one where another mix comes in': {
    line: `gear hp is headphone-amp-4
mix brik mono for brik { gurdy 0 dB }
output iface.2 carries brik via hp.left1
output iface.3 carries ana via hp.<|>`,
    first: ['phones2'],
    detail: { phones1: /takes brik/, phones2: /free/ },
  },
  'the sides of a transmitter, the free one first': {
    line: 'output iface.2 carries ana via tx.<|>',
    first: ['right', 'left'],
    detail: { left: /takes ana/, right: /free/ },
  },
  'outputs of a source': { line: 'house 2 takes gurdy.<|>', has: ['main', 'jack'] },
  'things that only give, for a source': {
    line: 'source x is <|>',
    first: ['dynamic-mic'],
    has: ['modeller', 'computer-channel', 'wireless-mic'],
    not: ['interface-4', 'passive-di', 'microphone', 'belt-pack'],
  },
  'the rest, for gear': {
    line: 'gear x is <|>',
    first: ['interface-2'],
    has: ['belt-pack', 'passive-di', 'y-lead'],
    not: ['interface', 'microphone'],
  },
  'earphones for ears': { line: 'performer x ears <|>', only: ['earphones', 'headphones'] },
  'models of our own before the library': {
    files: { 'rig.rig': 'use "shelf.rig"\ngear x is <|>', 'shelf.rig': 'model zebra-box is interface-2' },
    first: ['zebra-box', 'interface-2'],
  },
  'anything to make a model from, but itself': { line: 'model mine is <|>', has: ['interface', 'dynamic-mic', 'y-lead'], not: ['mine'] },
  'people who have no pack first': {
    line: 'gear p is belt-pack for <|>',
    first: ['brik', 'cleo', 'ana'],
    detail: { ana: /has Ana's pack/ },
  },
  'people who have no mix first, then the house': { line: 'mix m mono for <|>', first: ['brik', 'cleo', 'ana', 'house'] },
  'nobody twice': { line: 'mix m mono for brik, <|>', first: ['cleo', 'ana'], not: ['brik'] },
  'people to play': { line: 'source x is dynamic-mic by <|>', only: ['ana', 'brik', 'cleo'] },
  'transmitters for a pack': {
    line: 'gear p is belt-pack for brik hears <|>',
    only: ['tx'],
    becomes: 'gear p is belt-pack for brik hears tx.',
  },
  'the sides that a pack can hear, with what is on them': {
    line: 'gear p is belt-pack for ana hears tx.<|>',
    first: ['left', 'right'],
    detail: { left: /carries ana/, right: /nothing is sent/ },
  },
  'sources for a mix: plugged in, and not in it yet': {
    line: 'mix brik mono for brik { voice 0 dB <|>',
    first: ['gurdy'],
    has: ['drum'],
    not: ['voice'],
    detail: { drum: /not plugged in/ },
    becomes: `mix brik mono for brik { voice 0 dB gurdy 0 dB`,
  },
  'sources behind the cursor count too': { line: 'mix brik mono for brik { <|> voice 0 dB }', first: ['gurdy'], not: ['voice'] },
  'only the name where the level is there': {
    line: 'mix brik mono for brik { gu<|> 0 dB }',
    becomes: 'mix brik mono for brik { gurdy 0 dB }',
    first: ['gurdy'],
  },
  'no click for the audience': { line: 'mix h mono for house { <|>', has: ['voice'], not: ['click'] },
  'no click on a house line': { line: 'house 2 takes <|>', first: ['for-house', 'voice'], not: ['click', 'ana'] },
  'mixes that do not leave yet': {
    line: 'output iface.2 carries <|>',
    first: ['for-house', 'ana'],
    detail: { 'for-house': /does not leave yet/ },
  },
  'a pair of outputs for a stereo mix': {
    files: { 'rig.rig': `${RIG}mix wide stereo for brik { }\noutput iface.<|> carries wide` },
    first: ['3..4', 'phones', '2'],
  },
  'a name for a mix: who has none': { line: 'mix <|>', only: ['brik', 'cleo'] },
  'inputs of the model for a tie': { line: 'model m { input a, b xlr output out xlr from <|>', only: ['a', 'b'] },
  connectors: { line: 'model m { input a <|>', has: ['xlr', 'combo', 'mini-trs', 'mic', 'line'] },
  'figures of a mode that are not said yet': {
    line: 'model m { input a xlr mic impedance 2 kohm <|>',
    has: ['max', 'gain', 'phantom', 'origin', 'output'],
    not: ['impedance'],
  },
  'the units of a length': { line: 'performer x at 1 <|>', only: ['m', 'cm', 'mm', 'ft', 'in'] },
  'the units of how loud it is': { line: 'source x is dynamic-mic peak 120 <|>', only: ['dB SPL', 'dBu', 'dBV'] },
  'a unit straight behind its number': { line: 'mix m mono { voice -3<|> }', only: ['dB'], becomes: 'mix m mono { voice -3 dB }' },
  'a unit that is begun': {
    line: 'source x is dynamic-mic peak 120 dB S<|>',
    first: ['dB SPL'],
    becomes: 'source x is dynamic-mic peak 120 dB SPL',
  },
  'a unit with a slash in it': {
    line: 'model m { output a xlr mic sensitivity 1.8 mV/<|>',
    first: ['mV/Pa'],
    becomes: 'model m { output a xlr mic sensitivity 1.8 mV/Pa',
  },
  'the rest of a unit of two words, in a place that takes it': {
    line: 'source x is dynamic-mic typical 98 dB <|>',
    first: ['SPL'],
    becomes: 'source x is dynamic-mic typical 98 dB SPL',
  },
  'no rest where the unit is whole': { line: 'input iface.2 takes drum gain 12 dB <|>', not: ['SPL'], has: ['phantom'] },
  'a figure with its unit: where it stands': { line: 'performer x at <|>', only: ['0 m'], becomes: 'performer x at 0 m' },
  'a figure for the other way': { line: 'performer x at 1 m, <|>', only: ['2 m'] },
  'a figure in the unit that the rig uses': {
    files: { 'rig.rig': 'rig "X" stage 20 ft by 12 ft\nperformer x at <|>' },
    only: ['0 ft'],
  },
  'a figure: how loud a voice is': { line: 'source x is dynamic-mic typical <|>', only: ['100 dB SPL'] },
  'a figure: how loud what is no microphone': { line: 'source x is modeller typical <|>', only: ['0 dBu'] },
  'a figure: the level of a send': { line: 'mix m mono { voice <|>', has: ['0 dB'] },
  'a figure: the rate': { files: { 'rig.rig': 'rig "X" rate <|>' }, only: ['48 kHz'] },
  'no frequency that somebody might take for allowed': { line: 'gear y is in-ear-transmitter on <|>', only: [] },
  'no figure where one is there': { line: 'input iface.2 takes drum gain <|>12 dB', only: [] },
  'no list behind the dot of a number: of a place': { line: 'performer x at 1 m, 1.<|>', only: [] },
  'no list behind the dot of a number: of a second place': { line: 'gear x is y-lead at 2.<|>', only: [] },
  'no list behind the dot of a number: of a level': { line: 'source x is dynamic-mic typical 92.<|>', only: [] },
  'no list behind the dot of a number: of a gain': { line: 'input iface.2 takes drum gain 2.<|>', only: [] },
  'no list behind the dot of a number: of a send': { line: 'mix m mono { voice -2.<|> }', only: [] },
  'no list behind the dot of a number: of a house line': { line: 'house at 4.<|>', only: [] },
  'sockets behind the dot of a name that ends in a figure': {
    line: 'gear di2 "DI 2" is passive-di\ninput iface.2 takes gurdy.jack via di2.<|>',
    has: ['out'],
  },
  'no unit where it follows: metres': { line: 'performer x at 1 m, 1.5<|> m', only: [] },
  'no unit where it follows: decibels': { line: 'mix m mono { voice -2<|> dB }', only: [] },
  'no unit where it follows: megahertz': { line: 'gear y is in-ear-transmitter on 863.3<|> MHz', only: [] },
  'no unit where it follows: the first of its words': { line: 'source x is dynamic-mic typical 98<|> dB SPL', only: [] },
  'no unit where it follows: a share': { line: 'mix m stereo { voice -3 dB left 20<|> % }', only: [] },
  'no figure where its unit follows': { line: 'performer x at <|> m', only: [] },
  'a unit where a clause follows': { line: 'performer x at 1 m, 1.5<|> ears earphones', first: ['m'] },
  'the block of a mix': {
    line: 'mix brik mono for brik <|>',
    has: ['{ }'],
  },
  'a share': { line: 'mix m stereo { voice -3 dB left 20 <|>', only: ['%'] },
  'the currency of a price': { line: 'gear x is y-lead buy 25 <|>', has: ['EUR', 'USD'] },
  'statements at the margin, filled in for this rig': { line: '<|>', has: ['input', 'output', 'mix', 'gear'], detail: {} },
  'an input for the first source that waits': { line: 'inp<|>', has: ['input'], first: ['use'] },
  'clauses that are still missing': {
    line: 'source x is dynamic-mic by ana <|>',
    has: ['at', 'peak', 'owned', 'must'],
    not: ['by', 'is', 'via', 'source'],
  },
  'one way of having it': { line: 'gear x is y-lead owned <|>', has: ['at', 'for'], not: ['buy', 'borrowed', 'owned'] },
  'clauses behind the cursor count too': { line: 'source x is dynamic-mic <|> by ana', has: ['peak'], not: ['by'] },
  'the word that has to come': { line: 'input iface.2 <|>', only: ['takes'] },
  'what a house line says': { line: 'house 3 "X" <|>', only: ['takes', 'own'] },
  'statements at the margin, and not what the line above could go on with': {
    line: 'source x is dynamic-mic\n<|>',
    first: ['use'],
    has: ['performer', 'source'],
    not: ['by', 'peak', 'private'],
  },
  'the same with its first letter': { line: 'source x is dynamic-mic\np<|>', has: ['performer'], not: ['peak', 'private'] },
  'what the line above goes on with, set in': { line: 'source x is dynamic-mic\n  <|>', first: ['or', 'by'], has: ['peak', 'source'] },
  'what a line that is not whole has to go on with, at the margin as well': { line: 'source x\n<|>', has: ['is', 'source'] },
  'what a rig says of the whole, at the margin as well': { files: { 'rig.rig': 'rig "X"\n<|>' }, first: ['use'], has: ['region', 'rate'] },
  'clauses of the whole, on a line of their own': {
    files: { 'rig.rig': 'rig "X"\n  rate 48 kHz\n  <|>' },
    first: ['region'],
    has: ['stage', 'input'],
    not: ['rate'],
  },
  'a name with a hyphen, from inside': {
    line: 'input iface.2 takes drum via transf<|>ormer-split',
    becomes: 'input iface.2 takes drum via y-lead',
    first: ['y-lead'],
  },
  'files of the workspace': {
    files: { 'rig.rig': 'use "<|>"', 'gear/shelf.rig': '', 'other.rig': '' },
    only: ['other.rig', 'gear/shelf.rig'],
    becomes: 'use "other.rig"',
  },
  'files, with their quotes': { files: { 'rig.rig': 'use <|>', 'shelf.rig': '' }, only: ['shelf.rig'], becomes: 'use "shelf.rig"' },
  'files upwards': { files: { 'gear/shelf.rig': 'use "../<|>', 'rig.rig': '' }, only: ['../rig.rig'], becomes: 'use "../rig.rig"' },
  'nothing in a comment': { line: 'input iface.2 takes drum # via <|>', only: [] },
  'nothing in a label': { line: 'source x "Le<|>ad" is dynamic-mic', only: [] },
  'nothing for a new name': { line: 'source <|>', only: [] },
  'what fits after a mistake in the same statement': { line: 'source x by by ana <|>', has: ['peak'] },
  'a send after a mistake in the same mix': { line: 'mix m mono for brik { voice dB voice -3 dB <|> }', has: ['gurdy'] },
  'the next statement after an unfinished one': { line: 'mix m mono for brik { voice 0 dB\n<|>', has: ['output', 'gurdy'] },
};

describe('proposals', () => {
  it.each(Object.entries(CASES))('%s', async (_, { line, files, first, has, not, only, detail, becomes }) => {
    const bench = await open(files ?? { 'rig.rig': `${RIG}${line}` });
    const proposed = await items(bench);
    const labels = proposed.map((item) => item.label);
    if (first) expect(labels.slice(0, first.length)).toEqual(first);
    for (const label of has ?? []) expect(labels).toContain(label);
    for (const label of not ?? []) expect(labels).not.toContain(label);
    if (only) expect([...labels].sort()).toEqual([...only].sort());
    for (const [label, says] of Object.entries(detail ?? {})) expect(proposed.find((item) => item.label === label)?.detail).toMatch(says);
    if (becomes !== undefined) {
      const after = applyTo(bench.document.textDocument, [proposed[0]?.textEdit as TextEdit]);
      expect(after.split('\n').at(-1)).toBe(becomes);
    }
  });

  it('sets a statement at the margin where the line is set in', async () => {
    const bench = await open(`${RIG}  mi<|>`);
    const mix = (await items(bench)).find(({ label }) => label === 'mix');
    const after = applyTo(bench.document.textDocument, [...(mix?.additionalTextEdits ?? []), mix?.textEdit as TextEdit]);
    expect(after.split('\n').at(-1)).toMatch(/^mix \$/);
  });

  it('fills statements in with what this rig needs next', async () => {
    const proposed = await items(await open(`${RIG}<|>`));
    const text = (label: string) => (proposed.find((item) => item.label === label)?.textEdit as TextEdit | undefined)?.newText;
    expect(text('input')).toBe(`input ${hole(1, 'iface.2')} takes ${hole(2, 'drum')}`);
    expect(text('output')).toBe(`output ${hole(1, 'iface.2')} carries ${hole(2, 'for-house')}`);
    expect(text('mix')).toBe(
      `mix ${hole(1, 'brik')} \${2|mono,stereo|} for ${hole(3, 'brik')} { ${hole(4, 'gurdy')} ${hole(5, '0')} dB$0 }`,
    );
    expect(text('house')).toBe(`house ${hole(1, '2')} "${hole(2, 'Label')}" takes $3`);
  });

  it('gives what it fills in names that nothing else has', async () => {
    const taken = `rig "X"\nperformer performer-1\nsource source-1 is dynamic-mic\nmix mix-1 mono for performer-1 { source-1 0 dB }\n`;
    const names: string[] = [];
    let text = taken;
    for (const word of ['source', 'gear', 'performer', 'mix', 'source']) {
      const proposed = await items(await open(`${text}<|>`));
      const made = (proposed.find(({ label }) => label === word)?.textEdit as TextEdit | undefined)?.newText ?? '';
      const [, name = ''] = /^\w+ \$\{1:([^}]*)\}/.exec(made) ?? [];
      names.push(name);
      text += `${withoutHoles(made).replace(/is $/, word === 'gear' ? 'is interface-4' : 'is dynamic-mic')}\n`;
    }
    expect(names).toEqual(['source-2', 'gear-1', 'performer-2', 'performer-2', 'source-3']);
    const { located } = (await open(text)).analysis();
    expect(located.map(({ finding }) => finding.code).filter((code) => code.startsWith('names/'))).toEqual([]);
  });

  it('brings the files up inside the quotes that it writes', async () => {
    const use = (await items(await open(`${RIG}<|>`))).find(({ label }) => label === 'use');
    expect(use?.command?.command).toBe('editor.action.triggerSuggest');
  });

  it('offers a whole rig, and a model with its figures, where nothing is written yet', async () => {
    const bench = await open('<|>');
    const proposed = await items(bench);
    const whole = proposed.find(({ label }) => label === 'first rig');
    const rig = await open((whole?.textEdit as TextEdit | undefined)?.newText ?? '');
    expect(
      rig
        .analysis()
        .located.filter(({ finding }) => finding.severity !== 'note')
        .map(({ finding }) => finding.code),
    ).toEqual([]);
    expect(rig.analysis().lowered.rig.inputs.length).toBeGreaterThan(1);
    const model = proposed.find(({ label }) => label === 'model');
    const made = await open(withoutHoles((model?.textEdit as TextEdit | undefined)?.newText ?? ''));
    expect(made.analysis().document.textDocument.getText()).toContain('origin');
    expect(made.analysis().located.map(({ finding }) => finding.code)).toEqual([]);
    expect((await items(await open(`${RIG}<|>`))).map(({ label }) => label)).not.toContain('first rig');
  });

  it.each([
    ['input<|> iface.2 takes drum', 'input'],
    ['per<|> m', 'performer'],
    ['input iface.2 ta<|> drum', 'takes'],
  ])('puts the bare word where more stands behind it, and the caret behind the blank: %s', async (line, word) => {
    const bench = await open(`${RIG}${line}`);
    const edit = (await items(bench)).find(({ label }) => label === word)?.textEdit as TextEdit | undefined;
    expect(edit?.newText).toBe(`${word} `);
    expect(edit?.range.end.character).toBe(bench.position.character + 1);
  });

  it('tells where the figures of a model are from, with its cautions', async () => {
    const proposed = await items(await open(`${RIG}gear x is <|>`));
    const documentation = (label: string) =>
      (proposed.find((item) => item.label === label)?.documentation as { value: string } | undefined)?.value ?? '';
    expect(documentation('active-di')).toContain('Figures: from memory: inputs from 0.25 to 10 Mohm');
    expect(documentation('stage-amp')).toContain('CAUTION: its speaker output is for its own cabinet alone');
  });

  it('keeps quiet when a space is typed where the sentence can end', async () => {
    expect(await items(await open(`${RIG}input iface.2 takes drum <|>`), ' ')).toEqual([]);
    expect(await items(await open(`${RIG}mix brik mono for brik { voice 0 dB <|>`), ' ')).toEqual([]);
    expect((await items(await open(`${RIG}input iface.2 takes <|>`), ' ')).length).toBeGreaterThan(0);
  });

  it('speaks up when a space is typed where something is still missing', async () => {
    const first = async (line: string) => (await items(await open(`${RIG}${line}`), ' '))[0]?.label;
    expect(await first('source x is dynamic-mic typical 98 dB <|>')).toBe('SPL');
    expect(await first('mix brik mono for brik <|>')).toBe('{ }');
    expect(await first('mix brik mono for brik { <|>')).toBe('gurdy');
    expect(await first('mix brik mono for brik { <|> }')).toBe('gurdy');
    expect(await first('performer x at <|>')).toBe('0 m');
  });

  it('writes plain text for an editor that knows no snippets', async () => {
    const bench = await open(`${RIG}mix brik mono for brik { <|>`);
    // What the language server does at the start.
    await bench.services.shared.lsp.LanguageServer.initialize({ processId: null, rootUri: null, capabilities: {}, workspaceFolders: null });
    await bench.services.lsp.CompletionProvider?.getCompletion(bench.document, { textDocument: { uri: '' }, position: bench.position });
    const plain = (await items(bench)).map((item) => (item.textEdit as TextEdit).newText);
    expect(plain.join()).not.toContain('$');
  });
});

/** Where something is named for the first time, or where any word may stand. */
function isNew(tokens: readonly IToken[], index: number): boolean {
  const before = tokens[index - 1]?.image ?? '';
  if (['model', 'gear', 'performer', 'source', 'mix', 'country'].includes(before)) return true;
  const line = tokens.filter(({ startLine }, at) => at < index && startLine === tokens[index]?.startLine).map(({ image }) => image);
  // A model's own ports.
  return (
    (line[0] === 'input' || line[0] === 'output') &&
    line[2] !== '.' &&
    line.every((image, at) => at === 0 || /^(?:[,\w-]+|\.\.)$/.test(image)) &&
    (line.length === 1 || before === ',' || before === '..') &&
    !line.includes('from')
  );
}

function isWordOrPort(tokens: readonly IToken[], index: number): boolean {
  const image = tokens[index]?.image ?? '';
  const before = tokens[index - 1]?.image;
  if (before === '.') return true;
  return /^\p{L}/u.test(image) && before !== '/' && image !== 'SPL';
}

function isStep(tokens: readonly IToken[], index: number): boolean {
  const at = tokens.slice(0, index).findLastIndex(({ image }) => image === 'via');
  const between = at < 0 ? [] : tokens.slice(at + 1, index);
  const sameLine = tokens[at]?.startLine === tokens[index]?.startLine;
  return at >= 0 && sameLine && between.length % 2 === 0 && (between.length === 0 || between.at(-1)?.image === ',');
}

/** A snippet as it stands before anything is typed over. */
function withoutHoles(snippet: string): string {
  return snippet
    .replace(/\$\{\d+\|([^,|]*)[^}]*\|\}/g, '$1')
    .replace(/\$\{\d+:((?:\\.|[^}])*)\}/g, '$1')
    .replace(/\$\d+/g, '');
}

/** Line-ups that stand in no example. */
const MADE_UP: readonly string[] = [
  `rig "Velvet Anvil, two people and a bass clarinet" mains shared
performer oda "Oda"
performer piet "Piet"
source bassclar "Bass clarinet" is clip-on-mic by oda
source lute "Lute" is piezo-pickup by piet
gear iface "Interface" is interface-8-mic
input iface.1 takes bassclar via transformer-split.iso
input iface.5 takes lute via active-di
house 1 takes bassclar
house 2 takes lute
mix oda mono for oda { bassclar 0 dB }
output iface.1 carries oda via headphone-amp
`,
  `rig "Sugar Kiln, keys and a drum" mains shared
performer ida "Ida"
performer jon "Jon"
source keys "Keyboard" is stereo-keyboard by ida
source drum "Drum" is dynamic-mic by jon
gear iface "Interface" is interface-8-mic
gear keys-di "Keyboard DI" is stereo-di
gear tx "Transmitter" is in-ear-transmitter
gear pack-i "Ida's pack" is belt-pack for ida hears tx.left
gear pack-j "Jon's pack" is belt-pack for jon hears tx.right
input iface.1..2 takes keys via keys-di
input iface.5 takes drum via y-lead
house 3 takes drum
house 4 takes keys.left via their-di
house 5 takes keys.right via their-di
mix ida mono for ida { keys 0 dB }
mix jon mono for jon { drum 0 dB }
output iface.1 carries ida via tx.left
output iface.2 carries jon via tx.right
`,
  `rig "Four Kites, voices and a cello" mains shared
performer una "Una"
performer vik "Vik"
source una-v "Una" is dynamic-mic by una
source vik-v "Vik" is dynamic-mic by vik
source cello "Cello" is clip-on-mic by vik
source tracks "Tracks" is computer-channel
gear iface "Interface" is interface-8-mic
gear split "Split" is shared-split
gear wire "Una's pack" is wired-pack for una
input iface.1 takes cello via split.iso1
input iface.5 takes una-v via split.iso2
input iface.6 takes vik-v via split.iso3
input iface.usb1 takes tracks
house 1 takes cello via split.1
house 2 takes una-v via split.2
house 3 takes vik-v via split.3
house 4 takes out
mix una mono for una { una-v 0 dB }
mix out mono for house { tracks 0 dB }
output iface.3 carries una via wire
output iface.4 carries out via passive-di
`,
];

describe('in any text, at any place', () => {
  it('never stumbles, and proposes only what replaces the word at the cursor', async () => {
    const bench = await open({ 'tour.rig': tour, 'gear/our-shelf.rig': shelf });
    const { textDocument } = bench.document;
    for (let offset = 0; offset <= tour.length; offset++) {
      const position = textDocument.positionAt(offset);
      const list = await bench.services.lsp.CompletionProvider?.getCompletion(bench.document, { textDocument: { uri: '' }, position });
      for (const { textEdit } of list?.items.slice(0, 1) ?? []) {
        const { range } = textEdit as TextEdit;
        expect(range.start.line).toBe(position.line);
        expect(range.end.line).toBe(position.line);
        expect(range.start.character).toBeLessThanOrEqual(position.character);
        expect(range.end.character).toBeGreaterThanOrEqual(position.character);
      }
    }
  });

  const library = (name: string) => readFileSync(new URL(`../../packages/language/library/${name}.rig`, import.meta.url), 'utf8');
  const example = (name: string) => readFileSync(new URL(`../../examples/${name}.rig`, import.meta.url), 'utf8');
  const WHOLE: Readonly<Record<string, Readonly<Record<string, string>>>> = {
    'the tour': { 'tour.rig': tour, 'gear/our-shelf.rig': shelf },
    'a shelf': { 'shelf.rig': shelf },
    choir: { 'choir.rig': example('choir'), 'gear/hall-shelf.rig': example('gear/hall-shelf') },
    first: { 'first.rig': example('first') },
    ten: { 'ten.rig': example('ten') },
    street: { 'street.rig': example('street') },
    'the microphones of the library': { 'microphones.rig': library('microphones') },
    'the splits of the library': { 'splits.rig': library('splits') },
    'the interfaces of the library': { 'interfaces.rig': library('interfaces') },
  };

  it.each(Object.entries(WHOLE))('proposes every word that is there, and nothing twice: %s', async (_, files) => {
    const bench = await open(files);
    const text = bench.document.textDocument.getText();
    const { tokens } = bench.services.parser.Lexer.tokenize(text);
    let asked = 0;
    for (const [index, token] of tokens.entries()) {
      if (isNew(tokens, index) || !isWordOrPort(tokens, index)) continue;
      asked++;
      const labels = (await items({ ...bench, position: bench.document.textDocument.positionAt(token.startOffset) })).map(
        ({ label }) => label,
      );
      const where = `${text.slice(0, token.startOffset).split('\n').length}: ${token.image}`;
      // A pair of ports, a leg and a unit of two words begin with the word.
      expect(
        labels.map((label) => (label === token.image ? label : label.split(/[. /]/)[0])),
        where,
      ).toContain(token.image);
      expect(new Set(labels).size, where).toBe(labels.length);
    }
    expect(asked).toBeGreaterThan(30);
  });

  it.each(Object.entries(WHOLE))('breaks no other statement, whatever is taken: %s', async (_, files) => {
    const bench = await open(files);
    const { textDocument, parseResult } = bench.document;
    const text = textDocument.getText();
    const { Lexer, LangiumParser } = bench.services.parser;
    const statements = (parseResult.value as RigFile).statements.map(({ $cstNode }) => $cstNode as CstNode);
    let seed = 7;
    const pick = (below: number) => {
      seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
      return Math.floor((seed / 2_147_483_648) * below);
    };
    let taken = 0;
    for (const { startOffset } of Lexer.tokenize(text).tokens) {
      // Every boundary of a small rig is tried in time; of the large ones, a part.
      if (pick(text.length) > 2500) continue;
      const proposed = await items({ ...bench, position: textDocument.positionAt(startOffset) });
      const chosen = proposed[pick(proposed.length)];
      if (!chosen) continue;
      taken++;
      const edit = chosen.textEdit as TextEdit;
      const after = applyTo(textDocument, [{ ...edit, newText: withoutHoles(edit.newText) }]);
      const own = statements.find(({ offset, end }) => offset <= startOffset && startOffset < end);
      const others = statements.filter((each) => each !== own).map(({ text }) => text);
      const again = LangiumParser.parse<RigFile>(after);
      const left = again.value.statements.map(({ $cstNode }) => $cstNode?.text ?? '');
      for (const other of others) expect(left, `${chosen.label} at ${startOffset}`).toContain(other);
    }
    expect(taken).toBeGreaterThan(10);
  });

  it('has the step that was written among the first few', async () => {
    const ranks: number[] = [];
    for (const files of [WHOLE['the tour'], WHOLE.first, WHOLE.ten, WHOLE.choir, ...MADE_UP.map((text) => ({ 'rig.rig': text }))]) {
      const bench = await open(files ?? {});
      const { tokens } = bench.services.parser.Lexer.tokenize(bench.document.textDocument.getText());
      for (const [index, token] of tokens.entries()) {
        if (!isStep(tokens, index)) continue;
        const labels = (await items({ ...bench, position: bench.document.textDocument.positionAt(token.startOffset) })).map(
          ({ label }) => label,
        );
        ranks.push(labels.findIndex((label) => label === token.image || label.split('.')[0] === token.image));
      }
    }
    expect(ranks.length).toBeGreaterThan(40);
    const first = ranks.filter((rank) => rank === 0).length;
    expect(first / ranks.length).toBeGreaterThan(0.6);
    expect(ranks.filter((rank) => rank < 0 || rank > 5)).toEqual([]);
  });

  it('never stumbles over a text that breaks off', async () => {
    const bench = await open({ 'rig.rig': '', 'gear/our-shelf.rig': shelf });
    const whole = `${tour}\n${shelf}`;
    for (let offset = 3; offset < whole.length; offset += 13) {
      const document = await bench.add(`cut-${offset}.rig`, whole.slice(0, offset));
      const position = document.textDocument.positionAt(offset);
      await bench.services.lsp.CompletionProvider?.getCompletion(document, { textDocument: { uri: '' }, position });
    }
  });

  it('survives what makes no sense', async () => {
    const bench = await open('');
    const senseless = [
      '}}}{{',
      '. . ..',
      'input . takes',
      'mix { { }',
      'use "',
      '"""',
      'mix x { voice 1',
      'via via via ',
      'takes takes.',
      'model model { model',
      'house house ',
      'input input.input ',
      '\u0000\uFFFD',
      '# \n#',
      '😀 is 😀',
      'a.b.c.d',
      '12:1 ',
      '-',
      '−3',
      '+',
    ];
    for (const [index, text] of senseless.entries()) {
      const document = await bench.add(`${index}.rig`, text);
      for (let offset = 0; offset <= text.length; offset++) {
        await bench.services.lsp.CompletionProvider?.getCompletion(document, {
          textDocument: { uri: '' },
          position: document.textDocument.positionAt(offset),
        });
      }
    }
  });
});
