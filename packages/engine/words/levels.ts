import { capital, decibels, hertz, ohms, portList, tidy } from './phrases';
import { problem } from './problem';

interface Needs {
  readonly wantedDb: number;
  readonly highDb: number;
  readonly shortDb: number;
}

function gainSentence(needs: Needs | undefined): string {
  if (!needs) return '';
  const wants = `It wants ${decibels(needs.wantedDb)} of gain; that input gives ${decibels(needs.highDb)} at most`;
  return needs.shortDb > 0 ? ` ${wants}: ${decibels(needs.shortDb)} too little even at full.` : ` ${wants}, so it can just be reached, with more hiss and no phantom power.`;
}

const moveTo = (free: readonly string[], else_: string) => (free.length > 0 ? `Move it to ${portList(free)}, which ${free.length === 1 ? 'is' : 'are'} free and will take it.` : else_);

export const LEVELS = {
  'levels/mic-on-line': problem<{
    source: string;
    from: string;
    port: string;
    needs: Needs | undefined;
    free: readonly string[];
    through: boolean;
  }>('error', (f) => ({
    what: `${f.source} comes at microphone level${f.through ? ` out of ${f.from}` : ''}, and ${f.port} is a line input.${gainSentence(f.needs)}`,
    why: 'In the ears it is faint and hissy, or not there.',
    cure: moveTo(f.free, 'Swap it with something that can go into a line input, or add a preamp.'),
  })),
  'levels/instrument-on-line': problem<{
    source: string;
    from: string;
    port: string;
    loadOhm: number | undefined;
    capacitive: boolean;
    free: readonly string[];
  }>('error', (f) => ({
    what: `${f.source} is a pickup straight into ${f.port}, a line input${f.loadOhm === undefined ? '' : ` of ${ohms(f.loadOhm)}`}.`,
    why: `A pickup wants a megohm: loaded like that it goes ${f.capacitive ? 'thin, its low notes gone,' : 'dull'} and faint.`,
    cure: moveTo(f.free, 'Put a DI in between and use a microphone input.'),
  })),
  'levels/instrument-on-mic': problem<{ source: string; from: string; port: string; free: readonly string[] }>('error', (f) => ({
    what: `${f.source} comes at instrument level, and ${f.port} is a microphone input.`,
    why: 'It is unbalanced and loaded too heavily: dull, weak, and it hums over a long lead.',
    cure: moveTo(f.free, 'Put a DI in between: "via active-di".'),
  })),
  'levels/line-on-mic': problem<{ source: string; from: string; port: string; overDb: number; free: readonly string[] }>('error', (f) => ({
    what: `${f.source} comes at line level, and ${f.port} is a microphone input.${f.overDb > 0 ? ` Its peaks are ${decibels(f.overDb)} over what that input takes even at its lowest gain.` : ''}`,
    why: 'It distorts, however far the gain is turned down.',
    cure: moveTo(f.free, f.overDb > 0 ? 'Put a pad in between: "via pad-20".' : 'Put a DI in between: "via passive-di".'),
  })),
  'levels/speaker-output': problem<{ source: string; from: string; port: string; instead: string | undefined }>('danger', (f) => ({
    what: `${f.from} is an amplifier's loudspeaker output, plugged into ${f.port}.`,
    why: 'DANGER: tens of volts can destroy the input, and a valve amplifier without its loudspeaker can destroy itself. Do not plug it in.',
    cure: f.instead ? `Take ${f.instead} instead, and leave the loudspeaker connected.` : 'Take a line output of the amplifier, or put a microphone before the loudspeaker. Leave the loudspeaker connected. Where unsure, ask a qualified technician.',
  })),
  'levels/gain-short': problem<{ source: string; port: string } & Needs>('warning', (f) => ({
    what: `${f.source} wants ${decibels(f.wantedDb)} of gain at ${f.port}, which gives ${decibels(f.highDb)} at most: ${decibels(f.shortDb)} short.`,
    why: 'Turned up afterwards, its hiss comes up with it.',
    cure: 'Move the microphone closer, use a more sensitive one, or an input with more gain.',
  })),
  'levels/too-hot': problem<{ source: string; port: string; peakDbu: number; maxDbu: number; overDb: number; padDb: number | undefined }>('warning', (f) => ({
    what: `The peaks of ${f.source} reach ${decibels(f.peakDbu, 'dBu')} at ${f.port}, which clips at ${decibels(f.maxDbu, 'dBu')} even at its lowest gain: ${decibels(f.overDb)} over.`,
    why: 'It distorts at every loud moment, and no knob cures it.',
    cure: f.padDb === undefined ? 'Put a pad in the line: "via pad-20".' : `Switch in the pad of the input (${decibels(f.padDb)}): write "pad" at the end of the line.`,
  })),
  'levels/gain-out-of-range': problem<{ source: string; port: string; written: number; low: number; high: number; setDb: number }>('error', (f) => ({
    what: `${f.port} has ${tidy(f.low, 1)}..${tidy(f.high, 1)} dB of gain, not ${decibels(f.written)}.`,
    why: 'The knob does not go there.',
    cure: `${capital(f.source)} wants ${decibels(f.setDb)}.`,
  })),
  'levels/clips': problem<{ source: string; port: string; written: number; overDb: number; setDb: number; marginDb: number }>('error', (f) => ({
    what: `At ${decibels(f.written)} of gain the peaks of ${f.source} are ${decibels(f.overDb)} over what ${f.port} takes.`,
    why: 'It distorts at every loud moment, in every ear.',
    cure: `Set ${decibels(f.setDb)}: that leaves ${decibels(f.marginDb)} or more for the night.`,
  })),
  'levels/split-loss': problem<{ source: string; port: string; lossDb: number }>('warning', (f) => ({
    what: `The other legs of the split take ${decibels(f.lossDb)} from ${f.source} at ${f.port}.`,
    why: 'It is fainter on both desks, and its sound changes whenever the other one plugs in.',
    cure: 'Use a split with a transformer or with electronics.',
  })),
  'levels/low-end': problem<{ source: string; into: string; loadOhm: number; cornerHz: number; lowestHz: number; lossDb: number }>('warning', (f) => ({
    what: `${f.source} is a piezo pickup into ${f.into}, ${ohms(f.loadOhm)}: everything below ${hertz(f.cornerHz)} falls away, ${decibels(f.lossDb)} at its lowest note (${hertz(f.lowestHz)}).`,
    why: 'The low end is the sound of it; what is left is thin and clacking.',
    cure: 'Use an active DI, which hardly loads it: "active-di".',
  })),
};

