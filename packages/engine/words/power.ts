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
  /** It is a computer: nobody changes its cells. */
  readonly computer: boolean;
}

const needed = ({ checkS, setS }: Battery) =>
  checkS > 0 ? `sound check and set take ${hoursText(checkS + setS)}` : `the set takes ${hoursText(setS)}`;

const batteriesOf = ({ what, computer }: Battery) =>
  `The ${computer ? 'battery' : 'batteries'} of ${list(what)} ${computer ? 'lasts' : 'last'}`;

const CHARGER = 'Plug in its charger, on the same mains as everything else so that it does not hum.';

export const POWER = resting(['settings'], {
  'power/battery-short': problem<Battery>('warning', (f) => ({
    what: `${batteriesOf(f)} ${hoursText(f.lifeS)}, and ${needed(f)}.`,
    why: f.computer
      ? 'It goes off before the end, and with it all that plays in it and all that draws its power from it.'
      : 'It goes silent before the end, without a word: for whoever wears it the music stops.',
    cure: `${f.computer ? CHARGER : 'Fresh batteries before the set, and a moment in it to change them; or gear that lasts longer.'}${f.checkS > 0 ? '' : ' The sound check comes on top: write it as "check 40 min".'}`,
  })),
  'power/battery-close': problem<Battery>('note', (f) => ({
    what: `${batteriesOf(f)} ${hoursText(f.lifeS)}, and ${needed(f)}: less than ${f.marginPercent} % are left.`,
    why: f.computer
      ? 'With a battery that has aged, or a busy set, it is flat before the encore.'
      : 'With cells that are not quite fresh, in the cold, or played louder than usual, they are flat before the encore.',
    cure: f.computer ? CHARGER : 'Put fresh ones in after the sound check, and have a set to spare at hand.',
  })),
  'power/over-usb': problem<{ what: string; watts: number; two: number; three: number }>('warning', (f) => ({
    what: `${f.what} takes ${tidy(f.watts, 1)} W from USB, and a port gives ${tidy(f.two, 1)} W (USB 2.0) or ${tidy(f.three, 1)} W (USB 3).`,
    why: 'It does not start, or lets go when phantom power and all outputs are on: then every mix is gone.',
    cure: 'Give it a supply of its own, or a hub that has one; or a port that says it gives more. If yours does, write it in a model: "power mains" for what has its own supply.',
  })),
  'power/over-circuit': problem<{
    watts: number;
    allowedW: number;
    currentA: number;
    voltageV: number;
    sharePercent: number;
    unstated: readonly string[];
  }>('warning', (f) => ({
    what: `Our gear draws ${tidy(f.watts, 0)} W, as far as it states it, and one circuit of ${tidy(f.currentA, 1)} A at ${tidy(f.voltageV, 0)} V gives ${tidy(f.allowedW, 0)} W: ${f.watts > f.allowedW ? 'more than there is' : `more than ${f.sharePercent} % of it`}.${f.unstated.length > 0 ? ` ${capital(list(f.unstated))} ${f.unstated.length === 1 ? 'comes' : 'come'} on top, and ${f.unstated.length === 1 ? 'does' : 'do'} not say how much.` : ''}`,
    why: 'Switched on together the fuse goes, and everything with it: the computer, the transmitters, every ear.',
    cure: 'Ask the venue’s electrician for a second circuit, from the same distribution so that nothing hums, or leave out what can be left out. Amplifiers and lights draw more for a moment when they are switched on: one after the other.',
  })),
});
