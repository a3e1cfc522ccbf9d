import { capital, hertz, list } from './phrases';
import { problem, resting } from './problem';

/** A carrier, as it is told of. */
export interface Told {
  readonly label: string;
  readonly hz: number;
  readonly theirs: boolean;
}

interface ProductFigures {
  readonly victim: Told;
  readonly order: 'pair' | 'triple' | 'fifth';
  readonly of: readonly Told[];
  readonly productHz: number;
  readonly awayHz: number;
  readonly guardHz: number;
}

interface Region {
  readonly name: string;
  readonly regulator: string;
}

export const told = ({ label, hz, theirs }: Told) => `${label} (${hertz(hz)}${theirs ? ', the house’s' : ''})`;

/** `2 × 863.4 − 863.1 MHz`. */
export function productFormula(order: ProductFigures['order'], hz: readonly number[]): string {
  const [a = 0, b = 0, c = 0] = hz;
  const mega = (value: number) => hertz(value).replace(' MHz', '');
  if (order === 'pair') return `2 × ${mega(a)} − ${hertz(b)}`;
  return order === 'fifth' ? `3 × ${mega(a)} − 2 × ${hertz(b)}` : `${mega(a)} + ${mega(b)} − ${hertz(c)}`;
}

const ORDERS = { pair: 'third-order product', triple: 'third-order product of three', fifth: 'fifth-order product' };

const NO_PERMISSION = 'What is known here was read in published sources and is no permission.';

export const OFFERED = 'In the editor, the light bulb offers a clear frequency where there is one.';

const MOVE_ONE =
  'Set one of them to another frequency: in the editor the light bulb offers a clear one where there is one, and "earloom frequencies" chooses for all at once.';

function productWhat({ victim, order, of, productHz, awayHz }: ProductFigures, where: string): string {
  const hz = of.map((each) => each.hz);
  return `Where ${list(of.map(told))} come together they make a false carrier, a ${ORDERS[order]} at ${hertz(productHz)} (${productFormula(order, hz)}), ${where} ${told(victim)}${awayHz >= 500 ? `, ${hertz(awayHz)} away` : ''}.`;
}

/** `863 to 865 MHz` */
export const range = (low: number, high: number) => `${hertz(low).replace(' MHz', '')} to ${hertz(high)}`;

const ranges = (all: readonly (readonly [number, number])[]) => list(all.map(([low, high]) => range(low, high)));

export const RADIO = resting(['settings'], {
  'radio/same-frequency': problem<{ one: Told; other: Told }>(
    'error',
    ({ one, other }) => ({
      what: `${one.label} and ${other.label}${other.theirs ? ', which is the house’s,' : ''} are both on ${hertz(one.hz)}.`,
      why: 'A receiver follows the stronger of two: one is heard in the place of the other, in bursts of noise, or neither.',
      cure: other.theirs ? `Set ${one.label} to another frequency, and agree it with the house. ${OFFERED}` : MOVE_ONE,
    }),
    { brief: 'same frequency' },
  ),
  'radio/too-close': problem<{ one: Told; other: Told; awayHz: number; wantedHz: number }>(
    'warning',
    ({ one, other, awayHz, wantedHz }) => ({
      what: `${told(one)} and ${told(other)} are ${hertz(awayHz)} apart; sets like these want ${hertz(wantedHz)}.`,
      why: 'The strong one close by leaks into the receiver of the weak one: noise, and short range.',
      cure: other.theirs ? `Set ${one.label} further away, and agree it with the house. ${OFFERED}` : MOVE_ONE,
    }),
  ),
  'radio/product-on': problem<ProductFigures>('warning', (f) => ({
    what: productWhat(f, 'on'),
    why: `When all of these are switched on and stand close to each other, ${f.victim.label} has noise, a whistle or another’s sound in it, and at full signal.`,
    cure: MOVE_ONE,
  })),
  'radio/product-near': problem<ProductFigures>('note', (f) => ({
    what: productWhat(f, 'near'),
    why: `It is less than the ${hertz(f.guardHz)} that should be kept; ${f.victim.label} may be noisy further away from its receiver.`,
    cure: 'Where there is room, set one of them elsewhere. Else try it with all of them switched on, each where it will stand.',
  })),
  'radio/cannot-tune': problem<{ set: string; hz: number; low: number; high: number }>(
    'error',
    (f) => ({
      what: `${f.set} cannot be set to ${hertz(f.hz)}: it tunes ${range(f.low, f.high)}.`,
      why: 'On the night there is no such frequency to choose.',
      cure: 'Correct the frequency, or the model: sets of one name are sold for different ranges, and the label on yours says which.',
    }),
    // What it never sends on needs no licence.
    { brief: 'it cannot tune there', overrules: /^radio\/(outside-ranges|needs-licence)$/ },
  ),
  'radio/pack-apart': problem<{
    pack: string;
    transmitter: string;
    hz: number;
    /** What the pack is set to, where the rig says so. */
    packHz: number | undefined;
    low: number | undefined;
    high: number | undefined;
  }>(
    'error',
    (f) => ({
      what:
        f.packHz === undefined
          ? `${f.pack} tunes ${range(f.low ?? 0, f.high ?? 0)}, and ${f.transmitter} sends on ${hertz(f.hz)}.`
          : `${f.pack} is on ${hertz(f.packHz)}, and ${f.transmitter}, which it hears, is on ${hertz(f.hz)}.`,
      why: 'It hears nothing, or somebody else.',
      cure:
        f.packHz === undefined
          ? 'Take a pack of the same range as the transmitter, or set the transmitter where both can be.'
          : 'Leave the frequency out at the pack: it goes with its transmitter. Or correct which transmitter it hears.',
    }),
    { brief: 'not on one frequency' },
  ),
  'radio/outside-ranges': problem<{
    carrier: Told;
    region: Region;
    ranges: readonly (readonly [number, number])[];
    /** Its middle is inside, and its width reaches out. */
    spills: boolean;
    bandwidthHz: number;
  }>(
    'error',
    (f) => ({
      what: f.spills
        ? `${told(f.carrier)} takes ${hertz(f.bandwidthHz)} and reaches out of the range that is known for ${f.region.name}.`
        : `${told(f.carrier)} is in none of the ranges that are known for ${f.region.name}: ${ranges(f.ranges)}.`,
      why: 'There it may disturb a telephone network or an emergency service, and be disturbed; it can be fined.',
      cure: `Set it elsewhere, or ask ${f.region.regulator}. If you hold a licence for it, write "licensed" at the top of the rig. ${NO_PERMISSION}`,
    }),
    { brief: 'outside the ranges known here' },
  ),
  'radio/needs-licence': problem<{ carrier: Told; region: Region; range: readonly [number, number]; varies: boolean }>('warning', (f) => ({
    what: f.varies
      ? `In ${f.region.name}, ${range(...f.range)}, where ${told(f.carrier)} is, needs a licence in many countries.`
      : `In ${f.region.name}, ${told(f.carrier)} needs a licence: ${range(...f.range)} is not free.`,
    why: 'Without one it is against the law, and somebody else may have been promised that frequency for tonight.',
    cure: `Ask ${f.region.regulator} in good time. If you hold one for this place and day, write "licensed" at the top of the rig; if not, use a set of a free range. ${NO_PERMISSION}`,
  })),
  'radio/avoided': problem<{ carrier: Told; low: number; high: number; label: string | undefined }>('warning', (f) => ({
    what: `${told(f.carrier)} reaches into ${range(f.low, f.high)}, which this rig says to avoid${f.label ? `: ${f.label}` : ''}.`,
    why: 'What is there already is likely to be stronger.',
    cure: `Set it elsewhere. ${OFFERED} If the range is free after all, delete the "avoid".`,
  })),
  'radio/no-frequency': problem<{ set: string; theirs: boolean; others: number }>('note', (f) => ({
    what: `${f.set} sends by radio, and on which frequency is not said.`,
    why:
      f.others > 0
        ? 'So nobody can tell whether it clashes with what else is on the air here.'
        : 'Whoever else sends here has to know it, and a licence, where one is needed, names it.',
    cure: f.theirs
      ? 'Ask the house, and write it down as "on 863.5 MHz".'
      : 'Write what it is set to, as in "on 863.5 MHz". In the editor, the light bulb offers a clear one where it is known what the set tunes.',
  })),
  'radio/where-not-said': problem<{ sets: readonly string[] }>('note', (f) => ({
    what: `${capital(list(f.sets.slice(0, 3)))}${f.sets.length > 3 ? ' and others' : ''} send${f.sets.length === 1 ? 's' : ''} by radio, and where this is played is not said.`,
    why: 'Which frequencies may come into question differs from country to country.',
    cure: 'Write "region" and "country" at the top of the rig, as in "region EU" and "country SI". The local regulator decides.',
  })),
  'radio/rules-not-known': problem<{ where: string; known: readonly string[] }>('note', (f) => ({
    what: `Which ranges are for radio microphones in ${f.where} is not known here.`,
    why: 'So no frequency of this rig has been compared with the rules there, and none is said to be allowed.',
    cure: `Ask the radio regulator there. Known, from published sources, are ${list(f.known)}, and most of Europe by its recommendation.`,
  })),
});
