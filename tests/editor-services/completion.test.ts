/** Completion: what is proposed at `<|>`, and what comes first. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { CompletionItem, TextEdit } from 'vscode-languageserver';
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
    detail: { '4': /wrong kind for Frame drum/, usb1: /does not mate/ },
  },
  'ports that fit what comes out of the steps': { line: 'input iface.<|> takes drum via transformer-split', first: ['2'] },
  'its own port is free while it is written': { line: 'input iface.2<|> takes drum', first: ['2'] },
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
    becomes: `mix brik mono for brik { voice 0 dB gurdy ${hole(1, '0')} dB`,
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
    first: ['3..4', '2'],
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
  'files upwards': { files: { 'gear/shelf.rig': 'use "../<|>', 'rig.rig': '' }, only: ['../rig.rig'], becomes: 'use "../rig.rig' },
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

  it('fills statements in with what this rig needs next', async () => {
    const proposed = await items(await open(`${RIG}<|>`));
    const text = (label: string) => (proposed.find((item) => item.label === label)?.textEdit as TextEdit | undefined)?.newText;
    expect(text('input')).toBe(`input ${hole(1, 'iface.2')} takes ${hole(2, 'drum')}`);
    expect(text('output')).toBe(`output ${hole(1, 'iface.2')} carries ${hole(2, 'for-house')}`);
    expect(text('mix')).toBe(`mix ${hole(1, 'brik')} \${2|mono,stereo|} for ${hole(3, 'brik')} { $0 }`);
    expect(text('house')).toBe(`house ${hole(1, '2')} "${hole(2, 'Label')}" takes $3`);
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

  it('writes plain text for an editor that knows no snippets', async () => {
    const bench = await open(`${RIG}mix brik mono for brik { <|>`);
    // What the language server does at the start.
    await bench.services.shared.lsp.LanguageServer.initialize({ processId: null, rootUri: null, capabilities: {}, workspaceFolders: null });
    await bench.services.lsp.CompletionProvider?.getCompletion(bench.document, { textDocument: { uri: '' }, position: bench.position });
    const plain = (await items(bench)).map((item) => (item.textEdit as TextEdit).newText);
    expect(plain.join()).not.toContain('$');
  });
});

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
