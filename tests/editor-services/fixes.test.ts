/** Quick fixes: what is offered for a finding, what the text becomes, and that the finding is then gone and nothing worse has come. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CodeAction, Diagnostic } from 'vscode-languageserver';
import { type Code, type Finding, message, PROBLEMS } from '#engine';
import { diagnosticOf, type Located } from '#language';
import { applied, type Bench, open } from './bench';

async function actionsFor(bench: Bench, located: Located): Promise<CodeAction[]> {
  const diagnostic: Diagnostic = diagnosticOf(located);
  const actions = await bench.services.lsp.CodeActionProvider?.getCodeActions(bench.document, {
    textDocument: { uri: bench.document.uri.toString() },
    range: diagnostic.range,
    context: { diagnostics: [diagnostic], only: ['quickfix'] },
  });
  // Those for several findings at once, and the one that cures nothing, have tests of their own.
  return ((actions ?? []) as CodeAction[]).filter(({ title }) => !/of this kind in this file$|^Allow this here/.test(title));
}

const worst = (finding: Finding) => finding.severity === 'error' || finding.severity === 'danger';

/** What is wrong with an action, if anything: the finding is still there, or something of weight is new. */
async function judge(bench: Bench, { finding }: Located, action: CodeAction): Promise<string[]> {
  const before = bench.analysis().located.map((each) => each.finding);
  const name = [...bench.marks.keys()].find((each) => bench.documentOf(each) === bench.document) as string;
  const files = applied(bench, action.edit);
  // The one that is looked at comes first.
  const after = (await open({ [name]: files[name] as string, ...files })).analysis().located.map((each) => each.finding);
  const count = (findings: readonly Finding[], code: Code) => findings.filter((each) => each.code === code).length;
  const left = count(after, finding.code) < count(before, finding.code) ? [] : ['is still there'];
  // A statement that could not be read said nothing; once it can be read it is judged like any other.
  if (finding.code.startsWith('text/')) return left;
  const fresh = after.filter((each) => worst(each) && count(after, each.code) > count(before, each.code));
  return [...left, ...new Set(fresh.map((each) => `brings ${each.code}`))];
}

const HEAD = 'rig "Copper Wren"\nperformer ana "Ana"\nperformer brik "Brik"\n';

const EARS =
  'source v is dynamic-mic\ngear iface "Interface" is interface-4\ngear amp "Amp" is headphone-amp-4\ninput iface.1 takes v\nhouse none\n';

interface Case {
  readonly code: Code;
  readonly rig: string | Readonly<Record<string, string>>;
  /** The titles that are offered, in order. */
  readonly offers: readonly string[];
  /** Lines that the first makes new. */
  readonly makes: readonly string[];
  readonly preferred?: boolean;
}

const CASES: Readonly<Record<string, Case>> = {
  'what is in a mix before the first line is written': {
    code: 'mixes/not-patched',
    rig: `${HEAD}source v "Voice" is dynamic-mic\ngear iface "Interface" is interface-8-mic\nmix ana mono for ana { v 0 dB }`,
    offers: ['Plug Voice into iface.1', 'Plug Voice into iface.2', 'Take Voice out of ana'],
    makes: ['input iface.1 takes v'],
  },
  'a channel of a computer, which has no plug for light': {
    code: 'mixes/not-patched',
    rig: `${HEAD}source c "Clock" is computer-channel\ngear iface "Interface" is interface-16\nmix ana mono for ana { c 0 dB }`,
    offers: ['Plug Clock into iface.usb1', 'Plug Clock into iface.usb2', 'Take Clock out of ana'],
    makes: ['input iface.usb1 takes c'],
  },
  'both sides of what has two, on inputs beside each other': {
    code: 'mixes/not-patched',
    rig: `${HEAD}source k "Keys" is stereo-keyboard\ngear iface "Interface" is interface-4\nmix ana mono for ana { k 0 dB }`,
    offers: ['Plug Keys into iface.1..2', 'Plug Keys into iface.3..4', 'Take Keys out of ana'],
    makes: ['input iface.1..2 takes k'],
    preferred: true,
  },
  'both sides of what has two, on inputs apart': {
    code: 'mixes/not-patched',
    rig: `${HEAD}source v is dynamic-mic\nsource k "Keys" is stereo-keyboard\nsource l "Lyre" is preamp-pickup\ngear iface "Interface" is interface-4\ninput iface.1 takes v\ninput iface.3 takes l\nmix ana mono for ana { v 0 dB  k 0 dB  l 0 dB }`,
    offers: ['Plug Keys left into iface.2 and plug Keys right into iface.4', 'Take Keys out of ana'],
    makes: ['input iface.2 takes k.left', 'input iface.4 takes k.right'],
  },
  'the left of what has two sides, where one input is left': {
    code: 'mixes/not-patched',
    rig: `${HEAD}source v is dynamic-mic\nsource k "Keys" is stereo-keyboard\ngear iface "Interface" is interface-2\ninput iface.1 takes v\nmix ana mono for ana { v 0 dB  k 0 dB }`,
    offers: ['Plug Keys left into iface.2', 'Take Keys out of ana'],
    makes: ['input iface.2 takes k.left'],
  },
  'one more for a mix, with a socket of the amplifier that is there; before a mix of their own, in which nothing would be yet': {
    code: 'mixes/no-mix',
    rig: `${HEAD}${EARS}mix ana mono for ana { v 0 dB }\noutput iface.1 carries ana via amp.left1`,
    offers: [
      'Let Brik hear ana and carry ana on iface.2 through Amp left2',
      'Add a mix for Brik and carry brik on iface.2 through a Headphone amplifier',
    ],
    makes: ['mix ana mono for ana, brik { v 0 dB }', 'output iface.2 carries ana via amp.left2'],
  },
  'an output of a DI that another line has, with a split behind it: the other takes a side of that': {
    code: 'splits/leg-taken-twice',
    rig: `${HEAD}source g "Gurdy" is piezo-pickup by ana\ngear iface "Interface" is interface-8-mic\ngear gdi "Gurdy DI" is active-di\ninput iface.2 takes g via gdi\nhouse 2 takes g via gdi.out, y-lead`,
    offers: ['Take Gurdy DI out of Interface input 2', 'Go through gdi.thru instead of gdi.out'],
    makes: ['input iface.2 takes g'],
  },
  'a click that comes with the tracks: the tracks stay in the mix for the house': {
    code: 'mixes/private-to-house',
    rig: `${HEAD}source tape "Tape" is stereo-playback private right\ngear iface "Interface" is interface-4\ninput iface.3..4 takes tape\nmix hall mono for house { tape -3 dB }`,
    offers: ['Write "tape.left"'],
    makes: ['mix hall mono for house { tape.left -3 dB }'],
  },
  'what of a drum module is for the band alone': {
    code: 'mixes/private-to-house',
    rig: `${HEAD}source kit "Kit" is drum-module-direct private toms, cymbals\ngear iface "Interface" is interface-8\ninput iface.3..6 takes kit\nmix hall mono for house { kit -3 dB }`,
    offers: ['Write "kit.kick" and put Kit snare into hall'],
    makes: ['mix hall mono for house { kit.kick -3 dB  kit.snare -3 dB }'],
  },
  'what sounds like a cue, and may be a bell': {
    code: 'mixes/may-be-private',
    rig: `${HEAD}source bell  "Cue bell"  is dynamic-mic  by ana  # brass\nhouse 1  takes bell`,
    offers: ['Delete house 1', 'Say that Cue bell is meant for the audience'],
    makes: [],
    preferred: false,
  },
  'two on one frequency': {
    code: 'radio/same-frequency',
    rig: `rig "Copper Wren"  region EU\nsource voice "Voice"  is wireless-mic  on 863.4 MHz  # the red one\nsource oud   "Oud"    is wireless-mic  on 863.4 MHz  # the blue one`,
    offers: ['Set Oud to 863.1 MHz', 'Set Voice to 863.1 MHz'],
    makes: ['source oud   "Oud"    is wireless-mic  on 863.1 MHz  # the blue one'],
    preferred: false,
  },
  'three at equal distances, and all at once': {
    code: 'radio/product-on',
    rig: `rig "Copper Wren"  region EU\nsource a "A" is wireless-mic on 863.2 MHz\nsource b "B" is wireless-mic on 863.6 MHz\nsource c "C" is wireless-mic on 864 MHz\nsource d "D" is wireless-mic on 864.4 MHz`,
    offers: ['Set A to 863.1 MHz', 'Set B to 863.5 MHz', 'Set C to 863.9 MHz', 'Choose clear frequencies: move two sets'],
    makes: ['source a "A" is wireless-mic on 863.1 MHz'],
  },
  'a step that the set is tuned in': {
    code: 'radio/no-frequency',
    rig: `rig "Copper Wren"  region EU\nmodel our-mic is wireless-mic { tunes 863.01..864.99 MHz step 30 kHz }\nsource voice "Voice" is our-mic`,
    offers: ['Set Voice to 863.1 MHz'],
    makes: ['source voice "Voice" is our-mic on 863.1 MHz'],
  },
  'a frequency in kilohertz': {
    code: 'units/impossible',
    rig: 'rig "Copper Wren"  region EU\ngear tx is in-ear-transmitter on 863.2 kHz  # the rack',
    offers: ['Write "863.2 MHz"'],
    makes: ['gear tx is in-ear-transmitter on 863.2 MHz  # the rack'],
  },
  'earphones that do not reach, of a mix that comes in stereo out of one socket': {
    code: 'connectors/earphones-too-short',
    rig: `${HEAD.replace('"Ana"', '"Ana" at 0 m, 1 m ears headphones')}source a is dynamic-mic\nsource b is dynamic-mic\ngear iface is interface-8-mic\ngear amp "Amp" is headphone-amp-4 at 6 m, 4 m\ninput iface.1 takes a\ninput iface.2 takes b\nmix ana stereo for ana { a 0 dB left 40 % b 0 dB right 40 % }\noutput iface.1..2 carries ana via amp.phones2`,
    offers: ['Put an Earphone extension lead into iface output 1..2'],
    makes: ['output iface.1..2 carries ana via amp.phones2, earphone-extension'],
    preferred: true,
  },
  'a dot with nothing behind it': {
    code: 'capacity/no-such-port',
    rig: `${HEAD}source a is dynamic-mic\nsource b is dynamic-mic\ngear iface is interface-2\ninput iface.1 takes a\ninput iface.  takes b  # the other`,
    offers: ['Plug b into iface input 2'],
    makes: ['input iface.2  takes b  # the other'],
  },
  'an output that is not said': {
    code: 'capacity/no-such-port',
    rig: `${HEAD}source a is dynamic-mic\ngear iface is interface-2\ninput iface.1 takes a\nmix ana mono for ana, brik { a 0 dB }\noutput iface. carries ana via headphone-amp`,
    offers: ['Carry ana on iface output 1', 'Carry ana on iface output 2'],
    makes: ['output iface.1 carries ana via headphone-amp'],
  },
  'a step whose socket is not said': {
    code: 'text/unfinished',
    rig: `${HEAD}source a is dynamic-mic\ngear iface is interface-2\ngear snake "Snake" is shared-split\ninput iface.1 takes a via snake. gain 30 dB`,
    offers: ['Write "1"', 'Write "2"', 'Write "3"'],
    makes: ['input iface.1 takes a via snake.1 gain 30 dB'],
    preferred: false,
  },
  'a range whose end is not said': {
    code: 'text/unfinished',
    rig: `${HEAD}source a is stereo-keyboard\ngear iface is interface-8\ninput iface.3..  takes a gain 30 dB`,
    offers: ['Write "4"', 'Write "5"', 'Write "6"'],
    makes: ['input iface.3..4  takes a gain 30 dB'],
    preferred: false,
  },
  'two of the house’s lines in one, for a mix in stereo': {
    code: 'text/unexpected',
    rig: `${HEAD}source v is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes v via y-lead\nhouse 1 takes v\nmix out stereo for house { v 0 dB }\noutput iface.3..4 carries out via stereo-di\n  house 5..6 "Tracks" takes out # in stereo`,
    offers: ['Write house 5 "Tracks, left" takes out.left and house 6 "Tracks, right" takes out.right'],
    makes: ['  house 5 "Tracks, left" takes out.left', '  house 6 "Tracks, right" takes out.right # in stereo'],
    preferred: true,
  },
  'two of the house’s lines in one, with a dash, for a mix in stereo by a way': {
    code: 'text/unexpected',
    rig: `${HEAD}source keys is stereo-keyboard\nmix out stereo for house { keys 0 dB }\nhouse 5-6 takes out via their-di`,
    offers: ['Write "house 5 takes out.left via their-di" and "house 6 takes out.right via their-di"'],
    makes: ['house 5 takes out.left via their-di', 'house 6 takes out.right via their-di'],
  },
  'two of the house’s lines in one, of what has no sides': {
    code: 'text/unexpected',
    rig: `${HEAD}source v is dynamic-mic\nhouse 5..6 takes v`,
    offers: [],
    makes: [],
  },
  'a socket where a mix belongs: the mix that nothing carries, by way of it': {
    code: 'text/unexpected',
    rig: `${HEAD}${EARS}mix a mono for ana { v 0 dB }\nmix b mono for brik { v 0 dB }\noutput iface.1 carries a via amp.left1\noutput iface.2 carries amp.left2`,
    offers: ['Write "b via amp.left2"'],
    makes: ['output iface.2 carries b via amp.left2'],
  },
  'a socket where a mix belongs, with more behind it, and two mixes that nothing carries': {
    code: 'text/unexpected',
    rig: `${HEAD}${EARS}mix a mono for ana { v 0 dB }\nmix b mono for brik { v 0 dB }\noutput iface.2 carries amp.left2 via pad-20 # loud`,
    offers: ['Write "a via amp.left2,"', 'Write "b via amp.left2,"'],
    makes: ['output iface.2 carries a via amp.left2, pad-20 # loud'],
    preferred: false,
  },
  'both sides by one line, and one of them by the thru of a DI': {
    code: 'connectors/long-unbalanced',
    rig: `${HEAD.replace('"Ana"', '"Ana" at 4 m, 2 m')}source piano is stereo-keyboard by ana\ngear iface is interface-8-mic at -4 m, 4 m\ngear box is passive-di at 4 m, 2 m\nhouse 1 takes piano.left via box.out\ninput iface.5..6 takes piano`,
    offers: ['Put a Stereo DI into iface input 5..6'],
    makes: ['input iface.5..6 takes piano via stereo-di'],
  },
  'a way without commas': {
    code: 'text/unexpected',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice via y-lead pad-20`,
    offers: ['Write ", pad-20"'],
    makes: ['input iface.1 takes voice via y-lead, pad-20'],
  },
  'a DI that is gone through by its thru, and whose output the house has': {
    code: 'connectors/long-unbalanced',
    rig: 'rig "Copper Wren"  mains shared\nperformer ana "Ana" at 0 m, 1 m\nsource organ "Organ" is stereo-keyboard by ana\ngear iface is interface-8 at 3.2 m, 1 m\ngear box is stereo-di at 1.6 m, 1 m\ninput iface.3  takes organ.left  via box.thru-left\nhouse at 5 m, 0 m\nhouse 1  takes organ.left  via box',
    offers: [
      'Move Organ to iface input 1, go through box.left, y-lead instead of box.thru-left and take box out of house 1',
      'Move Organ to iface input 2, go through box.left, y-lead instead of box.thru-left and take box out of house 1',
    ],
    makes: ['input iface.1  takes organ.left  via box.left, y-lead', 'house 1  takes organ.left'],
  },
  'a box of one’s own that lies idle': {
    code: 'levels/instrument-on-line',
    rig: `${HEAD}source bass is magnetic-pickup\ngear iface is interface-8-mic\ngear our-box "Our box" is active-di\ninput iface.1 takes bass`,
    offers: ['Put Our box into iface input 1', 'Put an Active DI into iface input 1'],
    makes: ['input iface.1 takes bass via our-box'],
  },
  'a model of one’s own that does the same': {
    code: 'levels/instrument-on-line',
    rig: `${HEAD}model little-box "Little box" is di {\n  input in ts instrument impedance 5 Mohm\n  output thru ts from in parallel\n  output out xlr from in active gain -15 dB mic phantom needed\n}\nsource bass is magnetic-pickup\ngear iface is interface-8-mic\ninput iface.1 takes bass`,
    offers: ['Put a Little box into iface input 1', 'Put an Active DI into iface input 1'],
    makes: ['input iface.1 takes bass via little-box'],
  },
  'a free way of a split that is there': {
    code: 'splits/missing',
    rig: `${HEAD}source voice is dynamic-mic\nsource low is dynamic-mic\ngear iface is interface-8-mic\ngear snake "Snake" is shared-split\ninput iface.1 takes voice via snake.iso1\nhouse 1 takes voice\ninput iface.2 takes low\nhouse 2 takes low`,
    offers: ['Put Snake iso2 into iface input 2', 'Put a Y-lead into iface input 2', 'Put a Transformer split into iface input 2'],
    makes: ['input iface.2 takes low   via snake.iso2'],
  },
  'both sides of an unbalanced line, which the house takes as well': {
    code: 'splits/missing',
    rig: `rig "Copper Wren"  mains shared\nperformer ana "Ana" at 0 m, 1 m\nsource organ "Organ" is stereo-keyboard by ana\ngear iface is interface-8 at 1 m, 2 m\ninput iface.3..4  takes organ\nhouse at 8 m, 0 m\nhouse 1  takes organ.left\nhouse 2  takes organ.right\nmix ana stereo for ana { organ 0 dB }\noutput iface.phones1 carries ana`,
    offers: ['Put a Stereo DI into iface input 3..4', 'Put a Y-lead into iface input 3..4'],
    makes: ['input iface.3..4  takes organ  via stereo-di'],
  },
  'one side of an unbalanced line, by the thru of a DI to us': {
    code: 'splits/missing',
    rig: `rig "Copper Wren"  mains shared\nperformer ana "Ana" at 0 m, 1 m\nsource organ "Organ" is stereo-keyboard by ana\ngear iface is interface-8-mic at 1 m, 2 m\ngear our-box "Our box" is passive-di at 0 m, 1 m\ninput iface.3  takes organ.left\nhouse at 8 m, 0 m\nhouse 1  takes organ.left\nmix ana mono for ana { organ.left 0 dB }\noutput iface.phones1 carries ana`,
    offers: ['Put Our box thru into iface input 3', 'Put a Passive DI into iface input 3', 'Put a Y-lead into iface input 3'],
    makes: ['input iface.3  takes organ.left  via our-box.thru'],
  },
  'a title without quotes': {
    code: 'text/unexpected',
    rig: 'rig Copper Wren, cellar  # Invented.\nperformer ana "Ana"',
    offers: ['Write "Copper Wren, cellar"'],
    makes: ['rig "Copper Wren, cellar"  # Invented.'],
  },
  'a range that names the piece twice': {
    code: 'text/unexpected',
    rig: `${HEAD}source keys is stereo-keyboard\ngear iface is interface-4\ninput iface.3 .. iface.4 takes keys`,
    offers: ['Write "iface.3..4"'],
    makes: ['input iface.3..4 takes keys'],
  },
  'two words for a name of this rig': {
    code: 'text/unexpected',
    rig: `${HEAD}source lead-vocal is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes lead vocal`,
    offers: ['Write "lead-vocal"'],
    makes: ['input iface.1 takes lead-vocal'],
  },
  'two words for a new name': {
    code: 'text/unexpected',
    rig: `${HEAD}source lead vocal is dynamic-mic`,
    offers: ['Write "lead-vocal"'],
    makes: ['source lead-vocal is dynamic-mic'],
  },
  'a name once more as a label': {
    code: 'text/unexpected',
    rig: `${HEAD}source voice Voice is dynamic-mic`,
    offers: ['Write "Voice"'],
    makes: ['source voice "Voice" is dynamic-mic'],
  },
  'a label in quotes of another kind': {
    code: 'text/stray-character',
    rig: `${HEAD}source voice 'Lead vocal' is dynamic-mic`,
    offers: ['Write "Lead vocal"'],
    makes: ['source voice "Lead vocal" is dynamic-mic'],
    preferred: true,
  },
  'a quote that is closed nowhere, before a clause': {
    code: 'text/unclosed-quote',
    rig: `${HEAD}source voice "Lead vocal is dynamic-mic`,
    offers: ['Write "Lead vocal" is dynamic-mic', 'Write "Lead vocal is dynamic-mic"'],
    makes: ['source voice "Lead vocal" is dynamic-mic'],
  },
  'a line that breaks off': {
    code: 'text/unfinished',
    rig: `${HEAD}source voice is dynamic-mic\nsource drum is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes drum\ninput iface.2 takes`,
    offers: ['Write "voice"', 'Write "drum"'],
    makes: ['input iface.2 takes voice'],
  },
  'a line of the house that is written twice': {
    code: 'capacity/house-line-twice',
    rig: `${HEAD}source voice is dynamic-mic\nsource drum is dynamic-mic\nhouse 7 takes voice\nhouse 7 takes drum\nhouse 9 own mic "Talk"`,
    offers: ['Make it line 10 (ask which line is free)'],
    makes: ['house 10 takes drum'],
    preferred: true,
  },
  'a thousandth or a million': {
    code: 'units/wrong',
    rig: `${HEAD}model box is interface-4 {\n  input 5 trs instrument impedance 1 mohm max 10 dBu\n}\ngear iface is box`,
    offers: ['Write "1 Mohm"', 'Write "1 m\u03A9"'],
    makes: ['  input 5 trs instrument impedance 1 Mohm max 10 dBu'],
  },
  'capitals alone': {
    code: 'units/wrong',
    rig: `${HEAD}source reed is preamp-pickup peak 20 MV`,
    offers: ['Write "20 mV"'],
    makes: ['source reed is preamp-pickup peak 20 mV'],
  },
  'the same name in a file that is used': {
    code: 'names/elsewhere-too',
    rig: {
      'rig.rig': `${HEAD}use "shelf.rig"\ngear iface is interface-4\nsource voice is dynamic-mic\ninput iface.1 takes voice`,
      'shelf.rig': 'gear iface is interface-2',
    },
    offers: ['Call the gear iface-2'],
    makes: ['gear iface-2 is interface-4', 'input iface-2.1 takes voice'],
  },
  'watts where there can be none': {
    code: 'units/wrong',
    rig: `${HEAD}model box is interface-4 {\n  latency 250 W # at most\n}\ngear iface is box`,
    offers: ['Put "latency 250 W" into a comment'],
    makes: ['  # at most, latency 250 W'],
    preferred: true,
  },
  'decibels of what?': {
    code: 'units/wrong',
    rig: `${HEAD}source voice is dynamic-mic peak 120 dB`,
    offers: ['Write "120 dB SPL"'],
    makes: ['source voice is dynamic-mic peak 120 dB SPL'],
  },
  'a range of sockets whose second has no letters': {
    code: 'models/bad-range',
    rig: `${HEAD}source keys is stereo-keyboard\nmodel box is interface { input line1..line2 trs line impedance 10 kohm max 20 dBu gain -10..20 dB }\ngear iface is box\ninput iface.line1..2  takes keys`,
    offers: ['Write "iface.line1..line2"'],
    makes: ['input iface.line1..line2  takes keys'],
    preferred: true,
  },
  'a microphone on a line input changes places with a line on a microphone input': {
    code: 'levels/mic-on-line',
    rig: `${HEAD}source voice "Voice" is dynamic-mic\nsource keys "Keys" is modeller\nsource two is dynamic-mic\nmodel box is interface {\n  input 1..2 combo {\n    mic impedance 2 kohm max 2 dBu gain 0..55 dB\n    line impedance 10 kohm max 20 dBu gain -10..20 dB\n  }\n  input 3 trs line impedance 10 kohm max 20 dBu gain -10..20 dB\n}\ngear iface "Interface" is box\ninput iface.1 takes keys.jack\ninput iface.2 takes two\ninput iface.3 takes voice`,
    offers: ['Swap Voice and Keys'],
    makes: ['input iface.3 takes keys.jack', 'input iface.1 takes voice'],
    preferred: true,
  },
  'a microphone that needs phantom power changes places with one that does not': {
    code: 'phantom/missing',
    rig: `${HEAD}source clip "Fiddle" is clip-on-mic\nsource voice "Voice" is dynamic-mic\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max 2 dBu gain 0..55 dB phantom each\n  input 2 xlr mic impedance 2 kohm max 2 dBu gain 0..55 dB\n}\ngear iface is box\ninput iface.1  takes voice\ninput iface.2  takes clip`,
    offers: ['Swap Fiddle and Voice'],
    makes: ['input iface.2  takes voice', 'input iface.1  takes clip'],
  },
  'a condenser that the house takes too leaves the house the side that powers it': {
    code: 'splits/missing',
    rig: `${HEAD}source bells is condenser-mic\ngear iface "Interface" is interface-8-mic\ninput iface.1 takes bells\nhouse 1 takes bells`,
    offers: ['Put a Transformer split into Interface input 1'],
    makes: ['input iface.1 takes bells via transformer-split.iso'],
  },
  'the other side of the same channel of a shared split': {
    code: 'splits/leg-taken-twice',
    rig: `${HEAD}source bells is dynamic-mic\ngear split is shared-split\ngear iface "Interface" is interface-8-mic\ninput iface.1 takes bells via split.2\nhouse 1 takes bells via split.2`,
    offers: ['Go through split.iso2 instead of split.2'],
    makes: ['house 1 takes bells via split.iso2'],
  },
  'a ribbon that the house could send 48 V to': {
    code: 'phantom/keep-off',
    rig: `${HEAD}source fiddle is ribbon-mic\ngear iface "Interface" is interface-8-mic\ninput iface.1 takes fiddle via y-lead\nhouse 1 takes fiddle`,
    offers: ['Go through transformer-split.direct instead of y-lead', 'Put an Isolating transformer into house 1'],
    makes: ['input iface.1 takes fiddle via transformer-split.direct'],
  },
  'the pad that the input has': {
    code: 'levels/too-hot',
    rig: `${HEAD}source gong is dynamic-mic peak 150 dB SPL typical 130 dB SPL\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max -10 dBu gain 0..55 dB pad 20 dB\n}\ngear iface "Interface" is box\ninput iface.1 takes gong gain 0 dB`,
    offers: ['Switch in the pad of Interface input 1'],
    makes: ['input iface.1 takes gong gain 0 dB pad'],
  },
  'too quiet for this input, and another has the gain': {
    code: 'levels/gain-short',
    rig: `${HEAD}source verse "Verse" is dynamic-mic typical 74 dB SPL peak 86 dB SPL\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max 2 dBu gain 0..48 dB\n  input 2 xlr mic impedance 2 kohm max 2 dBu gain 0..50 dB\n  input 3 xlr mic impedance 2 kohm max 2 dBu gain 0..75 dB\n}\ngear iface "Interface" is box\ninput iface.1  takes verse  gain 48 dB`,
    offers: ['Move Verse to Interface input 3'],
    makes: ['input iface.3  takes verse  gain 48 dB'],
    preferred: true,
  },
  'too quiet for this input, and the gain that is written is none for the other': {
    code: 'levels/gain-short',
    rig: `${HEAD}source verse "Verse" is dynamic-mic typical 74 dB SPL peak 86 dB SPL\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max 2 dBu gain 0..45 dB\n  input 2 xlr mic impedance 2 kohm max 2 dBu gain 0..80 dB\n}\ngear iface "Interface" is box\ninput iface.1  takes verse  gain 20 dB`,
    offers: ['Move Verse to Interface input 2 and set the gain to 58 dB'],
    makes: ['input iface.2  takes verse  gain 58 dB'],
  },
  'too quiet here and loud enough there': {
    code: 'levels/gain-short',
    rig: `${HEAD}source verse "Verse" is dynamic-mic typical 74 dB SPL peak 86 dB SPL\nsource gong "Gong" is dynamic-mic\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max 2 dBu gain 0..40 dB\n  input 2 xlr mic impedance 2 kohm max 2 dBu gain 0..75 dB\n}\ngear iface "Interface" is box\ninput iface.1  takes verse\ninput iface.2  takes gong`,
    offers: ['Swap Verse and Gong'],
    makes: ['input iface.2  takes verse', 'input iface.1  takes gong'],
  },
  'another output of the same instrument is strong enough': {
    code: 'levels/gain-short',
    rig: `${HEAD}model organ-1 {\n  output headset trs line impedance 100 ohm level -30 dBu max -20 dBu\n  output main trs line impedance 100 ohm level 0 dBu max 12 dBu\n}\nsource organ "Organ" is organ-1\nmodel box is interface { input 1 trs line impedance 10 kohm max 20 dBu gain -10..12 dB }\ngear iface "Interface" is box\ninput iface.1  takes organ.headset`,
    offers: ['Take organ.main'],
    makes: ['input iface.1  takes organ.main'],
  },
  'another output of the box on the way is strong enough': {
    code: 'levels/gain-short',
    rig: `${HEAD}model box-1 {\n  input in trs line impedance 10 kohm\n  output low trs from in active gain -40 dB line impedance 100 ohm\n  output high trs from in active line impedance 100 ohm\n}\nmodel organ-1 { output main trs line impedance 100 ohm level 0 dBu max 12 dBu }\nsource organ "Organ" is organ-1\nmodel box is interface { input 1 trs line impedance 10 kohm max 20 dBu gain -10..12 dB }\ngear iface "Interface" is box\ngear stage "Stage box" is box-1\ninput iface.1  takes organ  via stage.low`,
    offers: ['Go through stage.high instead of stage.low'],
    makes: ['input iface.1  takes organ  via stage.high'],
  },
  'too hot for this input, and another takes it; or a pad': {
    code: 'levels/too-hot',
    rig: `${HEAD}source gong "Gong" is dynamic-mic peak 145 dB SPL typical 125 dB SPL\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max -10 dBu gain 0..55 dB\n  input 2 xlr mic impedance 2 kohm max 10 dBu gain 0..55 dB\n}\ngear iface "Interface" is box\ninput iface.1 takes gong`,
    offers: ['Move Gong to Interface input 2', 'Put a Pad into Interface input 1'],
    makes: ['input iface.2 takes gong'],
  },
  'two inputs load an old microphone': {
    code: 'levels/split-loss',
    rig: `${HEAD}model old-mic { output out xlr mic impedance 1 kohm sensitivity 2 mV/Pa }\nsource gong "Gong" is old-mic\ngear iface "Interface" is interface-2\ninput iface.1 takes gong via y-lead\ninput iface.2 takes gong`,
    offers: ['Go through active-split instead of y-lead'],
    makes: ['input iface.1 takes gong via active-split'],
    preferred: true,
  },
  'an instrument into a microphone input on the way of a DI, where no other input would do': {
    code: 'levels/instrument-on-line',
    rig: `${HEAD}source bass "Bass" is magnetic-pickup\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max 2 dBu gain 0..55 dB phantom each\n  input 2 trs line impedance 10 kohm max 20 dBu gain -10..20 dB\n}\ngear iface "Interface" is box\ninput iface.2   takes bass`,
    offers: ['Move Bass to Interface input 1, through an Active DI'],
    makes: ['input iface.1   takes bass  via active-di'],
    preferred: true,
  },
  'a source in two mixes that is plugged in nowhere': {
    code: 'mixes/not-patched',
    rig: `${HEAD}source voice "Voice" is dynamic-mic\nsource drum "Drum" is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice\nmix ana mono for ana {\n  voice 0 dB\n  drum -3 dB\n}\nmix brik mono for brik { drum 0 dB  voice -3 dB }\noutput iface.1 carries ana via headphone-amp\noutput iface.2 carries brik via headphone-amp`,
    offers: ['Plug Drum into iface.2', 'Take Drum out of ana and brik'],
    makes: ['input iface.2 takes drum'],
    preferred: true,
  },
  'a source that the house has already goes through a split': {
    code: 'mixes/not-patched',
    rig: `${HEAD}source voice "Voice" is dynamic-mic\nsource drum "Drum" is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice\nhouse 1 takes drum\nmix ana mono for ana, brik { drum -3 dB }\noutput iface.1 carries ana via headphone-amp`,
    offers: ['Plug Drum into iface.2 through a Y-lead', 'Take Drum out of ana'],
    makes: ['input iface.2 takes drum via y-lead'],
  },
  'a mix of too much: all of it comes down by as much': {
    code: 'mixes/clips',
    rig: `${HEAD}source a is computer-channel\nsource b is computer-channel\ngear iface is interface-4\ninput iface.usb1 takes a\ninput iface.usb2 takes b\nmix ana mono for ana, brik {\n  a  8 dB  # loud\n  b  2 dB left 20 %\n}\noutput iface.1 carries ana via headphone-amp\noutput iface.2 carries ana via headphone-amp`,
    offers: ['Turn all of ana down by 3 dB'],
    makes: ['  a  5 dB  # loud', '  b  -1 dB left 20 %'],
    preferred: true,
  },
  'a send that lacks its minus': {
    code: 'mixes/loud-send',
    rig: `${HEAD}source a "Oud" is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes a\nmix ana "Ears" mono for ana, brik { a 12 dB }\noutput iface.1 carries ana via headphone-amp\noutput iface.2 carries ana via headphone-amp`,
    offers: ['Set Oud to -12 dB in Ears'],
    makes: ['mix ana "Ears" mono for ana, brik { a -12 dB }'],
    preferred: true,
  },
  'a buffer that makes everybody late': {
    code: 'latency/late',
    rig: `rig "Copper Wren" rate 48 kHz\n  buffer 512 samples   # to be on the safe side\nperformer ana "Ana"\nsource a "Oud" is dynamic-mic by ana\ngear iface is interface-4\ninput iface.1 takes a\nmix ana mono for ana { a 0 dB }\noutput iface.1 carries ana via headphone-amp`,
    offers: ['Write "buffer 128 samples"'],
    makes: ['  buffer 128 samples   # to be on the safe side'],
  },
  'a mix that is for nobody': {
    code: 'mixes/for-nobody',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice\nmix brik mono { voice 0 dB }\nmix ana for ana { voice 0 dB }\noutput iface.1 carries ana via headphone-amp\noutput iface.2 carries brik via headphone-amp`,
    offers: ['Let Brik hear brik', 'Delete the mix brik and delete iface output 2'],
    makes: ['mix brik mono for brik { voice 0 dB }'],
  },
  'a mix goes out to the transmitter that its listener hears': {
    code: 'mixes/unheard',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ngear tx "Transmitter" is in-ear-transmitter\ngear pack is belt-pack for ana hears tx.right\ninput iface.1 takes voice\nmix ana mono for ana { voice 0 dB }\nmix h mono for house { voice 0 dB }\nhouse 3 takes h\noutput iface.1 carries h`,
    offers: ['Carry ana on iface.2 through Transmitter right'],
    makes: ['output iface.2 carries ana via tx.right'],
  },
  'a stereo mix gets a pair': {
    code: 'mixes/unheard',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice\nmix ana stereo for ana, brik { voice 0 dB }\nmix h mono for house { voice 0 dB }\nhouse 3 takes h\noutput iface.1 carries h`,
    offers: ['Carry ana on iface.3..4 through a Headphone amplifier'],
    makes: ['output iface.3..4 carries ana via headphone-amp'],
  },
  'a mix for the house needs no headphones': {
    code: 'mixes/unheard',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice\nmix h mono for house { voice 0 dB }\nmix all mono for ana, brik { voice 0 dB }\nhouse 3 takes h\noutput iface.1 carries all via headphone-amp`,
    offers: ['Carry h on iface.2'],
    makes: ['output iface.2 carries h'],
  },
  'a performer without a mix shares one where the gear can make no more': {
    code: 'mixes/no-mix',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-2\ninput iface.1 takes voice\nmix ana stereo for ana { voice 0 dB }\noutput iface.1..2 carries ana via headphone-amp`,
    offers: ['Let Brik hear ana'],
    makes: ['mix ana stereo for ana, brik { voice 0 dB }'],
  },
  'a mix of a name that is taken gets another': {
    code: 'mixes/no-mix',
    rig: `${HEAD}source brik "Brik's voice" is dynamic-mic by brik\ngear iface is interface-4\ninput iface.1 takes brik\nmix ana stereo for ana { brik 0 dB }\noutput iface.1..2 carries ana via headphone-amp`,
    offers: [
      'Add a mix for Brik and carry brik-mix on iface.3 through a Headphone amplifier',
      'Let Brik hear ana and carry ana on iface.3..4 through a Headphone amplifier',
    ],
    makes: ['mix brik-mix mono for brik { brik 0 dB }', 'output iface.3    carries brik-mix via headphone-amp'],
  },
  'a microphone too many goes to the expander that is linked': {
    code: 'capacity/too-few-inputs',
    rig: `${HEAD}source a "Anvil" is dynamic-mic\nsource b "Bell" is dynamic-mic\nsource c "Crotal" is dynamic-mic\nsource d "Drum" is dynamic-mic\nmodel small is interface {\n  input 1..2 combo {\n    mic impedance 2 kohm max 2 dBu gain 0..55 dB phantom each\n    instrument impedance 1 Mohm max 10 dBu gain 0..50 dB\n  }\n  input 3 xlr mic impedance 2 kohm max 6 dBu gain 0..60 dB phantom each\n  input optical optical digital channels 8\n  output 1..4 trs line impedance 150 ohm max 16 dBu\n  mixes 4 mono\n}\ngear iface is small\ngear pre "Expander" is preamp-expander\ninput iface.1 takes a\ninput iface.2 takes b\ninput iface.3 takes c\ninput iface.3 takes d\ninput iface.optical takes pre\nmix ana mono for ana, brik { a 0 dB  b 0 dB  c 0 dB  d 0 dB }\noutput iface.1 carries ana via headphone-amp`,
    offers: ['Move Drum to Expander input 1', 'Move Crotal to Expander input 2', 'Move Bell to Expander input 3'],
    makes: ['input pre.1 takes d'],
    preferred: true,
  },
  'two microphones too many go there together': {
    code: 'capacity/too-few-inputs',
    rig: `${HEAD}source a "Anvil" is dynamic-mic\nsource b "Bell" is dynamic-mic\nsource c "Crotal" is dynamic-mic\nsource d "Drum" is dynamic-mic\ngear iface is interface-18\nmodel two is interface {\n  input 1..2 xlr mic impedance 2 kohm max 6 dBu gain 0..60 dB\n  input optical optical digital channels 8\n  output 1..4 trs line impedance 150 ohm max 16 dBu\n  mixes 4 mono\n}\ngear main is two\ngear pre "Expander" is preamp-expander\ninput main.1 takes a\ninput main.2 takes b\ninput main.1 takes c\ninput main.2 takes d\ninput main.optical takes pre\nmix ana mono for ana, brik { a 0 dB  b 0 dB  c 0 dB  d 0 dB }\noutput main.1 carries ana via headphone-amp`,
    offers: ['Move Drum to Expander input 1 and move Crotal to Expander input 2'],
    makes: ['input pre.2 takes c', 'input pre.1 takes d'],
  },
  'a microphone too many, and no other gear: the smallest of its kind that takes all': {
    code: 'capacity/too-few-inputs',
    rig: `${HEAD}source a is dynamic-mic\nsource b is dynamic-mic\nsource c is dynamic-mic\ngear iface "Interface" is interface-4\ninput iface.1 takes a\ninput iface.2 takes b\ninput iface.3 takes c\nhouse none\nmix both mono for ana, brik { a 0 dB  b 0 dB  c 0 dB }\noutput iface.1 carries both via headphone-amp\noutput iface.2 carries both via headphone-amp`,
    offers: ['Bring a bigger Interface: Interface, eight microphone inputs', 'Delete Interface input 3 and take c out of both'],
    makes: ['gear iface "Interface" is interface-8-mic'],
    preferred: false,
  },
  'a line too many for all sockets that there are': {
    code: 'capacity/no-such-port',
    rig: `${HEAD}source a is dynamic-mic\nsource b is dynamic-mic\nsource c is dynamic-mic\ngear iface "Interface" is interface-2\ninput iface.1 takes a\ninput iface.2 takes b\ninput iface.3 takes c\nhouse none\nmix both mono for ana, brik { a 0 dB  b 0 dB  c 0 dB }\noutput iface.1 carries both via headphone-amp\noutput iface.2 carries both via headphone-amp`,
    offers: ['Bring a bigger Interface: Interface, eight microphone inputs'],
    makes: ['gear iface "Interface" is interface-8-mic'],
    preferred: false,
  },
  'no bigger one for what somebody has paid for': {
    code: 'capacity/no-such-port',
    rig: `${HEAD}source a is dynamic-mic\nsource b is dynamic-mic\nsource c is dynamic-mic\ngear iface "Interface" is interface-2 hire 20 EUR\ninput iface.1 takes a\ninput iface.2 takes b\ninput iface.3 takes c`,
    offers: [],
    makes: [],
  },
  'earphones in a socket that is not there': {
    code: 'capacity/no-such-port',
    rig: `${HEAD}${EARS}mix both mono for ana { v 0 dB }\noutput iface.phones1 carries both`,
    offers: ['Move both to Interface output phones'],
    makes: ['output iface.phones carries both'],
    preferred: true,
  },
  'one output for two people, each with an amplifier: another output, or a Y-lead': {
    code: 'capacity/output-taken-twice',
    rig: `${HEAD}${EARS}mix both mono for ana, brik { v 0 dB }\noutput iface.1 carries both via amp.left1\noutput iface.1 carries both via amp.left2`,
    offers: [
      'Move both to Interface output 2',
      'Move both to Interface output 3',
      'Move both to Interface output 4',
      'Let both lines go through one Y-lead',
    ],
    makes: ['output iface.2 carries both via amp.left2'],
    preferred: true,
  },
  'one output for two people, where no other is free': {
    code: 'capacity/output-taken-twice',
    rig: `${HEAD}${EARS.replace('interface-4', 'interface-2')}mix both mono for ana, brik { v 0 dB }\nmix more mono for ana { v 0 dB }\noutput iface.1 carries both via amp.left1\noutput iface.1 carries both via amp.left2\noutput iface.2 carries more via amp.left3`,
    offers: ['Let both lines go through one Y-lead'],
    makes: [
      'gear both-y "Y-lead of both" is y-lead',
      'output iface.1 carries both via both-y.1, amp.left1',
      'output iface.1 carries both via both-y.2, amp.left2',
    ],
  },
  'one output for three people': {
    code: 'capacity/output-taken-twice',
    rig: `${HEAD}performer cleo "Cleo"\n${EARS}mix a mono for ana { v 0 dB }\nmix b mono for brik { v 0 dB }\nmix c mono for cleo { v 0 dB }\noutput iface.1 carries a via amp.left1\noutput iface.1 carries b via amp.left2\noutput iface.1 carries c via amp.left3`,
    offers: ['Move b to Interface output 2 and move c to Interface output 3'],
    makes: ['output iface.2 carries b via amp.left2', 'output iface.3 carries c via amp.left3'],
    preferred: true,
  },
  'one line written three times': {
    code: 'capacity/output-taken-twice',
    rig: `${HEAD}${EARS}mix both mono for ana { v 0 dB }\noutput iface.1 carries both via headphone-amp\noutput iface.1 carries both via headphone-amp\noutput iface.1 carries both via headphone-amp`,
    offers: ['Delete Interface output 1'],
    makes: [],
  },
  'one line written twice': {
    code: 'capacity/output-taken-twice',
    rig: `${HEAD}${EARS}mix both mono for ana { v 0 dB }\noutput iface.1 carries both via headphone-amp\noutput iface.1 carries both via headphone-amp`,
    offers: ['Delete Interface output 1'],
    makes: [],
  },
  'more people than sockets, and an amplifier with more of them': {
    code: 'mixes/too-few-sockets',
    rig: `${HEAD}performer cleo "Cleo"\n${EARS}mix all mono for ana, brik, cleo { v 0 dB }\noutput iface.1 carries all via amp.left1`,
    offers: ['Carry all on iface.2 through Amp left2 and carry all on iface.3 through Amp left3'],
    makes: ['output iface.2 carries all via amp.left2', 'output iface.3 carries all via amp.left3'],
  },
  'an instrument too many goes through a DI': {
    code: 'levels/instrument-on-mic',
    rig: `${HEAD}source a "Tenor" is magnetic-pickup\nsource b "Bass" is magnetic-pickup\nsource c "Cuatro" is magnetic-pickup\nmodel small is interface {\n  input 1..2 combo {\n    mic impedance 2 kohm max 2 dBu gain 0..55 dB phantom each\n    instrument impedance 1 Mohm max 10 dBu gain 0..50 dB\n  }\n  input 3 xlr mic impedance 2 kohm max 6 dBu gain 0..60 dB phantom each\n  input optical optical digital channels 8\n  output 1..4 trs line impedance 150 ohm max 16 dBu\n  mixes 4 mono\n}\ngear iface "Interface" is small\ninput iface.1 takes a\ninput iface.2 takes b\ninput iface.3 takes c`,
    offers: ['Put an Active DI into Interface input 3'],
    makes: ['input iface.3 takes c via active-di'],
    preferred: true,
  },
  'a source too many gives by another of its outputs': {
    code: 'capacity/too-few-inputs',
    rig: `${HEAD}model lyre is instrument {\n  output di xlr mic impedance 600 ohm level -24 dBu max 0 dBu\n  output jack ts instrument impedance 10 kohm level -10 dBu max 4 dBu\n}\nsource a "Bell" is dynamic-mic\nsource b "Lyre" is lyre\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max 6 dBu gain 0..60 dB\n  input 2 ts instrument impedance 1 Mohm max 10 dBu gain 0..50 dB\n}\ngear iface "Interface" is box\ninput iface.1 takes a\ninput iface.1 takes b.di`,
    offers: ['Move Lyre to Interface input 2 and take b.jack'],
    makes: ['input iface.2 takes b.jack'],
    preferred: true,
  },
  'lines beyond an optical link at a high rate': {
    code: 'capacity/too-few-channels',
    rig: `rig "Copper Wren"\n  rate 88.2 kHz\nperformer ana "Ana"\nsource a "Bell" is dynamic-mic\ngear iface "Interface" is interface-16\ngear pre "Expander" is preamp-expander\ninput pre.5 takes a\ninput iface.optical takes pre\nmix ana mono for ana { a 0 dB }\noutput iface.1 carries ana via headphone-amp`,
    offers: ['Write "rate 44.1 kHz"', 'Move Bell to Expander input 1'],
    makes: ['  rate 44.1 kHz'],
  },
  'an expander that is linked to nothing': {
    code: 'capacity/no-link',
    rig: `${HEAD}source a "Bell" is dynamic-mic\ngear iface "Interface" is interface-16\ngear pre "Expander" is preamp-expander\ninput pre.1 takes a\nmix ana mono for ana, brik { a 0 dB }\noutput iface.1 carries ana via headphone-amp`,
    offers: ['Plug Expander into iface.optical'],
    makes: ['input iface.optical takes pre'],
    preferred: true,
  },
  'a box with outputs that no mix comes to': {
    code: 'capacity/no-link',
    rig: `${HEAD}model conv "Converter" is expander {\n  input optical optical digital channels 8\n  output 1..8 trs from optical active line impedance 150 ohm max 18 dBu\n}\nsource a "Bell" is dynamic-mic\ngear iface "Interface" is interface-16\ngear outs "Outs" is conv\ninput iface.1 takes a\nmix ana mono for ana, brik { a 0 dB }\noutput outs.1 carries ana via headphone-amp`,
    offers: ['Plug iface.optical into outs.optical'],
    makes: ['input outs.optical takes iface.optical'],
    preferred: true,
  },
  'a mix too many in stereo becomes mono': {
    code: 'capacity/too-many-mixes',
    rig: `${HEAD}source voice is dynamic-mic\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max 2 dBu gain 0..55 dB\n  output 1..4 trs line\n  mixes 3 mono\n}\ngear iface is box\ninput iface.1 takes voice\nmix ana   stereo  for ana { voice 0 dB }\nmix brik  stereo  for brik { voice 0 dB }\noutput iface.1..2 carries ana via headphone-amp\noutput iface.3..4 carries brik via headphone-amp`,
    offers: ['Make brik mono', 'Make ana mono'],
    makes: ['mix brik  mono    for brik { voice 0 dB }'],
  },
  'a line that is written twice': {
    code: 'capacity/input-taken-twice',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface "Interface" is interface-4\ninput iface.1 takes voice\ninput iface.1 takes voice # again`,
    offers: ['Delete Interface input 1'],
    makes: ['# again'],
  },
  'a house line that is written twice': {
    code: 'capacity/house-line-twice',
    rig: `${HEAD}source voice is dynamic-mic\nsource harp is dynamic-mic\nhouse 3 takes voice\nhouse 3 takes harp\n`,
    offers: ['Make it line 4 (ask which line is free)'],
    makes: ['house 4 takes harp'],
  },
  'an output that is not there': {
    code: 'capacity/no-such-port',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface "Interface" is interface-2\ninput iface.1 takes voice\nmix ana mono for ana, brik { voice 0 dB }\noutput iface.9   carries ana via headphone-amp`,
    offers: ['Move ana to Interface output 1', 'Move ana to Interface output 2'],
    makes: ['output iface.1   carries ana via headphone-amp'],
  },
  'an output of a source that is not there': {
    code: 'capacity/no-such-port',
    rig: `${HEAD}source voice is modeller\ngear iface is interface-4\ninput iface.3 takes voice.out`,
    offers: ['Take voice.main', 'Take voice.jack'],
    makes: ['input iface.3 takes voice.main'],
  },
  'somebody who is not meant to hear this side, and has no side': {
    code: 'mixes/wrong-side',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ngear tx is in-ear-transmitter\ngear pack is belt-pack for brik hears tx.left\ninput iface.1 takes voice\nmix ana "Ana's mix" mono for ana { voice 0 dB }\nmix two mono for brik { voice 0 dB }\noutput iface.1 carries ana via tx.left\noutput iface.2 carries two via headphone-amp`,
    offers: ["Let Brik hear Ana's mix"],
    makes: ['mix ana "Ana\'s mix" mono for ana, brik { voice 0 dB }'],
  },
  'a long unbalanced lead gets a DI only where a microphone level is wanted': {
    code: 'connectors/long-unbalanced',
    rig: `${HEAD}source keys "Keys" is stereo-keyboard at 5 m, 5 m\ngear iface is interface-4 at 0 m, 0 m\ninput iface.3..4 takes keys`,
    offers: [],
    makes: [],
  },
  'a DI for a piezo where phantom power is to be had': {
    code: 'levels/low-end',
    rig: {
      'rig.rig': `use "shelf.rig"\n${HEAD}source bass is piezo-pickup\ngear iface is interface-4\ninput iface.1 takes bass via di-1`,
      'shelf.rig': 'gear di-1  "Bass DI"  is passive-di  owned # ours',
    },
    offers: ['Make Bass DI an Active DI'],
    makes: ['gear di-1  "Bass DI"  is active-di   owned # ours'],
    preferred: true,
  },
  'a name that is in another file': {
    code: 'names/unknown',
    rig: { 'rig.rig': `# Copper Wren\n${HEAD}gear iface is our-box`, 'shelf.rig': 'model our-box is interface-2' },
    offers: ['Use shelf.rig, which has it'],
    makes: ['use "shelf.rig"'],
    preferred: true,
  },
  // A whole rig is no shelf: its own line of gear would come with it.
  'a name that is in another rig': {
    code: 'names/unknown',
    rig: { 'rig.rig': `${HEAD}gear iface is our-box`, 'other.rig': 'rig "Other"\nmodel our-box is interface-2' },
    offers: [],
    makes: [],
  },
  'a name that is in a text that is not saved, or not a file of the folder': {
    code: 'names/unknown',
    rig: {
      'rig.rig': `${HEAD}gear iface is our-box`,
      'untitled:Untitled-1.rig': 'model our-box is interface-2',
      'untitled:/rigs/shelf.rig': 'model our-box is interface-2',
      'git:/rigs/shelf.rig': 'model our-box is interface-2',
      'memory:///elsewhere/shelf.rig': 'model our-box is interface-2',
    },
    offers: [],
    makes: [],
  },
  'a file that is used twice': {
    code: 'use/twice',
    rig: { 'rig.rig': `use "shelf.rig"\nuse "./shelf.rig"\n${HEAD}`, 'shelf.rig': 'model our-box is interface-2' },
    offers: ['Delete this line'],
    makes: [],
    preferred: true,
  },
  'a model whose name is written as two words': {
    code: 'text/unexpected',
    rig: `${HEAD}gear x is interface 8 at 1 m, 2 m`,
    offers: ['Write "interface-8"', 'Write "interface-8-mic"'],
    makes: ['gear x is interface-8 at 1 m, 2 m'],
    preferred: false,
  },
  'a source by two performers': {
    code: 'text/unexpected',
    rig: `${HEAD}source voice is dynamic-mic by ana, brik`,
    offers: ['Delete ", brik"'],
    makes: ['source voice is dynamic-mic by ana'],
  },
  'an input that takes two sources': {
    code: 'text/unexpected',
    rig: `${HEAD}source voice is dynamic-mic\nsource bass is dynamic-mic\ngear iface is interface-2\ninput iface.2 takes voice, bass`,
    offers: [],
    makes: [],
  },
  'a decimal number without its unit': {
    code: 'text/missing-unit',
    rig: `${HEAD}gear tx is in-ear-transmitter on 863.4`,
    offers: ['Write "863.4 MHz"', 'Write "863.4 Hz"', 'Write "863.4 kHz"', 'Write "863.4 GHz"'],
    makes: ['gear tx is in-ear-transmitter on 863.4 MHz'],
    preferred: false,
  },
  'a name that is nearly another': {
    code: 'names/unknown',
    rig: `${HEAD}source voice is dynamic-mick`,
    offers: ['Write "dynamic-mic"'],
    makes: ['source voice is dynamic-mic'],
  },
  'a name that is nearly another, in two places': {
    code: 'names/unknown',
    rig: `${HEAD}source bass is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes bas\nmix a mono for ana, brik { bas 0 dB }\nmix b mono for brik { bass 0 dB }`,
    offers: ['Write "bass" in both places'],
    makes: ['input iface.1 takes bass', 'mix a mono for ana, brik { bass 0 dB }'],
    preferred: true,
  },
  // What is written first and used nowhere has the slip.
  'a name that is misspelt where it is declared': {
    code: 'names/unknown',
    rig: `${HEAD}source bas is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes bass\nmix a mono for ana, brik { bass 0 dB }`,
    offers: ['Call the source bass', 'Write "bas" in both places'],
    makes: ['source bass is dynamic-mic'],
  },
  'a level that is glued to its name': {
    code: 'names/unknown',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice\nmix a mono for ana, brik { voice-3 dB }`,
    offers: ['Write "voice -3"'],
    makes: ['mix a mono for ana, brik { voice -3 dB }'],
  },
  'a number without its unit': {
    code: 'text/missing-unit',
    rig: 'source voice is dynamic-mic\n  peak 120\n  must',
    offers: ['Write "120 dB SPL"', 'Write "120 dBu"', 'Write "120 dBV"'],
    makes: ['  peak 120 dB SPL'],
    preferred: false,
  },
  'two braces that are open': {
    code: 'text/unclosed-brace',
    rig: 'model box is interface {\n  input 1 combo {\n    mic impedance 2 kohm\nsource voice is dynamic-mic',
    offers: ['Close the brace'],
    makes: ['  }', '}'],
  },
  'two things of one name': {
    code: 'names/duplicate',
    rig: `${HEAD}source oud "High" is dynamic-mic\nsource oud "Low" is dynamic-mic  # the other`,
    offers: ['Call the second one oud-2'],
    makes: ['source oud-2 "Low" is dynamic-mic  # the other'],
    preferred: false,
  },
  'a mix of the name of a source': {
    code: 'names/two-meanings',
    rig: `${HEAD}house ours\nsource oud is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes oud\nmix oud mono for house { oud 0 dB }\noutput iface.1 carries oud via powered-loudspeaker`,
    offers: ['Call the mix oud-mix'],
    makes: ['mix oud-mix mono for house { oud 0 dB }', 'output iface.1 carries oud-mix via powered-loudspeaker'],
    preferred: false,
  },
  'a range whose second end lacks its letters': {
    code: 'models/bad-range',
    rig: 'model box is interface {\n  input usb1..8 digital\n}',
    offers: ['Write "usb1..usb8"'],
    makes: ['  input usb1..usb8 digital'],
  },
  'ports that are there already': {
    code: 'models/port-twice',
    rig: 'model box is interface {\n  input 1..2 xlr\n  input 2..3 trs\n}',
    offers: ['Number on: 3..4'],
    makes: ['  input 3..4 trs'],
    preferred: false,
  },
  'a length below nought': {
    code: 'units/impossible',
    rig: 'rig "X" set -40 min # long',
    offers: ['Write "40 min"'],
    makes: ['rig "X" set 40 min # long'],
    preferred: false,
  },
  'a box in two lines without a name, and none that lies idle': {
    code: 'splits/second-piece',
    rig: `${HEAD}source cittern "Cittern" is preamp-pickup by ana\ngear iface is interface-4\ninput iface.1 takes cittern via passive-di\nhouse 2 takes cittern via passive-di.thru, their-di`,
    offers: ['Go through one Passive DI in both lines: cittern-di'],
    makes: [
      'gear cittern-di "Cittern DI" is passive-di',
      'input iface.1 takes cittern via cittern-di',
      'house 2 takes cittern via cittern-di.thru, their-di',
    ],
    preferred: false,
  },
  'the wrong thing at the right place': {
    code: 'models/bad-range',
    rig: 'model box is interface {\n  input 8..1 xlr\n}',
    offers: ['Write "1..8"'],
    makes: ['  input 1..8 xlr'],
  },
};

describe('cures', () => {
  it.each(Object.entries(CASES))('%s', async (_, { code, rig, offers, makes, preferred }) => {
    const bench = await open(rig);
    const located = bench.analysis().located.find(({ finding }) => finding.code === code);
    expect(located, `finds ${code}; there are ${bench.analysis().located.map(({ finding }) => finding.code)}`).toBeDefined();
    const actions = await actionsFor(bench, located as Located);
    expect(actions.map(({ title }) => title)).toEqual(offers);
    const [first] = actions;
    if (!first) return;
    const after = Object.entries(applied(bench, first.edit)).flatMap(([name, text]) => {
      const before = bench.documentOf(name).textDocument.getText().split('\n');
      return text
        .split('\n')
        .filter(
          (line) =>
            !before.includes(line) ||
            before.filter((each) => each === line).length < text.split('\n').filter((each) => each === line).length,
        );
    });
    expect(after.filter((line) => line !== '')).toEqual(makes);
    if (preferred !== undefined) expect(first.isPreferred ?? false).toBe(preferred);
    expect(await judge(bench, located as Located, first)).toEqual([]);
  });
});

describe('every page of a mistake', () => {
  const root = join(import.meta.dirname, '../../examples/mistakes');
  const rigsIn = (folder: string): string[] =>
    readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
      entry.isDirectory() ? rigsIn(join(folder, entry.name)) : entry.name.endsWith('.rig') ? [join(folder, entry.name)] : [],
    );
  const pages = rigsIn(root).map((path) => relative(root, path).replaceAll('\\', '/'));

  it.each(pages)('%s: whatever is offered cures it and brings nothing of weight', async (page) => {
    const beside = pages.filter((each) => each !== page && each.split('/')[0] === page.split('/')[0]);
    const bench = await open(Object.fromEntries([page, ...beside].map((each) => [each, readFileSync(join(root, each), 'utf8')])));
    for (const located of bench.analysis().located) {
      for (const action of await actionsFor(bench, located)) {
        expect(action.edit?.changes, action.title).toBeDefined();
        expect(await judge(bench, located, action), `${located.finding.code}: ${action.title}`).toEqual([]);
      }
    }
  });

  it('tries every kind of finding', () => {
    const names = new Set(pages.map((page) => page.replace(/\.rig$/, '')));
    expect(Object.keys(PROBLEMS).filter((code) => !names.has(code))).toEqual([]);
  });
});

describe('one cure for several findings', () => {
  const every = (bench: Bench, located: readonly Located[], only?: string[]) =>
    bench.services.lsp.CodeActionProvider?.getCodeActions(bench.document, {
      textDocument: { uri: bench.document.uri.toString() },
      range: (located[0] as Located).range,
      context: { diagnostics: located.map(diagnosticOf), only },
    }) as CodeAction[];
  const RIG = `${HEAD}source a is dynamic-mic\nsource b is dynamic-mic\nsource c is dynamic-mic\ngear iface is interface-8-mic\n`;

  it('is offered where all can be taken together, and is tried', async () => {
    const bench = await open(
      `${RIG}input iface.1 takes a gain 70 dB  # so\ninput iface.2 takes b gain 70 dB\ninput iface.3 takes c gain 71 dB\nmix ana mono for ana, brik { a 0 dB  b 0 dB  c 0 dB }\noutput iface.1 carries ana via headphone-amp\noutput iface.2 carries ana via headphone-amp`,
    );
    const [first, ...others] = bench.analysis().located.filter(({ finding }) => finding.code === 'levels/gain-out-of-range');
    expect(others.length, JSON.stringify(bench.analysis().located.map(({ finding }) => finding))).toBe(2);
    const all = every(bench, [first as Located], ['quickfix']).find(({ title }) => title === 'Fix all 3 of this kind in this file');
    expect(all?.isPreferred).toBeUndefined();
    expect(all?.diagnostics?.length).toBe(3);
    const text = applied(bench, all?.edit)['rig.rig'] as string;
    const after = (await open(text)).analysis().located.map(({ finding }) => finding.code);
    expect(after).toEqual([]);
    expect(text).toContain('dB  # so');
  });

  it('does not put two things on one port', async () => {
    // Both would go to the input that is free.
    const bench = await open(
      `${HEAD}source a is dynamic-mic\nsource b is dynamic-mic\nsource c is dynamic-mic\nsource d is dynamic-mic\ngear iface is interface-4\ngear spare is interface-2\ninput iface.9 takes a\ninput iface.8 takes b\nmix ana mono for ana, brik { a 0 dB  b 0 dB }\noutput iface.1 carries ana via headphone-amp\noutput iface.2 carries ana via headphone-amp`,
    );
    const located = bench.analysis().located.filter(({ finding }) => finding.code === 'capacity/no-such-port');
    expect(located.length).toBe(2);
    const single = every(bench, located.slice(0, 1), ['quickfix']).map(({ title }) => title);
    expect(single).toContain('Move a to iface input 1');
    expect(single.filter((title) => title.endsWith('in this file'))).toEqual([]);
  });

  it('is not offered for one alone', async () => {
    const bench = await open(`${RIG}input iface.1 takes a gain 70 dB`);
    const located = bench.analysis().located.filter(({ finding }) => finding.code === 'levels/gain-out-of-range');
    expect(
      every(bench, located, ['quickfix'])
        .map(({ title }) => title)
        .filter((title) => /^Fix/.test(title)),
    ).toEqual([]);
  });

  it('on save, mends only what can be read one way, and the rig is the same', async () => {
    const bench = await open(
      'rig "X"\nperformer ana at 1,5 m, 2 m\nsource organ is stereo-keyboard at 1,25 m, 2 m # where\ngear iface is interface-4\ninput iface.3-4 takes organ\nmix x mono for ana { organ 12 dB }',
    );
    const actions = every(bench, bench.analysis().located, ['source.fixAll']);
    expect(actions.map(({ kind }) => kind)).toEqual(['source.fixAll.earloom']);
    const text = applied(bench, actions[0]?.edit)['rig.rig'];
    expect(text).toBe(
      'rig "X"\nperformer ana at 1.5 m, 2 m\nsource organ is stereo-keyboard at 1.25 m, 2 m # where\ngear iface is interface-4\ninput iface.3..4 takes organ\nmix x mono for ana { organ 12 dB }',
    );
    const rigOf = ({ lowered: { rig } }: ReturnType<Bench['analysis']>) =>
      JSON.stringify([[...rig.pieces], [...rig.performers], [...rig.mixes], rig.inputs]);
    const after = await open(text as string);
    expect(rigOf(after.analysis())).toBe(rigOf(bench.analysis()));
    expect(
      after.services.lsp.CodeActionProvider?.getCodeActions(after.document, {
        textDocument: { uri: '' },
        range: (bench.analysis().located[0] as Located).range,
        context: { diagnostics: [], only: ['source'] },
      }),
    ).toEqual([]);
    // Without being asked for by its kind it is not among what a cursor is offered.
    expect(every(bench, bench.analysis().located).filter(({ kind }) => kind?.startsWith('source'))).toEqual([]);
  });

  it('prefers at most one for each diagnostic, and says what each cures', async () => {
    const root = join(import.meta.dirname, '../../examples/mistakes');
    let several = 0;
    for (const page of [
      'capacity/too-few-inputs',
      'ground/metal-path',
      'connectors/tail-too-short',
      'levels/split-loss',
      'mixes/not-patched',
    ]) {
      const bench = await open({ 'rig.rig': readFileSync(join(root, `${page}.rig`), 'utf8') });
      const { located } = bench.analysis();
      if (located.length > 1) several++;
      const actions = every(bench, located, ['quickfix']);
      for (const diagnostic of located.map(diagnosticOf)) {
        const mine = actions.filter((action) => action.diagnostics?.some((each) => JSON.stringify(each) === JSON.stringify(diagnostic)));
        expect(mine.filter(({ isPreferred }) => isPreferred).length).toBeLessThanOrEqual(1);
        expect(new Set(mine.map(({ title, edit }) => JSON.stringify([title, edit]))).size).toBe(mine.length);
      }
    }
    expect(several).toBeGreaterThan(1);
  });
});

describe('a slip whose message says what to write', () => {
  it.each([
    ['performer cy at 0 m 2 m', 'performer cy at 0 m, 2 m'],
    ['mix all mono for ana brik { }', 'mix all mono for ana, brik { }'],
    ['mix all mono for ana and brik { }', 'mix all mono for ana, brik { }'],
    ['mix mono all for ana { }', 'mix all mono for ana { }'],
    ['source lead oud is dynamic-mic', 'source lead-oud is dynamic-mic'],
    ['gear box = interface-4', 'gear box is interface-4'],
    ['gear box interface-4', 'gear box is interface-4'],
    ['input iface.1 = voice', 'input iface.1 takes voice'],
    ['input iface.1 voice', 'input iface.1 takes voice'],
    ['mix all for ana, brik stereo { voice 0 dB }', 'mix all stereo for ana, brik { voice 0 dB }'],
    ['mix all "All" for ana { voice 0 dB } mono', 'mix all "All" mono for ana { voice 0 dB }'],
    ['mix all mono for ana stereo { voice 0 dB }', 'mix all mono for ana { voice 0 dB }'],
    ['source oud is dynamic-mic by ana "Oud"', 'source oud "Oud" is dynamic-mic by ana'],
    ['source oud is dynamic-mic "Oud" by ana', 'source oud "Oud" is dynamic-mic by ana'],
    ['source oud is dynamic-mic “Oud” by ana', 'source oud “Oud” is dynamic-mic by ana'],
    ['house 3 own mic "Oud"', 'house 3 "Oud" own mic'],
    ['house 3 "Oud" own mic "Oud"', 'house 3 "Oud" own mic'],
    ['input iface.1 takes voice "Voice"', 'input iface.1 takes voice'],
    ['input iface.1 "Voice" takes voice', 'input iface.1 takes voice'],
    ['source oud is dynamic-mic by ana (spare', 'source oud is dynamic-mic by ana spare'],
    ['source oud is dynamic-mic by ana.left at 1 m, 2 m', 'source oud is dynamic-mic by ana at 1 m, 2 m'],
    ['mix all mono for ana { }\noutput iface.1 carries all.left via wired-pack', 'output iface.1 carries all via wired-pack'],
  ])('%s becomes %s', async (slip, meant) => {
    const bench = await open(`${HEAD}source voice is dynamic-mic\ngear iface is interface-4\n${slip}`);
    const located = bench.analysis().located.find(({ finding }) => finding.code.startsWith('text/')) as Located;
    const actions = await actionsFor(bench, located);
    expect(actions.map((action) => applied(bench, action.edit)['rig.rig']?.split('\n').at(-1))).toContain(meant);
    if (actions.length === 1) expect(actions[0]?.isPreferred).toBe(true);
  });
});

describe('units', () => {
  const model = (figure: string) => `rig "X"\nmodel m {\n  output out xlr mic ${figure}\n}`;
  it.each(['impedance 5 kHz', 'capacitance 0.5 fF', 'sensitivity 5 mA', 'inductance 3 kH', 'max 12 h', 'phantom needed draws 4 W'])(
    '%s is never made another figure',
    async (figure) => {
      const bench = await open(model(figure));
      for (const located of bench.analysis().located)
        for (const { title } of await actionsFor(bench, located)) expect(title).toMatch(/comment$/);
      expect(bench.analysis().located.map(({ finding }) => finding.code)).toContain('units/wrong');
    },
  );

  it.each([
    'output out xlr mic sensitivity -54 dBV/Pa',
    'output out trs instrument capacitance 0.5 \u00B5F',
    'input in xlr line impedance 10 k\u03A9 max 1.2 V',
    'input in mini-trs phones impedance 32 ohm sensitivity 110 dB SPL/V',
  ])('%s is read', async (port) => {
    expect((await open(`rig "X"\nmodel m { ${port} }\ngear g is m`)).analysis().located.map(({ finding }) => message(finding))).toEqual([]);
  });

  it.each([
    ['input in xlr line impedance 10 kohm max -1.2 V', 'It has to be more than nought.'],
    ['input in mini-trs phones sensitivity 110 dB SPL/V', 'with the impedance of the earphones beside it'],
  ])('%s is not', async (port, words) => {
    const found = (await open(`rig "X"\nmodel m { ${port} }\ngear g is m`)).analysis().located;
    expect(found.map(({ finding }) => message(finding)).join()).toContain(words);
  });
});

describe('edits', () => {
  it('keep comments, columns and line breaks as they are', async () => {
    const text = [
      'rig "Copper Wren" # Invented.',
      'performer ana "Ana"',
      'source voice  "Voice"  is dynamic-mic   by ana',
      'source gurdy  "Gurdy"  is modeller      by ana',
      'gear iface  "Interface"  is interface-4',
      'input iface.1   takes voice  via y-lead  # to the house as well',
      'input iface.3   takes gurdy.jack         # a line',
      'house 1  takes voice',
      'mix ana  mono  for ana  { voice 0 dB  gurdy -3 dB  drum 0 dB } # all of it',
      'source drum   "Drum"   is dynamic-mic',
      'output iface.1  carries ana  via headphone-amp',
    ].join('\r\n');
    const bench = await open(text);
    const located = bench.analysis().located.find(({ finding }) => finding.code === 'mixes/not-patched') as Located;
    const [plug, out] = await actionsFor(bench, located);
    expect(applied(bench, plug?.edit)['rig.rig']).toBe(text.replace('# a line', '# a line\r\ninput iface.2   takes drum'));
    expect(applied(bench, out?.edit)['rig.rig']).toBe(text.replace('  drum 0 dB }', ' }'));
  });

  it('never take a comment away', async () => {
    const bench = await open(
      'source voice is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice via y-lead, # here\n  pad-20, y-lead',
    );
    for (const located of bench.analysis().located) {
      for (const action of await actionsFor(bench, located))
        expect(applied(bench, action.edit)['rig.rig'], action.title).toContain('# here');
    }
  });

  it('are made in a used file of ours, and never in the library', async () => {
    const bench = await open({
      'rig.rig': 'use "shelf.rig"\nsource bass is our-piezo\ngear iface is interface-2\ninput iface.1 takes bass via di-1',
      'shelf.rig': 'gear di-1 is passive-di\nmodel our-piezo is piezo-pickup { }',
    });
    const located = bench.analysis().located.find(({ finding }) => finding.code === 'levels/low-end') as Located;
    const [action] = await actionsFor(bench, located);
    expect(Object.keys(action?.edit?.changes ?? {})).toEqual([bench.documentOf('shelf.rig').uri.toString()]);
    const library = bench.services.shared.workspace.LangiumDocuments.all.find((document) => document.uri.scheme === 'earloom');
    expect(
      library &&
        bench.services.lsp.CodeActionProvider?.getCodeActions(library, {
          textDocument: { uri: library.uri.toString() },
          range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
          context: { diagnostics: [] },
        }),
    ).toEqual([]);
  });

  it('are not made in a file that is not open, whose text may be another by now', async () => {
    const bench = await open({
      'rig.rig': 'use "shelf.rig"\nsource bass is piezo-pickup\ngear iface is interface-4\ninput iface.1 takes bass via di-1',
      'shelf.rig': 'gear di-1 is passive-di',
    });
    bench.services.shared.workspace.TextDocuments.delete(bench.documentOf('shelf.rig').uri);
    const located = bench.analysis().located.find(({ finding }) => finding.code === 'levels/low-end') as Located;
    expect((await actionsFor(bench, located)).flatMap(({ edit }) => Object.keys(edit?.changes ?? {}))).not.toContain(
      bench.documentOf('shelf.rig').uri.toString(),
    );
  });

  it('say which text they are for, where the editor can tell', async () => {
    const bench = await open('rig "X"\nsource voice is dynamic-mick');
    bench.services.editor.Abilities.take({ workspace: { workspaceEdit: { documentChanges: true } } });
    const [action] = await actionsFor(bench, bench.analysis().located[0] as Located);
    const { uri, version } = bench.document.textDocument;
    expect(action?.edit).toMatchObject({ documentChanges: [{ textDocument: { uri, version }, edits: [{ newText: 'dynamic-mic' }] }] });
  });

  it('are offered for what is asked about, and for nothing else', async () => {
    const bench = await open('rig "X"\nsource voice is dynamic-mick');
    const [located] = bench.analysis().located as [Located];
    const diagnostic = diagnosticOf(located);
    const ask = (diagnostics: Diagnostic[], only?: string[]) =>
      bench.services.lsp.CodeActionProvider?.getCodeActions(bench.document, {
        textDocument: { uri: '' },
        range: diagnostic.range,
        context: { diagnostics, only },
      }) as CodeAction[];
    expect(ask([diagnostic]).map(({ title }) => title)).toEqual(['Write "dynamic-mic"']);
    expect(ask([diagnostic], ['quickfix']).length).toBe(1);
    expect(ask([diagnostic], ['refactor'])).toEqual([]);
    expect(ask([])).toEqual([]);
    // A diagnostic of an older text is no longer where it was.
    expect(ask([{ ...diagnostic, range: { start: { line: 0, character: 0 }, end: { line: 0, character: 1 } } }])).toEqual([]);
    expect(ask([{ ...diagnostic, code: 'levels/clips' }])).toEqual([]);
  });
});
