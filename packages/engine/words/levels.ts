import { decibels, hertz, ohms, portList, tidy } from './phrases';
import { problem } from './problem';

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

const moveTo = (free: readonly string[], else_: string) =>
  free.length > 0 ? `Move it to an input that is free and takes it: ${portList(free, 'or')}.` : else_;

export const LEVELS = {
  'levels/mic-on-line': problem<{
    source: string;
    from: string;
    port: string;
    needs: Needs | undefined;
    free: readonly string[];
    through: boolean;
  }>('error', (f) => ({
    what: `A microphone signal, ${f.source}${f.through ? ` out of ${f.from}` : ''}, goes into a line input, ${f.port}.${gainSentence(f.needs)}`,
    why: 'In the ears it is faint and hissy, or not there.',
    cure: moveTo(f.free, 'Swap it with something that can go into a line input, or bring a preamp.'),
  })),
  'levels/instrument-on-line': problem<{
    source: string;
    from: string;
    port: string;
    loadOhm: number | undefined;
    capacitive: boolean;
    free: readonly string[];
  }>('error', (f) => ({
    what: `A pickup, ${f.source}, goes straight into a line input, ${f.port}${f.loadOhm === undefined ? '' : ` (${ohms(f.loadOhm)})`}.`,
    why: `A pickup needs an input that hardly loads it (1 Mohm or more). Into this one it goes ${f.capacitive ? 'thin, its low notes gone,' : 'dull'} and faint.`,
    cure: moveTo(f.free, 'Put a DI in between and use a microphone input.'),
  })),
  'levels/instrument-on-mic': problem<{ source: string; from: string; port: string; free: readonly string[] }>('error', (f) => ({
    what: `An instrument signal, ${f.source}, goes into a microphone input, ${f.port}.`,
    why: 'That input loads it heavily, and the lead is unbalanced: it comes out dull and weak, and it hums.',
    cure: moveTo(f.free, 'Put a DI in between: "via active-di".'),
  })),
  'levels/line-on-mic': problem<{ source: string; from: string; port: string; overDb: number; free: readonly string[] }>('error', (f) => ({
    what: `A line signal, ${f.source}, goes into a microphone input, ${f.port}.${f.overDb > 0 ? ` Its peaks are ${decibels(f.overDb)} over what that input takes even at its lowest gain.` : ''}`,
    why:
      f.overDb > 0
        ? 'It distorts, however far the gain is turned down.'
        : 'It is far stronger than a microphone: even at the lowest gain there is little room, and a loud moment distorts.',
    cure: moveTo(f.free, f.overDb > 0 ? 'Put a pad in between: "via pad-20".' : 'Put a DI in between: "via passive-di".'),
  })),
  'levels/speaker-output': problem<{ source: string; from: string; port: string; instead: string | undefined }>('danger', (f) => ({
    what: `${f.from} is an amplifier's loudspeaker output, plugged into ${f.port}.`,
    why: 'DANGER: tens of volts destroy the input and can start a fire, and a valve amplifier without its loudspeaker can destroy itself. Do not plug it in.',
    cure: f.instead
      ? `Take ${f.instead} instead, and leave the loudspeaker plugged in. If in doubt, ask a qualified technician.`
      : 'Use a line output of the amplifier, a DI made for loudspeaker outputs, or a microphone before the loudspeaker, which stays plugged in. If in doubt, ask a qualified technician.',
  })),
  'levels/gain-short': problem<{ source: string; port: string } & Needs>('warning', (f) => ({
    what: `For ${f.source}, ${f.port} would have to give ${decibels(f.wantedDb)} of gain; it has ${decibels(f.highDb)} at most, ${decibels(f.shortDb)} too little.`,
    why: 'Turned up later in the mix, its hiss comes up with it.',
    cure: 'Get more out of it (a microphone closer by or more sensitive, an instrument turned up), or use an input with more gain.',
  })),
  'levels/too-hot': problem<{ source: string; port: string; peakDbu: number; maxDbu: number; overDb: number; padDb: number | undefined }>(
    'warning',
    (f) => ({
      what: `The peaks of ${f.source} reach ${decibels(f.peakDbu, 'dBu')} at ${f.port}, which clips at ${decibels(f.maxDbu, 'dBu')} even at its lowest gain: ${decibels(f.overDb)} over.`,
      why: 'It distorts at every loud moment, and no knob cures it.',
      cure:
        f.padDb === undefined
          ? 'Put a pad into the line: "via pad-20".'
          : `Switch in the input's own pad of ${decibels(f.padDb)}: write "pad" at the end of the line.`,
    }),
  ),
  'levels/gain-out-of-range': problem<{ source: string; port: string; written: number; low: number; high: number; setDb: number }>(
    'error',
    (f) => ({
      what:
        f.low === f.high
          ? `${f.port} has no gain to set.`
          : `${f.port} cannot be set to ${decibels(f.written)}: its gain goes from ${tidy(f.low, 1)} to ${tidy(f.high, 1)} dB.`,
      why: f.low === f.high ? 'There is no knob for it.' : 'The knob does not go there.',
      cure: f.low === f.high ? 'Leave the gain out.' : `For ${f.source}, set ${decibels(f.setDb)}.`,
    }),
  ),
  'levels/clips': problem<{ source: string; port: string; written: number; overDb: number; setDb: number; sparesDb: number }>(
    'error',
    (f) => ({
      what: `At ${decibels(f.written)} of gain the peaks of ${f.source} are ${decibels(f.overDb)} over what ${f.port} takes.`,
      why: 'It distorts at every loud moment, in every ear.',
      cure:
        f.sparesDb >= 0
          ? `Set ${decibels(f.setDb)}: the peaks then stay ${decibels(f.sparesDb)} below the limit.`
          : `Set ${decibels(f.setDb)}, the lowest it has, and put a pad into the line: "via pad-20".`,
    }),
  ),
  'levels/split-loss': problem<{ source: string; port: string; lossDb: number }>('warning', (f) => ({
    what: `What else is plugged into the split takes ${decibels(f.lossDb)} from ${f.source} at ${f.port}.`,
    why: 'It is fainter on both desks, and it changes whenever the other one plugs in or out.',
    cure: 'Use a split with electronics in it (an active one), or inputs that load it less. A transformer does not help here.',
  })),
  'levels/low-end': problem<{ source: string; into: string; loadOhm: number; cornerHz: number; lowestHz: number; lossDb: number }>(
    'warning',
    (f) => ({
      what: `A piezo pickup, ${f.source}, goes into ${f.into} (${ohms(f.loadOhm)}): everything below ${hertz(f.cornerHz)} falls away, ${decibels(f.lossDb)} at its lowest note (${hertz(f.lowestHz)}).`,
      why: 'The low end is the sound of it; what is left is thin and clacking.',
      cure: 'Use an active DI, which hardly loads it ("active-di").',
    }),
  ),
};
