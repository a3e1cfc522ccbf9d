import { decibels, list } from './phrases';
import { problem } from './problem';

export const MIXES = {
  'mixes/not-patched': problem<{ source: string; mixes: readonly string[]; free: readonly string[] }>('error', (f) => ({
    what: `${list(f.mixes)} ${f.mixes.length === 1 ? 'has' : 'have'} ${f.source}, but it is not plugged into the gear that makes the mix.`,
    why: 'They will turn it up and hear nothing.',
    cure: f.free.length > 0 ? `Plug it in: "input ${f.free[0]} takes …".` : 'Plug it in (no free input suits it as it is), or take it out of the mix.',
  })),
  'mixes/sent-twice': problem<{ source: string; mix: string; levelsDb: readonly [number, number] }>('warning', (f) => ({
    what: `${f.mix} has ${f.source} twice, at ${decibels(f.levelsDb[0])} and ${decibels(f.levelsDb[1])}.`,
    why: 'A mix has one fader for each source.',
    cure: 'Delete one of the two.',
  })),
  'mixes/stereo-on-one-output': problem<{ mix: string; port: string; pair: string | undefined }>('error', (f) => ({
    what: `${f.mix} is stereo and leaves by one output, ${f.port}.`,
    why: 'One side of it is lost.',
    cure: f.pair ? `Use a pair (${f.pair}), or make the mix mono.` : 'Use a pair of outputs ("3..4"), or make the mix mono.',
  })),
  'mixes/for-nobody': problem<{ mix: string }>('warning', (f) => ({
    what: `${f.mix} is for nobody.`,
    why: 'Nobody will ask for it, and it uses up an output.',
    cure: 'Say who hears it: "for NAME", or "for house".',
  })),
  'mixes/unheard': problem<{ mix: string; name: string; house: boolean; free: readonly string[] }>('error', (f) => ({
    what: `${f.mix} does not leave the rig: no output carries it.`,
    why: f.house ? 'The house gets nothing.' : 'Nobody hears it.',
    cure: f.free.length > 0 ? `Add "output ${f.free[0]} carries ${f.name}", and how it gets there.` : 'Add an "output … carries …" line; no output is free at the moment.',
  })),
  'mixes/house-not-told': problem<{ mix: string; name: string }>('warning', (f) => ({
    what: `${f.mix} is for the house, and no house line takes it.`,
    why: 'The house engineer will not know which channel it is.',
    cure: `Add a line such as "house 15 takes ${f.name}".`,
  })),
  'mixes/no-way-to-house': problem<{ mix: string; number: string }>('error', (f) => ({
    what: `House line ${f.number} takes ${f.mix}, and nothing is left to plug it into where that mix comes out.`,
    why: 'The house gets nothing.',
    cure: `Let the output that carries ${f.mix} end in a DI or on a free output.`,
  })),
  'mixes/no-ears': problem<{ mix: string; end: string; people: readonly string[] }>('error', (f) => ({
    what: `${f.mix} ends at ${f.end}, which does not drive earphones.`,
    why: `${list(f.people) || 'Nobody'} hears nothing, or far too little.`,
    cure: 'Go through a headphone amp, a wired pack or a transmitter: "via headphone-amp".',
  })),
  'mixes/no-mix': problem<{ performer: string; name: string; free: readonly string[] }>('warning', (f) => ({
    what: `${f.performer} has no mix.`,
    why: `${f.performer} plays the night hearing nothing, and one ear comes out.`,
    cure: f.free.length > 0 ? `Add "mix ${f.name} mono for ${f.name} { … }" and an output for it (${f.free[0]} is free), or let ${f.performer} share one.` : `Let ${f.performer} share a mix ("for a, ${f.name}"): no output is free.`,
  })),
  'mixes/no-pack': problem<{ mix: string; performer: string; name: string; transmitter: string; side: string | undefined }>('error', (f) => ({
    what: `${f.mix} goes out on the air, and ${f.performer} has no pack to hear it.`,
    why: 'It is sent and not received.',
    cure: `Add a pack: "gear pack-${f.name} is belt-pack for ${f.name} hears ${f.transmitter}${f.side ? `.${f.side}` : ''}".`,
  })),
  'mixes/no-such-side': problem<{ pack: string; transmitter: string; side: string; sides: readonly string[] }>('error', (f) => ({
    what: `${f.pack} hears ${f.side} of ${f.transmitter}, which has no such side.`,
    why: 'The pack stays silent.',
    cure: f.sides.length > 0 ? `It has ${list(f.sides)}.` : 'Name a transmitter.',
  })),
  'mixes/which-side': problem<{ pack: string; transmitter: string; sides: readonly string[] }>('error', (f) => ({
    what: `${f.pack} does not say which side of ${f.transmitter} it hears, and the sides carry different mixes.`,
    why: 'Whoever wears it hears both at once.',
    cure: `Write "hears ${f.transmitter}.${f.sides[0] ?? 'left'}"${f.sides[1] ? ` or "hears ${f.transmitter}.${f.sides[1]}"` : ''}.`,
  })),
  'mixes/cannot-pick-side': problem<{ pack: string; transmitter: string; side: string; mixes: readonly string[] }>('error', (f) => ({
    what: `${f.pack} cannot pick one side of ${f.transmitter}, which carries ${list(f.mixes)}.`,
    why: 'It plays both sides, one in each ear: two people’s mixes at once.',
    cure: 'Use a pack with a side select for a shared transmitter ("belt-pack"), or give this performer a transmitter of their own.',
  })),
  'mixes/silent-side': problem<{ pack: string; transmitter: string; side: string }>('error', (f) => ({
    what: `${f.pack} hears ${f.side} of ${f.transmitter}, and nothing is sent there.`,
    why: 'The pack is silent.',
    cure: `Carry a mix to it ("via ${f.transmitter}.${f.side}"), or choose the other side.`,
  })),
  'mixes/wrong-side': problem<{ pack: string; performer: string; hears: string; side: string | undefined; own: string | undefined }>('error', (f) => ({
    what: `${f.pack} is for ${f.performer} and hears ${f.hears}, which is somebody else's.`,
    why: `${f.performer} gets the wrong mix in the ears.`,
    cure: f.own ? `${f.performer}'s own mix is on ${f.own}.` : `Add "${f.performer}" to the performers that mix is for, or carry another mix here.`,
  })),
  'mixes/private-to-house': problem<{ source: string; mix: string | undefined; run: string | undefined }>('error', (f) => ({
    what: `${f.source} goes to the house${f.mix ? ` in ${f.mix}` : ''}${f.run ? ` (${f.run})` : ''}.`,
    why: 'The audience hears it in the loudspeakers: the one thing they must never hear.',
    cure: f.mix ? `Take it out of ${f.mix}.` : 'Delete the line. If it is meant for the audience after all, mark the source "public".',
  })),
};
