import { list } from './phrases';
import { problem } from './problem';

export const PHANTOM = {
  'phantom/missing': problem<{ source: string; port: string; free: readonly string[] }>('error', (f) => ({
    what: `${f.source} needs phantom power, and ${f.port} has none to give.`,
    why: 'Without it the microphone is dead.',
    cure: f.free.length > 0 ? `Move it to ${list(f.free.slice(0, 3), 'or')}.` : 'Move it to a microphone input with phantom power, or use a dynamic microphone.',
  })),
  'phantom/blocked': problem<{ source: string; by: string; port: string; leg: string | undefined }>('error', (f) => ({
    what: `${f.source} needs phantom power, and ${f.by} lets none through from ${f.port}.`,
    why: 'Phantom power does not pass a transformer, electronics, or a plug with two contacts: the microphone is dead.',
    cure: f.leg ? `Take the leg that is joined straight through (${f.leg}), or let the desk on that leg supply it.` : 'Let the other desk supply it, or leave this piece out.',
  })),
  'phantom/harmful': problem<{ source: string; port: string; because: string }>('danger', (f) => ({
    what: `${f.port} sends 48 V to ${f.source}, because ${f.because} needs phantom power on the same switch.`,
    why: 'A ribbon can be destroyed by it, through a bad lead or while plugging.',
    cure: 'Move one of the two to an input on another switch, or put a transformer split before this one.',
  })),
  'phantom/reaches-house': problem<{ source: string; port: string; because: string; house: string }>('warning', (f) => ({
    what: `${f.because} needs phantom power, ${f.port} is on the same switch, and so 48 V also goes out on the line of ${f.source}, through its parallel leg, to ${f.house}.`,
    why: 'Two desks joined by one supply thump when either plugs in, and not every input of the house is glad of it.',
    cure: `Use a transformer split there ("via transformer-split.iso"), or move ${f.because} to an input on another switch. Tell the house either way; plug first, then switch on, with nobody's ears in.`,
  })),
};
