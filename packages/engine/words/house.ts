import type { Touch } from '../solve/impact';
import { capital, count, decibels, list, our, spoken } from './phrases';
import { problem, resting } from './problem';

/** What of ours a line of the house's cannot do without, as it is called. */
export type Reason =
  | {
      readonly kind: 'phantom';
      readonly needy: string;
      readonly from: string;
      readonly run: string;
      /** A split whose two sides the house and we have the wrong way round. */
      readonly swap?: string;
      /** Switching ours off would do. */
      readonly off: boolean;
    }
  | { readonly kind: 'power'; readonly piece: string; readonly power: string | undefined }
  | { readonly kind: 'device'; readonly piece: string };

/** `Clarinet has its phantom power (48 V) from Interface 3`. */
export function because(reason: Reason): string {
  if (reason.kind === 'phantom') return `${reason.needy} has its phantom power (48 V) from ${reason.from}`;
  if (reason.kind === 'device') return `its signal goes through ${reason.piece}`;
  return `its signal goes through ${reason.piece}, which ${runsOn(reason.power)}`;
}

function runsOn(power: string | undefined): string {
  if (power === undefined) return 'needs power';
  if (power === 'mains') return 'runs on the mains';
  if (power === 'battery') return 'runs on a battery';
  return power === 'usb' ? 'runs on a computer’s USB' : `runs on ${power}`;
}

function without(reason: Reason): string {
  if (reason.kind === 'phantom') {
    const off = reason.off ? `, or switch ours off ("phantom off" at ${reason.run}) and ask the house to switch theirs on` : '';
    const how = reason.swap
      ? `swap the two sides of ${reason.swap}, so that the house has the one that is wired straight through`
      : `take our side by a transformer ("via transformer-split.iso" at ${reason.run}), which leaves the house the one that is wired straight through`;
    return `Let the house power ${reason.needy}: ${how}${off}.`;
  }
  if (reason.kind === 'device')
    return `Split the line before ${reason.piece}, with a transformer split for a microphone or a passive DI for an instrument, and give the house the other side.`;
  return `Let the house take the line before ${reason.piece}: from a transformer split for a microphone, from a thru with a DI of its own for an instrument.`;
}

/** What our rig does to a line of the house's, in names and figures. */
export interface Touching {
  readonly how: Touch;
  readonly ownMic: boolean;
  /** The piece at which their line and ours part. */
  readonly at?: string;
  readonly isolator?: string;
  /** What we take instead: `Voice jack`. */
  readonly otherOutput?: string;
  readonly reasons: readonly Reason[];
  /** What of ours their plug goes into, where the line is re-plugged. */
  readonly into?: string;
  readonly lossDb?: number;
}

/** For a cell of a table: `tapped at Y-lead`, `depends on 48 V from Interface 3`. */
export function touchShort(f: Touching): string {
  switch (f.how) {
    case 'untouched':
      return f.otherOutput ? `untouched, we take ${f.otherOutput}` : 'untouched';
    case 'tapped':
      return `tapped at ${f.at}`;
    case 'isolated':
      return `isolated by ${f.isolator}`;
    case 'dependent':
      return `depends on ${list(f.reasons.map(shortly))}`;
    case 'brought':
      return 'brought by us';
  }
}

function shortly(reason: Reason): string {
  if (reason.kind === 'phantom') return `48 V from ${reason.from}`;
  return reason.kind === 'power' && reason.power !== undefined ? `${reason.piece} (${reason.power})` : reason.piece;
}

/** Whole sentences, for who looks at one line. */
export function touchLong(f: Touching): string[] {
  const alone = 'With our rig unplugged it works as before.';
  const said: Record<Touch, string> = {
    untouched: f.ownMic
      ? 'Untouched: the house has a microphone of its own here.'
      : f.otherOutput
        ? `Untouched: we take another output, ${f.otherOutput}.`
        : 'Untouched: nothing of our rig hangs on it.',
    tapped: `Tapped: our rig hangs on it by copper, at ${f.at}. ${alone}`,
    isolated: `Isolated: ${f.isolator} stands between it and our rig. ${alone}`,
    dependent: `Dependent: it goes silent without what is ours, because ${list(f.reasons.map(because))}.`,
    brought: 'Brought by us: it is silent when our rig is off or unplugged.',
  };
  return [
    said[f.how],
    ...(f.into === undefined ? [] : [`Re-plugged: the house’s plug goes into ${our(f.into)} first.`]),
    ...(f.lossDb === undefined || f.lossDb < 0.05
      ? []
      : [`It is ${decibels(f.lossDb)} lower while our rig is plugged in, whether that is switched on or off.`]),
  ];
}

/** A re-plugged line: `house 2 (Hurdy-gurdy, into our Passive DI)`. */
interface Replugged {
  readonly house: string;
  readonly label: string;
  readonly into: string;
}

/** So many lines are named; a list that nobody reads to its end is no help. */
const MOST_NAMED = 4;

export const HOUSE = resting(['inputs', 'house'], {
  'house/dependent': problem<{ house: string; label: string; reasons: readonly Reason[] }>('warning', (f) => ({
    what: `${capital(named(f))} goes silent when our rig is off or unplugged, because ${list(f.reasons.map(because))}.`,
    why: 'The audience then loses it too, and nobody at the house’s desk can bring it back.',
    cure: f.reasons.map(without).join(' '),
  })),
  'house/not-there': problem<{ said: 'none' | 'ours'; lines: readonly string[]; mixes: readonly string[] }>('warning', (f) => ({
    what: `This rig says "house ${f.said}", and ${list([...f.lines, ...f.mixes.map((mix) => `the mix ${mix}`)])} ${f.lines.length + f.mixes.length === 1 ? 'goes' : 'go'} to the house all the same.`,
    why: 'The sheets do not speak of a house then, and nobody plugs this in.',
    cure:
      f.lines.length > 0
        ? `If there is a house, delete "house ${f.said}"; else delete what is for it.`
        : 'If you play over your own loudspeakers, write "house ours"; else delete the mix.',
  })),
  'house/replugged': problem<{ lines: readonly Replugged[]; of: number; spare: readonly string[] }>('note', (f) => ({
    what: `${repluggedOf(f.lines.length, f.of)}: ${pluggedInto(f.lines)}.`,
    why: 'That is how a split works, and nothing is wrong with it.',
    cure: `Tell the house before the day.${f.spare.length > 0 ? ` Or take ${list(f.spare.slice(0, MOST_NAMED))} instead of a split, and the house’s plug stays where it was.` : ''}`,
  })),
});

/** `Two of the house’s three lines are re-plugged for us`. `of`: all lines, those that we bring among them, as every sheet counts them. */
export function repluggedOf(replugged: number, of: number): string {
  if (of === 1) return 'The house’s only line is re-plugged for us';
  if (replugged === of) return `${of === 2 ? 'Both' : `All ${spoken(of)}`} of the house’s lines are re-plugged for us`;
  return `${capital(spoken(replugged))} of the house’s ${count(of, 'line')} ${replugged === 1 ? 'is' : 'are'} re-plugged for us`;
}

/** `house 2 (Hurdy-gurdy) goes into our Passive DI first`; of several, one for all: the others are related places. */
function pluggedInto(lines: readonly Replugged[]): string {
  const [first, ...more] = lines.map(({ house, label, into }) => ({ house: label === '' ? house : `${house} (${label})`, into }));
  return more.length === 0
    ? `${first?.house} goes into ${our(first?.into ?? '')} first`
    : `each goes into our gear first, as ${first?.house} does into ${our(first?.into ?? '')}`;
}

function named({ house, label }: { readonly house: string; readonly label: string }): string {
  return label === '' ? house : `${house}, ${label},`;
}
