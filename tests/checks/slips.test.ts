/** Slips of the hand and of the tongue: each costs its own statement alone, and the message says what to do. */
import { describe, expect, it } from 'vitest';
import type { Analysis } from '#language';
import type { RigFile } from '../../packages/language/generated/ast';
import { isClause } from '../../packages/language/syntax/meant';
import { ENDINGS, exampleWith, STATEMENT_WORDS } from '../../packages/language/syntax/words';
import { analyseText, foundIn } from './open';
import { READS_WELL } from './reads-well';

const RIG = `rig "Slip Knot, village hall"
  region EU
  budget 100 EUR

performer ada  "Ada"  at 0 m, 2 m
performer bo   "Bo"   at 1 m, 2 m

source voice  "Voice"  is dynamic-mic      by ada  peak 120 dB SPL
source keys   "Keys"   is stereo-keyboard  by bo

gear iface  "Interface"  is interface-8-mic  at 1 m, 3 m  buy 90 EUR

input iface.1     takes voice  via y-lead  gain 20 dB
input iface.3..4  takes keys

house at 4 m, 1 m
house 7  "Voice"  takes voice

mix ada  stereo  for ada, bo  { voice 0 dB  keys -6 dB left 20 % }
output iface.phones1  carries ada
output iface.phones2  carries ada
`;

/** What is right in the rig, what somebody writes instead, what is found, and words of its message. */
const SLIPS: readonly (readonly [right: string, written: string, codes: string, words: string])[] = [
  // A keyword misspelt, left out, or another word for it.
  ['takes voice', 'taks voice', 'text/unexpected', 'Did you mean "takes"?'],
  ['takes voice', 'voice', 'text/unexpected', 'After "iface.1" comes "takes" and a source.'],
  ['takes voice', '= voice', 'text/unexpected', '"= voice" does not fit here'],
  ['takes voice', '-> voice', 'text/unexpected', 'After "iface.1" comes "takes" and a source.'],
  ['takes voice', 'takes', 'text/unexpected', 'After "takes" comes the name of a source or mix.'],
  ['takes voice', 'takes the voice', 'text/unexpected', '"the" does not fit here'],
  ['takes voice', 'takes voice,', 'text/unexpected', 'Leave it out.'],
  ['takes voice', 'takes voice and keys', 'text/unexpected', 'One input takes one source: write a second line for keys.'],
  ['takes voice', 'takes voice, keys', 'text/unexpected', '", keys" does not fit'],
  ['takes voice', 'takes voice, keys', 'text/unexpected', 'One input takes one source: write a second line for keys.'],
  ['carries ada', 'carries ada, bo', 'text/unexpected', 'One output carries one mix: write a second line for bo.'],
  ['"Voice"  takes voice', '"Voice"  takes voice, keys', 'text/unexpected', 'One line of the house takes one source: write a second line'],
  ['takes voice', 'takes voice via y-lead keys', 'text/unexpected', 'Leave it out, or put it on a line of its own.'],
  ['via y-lead', 'thru y-lead', 'text/unexpected', 'Did you mean "via"?'],
  ['via y-lead', 'via the y-lead', 'text/unexpected', 'Leave it out.'],
  ['via y-lead', 'via ylead', 'names/unknown', 'Did you mean y-lead?'],
  ['carries ada', 'takes ada', 'text/unexpected', 'Did you mean "carries"?'],
  ['carries ada', 'carry ada', 'text/unexpected', 'Did you mean "carries"?'],
  ['carries ada', 'send ada', 'text/unexpected', 'Did you mean "carries"?'],
  ['takes voice', 'get voice', 'text/unexpected', 'Did you mean "takes"?'],
  ['carries ada', 'carries ada.', 'text/unexpected', 'Leave it out.'],
  ['house 7  "Voice"  takes voice', 'house 7  "Voice"  our mic', 'text/unexpected', 'Did you mean "own"?'],
  ['house 7  "Voice"  takes voice', 'house 7..8  takes ada', 'text/unexpected', '"7..8" does not fit here'],
  ['house 7  "Voice"  takes voice', 'house 7..8  takes ada', 'text/unexpected', 'each takes one side: ada.left and ada.right.'],
  ['house 7  "Voice"  takes voice', 'house 7-8 "Band" takes ada', 'text/unexpected', 'Write a line for each number.'],
  ['house 7  "Voice"  takes voice', 'house 7..12  takes ada', 'text/unexpected', 'Write a line for each number.'],
  ['house 7  "Voice"', 'house "Voice"', 'text/unexpected', 'the number of its line'],
  ['house 7  "Voice"', 'house line 7 "Voice"', 'text/unexpected', 'the number of its line'],
  ['is dynamic-mic', 'dynamic-mic', 'text/unexpected', 'After "Voice" comes "is" and the name of a model.'],
  ['by ada  peak 120 dB SPL', 'peak 120 dB SPL for ada', 'text/unexpected', 'Did you mean "by"?'],
  ['by ada', 'by "Ada"', 'text/unexpected', 'After "by" comes the name of a performer.'],
  ['by ada', 'by Ada', 'names/unknown', 'Did you mean ada?'],
  ['by ada', 'by ada,', 'text/unexpected', 'Leave it out.'],
  // The label for the name.
  ['input iface.1', 'input interface.1', 'names/unknown', 'Did you mean iface?'],
  ['source voice  "Voice"', 'source vx  "Voice"', 'names/unknown', 'Did you mean vx?'],
  ['by ada', 'by ada, bo', 'text/unexpected', 'A source is by one performer: leave bo out.'],
  ['by ada', 'by ada and bo', 'text/unexpected', 'A source is by one performer: leave bo out.'],
  // A name of several words.
  ['is interface-8-mic', 'is interface 8', 'text/unexpected', '"interface 8" does not fit'],
  ['is interface-8-mic', 'is interface 8', 'text/unexpected', 'A name is one word. Did you mean interface-8 or interface-8-mic?'],
  ['is interface-8-mic', 'is interface 8 mic', 'text/unexpected', 'Did you mean interface-8-mic?'],
  ['is interface-8-mic', 'is interface 16', 'text/unexpected', 'A name is one word. Did you mean interface-'],
  ['is stereo-keyboard', 'is stereo keyboard', 'text/unexpected', 'Did you mean stereo-keyboard?'],
  ['via y-lead', 'via y lead', 'text/unexpected', 'Did you mean y-lead?'],
  // A line that starts no statement, behind one that is not whole.
  [
    'house 7  "Voice"  takes voice',
    'house takes voice\nmic two\nguitar "G" is x',
    'text/unexpected text/no-statement text/no-statement',
    '"guitar" does not start a statement.',
  ],
  [
    'performer bo   "Bo"   at 1 m, 2 m',
    'performer bo   "Bo"   at 1 m, 2 m\n\nguitar one\nbass two',
    'text/no-statement text/no-statement',
    '"bass" does not start a statement.',
  ],
  // Words in another order.
  ['input iface.1     takes voice', 'input voice  into iface.1', 'text/unexpected', 'The socket comes first'],
  ['output iface.phones1  carries ada', 'output ada via iface.phones1', 'text/unexpected', 'The socket comes first'],
  ['is interface-8-mic  at 1 m, 3 m', 'at 1 m, 3 m  is interface-8-mic', 'text/unexpected', 'After "Interface" comes "is"'],
  ['mix ada  stereo', 'mix stereo ada', 'text/unexpected', '"mix ada stereo"'],
  ['stereo  for ada, bo', 'for ada, bo  stereo', 'text/unexpected', '"stereo" stands behind the name: ada stereo.'],
  ['stereo  for ada, bo', '"Ada" for ada mono', 'text/unexpected', '"mono" stands behind the label: "Ada" mono.'],
  ['stereo  for ada, bo', 'stereo  for ada mono', 'text/unexpected', 'It is said already. Leave this one out.'],
  ['left 20 % }', 'left 20 % } stereo', 'text/unexpected', 'It is said already. Leave this one out.'],
  ['region EU\n', 'region EU "Slip"\n', 'text/unexpected', 'A title stands behind "rig".'],
  ['performer bo   "Bo" ', 'performer bo   headphones ', 'text/unexpected', 'Did you mean "ears"?'],
  ['stereo  for ada, bo  {', 'for ada, bo  "Ada"  {', 'text/unexpected', '"Ada" does not fit here'],
  ['ada  stereo', 'ada  stereo  "Ada"', 'text/unexpected', 'A label stands behind the name: ada "Ada".'],
  [
    '"Voice"  is dynamic-mic      by ada',
    'is dynamic-mic by ada "Voice"',
    'text/unexpected',
    'A label stands behind the name: voice "Voice".',
  ],
  ['7  "Voice"  takes voice', '7 takes voice "Voice"', 'text/unexpected', 'A label stands behind the number: 7 "Voice".'],
  ['bo   "Bo"   at 1 m, 2 m', 'bo at 1 m, 2 m "Bo"', 'text/unexpected', 'A label stands behind the name: bo "Bo".'],
  ['"Bo"   at 1 m, 2 m', '"Bo"   at 1 m, 2 m "Bo"', 'text/unexpected', 'It has a label already. Leave this one out.'],
  ['takes voice  via', 'takes voice "Voice" via', 'text/unexpected', 'An input has no label. Leave it out.'],
  ['house at 4 m, 1 m', 'house at 4 m, 1 m "Hall"', 'text/unexpected', 'Only a line of the house’s with a number has a label.'],
  ['input iface.1     takes', 'input iface.1 "Voice" takes', 'text/unexpected', 'An input has no label. Leave it out.'],
  ['output iface.phones1  carries', 'output iface.phones1 "Ada" carries', 'text/unexpected', 'An output has no label. Leave it out.'],
  // A socket where none belongs.
  ['carries ada\noutput', 'carries ada.left\noutput', 'text/unexpected', 'An output carries all of a mix: "carries ada".'],
  ['carries ada\noutput', 'carries voice.1\noutput', 'text/unexpected', 'After "carries" comes the name of a mix.'],
  ['carries ada\noutput', 'carries iface.1\noutput', 'text/unexpected', 'After "carries" comes the name of a mix.'],
  ['carries ada\noutput', 'carries\n  ada.left\noutput', 'text/unexpected', '".left" does not fit here'],
  ['carries ada\noutput', 'carries wedge . left\noutput', 'text/spaced-dot', 'Write wedge.left.'],
  ['by ada', 'by ada.left', 'text/unexpected', '".left" does not fit here'],
  // What is said of something else.
  [
    'takes voice\n\nmix',
    'own mic on voice\n\nmix',
    'text/unexpected',
    'What their microphone is for stands in the label, as in house 8 "Lead vocal" own mic.',
  ],
  ['carries ada\noutput', 'carries ada on radio\noutput', 'text/unexpected', 'Leave it out, or put it on a line of its own.'],
  [
    'peak 120 dB SPL',
    'phantom',
    'text/unexpected',
    '"phantom" belongs to an input. It is written like this: input iface.1 takes voice phantom on',
  ],
  [
    'peak 120 dB SPL',
    'gain 20 dB',
    'text/unexpected',
    '"gain" belongs to an input. It is written like this: input iface.1 takes voice gain 20 dB',
  ],
  ['at 1 m, 2 m', 'at 1 m, 2 m  stereo', 'text/unexpected', '"stereo" belongs to a mix.'],
  ['at 1 m, 2 m', 'at 1 m, 2 m  hears iface.left', 'text/unexpected', '"hears" belongs to gear.'],
  ['carries ada\noutput', 'carries ada to headphone-amp\noutput', 'text/unexpected', 'Did you mean "via"?'],
  ['peak 120 dB SPL', 'ears earphones', 'text/unexpected', '"ears" belongs to a performer.'],
  ['buy 90 EUR', 'latency 2 ms', 'text/unexpected', '"latency" belongs to a model.'],
  ['gain 20 dB', 'gain dB 20', 'text/unexpected', 'After "gain" comes a number with its unit.'],
  // The word that starts a statement.
  ['input iface.1', 'Input iface.1', 'text/no-statement', 'Write it in small letters: "input".'],
  ['input iface.1', 'INPUT iface.1', 'text/no-statement', 'Write it in small letters: "input".'],
  ['input iface.1', 'in iface.1', 'text/no-statement', 'Did you mean "input"?'],
  ['input iface.1', 'inptu iface.1', 'text/no-statement', 'Did you mean "input"?'],
  ['mix ada', 'monitor ada', 'text/no-statement', 'Did you mean "mix"?'],
  ['rig "Slip', 'Rig "Slip', 'text/no-statement', 'small letters'],
  ['performer bo   "Bo"   at 1 m, 2 m', '// Bo\nperformer bo   "Bo"   at 1 m, 2 m', 'text/stray-character', 'A comment starts with #.'],
  ['performer bo', '- performer bo', 'text/stray-character', 'Delete it'],
  // Names and labels.
  ['"Voice"  is', 'Voice  is', 'text/unexpected', 'A label stands in quotes.'],
  ['voice  "Voice"  is', 'lead voice  "Voice"  is', 'text/unexpected', 'A name is one word, such as lead-voice.'],
  ['voice  "Voice"  is', '"Voice"  is', 'text/unexpected', 'After "source" comes a name.'],
  ['"Voice"  is', "'Voice'  is", 'text/stray-character', 'straight double quotes'],
  ['"Voice"  is', '„Voice“  is', 'text/stray-character', 'straight double quotes'],
  ['"Voice"  is', '“Voice”  is', '', ''],
  ['"Voice"  is', '"Voice  is', 'text/unclosed-quote', 'Put a " after the label.'],
  ['"Slip Knot, village hall"', 'Slip Knot', 'text/unexpected', 'A title stands in quotes.'],
  ['gear iface', 'gear house', 'text/reserved-word', 'such as house-1 or my-house'],
  // Sockets and ranges.
  ['input iface.1', 'input iface 1', 'text/spaced-dot', 'Write iface.1.'],
  ['input iface.1', 'input iface .1', 'text/spaced-dot', 'Write iface.1.'],
  ['input iface.1', 'input iface-1', 'text/spaced-dot', 'Write iface.1.'],
  // A dot, and what goes on behind the socket: the socket is what is missing.
  ['input iface.1 ', 'input iface. ', 'capacity/no-such-port', 'Which input of Interface? Nothing stands behind the dot.'],
  ['input iface.1 ', 'input iface. ', 'capacity/no-such-port', 'Write one that is free: 1, 2 or 5..8.'],
  ['input iface.1     takes voice', 'input iface.\n  takes voice', 'capacity/no-such-port', 'Which input of Interface?'],
  ['output iface.phones2 ', 'output iface.phones9 ', 'capacity/no-such-port', ''],
  ['output iface.phones2 ', 'output iface. ', 'capacity/no-such-port', 'Which output of Interface?'],
  ['input iface.1 ', 'input iface.1.. ', 'text/unfinished', 'After "1.." comes the last socket, as in iface.1..2.'],
  ['input iface.1 ', 'input iface.1 .. ', 'text/unfinished', 'After "1.." comes the last socket'],
  [
    'input iface.1     takes voice',
    'input iface.1..\n  takes voice',
    'text/unfinished',
    'After "1.." comes the last socket, as in iface.1..2.',
  ],
  ['via y-lead  gain', 'via y-lead.  gain', 'text/unfinished', 'After "y-lead." comes a socket.'],
  [
    'takes voice\n\nmix',
    'takes voice  via y-lead.  instead\n\nmix',
    'text/unfinished use/nothing-instead',
    'After "y-lead." comes a socket.',
  ],
  ['input iface.1', 'input 1', 'text/unexpected', 'The socket comes first'],
  ['input iface.1 ', 'input iface.1: ', 'text/unexpected', 'Leave it out.'],
  ['iface.3..4', 'iface.3-4', 'text/dash-range', 'Write 3..4.'],
  ['iface.3..4', 'iface.3–4', 'text/dash-range', 'Write 3..4.'],
  ['iface.3..4', 'iface.3,4', 'text/dash-range', 'Write 3..4.'],
  ['iface.3..4', 'iface.3 .. iface.4', 'text/unexpected', 'A range names the piece once: iface.3..4.'],
  // Numbers and units.
  ['gain 20 dB', 'gain 20', 'text/missing-unit', 'Write 20 dB.'],
  ['gain 20 dB', 'gain 20dB', '', ''],
  ['120 dB SPL', '120 db(a)', '', ''],
  ['gain 20 dB', 'gain +20 dB', '', ''],
  ['buy 90 EUR', 'spare buy 90 EUR', '', ''],
  ['buy 90 EUR', 'buy 90 EUR owned', 'text/clause-twice', 'This "gear" says both "buy" and "owned". Only the last counts.'],
  ['gain 20 dB', 'gain: 20 dB', 'text/unexpected', 'Leave it out.'],
  ['gain 20 dB', 'gain = 20 dB', 'text/stray-character', 'Delete it'],
  ['is stereo-keyboard  by bo', 'is stereo-keyboard  by bo  peak 108 dB SPL', 'units/wrong', 'no output here states its "sensitivity"'],
  [
    'performer ada',
    'model x is splitter { input in mini-trs channels 2  output out ts from in parallel }\nperformer ada',
    'text/unexpected',
    '"channels" does not fit here, in this "model". The rest of this statement is not understood. Before "channels" comes the kind of signal (mic, instrument, line, phones, speaker, digital or radio), as in "mini-trs line channels".',
  ],
  [
    'performer ada',
    'model x is wireless-mic { typical 108 dB SPL }\nperformer ada',
    'models/unused-figure',
    '"typical" says nothing of a model whose outputs state their level.',
  ],
  [
    'performer ada',
    'model x is wireless-mic { typical 108 dB SPL }\nperformer ada',
    'models/unused-figure',
    'It belongs to a source ("source … is x typical -10 dBu"), or to an output as its "level".',
  ],
  ['120 dB SPL', '120 dB', 'units/wrong', 'A peak level at a microphone is in dB SPL.'],
  ['at 0 m, 2 m', 'at 0 m 2 m', 'text/unexpected', 'a comma and the second distance'],
  ['at 0 m, 2 m', 'at 0, 2 m', 'text/missing-unit', 'Write 0 m.'],
  ['at 0 m, 2 m', 'at 1.5, 2.5 m', 'text/missing-unit', '1.5 has no unit. A bare number could mean anything. Write 1.5 m.'],
  ['at 0 m, 2 m', 'at -1.5, 2 m', 'text/missing-unit', '-1.5 has no unit.'],
  ['at 0 m, 2 m', 'at 1 m, 2.5', 'text/missing-unit', 'Write 2.5 m.'],
  ['120 dB SPL', '98.5', 'text/missing-unit', 'Write 98.5 dB SPL or 98.5 dBu.'],
  ['buy 90 EUR', 'on 863.4', 'text/missing-unit', '863.4 has no unit. A bare number could mean anything. Write 863.4 MHz.'],
  ['at 0 m, 2 m', 'at 0 m', 'text/unfinished', 'a comma and the second distance'],
  ['at 0 m, 2 m', 'at 0,5 m, 2,0 m', 'text/decimal-comma text/decimal-comma', 'Write 0.5.'],
  ['at 0 m, 2 m', 'at (0 m, 2 m)', 'text/stray-character', 'Delete it'],
  ['at 0 m, 2 m', 'at 0m, 2m', '', ''],
  ['budget 100 EUR', 'budget €100', 'text/stray-character', 'in three letters after the number'],
  ['budget 100 EUR', 'budget 100 €', 'text/stray-character', 'in three letters after the number'],
  // Another unit is another figure: only decibels, which may be of anything, are guessed at.
  ['buy 90 EUR', 'on 250 W', 'units/wrong', 'Put it into a comment. A frequency is in Hz'],
  ['budget 100 EUR', 'budget EUR 100', 'text/unexpected', 'a number with its unit'],
  ['budget 100 EUR', 'budget 100 eur', 'units/wrong', 'Did you mean 100 EUR?'],
  ['budget 100 EUR', 'budget 100', 'text/missing-unit', 'Write 100 EUR.'],
  ['region EU', '\tregion\tEU', '', ''],
  ['region EU', 'region: EU', 'text/unexpected', 'Leave it out.'],
  ['buy 90 EUR', 'buy', 'text/unfinished', 'a number with its unit'],
  ['buy 90 EUR', 'buy for 90 EUR', 'text/unexpected', 'After "buy" comes a number with its unit.'],
  // Mixes.
  ['for ada, bo', 'for ada bo', 'text/unexpected', 'Put commas between several names'],
  ['for ada, bo', 'for ada and bo', 'text/unexpected', 'Put commas between several names'],
  ['voice 0 dB  keys -6 dB left 20 %', 'voice 0 dB, keys -6 dB', 'text/unexpected', 'Leave it out.'],
  ['voice 0 dB  keys -6 dB left 20 %', 'voice 0  keys -6', 'text/missing-unit', 'Write 0 dB.'],
  ['voice 0 dB  keys -6 dB left 20 %', 'voice 0', 'text/missing-unit', 'Write 0 dB.'],
  ['voice 0 dB  keys -6 dB left 20 %', 'voice -3.5 dB  keys -6.5', 'text/missing-unit', '-6.5 has no unit.'],
  ['voice 0 dB  keys -6 dB left 20 %', 'voice  keys', 'text/unexpected', 'After "voice" comes a number with its unit.'],
  ['voice 0 dB  keys -6 dB left 20 %', 'voice 0 dB  keys-6 dB', 'names/unknown', '"keys -6"'],
  ['voice 0 dB  keys -6 dB left 20 %', 'voice 0 dB  keys \u22126 dB', '', ''],
  ['voice 0 dB  keys -6 dB left 20 %', 'voice 0 dB  keys minus 6 dB', 'text/unexpected', 'After "keys" comes a number with its unit.'],
  ['keys -6 dB left 20 %', 'keys -6  voice -3 dB', 'text/missing-unit', 'Write -6 dB.'],
  ['keys -6 dB left 20 %', 'keys -6 dB left 20', 'text/missing-unit', '20 has no unit. A bare number could mean anything. Write 20 %.'],
  ['keys -6 dB left 20 %', 'keys -6 dB right 20  voice -3 dB', 'text/missing-unit', 'Write 20 %.'],
  ['budget 100 EUR', 'rate 48000', 'text/missing-unit', 'Write 48000 Hz.'],
  ['budget 100 EUR', 'rate 48', 'text/missing-unit', 'Write 48 kHz.'],
  ['takes keys', 'takes', 'text/unfinished', 'After "takes" comes the name of a source or mix.'],
  ['"Voice"  takes voice', '"Voice"  takes voice via', 'text/unfinished', 'After "via" comes what it goes through.'],
  ['"Voice"  takes voice', '"Voice"  takes voice via', 'text/unfinished', 'house 8 "Lead vocal" takes voice via y-lead'],
  ['takes keys', '', 'text/unfinished', ''],
  ['left 20 %', 'left', 'text/unexpected', 'a share, as in 20 %'],
  ['left 20 %', 'left 20%', '', ''],
  ['left 20 % }', '', 'text/unclosed-brace', 'Put a } where it ends.'],
  ['{ voice 0 dB', 'voice 0 dB', 'text/unexpected', 'The sends stand in braces'],
];

describe('examples', () => {
  const examples = STATEMENT_WORDS.flatMap((statement) => {
    const [start, endings] = ENDINGS[statement];
    return endings.map((ending) => [`${start} ${ending}`, statement] as const);
  });

  it.each(examples)('%s can be read, and is shown for its clauses', async (example, statement) => {
    const { document } = await analyseText(example);
    expect(document.parseResult.parserErrors.map((error) => error.message)).toEqual([]);
    const words = example.split(/[\s,]+/).filter((word) => isClause(word, statement));
    for (const word of words) expect(exampleWith(statement, [word]).split(/[\s,]+/)).toContain(word);
  });
});

/** Each statement by its text. */
function statements({ document }: Analysis): string[] {
  return (document.parseResult.value as RigFile).statements.map((statement) => (statement.$cstNode?.text ?? '').replace(/\s+/g, ' '));
}

describe('slips', async () => {
  const whole = await analyseText(RIG);

  it('the rig itself is clean', () => {
    expect(foundIn(whole)).toEqual([]);
  });

  it.each(SLIPS)('%s written as %s', async (right, written, codes, words) => {
    expect(RIG).toContain(right);
    const analysis = await analyseText(RIG.replace(right, written));
    const found = foundIn(analysis);
    const told = found.map(({ code, message }) => `${code}: ${message}`).join('\n');
    expect(found.map(({ code }) => code).sort(), told).toEqual(codes.split(' ').filter(Boolean).sort());
    if (words !== '') expect(told).toContain(words);
    for (const { message } of found) expect(message).toMatch(READS_WELL);
    const after = new Set(statements(analysis));
    const lost = statements(whole).filter((statement) => !after.has(statement));
    expect(lost.length, `lost: ${lost.join(' | ')}`).toBeLessThanOrEqual(1);
  });
});
