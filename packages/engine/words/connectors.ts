import { CONNECTORS, type Connector } from '#rig';
import { type Lengths, lengthText } from './lengths';
import { capital, inside, list, spoken, stereoLead } from './phrases';
import { NOTHING_JOINS, problem } from './problem';

const connector = (c: Connector | undefined) => (c ? CONNECTORS[c].label : 'no connector');

/** Where a lead has to get to that is as long as it is. */
const awayText = ({ wayM, riseM }: { wayM: number; riseM: number }, lengths: Lengths) =>
  `${lengthText(wayM, lengths)} away along the edges and ${lengthText(riseM, lengths)} up`;

const ofWhom = (people: readonly string[]) => (people.length === 0 ? '' : ` of ${list(people, 'or')}`);

export const CONNECTING = {
  /** `inComputer`: it is a channel that comes out of no plug. */
  'connectors/no-mate': problem<{
    from: string;
    to: string;
    run: string;
    ends: readonly [Connector | undefined, Connector | undefined];
    inComputer: boolean;
  }>(
    'error',
    (f) => ({
      what: `Nothing joins ${f.from} (${connector(f.ends[0])}) to ${f.to} (${connector(f.ends[1])}).`,
      why: 'No lead and no adapter carries the signal from the one to the other.',
      cure: f.inComputer
        ? `A channel in a computer has no plug. Take it at an input for such channels, on the gear that makes the mixes ("usb1"). Whoever else wants it, as the house, gets a mix with it, by an output of that gear.`
        : 'Take another output or another input, or put the right piece in between.',
    }),
    { short: () => ({ wrong: NOTHING_JOINS }) },
  ),
  'connectors/tail-too-short': problem<{
    from: string;
    to: string;
    run: string;
    fixedTo: 'from' | 'to';
    /** What it is fixed to. */
    box: string;
    /** So many of the box's leads do not reach that place. */
    count: number;
    tailM: number;
    wayM: number;
    riseM: number;
    extensionM: number;
  }>(
    'warning',
    (f, lengths) => {
      const [near, far] = f.fixedTo === 'from' ? [f.from, f.to] : [f.to, f.from];
      const away = awayText(f, lengths);
      return {
        what:
          f.count === 1
            ? `The lead that is fixed to ${near} is ${lengthText(f.tailM, lengths)} long, and ${far} is ${away}.`
            : `${capital(spoken(f.count))} leads that are fixed to ${f.box} are ${lengthText(f.tailM, lengths)} long, and where they go, as to ${far}, is ${away}.`,
        why: f.count === 1 ? 'It does not reach.' : 'They do not reach.',
        cure: `Bring ${f.count === 1 ? `an extension of ${lengthText(f.extensionM, lengths)}` : `${spoken(f.count)} extensions of ${lengthText(f.extensionM, lengths)}`}, or move the two closer. Run leads along edges, and tape or cover them where people walk.`,
      };
    },
    { short: () => ({ wrong: 'its lead does not reach', needs: 'an extension' }) },
  ),
  'connectors/earphones-too-short': problem<{
    performer: string;
    earphones: string;
    socket: string;
    tailM: number;
    assumed: boolean;
    wayM: number;
    riseM: number;
    extensionM: number;
  }>('warning', (f, lengths) => ({
    what: f.assumed
      ? `${f.socket} is ${awayText(f, lengths)} from ${f.performer}, and leads of earphones are ${lengthText(f.tailM, lengths)} at the most, as a rule.`
      : `The lead of ${f.performer}’s ${inside(f.earphones)} is ${lengthText(f.tailM, lengths)} long, and ${f.socket} is ${awayText(f, lengths)}.`,
    why: 'It does not reach: the plug is pulled out at the first step, or somebody trips over a tight lead.',
    cure: `Bring a stereo extension lead of ${lengthText(f.extensionM, lengths)} ("via earphone-extension"), or give ${f.performer} a wired pack from a line output ("via wired-pack"). Run leads along edges, and tape or cover them where people walk.`,
  })),
  'connectors/long-unbalanced': problem<{
    from: string;
    to: string;
    run: string;
    /** All the leads that copper joins, as long as they are laid. */
    laidM: number;
    limitM: number;
    /**
     * A DI that stands there already: at the far end of it, or gone through by its thru. `output`: what to take instead, where that could be plugged
     * in; `pair`: by this line comes the other side as well.
     */
    di: { readonly label: string; readonly ahead?: true; readonly output?: string; readonly pair?: boolean } | undefined;
  }>(
    'warning',
    (f, lengths) => ({
      what: `${f.from} to ${f.to} is ${lengthText(f.laidM, lengths)} of unbalanced lead${f.di && !f.di.ahead ? `, by the thru of ${f.di.label}` : ''}.`,
      why: `Beyond ${lengthText(f.limitM, lengths)} or so an unbalanced lead picks up hum, and a pickup loses its highs.`,
      cure: !f.di
        ? 'Take a balanced output (XLR) if it has one, or put a DI within reach of a short lead and go on balanced from there.'
        : f.di.ahead
          ? `Move ${f.di.label} within reach of a short lead: what comes out of it is balanced.`
          : f.di.output && f.di.pair
            ? `Put a stereo DI before both sides ("via stereo-di"); or write a line for each, and let this one take the balanced output of ${f.di.label}, into a microphone input: "via ${f.di.output}".`
            : f.di.output
              ? `Take the balanced output of the DI instead, into a microphone input: "via ${f.di.output}", or, where another line has that, "via ${f.di.output}, y-lead" here and no "via" there: that line takes the free side by itself.`
              : `Move ${f.di.label} and ${f.to} closer together.`,
    }),
    { short: ({ laidM, di }, _own, lengths) => ({ wrong: `${lengthText(laidM, lengths, 0)} unbalanced`, needs: di ? undefined : 'a DI' }) },
  ),
  'connectors/stereo-into-balanced': problem<{
    from: string;
    to: string;
    /** The same comes on both sides. */
    mono: boolean;
    /** The plug of what is played, where it is that which is stereo, and not a mix. */
    plug: Connector | undefined;
  }>(
    'error',
    (f) => ({
      what: `${f.from} is stereo, left and right in one plug, and ${f.to} is balanced: it hears only where the two differ.`,
      why: f.mono
        ? 'A mono mix is the same on both sides: nothing of it is left.'
        : 'What is the same on both sides, the singer in the middle above all, is not heard.',
      cure: f.plug
        ? `Take ${stereoLead(f.plug)}; or one that takes one side alone (tip and sleeve of the stereo plug).`
        : 'Take line outputs instead, or a lead that takes one side alone (tip and sleeve of the stereo plug).',
    }),
    { short: () => ({ wrong: 'stereo into a balanced input' }) },
  ),
  'connectors/mono-into-stereo': problem<{
    from: string;
    to: string;
    /** One ear gets the signal upside down; otherwise it gets none. */
    inverted: boolean;
    /** It is no output for earphones at all. */
    line: boolean;
    people: readonly string[];
  }>(
    'error',
    (f) => ({
      what: f.inverted
        ? `${f.from} is balanced mono, hot and cold in one plug, and what it goes into, ${f.to}, is stereo: one ear${ofWhom(f.people)} gets it the right way round and the other upside down.`
        : `${f.from} is mono, and what it goes into, ${f.to}, is stereo: only one ear${ofWhom(f.people)} gets it.`,
      why: f.inverted
        ? 'It sounds hollow and from nowhere, with little bass, and tempts people to turn it up.'
        : 'Whoever wears them turns up the one ear to make up for the other.',
      cure: f.line
        ? 'Take an output that is made for stereo earphones, or go through a headphone amplifier: "via headphone-amp".'
        : 'Take an output that is made for stereo earphones. If this is one, write "channels 2" at it in its model.',
    }),
    { short: () => ({ wrong: 'not the same in both ears' }) },
  ),
};
