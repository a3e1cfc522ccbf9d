import { hertz, list } from './phrases';
import { problem } from './problem';

export const CLOCK = {
  'clock/no-such-rate': problem<{ what: readonly string[]; rateHz: number; rates: readonly number[]; common: readonly number[] }>(
    'error',
    (f) => ({
      what: `${list(f.what)} cannot run at ${hertz(f.rateHz)}${f.what.length === 1 ? `: it has ${list(f.rates.map(hertz))}` : ''}.`,
      why: 'All that numbers go between has to run at one rate, or it clicks, plays at the wrong pitch, or is silent.',
      cure:
        f.common.length > 0
          ? `Set all of it to ${list(f.common.map(hertz), 'or')}, and write that at the top: "rate ${f.common[0] === undefined ? '' : hertz(f.common[0])}".`
          : 'There is no rate that all of it has: leave out one of them, or join it by an analogue lead.',
    }),
    { brief: 'no such rate', restsOn: ['settings'] },
  ),
  'clock/two-masters': problem<{ master: string; others: readonly string[]; receiver: string; rateHz: number }>('warning', (f) => ({
    what: `${list([f.master, ...f.others])} each keep a time of their own, and ${f.receiver} can follow one of them.`,
    why: 'What comes from the others is read at the wrong moments: clicks and drop-outs in every ear, now and then, and at line check there may be none.',
    cure: `Let one keep the time: bring its clock to the others, by a digital lead into them or from clock socket to clock socket, as in "input box.clock takes desk.clock", and set them to follow.`,
  })),
};
