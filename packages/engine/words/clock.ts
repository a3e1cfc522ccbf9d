import { list } from './phrases';
import { problem } from './problem';

export const CLOCK = {
  'clock/two-masters': problem<{ master: string; others: readonly string[]; receiver: string; rateHz: number }>('warning', (f) => ({
    what: `${list([f.master, ...f.others])} each keep a time of their own, and ${f.receiver} can follow one of them.`,
    why: 'What comes from the others is read at the wrong moments: clicks and drop-outs in every ear, now and then, and at line check there may be none.',
    cure: `Let one keep the time: bring its clock to the others, by a digital lead into them or by their own clock sockets, and set them to follow. If that is done and the rig cannot say so, let this stand with that as the reason.`,
  })),
};
