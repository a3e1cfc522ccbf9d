import { capital, count, list, portList } from './phrases';
import { problem } from './problem';

export const CAPACITY = {
  'capacity/no-such-port': problem<{
    gear: string;
    direction: 'input' | 'output';
    port: string;
    ports: readonly string[];
    free: readonly string[];
  }>('error', (f) => ({
    what: `${f.gear} has no ${f.direction} ${f.port}.`,
    why: f.ports.length > 0 ? `It has ${portList(f.ports)}.` : `It has no ${f.direction}s at all.`,
    cure:
      f.free.length > 0
        ? `Free ${f.free.length === 1 ? 'is' : 'are'} ${portList(f.free)}.`
        : f.ports.length > 0
          ? 'None is free: drop a line, or bring gear with more.'
          : `Choose gear that has ${f.direction}s.`,
  })),
  'capacity/input-taken-twice': problem<{ port: string; takers: readonly string[]; free: readonly string[] }>('error', (f) => ({
    what: f.takers[0] === f.takers[1] ? `${f.port} takes ${f.takers[0]} twice.` : `${f.port} takes both ${list(f.takers)}.`,
    why: 'One socket holds one plug.',
    cure: f.takers[0] === f.takers[1] ? 'Delete one of the two lines.' : f.free.length > 0 ? `Move one of them: ${list(f.free.slice(0, 3), 'or')} would take it.` : 'No other port here would take it: drop one, or put both on a switch if they are never used together.',
  })),
  'capacity/house-line-twice': problem<{ number: string }>('error', (f) => ({
    what: `House line ${f.number} is written twice.`,
    why: 'The house has one channel of that number, and cannot tell which you mean.',
    cure: 'Give one of them another number, or delete it.',
  })),
  'capacity/output-taken-twice': problem<{ port: string; mixes: readonly string[]; free: readonly string[] }>('error', (f) => ({
    what: f.mixes[0] === f.mixes[1] ? `${f.port} carries ${f.mixes[0]} twice.` : `${f.port} carries both ${list(f.mixes)}.`,
    why: 'An output carries one mix: two people would have to share what they hear.',
    cure: f.mixes[0] === f.mixes[1] ? 'Delete one of the two lines.' : f.free.length > 0 ? `Move one of them: ${list(f.free.slice(0, 3), 'or')} ${f.free.length === 1 ? 'is' : 'are'} free.` : 'No output is free: let two people share a mix ("for a, b"), or bring gear with more outputs.',
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
      what: `${list(f.sources)} each need ${/^[aeiou]/.test(wants) ? 'an' : 'a'} ${wants}, and ${f.gear} has ${f.ports.length === 0 ? 'none' : `${count(f.ports.length, 'input')} that will do (${portList(f.ports)})`}.`,
      why: `${capital(count(excess, 'line'))} too many: whatever you move, ${excess === 1 ? 'one' : 'they'} will not be heard well.`,
      cure: 'Drop lines that the ears can do without, take a line-level output instead of a microphone, or bring a preamp expander.',
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
    what: `${f.gear} mixes ${f.count} in ${f.width}, and ${count(f.stereo, 'stereo mix', 'stereo mixes')} and ${count(f.mono, 'mono mix', 'mono mixes')} leave it: that takes ${f.needed}.`,
    why: 'The last ones cannot be set up at all.',
    cure: `Make a stereo mix mono${f.width === 'stereo' ? ' (two mono mixes share one stereo mix, one on each side)' : ''}, or let people share one: "for a, b".`,
  })),
};
