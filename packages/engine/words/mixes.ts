import { capital, count, decibels, list, ohms, portList } from './phrases';
import { problem } from './problem';

/** Who is loudest in a mix of several; `others` is how many more there are. */
function loudestText(loudest: readonly string[], others: number): string {
  return others > 0 ? `${list(loudest)} are the loudest in it, before ${count(others, 'other')}.` : `${list(loudest)} are in it.`;
}

/** With what drives earphones in between it is another lead, with other plugs. */
const OF_THE_LEAD_TO_EARS = /^connectors\/(mono-into-stereo|stereo-into-balanced|long-unbalanced|earphones-too-short)$/;

export const MIXES = {
  /** `lines`: what would plug it in. */
  'mixes/not-patched': problem<{ source: string; mixes: readonly string[]; lines: readonly string[] }>(
    'error',
    (f) => ({
      what: `The ${f.mixes.length === 1 ? 'mix' : 'mixes'} ${list(f.mixes)} ${f.mixes.length === 1 ? 'contains' : 'contain'} ${f.source}, and no input of what makes ${f.mixes.length === 1 ? 'that mix' : 'those mixes'} takes it.`,
      why: 'It is turned up, and nothing of it is heard.',
      cure:
        f.lines.length > 0
          ? `Plug it in: ${list(f.lines.map((line) => `"${line}"`))}. Or take it out of the ${f.mixes.length === 1 ? 'mix' : 'mixes'}.`
          : `Plug it in, at an input that is free and suits it; where there is none, write a piece of gear with one first, such as an interface. Or take it out of the ${f.mixes.length === 1 ? 'mix' : 'mixes'}.`,
    }),
    { brief: 'something in it is not plugged in', restsOn: ['inputs'] },
  ),
  'mixes/loud-send': problem<{ source: string; mix: string; levelDb: number }>('warning', (f) => ({
    what: `The mix ${f.mix} has ${f.source} at ${decibels(f.levelDb)}, louder than it comes.`,
    why: 'That is a great deal for an ear: often the minus is missing.',
    cure: `Write ${decibels(-f.levelDb)} if that was meant; else bring the other sends down.`,
  })),
  'mixes/clips': problem<{
    mix: string;
    side: 'left' | 'right' | undefined;
    overDb: number;
    loudest: readonly string[];
    others: number;
    downDb: number;
  }>('warning', (f) => {
    const clips = `The mix ${f.mix} clips${f.side ? ` on its ${f.side}` : ''}`;
    const over = `${decibels(f.overDb)} more than an output can give`;
    const alone = f.loudest.length === 1 && f.others === 0;
    return {
      what: alone
        ? `${clips}: at its loudest, ${f.loudest[0]} is ${over}.`
        : `${clips}: when everybody plays their loudest, it adds up to ${over}. ${loudestText(f.loudest, f.others)}`,
      why: alone
        ? 'It crackles at every loud moment.'
        : 'Each one alone is fine; all together they crackle. It is an estimate: peaks seldom all meet.',
      cure: `Pull ${alone ? 'it' : 'all of them'} down by ${decibels(f.downDb)} in this mix${alone ? '' : ', so that it stays the same mix'}, and turn up at the pack or the amplifier instead, slowly.`,
    };
  }),
  /** `out`: it is an output that cannot give so much, not an input. */
  'mixes/too-hot': problem<{ mix: string; port: string; out: boolean; peakDbu: number; maxDbu: number; overDb: number; downDb: number }>(
    'warning',
    (f) => ({
      what: `At its loudest the mix ${f.mix} ${f.out ? `would have to come out of ${f.port} at ${decibels(f.peakDbu, 'dBu')}, which gives` : `reaches ${decibels(f.peakDbu, 'dBu')} where it goes into ${f.port}, which takes`} ${decibels(f.maxDbu, 'dBu')} at most: ${decibels(f.overDb)} over.`,
      why: 'It distorts there at every loud moment, while all our own meters look right.',
      cure: `Turn the mix down by ${decibels(f.downDb)}, or put a pad before it.`,
    }),
  ),
  'mixes/sent-twice': problem<{ source: string; mix: string; levelsDb: readonly [number, number] }>('warning', (f) => ({
    what: `The mix ${f.mix} has ${f.source} twice, at ${decibels(f.levelsDb[0])} and ${decibels(f.levelsDb[1])}.`,
    why: 'A mix has one fader for each source.',
    cure: 'Delete one of the two.',
  })),
  'mixes/half-to-house': problem<{ mix: string; name: string; number: string; next: number; sides: readonly [string, string] }>(
    'error',
    (f) => ({
      what: `House ${f.number} gets only the ${f.sides[0]} of ${f.mix}, which is stereo and leaves on two outputs.`,
      why: `A line of the house’s carries one channel: what is on the ${f.sides[1]} alone, the audience does not hear.`,
      cure: `Write a line for each side, "house ${f.number} takes ${f.name}.${f.sides[0]}" and "house ${f.next} takes ${f.name}.${f.sides[1]}"; or make the mix mono, on one output.`,
    }),
    { brief: 'one side of a stereo mix' },
  ),
  /** `whole`: the next output carries it too, on a line of its own; that is the one line to write for both. */
  'mixes/stereo-on-one-output': problem<{ mix: string; port: string; pair: string | undefined; whole: string | undefined }>(
    'error',
    (f) => ({
      what: `The mix ${f.mix} is stereo and leaves by one output, ${f.port}${f.whole ? ', and by the next on a line of its own' : ''}.`,
      why: 'One side of it, and all that is on that side, is not heard.',
      cure: f.whole
        ? `Write one line for both: "${f.whole}". A box without a name is there once for each side.`
        : f.pair
          ? `Use a pair of outputs (${f.pair}), or make the mix mono.`
          : 'Use a pair of outputs ("3..4"), or make the mix mono.',
    }),
    { brief: 'stereo on one output', restsOn: ['neighbours'] },
  ),
  'mixes/for-nobody': problem<{ mix: string; carried: boolean }>('warning', (f) => ({
    what: `The mix ${f.mix} does not say whom it is for.`,
    why: f.carried ? 'Nobody has it in their ears, and it takes up an output.' : 'Nobody has it in their ears.',
    cure: 'Say who hears it: "for" and a performer’s name, or "for house".',
  })),
  'mixes/unheard': problem<{ mix: string; name: string; house: boolean; free: readonly string[] }>(
    'error',
    (f) => ({
      what: `No output carries the mix ${f.mix}.`,
      why: f.house ? 'The house gets nothing.' : 'Nobody hears it.',
      cure:
        f.free.length > 0
          ? `Add "output ${f.free[0]} carries ${f.name}", and "via" what it goes through.`
          : `No output is free: write a piece of gear with one first, such as an interface. Then add "output … carries ${f.name}".`,
    }),
    { brief: 'no output carries it', restsOn: ['neighbours', 'outputs'] },
  ),
  'mixes/empty': problem<{ mix: string; people: readonly string[]; house: boolean }>(
    'warning',
    (f) => ({
      what: `Nothing is in the mix ${f.mix}.`,
      why: f.people.length === 0 ? 'It is silent.' : `${list(f.people)} ${f.people.length === 1 ? 'hears' : 'hear'} nothing at all.`,
      cure: 'Write what is to be heard, with its level, between { and }: "voice 0 dB". Or delete the mix, and the output that carries it.',
    }),
    { restsOn: ['mixes', 'sends'] },
  ),
  'mixes/without-self': problem<{ performer: string; sources: readonly string[]; names: readonly string[]; mix: string }>(
    'note',
    (f) => ({
      what: `${f.performer} has no ${list(f.sources, 'and no')} in the ears, ${f.sources.length === 1 ? 'which is' : 'which are'} their own.`,
      why: 'With the ears closed one hears little of oneself, and sings or plays too loud, or out of tune. What is loud enough without may well be left out.',
      cure: `Put ${f.sources.length === 1 ? 'it' : 'them'} into the mix ${f.mix}: ${list(f.names.map((name) => `"${name} 0 dB"`))}. What is left out on purpose has "could" at the end of its "source" line.`,
    }),
    { restsOn: ['mixes', 'sends'] },
  ),
  /** Of what is there for the ears alone. `speaker`: whoever speaks into it is the only one to hear it. */
  'mixes/nobody-hears': problem<Unsent & { speaker: string | undefined }>(
    'warning',
    (f) => ({
      what: f.speaker
        ? `${f.speaker} speaks into ${f.source} and is the only one to have it in the ears.`
        : `${f.source} is plugged into ${f.port}, and no mix has it.`,
      why: f.speaker ? 'None of the others hears what is said.' : 'It plays, and nobody hears it.',
      cure: `Put it into the ${f.speaker ? 'mixes of the others' : 'mixes of those who need it'}: "${f.name} -6 dB". What is left out on purpose has "could" at the end of its "source" line.`,
    }),
    { restsOn: ['mixes', 'all-sends', 'outputs'] },
  ),
  'mixes/in-no-mix': problem<Unsent>(
    'note',
    (f) => ({
      what: `${f.source} is plugged into ${f.port}, and no mix has it.`,
      why: 'Nobody hears it, and it takes an input.',
      cure: `Put it into a mix: "${f.name} -6 dB". Or leave the line out, and the input is free. What is plugged in for something else has "could" at the end of its "source" line.`,
    }),
    { restsOn: ['mixes', 'all-sends', 'outputs'] },
  ),
  'mixes/pan-in-mono': problem<{ mix: string; sources: readonly string[] }>('warning', (f) => ({
    what: `The mix ${f.mix} is mono, and puts ${list(f.sources)} to the left or right.`,
    why: 'Mono has no left and right: all of it comes from the middle.',
    cure: 'Make the mix stereo, on a pair of outputs, or leave "left" and "right" out.',
  })),
  'mixes/half-sent': problem<{ source: string; name: string; mix: string; sent: readonly string[]; missing: readonly string[] }>(
    'note',
    (f) => ({
      what: `The mix ${f.mix} has only the ${list(f.sent)} of ${f.source}.`,
      why: `What is on the ${list(f.missing)} alone is not heard in it.`,
      cure: `Add "${f.name}.${f.missing[0]}", or write "${f.name}" alone, which is all of it. One side is right where both carry the same.`,
    }),
  ),
  'mixes/no-such-channel': problem<{ source: string; name: string; channel: string; channels: readonly string[]; mix: string }>(
    'error',
    (f) => ({
      what: `${f.source} has no channel called ${f.channel}${f.channels.length > 0 ? `: it has ${portList(f.channels)}` : ', only one sound'}.`,
      why: `Nothing of it comes into the mix ${f.mix} by that name.`,
      cure:
        f.channels.length > 0
          ? `Write one of those, as in "${f.name}.${f.channels[0]}", or "${f.name}" alone for all of it.`
          : `Write "${f.name}" alone.`,
    }),
    { brief: 'no such channel in it' },
  ),
  'mixes/one-ear': problem<{ mix: string; into: string; side: string; player: string; model: string }>('warning', (f) => ({
    what: `The mix ${f.mix} is mono and goes into the ${f.side} of ${f.into} alone, and ${f.player} has no switch that plays it on both sides.`,
    why: 'One ear hears everything and the other nothing: it gets turned up too far.',
    cure: `Carry the mix into both sides, from a pair of outputs ("1..2") or by a Y-lead. If it has such a switch, write "mono-switch" into its model${f.model === '' ? '' : ` (${f.model})`}.`,
  })),
  'mixes/one-side': problem<{ mix: string; by: string; side: 'left' | 'right'; gone: readonly string[]; faint: readonly string[] }>(
    'warning',
    (f) => ({
      what: `The mix ${f.mix} is stereo, and ${f.by} plays only its ${f.side}.`,
      why: [
        f.gone.length > 0 ? `${capital(list(f.gone))} ${f.gone.length === 1 ? 'is' : 'are'} not heard at all` : '',
        f.faint.length > 0
          ? `${f.gone.length > 0 ? list(f.faint) : capital(list(f.faint))} ${f.faint.length === 1 ? 'is' : 'are'} much fainter than meant`
          : '',
      ]
        .filter(Boolean)
        .join(', and ')
        .concat('.'),
      cure: 'Make the mix mono, or let both sides be heard.',
    }),
  ),
  'mixes/house-not-told': problem<{ mix: string; name: string; number: number }>(
    'warning',
    (f) => ({
      what: `The mix ${f.mix} is for the house, and no house line takes it.`,
      why: 'The house engineer does not know which channel it comes in on.',
      cure: `Ask which of their lines is free, and write it down, as in "house ${f.number} takes ${f.name}". If the loudspeakers are your own and there is no house, write "house ours".`,
    }),
    { restsOn: ['outputs', 'house'] },
  ),
  'mixes/no-way-to-house': problem<{ mix: string; number: string }>(
    'error',
    (f) => ({
      what: `House line ${f.number} takes the mix ${f.mix}, and where that mix comes out there is no socket for a lead to the house.`,
      why: 'The house gets nothing.',
      cure: `Let the output that carries ${f.mix} end in a DI ("via passive-di"), or give the house an output of its own.`,
    }),
    { brief: 'no way to the house', restsOn: ['neighbours'] },
  ),
  'mixes/too-few-sockets': problem<{ mix: string; name: string; people: readonly string[]; count: number; end: string }>(
    'warning',
    (f) => ({
      what: `${list(f.people)} hear the mix ${f.mix}, and it comes out at ${f.count === 1 ? `one socket for earphones (${f.end})` : `${count(f.count, 'socket')} for earphones`}.`,
      why: 'A socket takes one pair of earphones: somebody is left without.',
      cure: 'Carry the mix on one more output for each, through a headphone amp or a pack of its own; or split it on the way to several ("via splitter.1, amp-a" and "via splitter.2, amp-b").',
    }),
    { restsOn: ['neighbours', 'outputs'] },
  ),
  'mixes/no-ears': problem<{ mix: string; end: string; people: readonly string[] }>(
    'error',
    (f) => ({
      what: `The mix ${f.mix} ends at ${f.end}, and nothing on the way drives earphones.`,
      why:
        f.people.length === 0
          ? 'Nobody hears it.'
          : `What ${list(f.people)} ${f.people.length === 1 ? 'hears' : 'hear'} there nothing says: it can be nothing, and it can be far too loud.`,
      cure: 'Go through a headphone amp, a wired pack or a transmitter: "via headphone-amp". For somebody who wears no earphones, end at a loudspeaker: "via floor-wedge".',
    }),
    { brief: 'nothing drives earphones', overrules: OF_THE_LEAD_TO_EARS },
  ),
  'mixes/line-into-ears': problem<{
    mix: string;
    end: string;
    people: readonly string[];
    dbSpl: number;
    maxDbu: number;
    earsOhm: number;
    dbSplPerMw: number;
    inverted: boolean;
  }>(
    'danger',
    (f) => ({
      what: `The mix ${f.mix} ends at ${f.end}, and what drives it is a line output. It gives ${decibels(f.maxDbu, 'dBu')} at most: in earphones of ${ohms(f.earsOhm)} and ${decibels(f.dbSplPerMw, 'dB SPL')} at 1 mW about ${decibels(Math.round(f.dbSpl), 'dB SPL')}.`,
      why: `DANGER: that harms ears within seconds, for good, and the knob of a headphone amplifier is missing. ${
        f.inverted
          ? 'It sounds hollow besides, because a balanced output gives one ear the right way round and the other upside down.'
          : 'One ear gets it all, and the other nothing.'
      } The figure is an estimate.`,
      cure: `${f.people.length === 0 ? 'Plug no earphones in there' : `No earphones of ${list(f.people, 'or')} in there`}: go through a headphone amp, a wired pack or a transmitter ("via headphone-amp"), with its knob down.`,
    }),
    { brief: 'a line output into ears', overrules: OF_THE_LEAD_TO_EARS },
  ),
  /** `sources` come in by the way by which the mix comes back. */
  'mixes/feedback': problem<{ mix: string; from: string; into: string; sources: readonly string[] }>(
    'danger',
    (f) => ({
      what: `The mix ${f.mix} goes out of ${f.from} and comes back into ${f.into}, together with ${list(f.sources)}, which it has in it.`,
      why: 'DANGER: what comes back goes out again, louder each time round. It howls at full level in every ear that hears it, and that harms ears within seconds, for good.',
      cure: 'Do not plug this in: let the mix go to the ears or to the house, and nowhere else.',
    }),
    { brief: 'feedback' },
  ),
  'mixes/into-own-input': problem<{ mix: string; from: string; into: string }>(
    'error',
    (f) => ({
      what: `The mix ${f.mix} goes out of ${f.from} and comes back into ${f.into}, into the gear that makes it.`,
      why: 'Nobody hears it there. As soon as that input is turned up in it, it goes round and howls at full level, which harms ears.',
      cure: 'Let it go to the ears ("via headphone-amp") or to the house instead.',
    }),
    { brief: 'back into its own gear' },
  ),
  /** `shared`: somebody has a mix that they could share. */
  'mixes/no-mix': problem<{ performer: string; name: string; free: readonly string[]; shared: boolean }>(
    'warning',
    (f) => ({
      what: `${f.performer} has no mix.`,
      why: `${f.performer} hears only what the room gives.`,
      cure:
        f.free.length > 0
          ? `Add "mix ${f.name} mono for ${f.name} { … }" and an output for it (${f.free[0]} is free)${f.shared ? `, or let ${f.performer} share one` : ''}.`
          : f.shared
            ? `Let ${f.performer} share a mix ("for a, ${f.name}"): no output is free.`
            : `No output is free: write a piece of gear with one first, such as an interface. Then add "mix ${f.name} mono for ${f.name} { … }".`,
    }),
    { restsOn: ['mixes'] },
  ),
  /** `instead`: the pack that they have, and the mix of theirs that it plays. */
  'mixes/no-pack': problem<{
    mix: string;
    performer: string;
    name: string;
    transmitter: string;
    side: string | undefined;
    instead: { readonly pack: string; readonly mix: string } | undefined;
  }>(
    'error',
    (f) => ({
      what: f.instead
        ? `The mix ${f.mix} is for ${f.performer} as well, and ${f.instead.pack} plays another, ${f.instead.mix}.`
        : `The mix ${f.mix} goes out by radio, and ${f.performer} has no pack to hear it with.`,
      why: `It is sent, and ${f.performer} hears nothing${f.instead ? ' of it' : ''}.`,
      cure: f.instead
        ? `Take ${f.name} out of those whom ${f.mix} is for. Or let ${f.instead.pack} hear it ("hears ${f.transmitter}${f.side ? `.${f.side}` : ''}"), and make do without the mix ${f.instead.mix}.`
        : `Add a pack: "gear pack-${f.name} is belt-pack for ${f.name} hears ${f.transmitter}${f.side ? `.${f.side}` : ''}".`,
    }),
    { brief: 'no pack for it', restsOn: ['packs'] },
  ),
  /** `sides`: none of what does not send at all. */
  'mixes/no-such-side': problem<{ pack: string; transmitter: string; name: string; side: string; sides: readonly string[] }>(
    'error',
    (f) => ({
      what:
        f.sides.length > 0
          ? `${f.pack} hears ${f.name}.${f.side}, and ${f.transmitter} has no such side.`
          : `${f.pack} hears ${[f.name, f.side].filter(Boolean).join('.')}, and ${f.transmitter} does not send by radio.`,
      why: 'The pack stays silent.',
      cure:
        f.sides.length > 0
          ? `Write one that it has: ${list(f.sides, 'or')}.`
          : 'Name the transmitter that it hears, and its side, as in "hears tx.left".',
    }),
    { brief: 'no such side', restsOn: ['neighbours'] },
  ),
  'mixes/which-side': problem<{ pack: string; transmitter: string; sides: readonly string[] }>(
    'error',
    (f) => ({
      what: `${f.pack} does not say which side of ${f.transmitter} it hears, and the two sides carry different mixes.`,
      why: 'Whoever wears it hears both at once.',
      cure: `Write "hears ${f.transmitter}.${f.sides[0] ?? 'left'}"${f.sides[1] ? ` or "hears ${f.transmitter}.${f.sides[1]}"` : ''}.`,
    }),
    { brief: 'which side is not said' },
  ),
  /** Nothing sends where it is an amplifier at the end of a lead; `free` is another in the same box. */
  'mixes/cannot-pick-side': problem<{
    pack: string;
    transmitter: string | undefined;
    side: string;
    mixes: readonly string[];
    free: string | undefined;
  }>(
    'error',
    (f) =>
      f.transmitter === undefined
        ? {
            what: `${f.pack} plays ${list(f.mixes)}, one on each side, and they are for different people.`,
            why: 'Whoever plugs in there has both, one in each ear: somebody else’s mix as well as their own. For the other there is no socket.',
            cure: `Carry each into an amplifier of its own: ${f.free ? `"via ${f.free}" is free` : 'the second one "via headphone-amp"'}.`,
          }
        : {
            what: `${f.pack} cannot pick one side of ${f.transmitter}, which carries ${list(f.mixes)}.`,
            why: 'It plays both, one in each ear: somebody else’s mix as well as their own.',
            cure: 'Use a pack with a side select on a shared transmitter ("belt-pack"), or give this performer a transmitter of their own.',
          },
    { brief: 'cannot pick a side' },
  ),
  'mixes/silent-side': problem<{ pack: string; name: string; side: string }>(
    'error',
    (f) => ({
      what: `${f.pack} hears ${f.name}.${f.side}, and nothing is sent there.`,
      why: 'The pack is silent.',
      cure: `Carry a mix to it ("via ${f.name}.${f.side}"), or choose the other side.`,
    }),
    { brief: 'nothing is sent there', restsOn: ['neighbours'] },
  ),
  /** `people`: by wire, those whom the mix is for. */
  'mixes/wrong-side': problem<{
    pack: string;
    performer: string;
    hears: string;
    side: string | undefined;
    own: string | undefined;
    people: readonly string[] | undefined;
  }>(
    'error',
    (f) => ({
      what: f.people
        ? `The mix ${f.hears}, which is for ${list(f.people)}, goes into ${f.pack}, and that is for ${f.performer}.`
        : `${f.pack} is for ${f.performer} and hears the mix ${f.hears}, which is somebody else’s.`,
      why: `${f.performer} gets the wrong mix in the ears.`,
      cure: f.people
        ? `Plug it into what is for ${list(f.people, 'or')}, or for nobody in particular; or add ${f.performer} to those the mix is for.`
        : f.own
          ? `Set it to the ${f.own}, where ${f.performer}’s own mix is.`
          : `Add ${f.performer} to those the mix is for, or let the pack hear another transmitter or side.`,
    }),
    { brief: 'somebody else’s mix', restsOn: ['neighbours'] },
  ),
  'mixes/private-to-house': problem<ToAudience>(
    'error',
    (f) => ({
      what: `${reaches(f)}.`,
      why: f.hearsHall
        ? 'It hears the loudspeakers that it comes out of: as soon as it is turned up there it howls, and before that all sounds hollow.'
        : 'The whole audience hears it in the loudspeakers, and it is meant for the band alone.',
      cure: `${f.rest.length > 0 ? `Write ${list(f.rest.map((each) => `"${each}"`))} in that mix instead.` : f.mix ? 'Take it out of that mix.' : 'Delete the line.'} If ${f.hearsHall ? 'it goes into a recording, and never into the loudspeakers' : 'it is meant for the audience after all'}, write "public" at the end of its "source" line${orWhich(f)}.`,
    }),
    { brief: 'not for the audience', overrules: /^(levels|splits|connectors|phantom|house)\//, whatever: true },
  ),
  'mixes/back-to-house': problem<{ source: string; mix: string | undefined; run: string | undefined }>('note', (f) => ({
    what: `${f.source} comes from the house, and the house gets it back${f.mix ? ` in the mix ${f.mix}` : ''}${f.run ? ` (${f.run})` : ''}.`,
    why: 'It has that already. What comes back by way of us is late and sounds hollow beside it, and where the feed has in it what we send, it goes round and howls.',
    cure: f.mix ? 'Take it out of that mix; in the ears it may stay.' : 'Delete the line; in the ears it may stay.',
  })),
  'mixes/may-be-private': problem<ToAudience>('warning', (f) => ({
    what: `${reaches(f)}, and by its name it is a click, a count-in, a cue or a talkback. Nothing else says so.`,
    why: 'If it is one, the whole audience hears it in the loudspeakers.',
    cure: `If it is meant for the audience, write "public" at the end of its "source" line${orWhich(f)}. Else ${f.mix ? 'take it out of that mix' : 'delete the line'}.`,
  })),
};

interface Unsent {
  readonly source: string;
  readonly name: string;
  readonly port: string;
}

/** `channels`: of which a part could be for the band alone, where nobody says which. */
interface ToAudience {
  readonly source: string;
  readonly mix: string | undefined;
  readonly run: string | undefined;
  readonly ours: boolean;
  /** What else of it comes into the mix, and may stay, as it is written. */
  readonly rest: readonly string[];
  /** A microphone that looks at the audience. */
  readonly hearsHall: boolean;
  readonly channels: readonly string[];
}

function reaches({ source, mix, run, ours }: ToAudience): string {
  return `${ours ? 'Our loudspeakers get' : 'The house gets'} ${source}${mix ? ` in the mix ${mix}` : ''}${run ? ` (${run})` : ''}`;
}

function orWhich({ channels }: ToAudience): string {
  const last = channels.at(-1);
  return channels.length < 2 ? '' : `; if a part of it is for the band alone, write which, as in "private ${last}"`;
}
