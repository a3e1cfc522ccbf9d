import { a, capital, count, list, portList, spoken } from './phrases';
import { problem } from './problem';

export const CAPACITY = {
  'capacity/no-such-port': problem<{
    gear: string;
    direction: 'input' | 'output';
    port: string;
    ports: readonly string[];
    free: readonly string[];
    /** Of a source, whose outputs are written after `takes`, and not of gear. */
    source: boolean;
  }>('error', (f) => {
    const has = f.ports.length > 0 ? `it has ${portList(f.ports)}` : `it has no ${f.direction}s at all`;
    return {
      what: `${f.gear} has no ${f.direction} ${f.port}: ${has}.`,
      why: 'On the night there is no socket for this plug.',
      cure:
        f.free.length > 0
          ? `Use one that is free: ${portList(f.free, 'or')}.`
          : f.ports.length === 0
            ? `Choose gear that has ${f.direction}s.`
            : f.source
              ? `Write one that it has, or leave it out: the socket that fits is found by itself.`
              : `All of them are taken: leave a line out, or bring gear with more ${f.direction}s.`,
    };
  }),
  'capacity/input-taken-twice': problem<{ port: string; takers: readonly string[]; free: readonly string[] }>('error', (f) => ({
    what: f.takers[0] === f.takers[1] ? `${f.port} takes ${f.takers[0]} twice.` : `${f.port} takes both ${list(f.takers)}.`,
    why: 'One socket holds one plug.',
    cure:
      f.takers[0] === f.takers[1]
        ? 'Delete one of the two lines.'
        : f.free.length > 0
          ? `Move one of them: ${list(f.free.slice(0, 3), 'or')} is free and takes it.`
          : 'No free input takes it: leave one out, or put both on a switch if they never play together ("ab-switch").',
  })),
  'capacity/house-line-twice': problem<{ number: string }>('error', (f) => ({
    what: `House line ${f.number} is written twice.`,
    why: 'The house has one channel with that number, and cannot tell which of the two you mean.',
    cure: 'Give one of them another number, or delete it.',
  })),
  'capacity/output-taken-twice': problem<{ port: string; mixes: readonly string[]; free: readonly string[] }>('error', (f) => ({
    what: f.mixes[0] === f.mixes[1] ? `${f.port} carries ${f.mixes[0]} twice.` : `${f.port} carries both ${list(f.mixes)}.`,
    why: 'An output carries one mix at a time.',
    cure:
      f.mixes[0] === f.mixes[1]
        ? 'Delete one of the two lines. Or, if two people are to hear it there, let both go through one split: "via y.1" and "via y.2", where y is a Y-lead.'
        : f.free.length > 0
          ? `Move one of them: ${list(f.free.slice(0, 3), 'or')} is free.`
          : 'No output is free: let two people share a mix ("for a, b"), or bring gear with more outputs.',
  })),
  'capacity/too-few-inputs': problem<{
    gear: string;
    sources: readonly string[];
    kind: 'mic' | 'instrument' | 'such';
    phantom: boolean;
    ports: readonly string[];
  }>('error', (f) => {
    const noun = f.kind === 'mic' ? 'microphone input' : f.kind === 'instrument' ? 'instrument input' : 'input';
    const wants = f.phantom ? `${noun} with phantom power` : noun;
    const excess = f.sources.length - f.ports.length;
    return {
      what: `${list(f.sources)} each need ${a(wants)}, and ${f.gear} has ${f.ports.length === 0 ? 'none' : `${spoken(f.ports.length)} (${portList(f.ports)})`}.`,
      why: `${capital(count(excess, 'line'))} too many: whatever you move, ${excess === 1 ? 'one of them finds no place' : `${count(excess, 'of them', 'of them')} find no place`}.`,
      cure:
        f.kind === 'instrument'
          ? 'Leave out what the ears can do without, or put a DI before a microphone input.'
          : 'Leave out what the ears can do without, take a line output instead of a microphone, or bring more preamps (an expander).',
    };
  }),
  'capacity/too-many-mixes': problem<{
    gear: string;
    stereo: number;
    mono: number;
    needed: number;
    count: number;
    width: 'mono' | 'stereo';
  }>('error', (f) => ({
    what: `${f.gear} can make ${count(f.count, `${f.width} mix`, `${f.width} mixes`)}; ${list([f.stereo, f.mono].flatMap((n, at) => (n > 0 ? [count(n, at === 0 ? 'stereo mix' : 'mono mix', at === 0 ? 'stereo mixes' : 'mono mixes')] : [])))} leave${f.stereo + f.mono === 1 ? 's' : ''} it, which takes ${spoken(f.needed)}.`,
    why: `${f.needed - f.count === 1 ? 'One of them' : 'Some of them'} cannot be set up at all.`,
    cure: `${f.stereo > 0 ? `Make a stereo mix mono${f.width === 'stereo' ? ' (two mono mixes fit on one stereo mix, one on each side)' : ''}, or let` : 'Let'} people share a mix: "for a, b".`,
  })),
};
