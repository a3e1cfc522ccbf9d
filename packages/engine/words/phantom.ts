import { count, list, milliamps, oneOf, volts } from './phrases';
import { problem, resting } from './problem';

const PLUG_FIRST = 'Plug first, then switch on, with nobody’s ears in.';

/** Phantom power at an input where it should not be; `because`: what it is on for, where it is not only the rig's word. */
interface Sent {
  readonly source: string;
  readonly port: string;
  readonly because: string | undefined;
}

/** Ways to keep it away: an input to switch it off at, and free inputs that do not get it. */
interface Away {
  /** It is on for what is plugged in here, and not for another input on the same switch. */
  readonly own?: boolean;
  readonly offAt?: string;
  readonly free: readonly string[];
}

/** What keeps the 48 volts away makes it true that they stay off. */
const STAYS_OFF = /^phantom\/not-off$/;

const onFor = ({ because, own }: Sent & Away) =>
  because
    ? `, because it is on for ${because}${own ? '' : ' and one switch serves both'}`
    : `, because this rig says that it is on${own ? ' there' : ' at an input on the same switch'}`;

const keptAway = ({ own, offAt, free }: Away) => [
  ...(offAt === undefined ? [] : [`switch it off ${own ? 'there' : `at ${offAt}`} ("phantom off")`]),
  ...(free.length > 0 ? [`move it to a free input that does not get it (${list(free, 'or')})`] : []),
];

export const PHANTOM = resting(['inputs', 'house'], {
  /** `house`: there may be one. */
  'phantom/missing': problem<{
    source: string;
    port: string;
    off: boolean;
    house: boolean;
    free: readonly string[];
    swaps: readonly string[];
  }>(
    'error',
    (f) => ({
      what: f.off
        ? `This rig says that phantom power (48 V) stays off at ${f.port}, and ${f.source} gets it from nowhere else.`
        : `There is no phantom power (48 V) for ${f.source} at ${f.port}.`,
      why: `Without it, ${f.source} gives no sound at all.`,
      cure: f.off
        ? `Delete "phantom off" there${f.house ? ', or let the house supply it by a straight way (a Y-lead, the direct side of a split)' : ''}.`
        : oneOf([
            ...(f.free.length > 0 ? [`move it to a free input that has it (${list(f.free.slice(0, 3), 'or')})`] : []),
            ...(f.swaps.length > 0 ? [`swap it with ${list(f.swaps, 'or')}, where both fit`] : []),
            ...(f.free.length + f.swaps.length > 0
              ? []
              : ['bring a preamp that has it', 'use one that needs none (a dynamic microphone, a passive DI)']),
          ]),
    }),
    { short: () => ({ wrong: 'no phantom power here' }), restsOn: ['neighbours'] },
  ),
  /** `leg`: a free side of it that lets it through. `others`: lines that go through it too. `box`: what to take instead. */
  'phantom/blocked': problem<{
    source: string;
    by: string;
    port: string;
    itself: boolean;
    leg: string | undefined;
    others: readonly string[];
    box: 'transformer-split.iso' | 'y-lead' | undefined;
    leave: boolean;
    /** There may be one. */
    house: boolean;
  }>(
    'error',
    (f) => ({
      what: f.itself
        ? `Phantom power (48 V) does not get from ${f.port} to ${f.source}: the lead between them does not carry it.`
        : `${f.by} lets no phantom power (48 V) through from ${f.port} to ${f.source}.`,
      why: `It does not pass a transformer, electronics, a lifted pin 1, or a plug with two contacts, and without it ${f.source} gives no sound at all.`,
      cure: f.itself
        ? 'Use its XLR output and an XLR input, or the power supply that came with it.'
        : oneOf([
            ...(f.leg ? [`take the side that is wired straight through ("${f.leg}")`] : []),
            ...(f.box === 'y-lead' ? ['split it by copper ("via y-lead")'] : []),
            ...(f.leave ? ['leave this piece out'] : []),
            ...(!f.leave && !f.leg && !f.box ? [`put a split of plain copper in its place, for ${list(f.others)} too`] : []),
            f.box === 'transformer-split.iso'
              ? 'take a transformer split there ("via transformer-split.iso"): the house then powers it by the other side'
              : `let ${f.house ? 'the house or a supply of its own' : 'a supply of its own'} feed it by a straight way`,
          ]),
    }),
    // What is put in its place is copper, and depends on nothing.
    {
      overrules: /^(splits\/needless|house\/dependent)$/,
      everywhere: true,
      short: ({ by }) => ({ wrong: `${by} stops the phantom power` }),
    },
  ),
  'phantom/harmful': problem<Sent & Away>(
    'danger',
    (f) => ({
      what: `${f.port} sends phantom power (48 V) to ${f.source}${onFor(f)}.`,
      why: 'DANGER: a faulty lead, or plugging while it is on, can then destroy the microphone.',
      cure: oneOf([...keptAway(f), 'put a transformer into this line ("via isolating-transformer")']),
    }),
    { overrules: STAYS_OFF, short: () => ({ wrong: 'phantom power would reach it', needs: 'a transformer' }), whatever: true },
  ),
  'phantom/into-output': problem<Sent & Away & { output: string; unbalanced: boolean }>(
    'warning',
    (f) => ({
      what: `${f.port} sends phantom power (48 V) back into ${f.output}${onFor(f)}.`,
      why: f.unbalanced
        ? 'A plug with two contacts shorts one of the two wires and leaves the 48 volts on the other. That is not made for it: it thumps, it crackles, and it can be damaged.'
        : 'An electronic output is not made to have a voltage sent into it. Some take it, some thump and distort, some are damaged: only its manual says.',
      cure: `${oneOf([...keptAway(f), 'put a transformer in between ("via isolating-transformer")'])} ${PLUG_FIRST}`,
    }),
    { overrules: STAYS_OFF, short: () => ({ wrong: 'phantom power would go back into it', needs: 'a transformer' }) },
  ),
  /** `split`: one that can be another one; else there is something with a name, or none. */
  'phantom/reaches-house': problem<Sent & Away & { house: string; split: boolean }>(
    'warning',
    (f) => ({
      what: `Phantom power (48 V) is on for ${f.because ?? 'another input'}, and ${f.port} is on the same switch: it also goes out on the line of ${f.source} and, through the split, to ${f.house}.`,
      why: 'There is a thump when either desk plugs in, and not every input of the house takes it well.',
      cure: `${oneOf([f.split ? 'use a transformer split there ("via transformer-split.iso")' : 'put a transformer into our line ("via isolating-transformer")', ...keptAway(f)])} Tell the house either way. ${PLUG_FIRST}`,
    }),
    { short: ({ because }) => ({ wrong: `the phantom power${because ? ` of ${because}` : ''} would reach the house` }) },
  ),
  'phantom/keep-off': problem<{ source: string; number: string; split: boolean }>('note', (f) => ({
    what: `Tell the house to leave 48 V off on line ${f.number}: ${f.source} is harmed by it, and nothing in between keeps it away.`,
    why: 'Many desks switch it on for all lines at once. A faulty lead, or plugging while it is on, can then destroy the microphone.',
    cure: `To be sure, put a transformer in between: ${f.split ? 'take our side from "transformer-split.direct", which leaves the house the isolated one' : '"via isolating-transformer" in their line'}. ${PLUG_FIRST}`,
  })),
  'phantom/two-supplies': problem<{ source: string; first: string; second: string; off: boolean }>(
    'warning',
    (f) => ({
      what: `${f.source} gets phantom power (48 V) twice, from ${f.first} and from ${f.second}.`,
      why: 'The microphone lives, but whoever switches or unplugs either one makes a thump in all ears, and nobody can tell which of the two it depends on.',
      cure: `Let one alone supply it: ${f.off ? `write "phantom off" at ${f.second}, or ` : ''}put a transformer into the line to ${f.second} ("via isolating-transformer").`,
    }),
    { short: ({ second }) => ({ wrong: `phantom power from ${second} too` }) },
  ),
  /** `needy`: what gets it here is to get its phantom power from somewhere else. */
  'phantom/not-off': problem<{
    source: string;
    port: string;
    because: string | undefined;
    by: string;
    free: readonly string[];
    needy: boolean;
  }>(
    'warning',
    (f) => ({
      what: `This rig says that phantom power (48 V) stays off at ${f.port}, but ${f.by} is on the same switch, and there it is on${f.because ? ` for ${f.because}` : ''}.`,
      why: `One switch serves both: ${f.source} gets the 48 volts all the same.`,
      cure: oneOf([
        ...keptAway(f),
        f.needy
          ? 'delete "phantom off" and put a transformer into this line ("via isolating-transformer")'
          : 'delete "phantom off": it does this one no harm',
      ]),
    }),
    { short: () => ({ wrong: 'phantom power is on at its neighbour' }) },
  ),
  'phantom/not-there': problem<{ source: string; port: string }>('warning', (f) => ({
    what: `This rig says that phantom power (48 V) is on for ${f.source}, but ${f.port} has none to switch on.`,
    why: 'Whoever sets up looks for a switch that is not there.',
    cure: 'Delete "phantom on", or use a microphone input that has it.',
  })),
  'phantom/over-budget': problem<{
    device: string;
    hasA: number;
    takesA: number;
    takers: readonly { source: string; currentA: number; stated: boolean }[];
    house: readonly string[];
  }>(
    'error',
    (f) => ({
      what: `${f.device} can give ${milliamps(f.hasA)} of phantom power in all, and ${count(f.takers.length, 'thing')} ask${f.takers.length === 1 ? 's' : ''} for ${milliamps(f.takesA)}: ${list(
        f.takers.map(
          ({ source, currentA, stated }) =>
            `${source} ${milliamps(currentA)}${stated ? '' : ' (its model does not say: the most that is allowed)'}`,
        ),
      )}.`,
      why: 'The voltage breaks down: microphones distort, crackle or fall silent, all of them and not only the last.',
      cure:
        f.house.length > 0
          ? `Let the house supply ${list(f.house, 'or')} ("phantom off" at our input), or use a dynamic microphone or a passive DI for one of them.`
          : 'Use a dynamic microphone or a passive DI for one of them, or another preamp with phantom power of its own.',
    }),
    { short: () => ({ wrong: 'more phantom power than the gear can give' }) },
  ),
  'phantom/weak': problem<{
    source: string;
    port: string;
    currentA: number;
    stated: boolean;
    leftV: number;
    wantedV: number;
    most: boolean;
    /** What is in between and can be taken out is a pad. */
    pad: boolean;
  }>(
    'warning',
    (f) => ({
      what: f.most
        ? `${f.source} asks for ${milliamps(f.currentA)} of phantom power, more than the 10 mA that one input has to give; ${volts(f.leftV)} of the 48 are left at it from ${f.port}.`
        : `Only ${volts(f.leftV)} of phantom power are left at ${f.source} from ${f.port}. At the ${milliamps(f.currentA)} that it takes${f.stated ? '' : ' at most'} it may count on ${volts(f.wantedV)}.`,
      why: 'It distorts on loud notes, hisses, or gives nothing.',
      cure: f.most
        ? 'Look in its manual for what it needs, and feed it by a supply that is made for it.'
        : f.pad
          ? 'Take out the pad in between, or give it an input that nothing else is fed from.'
          : 'Give it an input that nothing else is fed from.',
    }),
    { short: () => ({ wrong: 'too little phantom power left' }) },
  ),
});
