import type { SignalKind } from '#rig';
import { lengthText } from './lengths';
import { decibels, hertz, list, ohms, oneOf, portList, tidy } from './phrases';
import { problem, resting } from './problem';

interface Needs {
  readonly wantedDb: number;
  readonly highDb: number;
  readonly shortDb: number;
}

function gainSentence(needs: Needs | undefined): string {
  if (!needs) return '';
  const wants = `It wants ${decibels(needs.wantedDb)} of gain; that input gives ${decibels(needs.highDb)} at most`;
  return needs.shortDb > 0
    ? ` ${wants}: ${decibels(needs.shortDb)} too little even at full.`
    : ` ${wants}, so the knob ends up near the top, with more hiss than a microphone input would give.`;
}

/** Where it would fit instead, as names of ports, sources and outputs. */
interface Instead {
  readonly free: readonly string[];
  readonly swaps: readonly string[];
  readonly taps?: readonly string[];
}

function insteadOf({ free, swaps, taps = [] }: Instead, which: string, otherwise: string): string {
  const ways = [
    free.length > 0 ? `move it to a free input ${which} (${portList(free, 'or')})` : '',
    taps.length > 0 ? `take ${list(taps, 'or')} instead, which fits` : '',
    swaps.length > 0 ? `swap it with ${list(swaps, 'or')}, where both fit` : '',
  ].filter(Boolean);
  return ways.length === 0 ? otherwise : oneOf(ways);
}

const moreOut = (mic: boolean) => (mic ? 'a microphone closer by or more sensitive' : 'the instrument turned up');

const ACTIVE_NEAR = 'Put an active DI next to the player ("active-di"), and let its balanced lead do the distance.';

const MADE_FOR: Readonly<Record<SignalKind, string>> = {
  mic: 'microphones',
  instrument: 'instruments',
  line: 'line level',
  phones: 'earphones',
  speaker: 'loudspeakers',
  digital: 'numbers',
  radio: 'radio',
};

export const LEVELS = resting(['units'], {
  /** `dead`: it needs phantom power as well, and that input has none. `passing`: of a box on the way. */
  'levels/mic-on-line': problem<
    { source: string; from: string; port: string; needs: Needs | undefined; through: boolean; dead: boolean; passing: boolean } & Instead
  >(
    'error',
    (f) => ({
      what: `A microphone signal, ${f.source}${f.through ? ` out of ${f.from}` : ''}, goes into ${f.passing ? `${f.port}, which is not made for one` : `a line input, ${f.port}`}.${f.dead || f.passing ? '' : gainSentence(f.needs)}`,
      why:
        f.dead && !f.passing
          ? 'That input has no phantom power (48 V), without which there is no sound, and too little gain for a microphone.'
          : 'In the ears it is faint and hissy, or not there.',
      cure: f.passing
        ? `Take ${f.port} out of the line.`
        : insteadOf(f, 'that takes it', `Bring a preamp${f.dead ? ' with phantom power' : ''}: no other input of this gear takes it.`),
    }),
    {
      brief: 'a microphone into a line input',
      // The socket is the wrong one, with phantom power or without it.
      overrules: /^phantom\/(missing|blocked)$/,
      short: ({ needs, dead }) => ({
        wrong: dead
          ? 'no phantom power here'
          : needs && needs.shortDb > 0
            ? `${decibels(needs.shortDb)} too little gain`
            : 'a microphone into a line input',
        needs: 'a microphone input',
      }),
    },
  ),
  'levels/instrument-on-line': problem<
    { source: string; from: string; port: string; loadOhm: number | undefined; capacitive: boolean } & Instead
  >(
    'error',
    (f) => ({
      what: `A pickup, ${f.source}, goes straight into a line input, ${f.port}${f.loadOhm === undefined ? '' : ` (${ohms(f.loadOhm)})`}.`,
      why: `A pickup needs an input that hardly loads it (1 Mohm or more). Into this one it goes ${f.capacitive ? 'thin, its low notes gone,' : 'dull'} and faint.`,
      cure: insteadOf(f, 'that takes it', 'Put a DI in between and use a microphone input.'),
    }),
    { short: () => ({ wrong: 'a pickup into a line input', needs: 'a DI and a microphone input' }) },
  ),
  /** `takes`: what the input is for. */
  'levels/phones-on-line': problem<{ source: string; from: string; port: string; takes: readonly SignalKind[] }>(
    'warning',
    (f) => ({
      what: `${f.from} is an output for earphones, and ${f.port} is for ${list(
        f.takes.map((kind) => MADE_FOR[kind]),
        'or',
      )}.`,
      why: 'How loud it comes hangs on its volume knob: a touch of it undoes the sound check, and no gain can be told beforehand.',
      cure: `Take a line output if it has one. If this is its only one, say so in its model: "line" instead of "phones", with the "level" that it gives, and tape its knob there.`,
    }),
    { short: () => ({ wrong: 'an output for earphones' }) },
  ),
  /** `box`: the DI that fits there. */
  'levels/instrument-on-mic': problem<{ source: string; from: string; port: string; box: string | undefined } & Instead>(
    'error',
    (f) => ({
      what: `An instrument signal, ${f.source}, goes into a microphone input, ${f.port}.`,
      why: 'That input loads it heavily, and the lead is unbalanced: it comes out dull and weak, and it hums.',
      cure: insteadOf(
        f,
        'that takes it',
        f.box ? `Put a DI in between: "via ${f.box}".` : 'Put a DI in between, and use a microphone input with an XLR socket.',
      ),
    }),
    {
      // The DI that cures it keeps the 48 volts away as well.
      overrules: /^phantom\/into-output$/,
      short: () => ({ wrong: 'an instrument into a microphone input', needs: 'a DI' }),
    },
  ),
  /** `box`: what makes it fit there. */
  'levels/line-on-mic': problem<{ source: string; from: string; port: string; overDb: number; box: 'pad-20' | 'passive-di' } & Instead>(
    'error',
    (f) => ({
      what: `A line signal, ${f.source}, goes into a microphone input, ${f.port}.${f.overDb > 0 ? ` Its peaks are ${decibels(f.overDb)} over what that input takes even at its lowest gain.` : ''}`,
      why:
        f.overDb > 0
          ? 'It distorts, however far the gain is turned down.'
          : 'It is far stronger than a microphone: even at the lowest gain there is little room, and a loud moment distorts.',
      cure: insteadOf(f, 'that takes it', `Put a ${f.box === 'pad-20' ? 'pad' : 'DI'} in between: "via ${f.box}".`),
    }),
    {
      short: ({ overDb, box }) => ({
        wrong: overDb > 0 ? `${decibels(overDb)} too hot` : 'line level into a microphone input',
        needs: box === 'pad-20' ? 'a pad' : 'a DI',
      }),
    },
  ),
  'levels/speaker-output': problem<{ source: string; from: string; port: string; instead: string | undefined }>(
    'danger',
    (f) => ({
      what: `${f.from} is an amplifier’s loudspeaker output, plugged into ${f.port}.`,
      why: 'DANGER: tens of volts destroy the input and can start a fire, and a valve amplifier without its loudspeaker can destroy itself. Do not plug it in.',
      cure: f.instead
        ? `Take ${f.instead} instead, and leave the loudspeaker plugged in. If in doubt, ask a qualified technician.`
        : 'Use a line output of the amplifier, a DI made for loudspeaker outputs, or a microphone before the loudspeaker, which stays plugged in. If in doubt, ask a qualified technician.',
    }),
    {
      overrules: /^(levels|splits|connectors|phantom|house|amplifiers)\/|^capacity\/too-few-inputs$/,
      everywhere: true,
      short: () => ({ wrong: 'a loudspeaker output' }),
      whatever: true,
    },
  ),
  'levels/gain-short': problem<{ source: string; port: string; oneLegDb: number; mic: boolean } & Needs & Instead>(
    'warning',
    (f) => ({
      what: `For ${f.source}, ${f.port} would have to give ${decibels(f.wantedDb)} of gain; it has ${decibels(f.highDb)} at most, ${decibels(f.shortDb)} too little.${
        f.oneLegDb > 0 ? ` ${decibels(f.oneLegDb)} are lost on the way, where one leg alone of a balanced output is used.` : ''
      }`,
      why: 'Turned up later in the mix, its hiss comes up with it.',
      cure: insteadOf(f, 'that gives enough', `Get more out of it (${moreOut(f.mic)}), or use an input with more gain.`),
    }),
    { short: ({ shortDb }) => ({ wrong: `${decibels(shortDb)} too little gain` }), restsOn: ['settings'] },
  ),
  'levels/too-hot': problem<
    {
      source: string;
      port: string;
      peakDbu: number;
      maxDbu: number;
      overDb: number;
      padDb: number | undefined;
      padFits: boolean;
      /** It has a gain to be set. */
      knob: boolean;
      mic: boolean;
    } & Instead
  >(
    'warning',
    (f) => ({
      what: `The peaks of ${f.source} reach ${decibels(f.peakDbu, 'dBu')} at ${f.port}, which clips at ${decibels(f.maxDbu, 'dBu')}${f.knob ? ' even at its lowest gain' : ''}: ${decibels(f.overDb)} over.`,
      why: `It distorts at every loud moment${f.knob ? ', and no knob cures it' : ''}.`,
      cure:
        f.padDb === undefined
          ? insteadOf(
              f,
              'that takes it',
              f.padFits
                ? 'Put a pad into the line: "via pad-20".'
                : `Make it quieter where it comes from, with ${f.mic ? 'the microphone further away' : 'the instrument turned down'}; or use an input that takes more.`,
            )
          : `Switch in the input’s own pad of ${decibels(f.padDb)}: write "pad" at the end of the line.`,
    }),
    {
      short: ({ overDb, padDb, padFits }) => ({
        wrong: `${decibels(overDb)} too hot`,
        needs: padDb !== undefined ? 'its own pad' : padFits ? 'a pad' : undefined,
      }),
    },
  ),
  'levels/hiss': problem<{ source: string; port: string; snrDb: number; noiseDbu: number; limitDb: number; padded: boolean; mic: boolean }>(
    'warning',
    (f) => ({
      what: `${f.source} comes to ${f.port} only ${decibels(f.snrDb)} above the noise there (${decibels(f.noiseDbu, 'dBu')}${f.mic ? ', with the microphone’s own' : ''}); ${decibels(f.limitDb)} is the least to aim for.`,
      why: 'Between its notes one hears hiss, in every ear it is sent to.',
      cure: f.padded
        ? `Take the pad of the input out, if the peaks allow it; else get more out of it, with ${moreOut(f.mic)}.`
        : `Get more out of it, with ${moreOut(f.mic)} and no pad on the way; or use an input with less noise.`,
    }),
    { short: ({ snrDb }) => ({ wrong: `hiss: only ${decibels(snrDb)} above the noise` }) },
  ),
  'levels/mic-overload': problem<{ source: string; peakDbSpl: number; maxDbSpl: number; overDb: number }>('warning', (f) => ({
    what: `At its loudest ${f.source} is ${decibels(f.peakDbSpl, 'dB SPL')} at the microphone, which takes ${decibels(f.maxDbSpl, 'dB SPL')}: ${decibels(f.overDb)} over.`,
    why: 'It distorts inside the microphone, and no gain or pad further on cures that.',
    cure: 'Use a microphone that takes more, or the pad on the microphone itself if it has one, or move it back: at twice the distance it is about 6 dB quieter. Sound that loud harms ears: keep yours protected.',
  })),
  /** `setDb` where it is known what comes in. */
  'levels/gain-out-of-range': problem<{
    source: string;
    port: string;
    written: number;
    low: number;
    high: number;
    setDb: number | undefined;
  }>(
    'error',
    (f) => ({
      what:
        f.low === f.high
          ? `${f.port} has no gain to set.`
          : `${f.port} cannot be set to ${decibels(f.written)}: its gain goes from ${tidy(f.low, 1)} to ${tidy(f.high, 1)} dB.`,
      why: f.low === f.high ? 'There is no knob for it.' : 'The knob does not go there.',
      cure:
        f.low === f.high
          ? 'Leave the gain out.'
          : f.setDb === undefined
            ? 'Write one that it has.'
            : `For ${f.source}, set ${decibels(f.setDb)}.`,
    }),
    { brief: 'the knob does not go there', restsOn: ['settings'] },
  ),
  'levels/no-pad': problem<{ source: string; port: string }>(
    'error',
    (f) => ({
      what: `${f.port} has no pad to switch in, as far as its model says.`,
      why: `${f.source} comes in as loud as without, and somebody looks for a switch that is not there.`,
      cure: 'Leave "pad" out. If the input has one, write it into its model, as in "mic pad 20 dB"; a pad in the line is "via pad-20".',
    }),
    { brief: 'no pad there' },
  ),
  'levels/clips': problem<{ source: string; port: string; written: number; overDb: number; setDb: number; sparesDb: number }>(
    'error',
    (f) => ({
      what: `At ${decibels(f.written)} of gain the peaks of ${f.source} are ${decibels(f.overDb)} over what ${f.port} takes.`,
      why: 'It distorts at every loud moment, in every ear.',
      cure: `Set ${decibels(f.setDb)}: the peaks then stay ${decibels(f.sparesDb)} below the limit.`,
    }),
    { brief: 'clips at this gain' },
  ),
  'levels/little-headroom': problem<{
    source: string;
    port: string;
    written: number;
    leftDb: number;
    marginDb: number;
    setDb: number;
  }>('warning', (f) => ({
    what: `At ${decibels(f.written)} of gain the peaks of ${f.source} come within ${decibels(f.leftDb)} of what ${f.port} takes; ${decibels(f.marginDb)} should be left.`,
    why: 'People play louder at the show than at line check, and then it distorts.',
    cure: `Set ${decibels(f.setDb)}.`,
  })),
  'levels/little-room': problem<{ source: string; port: string; leftDb: number; marginDb: number; knob: boolean }>('note', (f) => ({
    what: `The peaks of ${f.source} come within ${decibels(f.leftDb)} of what ${f.port} takes${f.knob ? ' at its lowest gain' : ''}; ${decibels(f.marginDb)} should be left.`,
    why: 'People play louder at the show than at line check, and then it distorts.',
    cure: 'Turn it down where it comes from, or put a pad before it ("via pad-20"); or use an input or a box that takes more.',
  })),
  'levels/overload': problem<{
    source: string;
    port: string;
    /** It is an output that clips, not an input. */
    out: boolean;
    peakDbu: number;
    maxDbu: number;
    overDb: number;
    pad: boolean;
  }>(
    'warning',
    (f) => ({
      what: `The peaks of ${f.source} ${f.out ? `would have to come out of ${f.port} at` : 'reach'} ${decibels(f.peakDbu, 'dBu')}${f.out ? `, which gives ${decibels(f.maxDbu, 'dBu')} at most` : ` at ${f.port}, which clips at ${decibels(f.maxDbu, 'dBu')}`}: ${decibels(f.overDb)} over.`,
      why: 'It distorts there, on the way, and no gain or pad behind it cures that.',
      cure: f.pad
        ? `Put a pad before it ("via pad-20" first in the line), turn it down where it comes from, or use a box that takes more.`
        : 'Turn it down where it comes from, or use gear that takes more; a pad helps only before it.',
    }),
    {
      short: ({ overDb, port, pad }) => ({
        wrong: `${decibels(overDb)} too hot for ${port}`,
        needs: pad ? 'a pad before it' : undefined,
      }),
    },
  ),
  'levels/loading': problem<{ source: string; from: string; into: string; lossDb: number; ohm: number | undefined; loadOhm: number }>(
    'warning',
    (f) => ({
      what: `${f.from} loses ${decibels(f.lossDb)} into ${f.into}, which loads it with ${ohms(f.loadOhm)} in all${f.ohm === undefined ? '' : `; inside it has ${ohms(f.ohm)}`}.`,
      why: 'The fewer ohms (the less impedance) an input has, the more current it draws. A source that is held back so is fainter, and often dull, or distorts sooner.',
      cure: `Use an input with ${f.ohm === undefined ? 'five times its ohms' : ohms(f.ohm * 5)} or more, or a box with electronics before it ("active-di", "active-split").`,
    }),
    { short: ({ lossDb }) => ({ wrong: `${decibels(lossDb)} lost into its load` }) },
  ),
  'levels/gain-low': problem<{ source: string; port: string; written: number; lowDb: number; setDb: number }>(
    'note',
    (f) => ({
      what: `${decibels(f.written)} of gain for ${f.source} at ${f.port} is ${decibels(f.lowDb)} less than it bears.`,
      why: 'What is turned up later in the mix brings the hiss of the input up with it.',
      cure: `Set ${decibels(f.setDb)}, if nothing speaks against it.`,
    }),
    { restsOn: ['settings'] },
  ),
  'levels/split-loss': problem<{ source: string; port: string; lossDb: number; cured: boolean }>(
    'warning',
    (f) => ({
      what: `What else is plugged into the split takes ${decibels(f.lossDb)} from ${f.source} at ${f.port}.`,
      why: 'It is fainter on every side, and changes whenever something is plugged in or out.',
      cure: f.cured
        ? 'Use a split with electronics in it: "active-split". A transformer does not help here.'
        : 'No other way of plugging what is there cures it, and neither does a transformer. It takes inputs that load it less, or a split with electronics in it; where the house takes it too, one that the house runs, so that it does not depend on our power.',
    }),
    { short: ({ lossDb }) => ({ wrong: `the split costs ${decibels(lossDb)}` }) },
  ),
  'levels/low-end': problem<{
    source: string;
    into: string;
    loadOhm: number;
    active: boolean;
    cornerHz: number;
    lowestHz: number;
    lossDb: number;
  }>(
    'warning',
    (f) => ({
      what: `A piezo pickup, ${f.source}, goes into ${f.into} (${ohms(f.loadOhm)} with all that is plugged in): everything below ${hertz(f.cornerHz)} falls away, ${decibels(f.lossDb)} at its lowest note (${hertz(f.lowestHz)}).`,
      why: 'The low end is the sound of it; what is left is thin and clacking.',
      cure: f.active
        ? 'Use one whose input loads it less (5 Mohm or more in all), or a preamp made for piezos.'
        : 'Use an active DI there, which hardly loads it ("active-di"); or take that line from behind one.',
    }),
    { short: () => ({ wrong: 'its lows are lost' }) },
  ),
  'levels/top-end': problem<{
    source: string;
    metres: number;
    farad: number;
    loadOhm: number;
    topHz: number;
    highestHz: number;
    lossDb: number;
    enoughM: number | undefined;
  }>(
    'warning',
    (f, lengths) => ({
      what: `The highs of ${f.source} end at ${hertz(f.topHz)}, and it needs ${hertz(f.highestHz)}: ${lengthText(f.metres, lengths)} of lead (about ${tidy(f.farad * 1e12, 0)} pF, which swallow highs) take ${decibels(f.lossDb)} there.`,
      why: 'A pickup without electronics rings with its lead, and above that nothing is left: it sounds dull. A long lead of that kind picks up hum too.',
      cure:
        f.enoughM === undefined
          ? ACTIVE_NEAR
          : `Use no more than ${lengthText(f.enoughM, lengths)} of lead in all; or ${ACTIVE_NEAR.charAt(0).toLowerCase()}${ACTIVE_NEAR.slice(1)}`,
    }),
    {
      // It tells of the hum as well.
      overrules: /^connectors\/long-unbalanced$/,
      short: () => ({ wrong: 'its highs are lost in the lead' }),
    },
  ),
});
