import { list } from './phrases';
import { problem } from './problem';

export const PHANTOM = {
  'phantom/missing': problem<{ source: string; port: string; free: readonly string[] }>('error', (f) => ({
    what: `There is no phantom power (48 V) for ${f.source} at ${f.port}.`,
    why: `Without it, ${f.source} gives no sound at all.`,
    cure:
      f.free.length > 0
        ? `Move it to a free input that has it: ${list(f.free.slice(0, 3), 'or')}.`
        : 'Move it to a microphone input that has it, or use one that needs none (a dynamic microphone, a passive DI).',
  })),
  'phantom/blocked': problem<{ source: string; by: string; port: string; leg: string | undefined }>('error', (f) => ({
    what: `${f.by} lets no phantom power (48 V) through from ${f.port} to ${f.source}.`,
    why: `It does not pass a transformer, electronics, or a plug with two contacts, and without it ${f.source} gives no sound at all.`,
    cure: f.leg
      ? `Take the side that is wired straight through ("${f.leg}"), or let the desk on that side supply it.`
      : 'Leave this piece out, or let another desk supply it by a straight way.',
  })),
  'phantom/harmful': problem<{ source: string; port: string; because: string }>('danger', (f) => ({
    what: `${f.port} sends phantom power (48 V) to ${f.source}, because it is on for ${f.because} and one switch serves both.`,
    why: 'A faulty lead, or plugging while it is on, can then destroy the microphone.',
    cure: 'Move one of the two to an input on another switch, or put a transformer into this line ("via transformer-split.iso").',
  })),
  'phantom/reaches-house': problem<{ source: string; port: string; because: string; house: string }>('warning', (f) => ({
    what: `Phantom power (48 V) is on for ${f.because}, and ${f.port} is on the same switch: it also goes out on the line of ${f.source} and, through the split, to ${f.house}.`,
    why: 'There is a thump when either desk plugs in, and not every input of the house takes it well.',
    cure: `Use a transformer split there ("via transformer-split.iso"), or move ${f.because} to an input on another switch. Tell the house either way. Plug first, then switch on, with nobody's ears in.`,
  })),
};
