import { capital, list, tidy } from './phrases';
import { problem, resting } from './problem';

/** `1 h 40 min`, `45 min`, from seconds. */
export function hoursText(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  const hours = Math.floor(minutes / 60);
  if (hours === 0) return `${minutes} min`;
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
}

interface Battery {
  readonly what: readonly string[];
  readonly lifeS: number;
  readonly checkS: number;
  readonly setS: number;
  readonly marginPercent: number;
}

const needed = ({ checkS, setS }: Battery) =>
  checkS > 0 ? `sound check and set take ${hoursText(checkS + setS)}` : `the set takes ${hoursText(setS)}`;

export const POWER = resting(['settings'], {
  'power/battery-short': problem<Battery>('warning', (f) => ({
    what: `The batteries of ${list(f.what)} last ${hoursText(f.lifeS)}, and ${needed(f)}.`,
    why: 'It goes silent before the end, without a word: for whoever wears it the music stops.',
    cure: `Fresh batteries before the set, and a moment in it to change them; or gear that lasts longer.${f.checkS > 0 ? '' : ' The sound check comes on top: write it as "check 40 min".'}`,
  })),
  'power/battery-close': problem<Battery>('note', (f) => ({
    what: `The batteries of ${list(f.what)} last ${hoursText(f.lifeS)}, and ${needed(f)}: less than ${f.marginPercent} % are left.`,
    why: 'With cells that are not quite fresh, in the cold, or played louder than usual, they are flat before the encore.',
    cure: 'Put fresh ones in after the sound check, and have a set to spare at hand.',
  })),
  'power/over-circuit': problem<{
    watts: number;
    allowedW: number;
    currentA: number;
    voltageV: number;
    sharePercent: number;
    unstated: readonly string[];
  }>('warning', (f) => ({
    what: `Our gear draws ${tidy(f.watts, 0)} W, as far as it states it, and one circuit of ${tidy(f.currentA, 1)} A at ${tidy(f.voltageV, 0)} V gives ${tidy(f.allowedW, 0)} W: more than ${f.sharePercent} % of it.${f.unstated.length > 0 ? ` ${capital(list(f.unstated))} ${f.unstated.length === 1 ? 'comes' : 'come'} on top, and ${f.unstated.length === 1 ? 'does' : 'do'} not say how much.` : ''}`,
    why: 'Switched on together the fuse goes, and everything with it: the computer, the transmitters, every ear.',
    cure: 'Ask the venue’s electrician for a second circuit, from the same distribution so that nothing hums, or leave out what can be left out. Amplifiers and lights draw more for a moment when they are switched on: one after the other.',
  })),
});
