import { count, list } from './phrases';
import { problem } from './problem';

export const SPLITS = {
  'splits/missing': problem<{
    source: string;
    output: string;
    takers: readonly string[];
    models: readonly string[];
    run: string;
    house: boolean;
  }>('error', (f) => ({
    what: `${f.source} is taken by ${list(f.takers)}, and nothing splits it: ${f.output} has one output.`,
    why: f.house ? 'One plug fits one socket: on the night either the house or your ears go without.' : 'One plug fits one socket: one of the two stays silent.',
    cure: `Put a split into ${f.run}: write "via ${f.models[0]}"${f.models[1] ? `, or "via ${f.models[1]}"` : ''}. The other takes the free leg by itself.`,
  })),
  'splits/leg-taken-twice': problem<{ leg: string; takers: readonly string[]; free: readonly string[] }>('error', (f) => ({
    what: `${f.leg} feeds both ${list(f.takers)}.`,
    why: 'A leg has one plug, so one of the two gets nothing.',
    cure: f.free.length > 0 ? `Use a leg that is free: ${list(f.free, 'or')}.` : 'No leg is free: use a split with one more leg.',
  })),
  'splits/no-such-leg': problem<{ leg: string; gear: string; ports: readonly string[] }>('error', (f) => ({
    what: `${f.gear} has no port called ${f.leg}.`,
    why: 'The line cannot be followed further, so nothing after it is checked.',
    cure: f.ports.length > 0 ? `It has ${list(f.ports)}.` : 'Its model declares no ports: give it some.',
  })),
  'splits/needless': problem<{ split: string; source: string; run: string }>('note', (f) => ({
    what: `${f.split} splits ${f.source}, but only ${f.run} takes it.`,
    why: 'Every piece in a line is one more to carry, to pay for and to fail.',
    cure: `Leave it out, or let somebody take the other leg.`,
  })),
  'splits/side-left-out': problem<{ source: string; channels: readonly string[]; run: string }>('warning', (f) => ({
    what: `${f.source} has ${count(f.channels.length, 'channel')} (${list(f.channels)}), and ${f.run} takes fewer.`,
    why: 'What is left out is not heard.',
    cure: `Name the channel you want, as in "${'takes'} NAME.${f.channels[0]}", or take them all on as many ports.`,
  })),
  'splits/nothing-comes-out': problem<{ gear: string; run: string }>('error', (f) => ({
    what: `${f.run} goes into ${f.gear}, and nothing comes out of it that could go on.`,
    why: 'The signal ends there.',
    cure: `Take ${f.gear} out of the line, or go through a piece that has an output.`,
  })),
};
