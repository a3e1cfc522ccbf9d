import { a, capital, count, hertz, list, oneOf, portList, spoken } from './phrases';
import { problem } from './problem';

export const CAPACITY = {
  'capacity/no-such-port': problem<{
    gear: string;
    direction: 'input' | 'output';
    /** Empty where the line has a dot and nothing behind it. */
    port: string;
    ports: readonly string[];
    /** Those with no plug in them that suit the line. */
    free: readonly string[];
    /** Whether there is any with no plug in it. */
    open: boolean;
    /** Of a source, whose outputs are written after `takes`, and not of gear. */
    source: boolean;
  }>(
    'error',
    (f) => {
      const has = f.ports.length > 0 ? `it has ${portList(f.ports)}` : `it has no ${f.direction}s at all`;
      return {
        what:
          f.port === ''
            ? `Which ${f.direction} of ${f.gear}? Nothing stands behind the dot.`
            : `${f.gear} has no ${f.direction} ${f.port}: ${has}.`,
        why: f.port === '' ? 'Until it does, the line leads nowhere.' : 'On the night there is no socket for this plug.',
        cure:
          f.free.length > 0
            ? `${f.port === '' ? 'Write' : 'Use'} one that is free: ${portList(f.free, 'or')}.`
            : f.ports.length === 0
              ? `Choose gear that has ${f.direction}s.`
              : f.source
                ? `Write one that it has, or leave it out: the socket that fits is found by itself.`
                : f.open
                  ? `None of those that are free suits this line: free one that does, leave a line out, or bring gear with more ${f.direction}s.`
                  : `All of them are taken: leave a line out, or bring gear with more ${f.direction}s.`,
      };
    },
    { brief: 'no such socket', restsOn: ['neighbours'] },
  ),
  'capacity/input-taken-twice': problem<{
    port: string;
    takers: readonly string[];
    /** What to take by a line of its own, where one line brings several channels: `keys.left via di.thru-left`, `keys.right`. */
    each: readonly string[];
    /** Both sides of a mix by one line; `both`: what to write instead, so that each has a socket. */
    sides: { readonly both: string | undefined } | undefined;
    free: readonly string[];
  }>(
    'error',
    (f) => ({
      what: f.sides
        ? `${f.port} takes both sides of the mix ${f.takers[0]}, left and right.`
        : f.each.length > 0
          ? `${f.port} takes ${count(f.each.length, 'channel')} of ${f.takers[0]} from this one line.`
          : f.takers[0] === f.takers[1]
            ? `${f.port} takes ${f.takers[0]} twice.`
            : `${f.port} takes both ${list(f.takers)}.`,
      why: 'One socket holds one plug.',
      cure: f.sides
        ? f.sides.both
          ? `Write "via ${f.sides.both}", and each side goes into a socket of its own. Or make the mix mono, on one output.`
          : 'Go through something with a socket for each side, or make the mix mono, on one output.'
        : f.each.length > 0
          ? `Write one line for each channel: "takes ${f.each[0]}", and "takes ${f.each[1]}" by a socket of its own.`
          : f.takers[0] === f.takers[1]
            ? 'Delete one of the two lines.'
            : f.free.length > 0
              ? `Move one of them: ${list(f.free.slice(0, 3), 'or')} is free and takes it.`
              : 'No free input takes it: leave one out, or, if they never play together, put both on a switch (for jacks there is "ab-switch").',
    }),
    { brief: 'two plugs, one socket' },
  ),
  /** `together`: what both bring comes to it by one and the same lead, as behind a switch. */
  'capacity/house-line-twice': problem<{ number: string; together: boolean }>(
    'error',
    (f) => ({
      what: `House line ${f.number} is written twice.`,
      why: f.together
        ? 'Both come by one lead, and on the sheets they would be two lines.'
        : 'The house has one channel with that number, and cannot tell which of the two you mean.',
      cure: f.together
        ? 'One line is enough: what else comes by that lead is heard on it too. Delete this one.'
        : 'Give one of them another number, or delete it.',
    }),
    { brief: 'this number twice' },
  ),
  /** `mixes`: each once. `again`: no line after the first says anything that one before it does not say. */
  'capacity/output-taken-twice': problem<{
    port: string;
    lines: number;
    mixes: readonly string[];
    free: readonly string[];
    again: boolean;
  }>(
    'error',
    (f) => {
      const two = f.lines === 2;
      const alike = f.mixes.length === 1;
      const free = f.free.slice(0, Math.max(3, f.lines - 1));
      const are = free.length === 1 || two ? 'is' : 'are';
      return {
        what: two
          ? alike
            ? `${f.port} carries ${f.mixes[0]} twice.`
            : `${f.port} carries both ${list(f.mixes)}.`
          : `${capital(count(f.lines, 'line'))} leave by ${f.port}, ${alike ? `all with ${f.mixes[0]}` : `with ${list(f.mixes)}`}.`,
        why: alike ? 'One socket holds one plug.' : 'An output carries one mix at a time.',
        cure: alike
          ? `${f.again ? `Delete ${two ? 'one of the two lines' : 'all of these lines but one'}. Or, if ${two ? 'two people' : 'several'} are to hear it there, let` : free.length > 0 ? `Carry it on ${free.length === 1 || two ? 'another output' : 'other outputs'} as well: ${list(free, two ? 'or' : 'and')} ${are} free. Or let` : 'Let'} ${two ? 'both go through one split that has a name: "gear my-y is y-lead", then "via my-y.1" in one line and "via my-y.2" in the other' : 'all go through one split that has a name and a way for each: "via my-split.1" in the first line, "via my-split.2" in the second, and so on'}.`
          : free.length > 0
            ? `Move ${two ? 'one of them' : 'all but one'}: ${list(free, two ? 'or' : 'and')} ${are} free.`
            : 'No output is free: let people share a mix ("for a, b"), or bring gear with more outputs.',
      };
    },
    { brief: 'several plugs, one output', restsOn: ['neighbours'] },
  ),
  'capacity/too-few-inputs': problem<{
    gear: string;
    /** Everybody who can have nothing but `ports`. */
    sources: readonly string[];
    /** What they all are, where they are all alike. */
    kind: 'mic' | 'instrument' | 'line' | 'digital' | undefined;
    phantom: boolean;
    /** Those of them that need phantom power, where not all do. */
    fed: readonly string[];
    ports: readonly string[];
    /** Free ports of other gear that would take one: `preamps.5`. */
    elsewhere: readonly string[];
    /** Other outputs that would fit a free port: `keys.jack`. */
    instead: readonly string[];
    /** Sources that would fit a free port behind a DI. */
    boxed: readonly string[];
  }>(
    'error',
    (f) => {
      const noun = f.kind === undefined ? 'input' : f.kind === 'mic' ? 'microphone input' : `${f.kind} input`;
      const wants = f.phantom ? `${noun} with phantom power` : noun;
      const has = f.ports.length === 0 ? 'none' : `${spoken(f.ports.length)} (${portList(f.ports)})`;
      const excess = f.sources.length - f.ports.length;
      const free = list(f.elsewhere, excess === 1 ? 'or' : 'and');
      const ways = [
        f.elsewhere.length > 0
          ? `move ${excess === 1 ? 'one' : 'some'} to other gear (${free} ${excess === 1 || f.elsewhere.length === 1 ? 'is' : 'are'} free)`
          : '',
        f.instead.length > 0 ? `take another output (${list(f.instead, 'or')}), which fits a free input` : '',
        f.boxed.length > 0 ? `send ${list(f.boxed, excess === 1 ? 'or' : 'and')} through a DI into a microphone input` : '',
      ].filter(Boolean);
      const onSwitch = 'put two that never play together on a switch ("ab-switch")';
      const spare =
        f.kind === 'mic'
          ? ['take a line output instead of a microphone', 'bring more preamps (an expander)']
          : f.kind === 'instrument'
            ? ['put a DI before a microphone input', onSwitch]
            : [...(f.kind === 'line' ? [onSwitch] : []), 'bring gear with more inputs'];
      return {
        what:
          f.kind === undefined && f.ports.length > 0
            ? `${list(f.sources)} need an input each, and ${f.gear} has ${has} that ${f.ports.length === 1 ? 'suits' : 'suit'} any of them.`
            : `${list(f.sources)} each need ${a(wants)}${f.fed.length > 0 ? ` (${list(f.fed)} with phantom power)` : ''}, and ${f.gear} has ${has}.`,
        why: `${capital(count(excess, 'line'))} too many: whatever you move, ${excess === 1 ? 'one of them finds no place' : `${count(excess, 'of them', 'of them')} find no place`}.`,
        cure:
          ways.length > 0
            ? `${oneOf(ways)} Or leave out what the ears can do without.`
            : oneOf(['leave out what the ears can do without', ...spare]),
      };
    },
    { brief: 'too few inputs' },
  ),
  'capacity/too-few-channels': problem<{
    gear: string;
    /** Where the link leads. */
    to: string;
    rateHz: number;
    /** Inputs that the link carries. */
    carried: readonly string[];
    /** Those that are beyond them, with the inputs that they are on. */
    sources: readonly string[];
    ports: readonly string[];
    /** Free ones among those that are carried. */
    free: readonly string[];
    /** A lower rate at which all of them come through. */
    lower: { readonly rateHz: number; readonly channels: number } | undefined;
  }>(
    'error',
    (f) => {
      const one = f.sources.length === 1;
      const ways = [
        f.lower ? `work at ${hertz(f.lower.rateHz)}, where it carries ${spoken(f.lower.channels)}` : '',
        f.free.length > 0
          ? `move ${one ? 'it' : 'them'} to ${one ? 'an input' : 'inputs'} that it carries (${portList(f.free)} ${f.free.length === 1 ? 'is' : 'are'} free)`
          : '',
        `plug ${one ? 'it' : 'them'} straight into ${f.to}`,
      ].filter(Boolean);
      return {
        what: `At ${hertz(f.rateHz)} the link from ${f.gear} to ${f.to} carries ${f.carried.length === 0 ? 'no channels' : `${count(f.carried.length, 'channel')}, ${f.carried.length === 1 ? 'input' : 'inputs'} ${portList(f.carried)}`}, and ${list(f.sources)} ${one ? 'is' : 'are'} on ${portList(f.ports)}.`,
        why: `${one ? 'It does' : 'They do'} not come through: whoever has ${one ? 'it' : 'them'} in the mix hears nothing of ${one ? 'it' : 'them'}.`,
        cure: oneOf(ways),
      };
    },
    { brief: 'more than its link carries' },
  ),
  'capacity/no-link': problem<{
    gear: string;
    name: string;
    /** The output that goes nowhere, or the input that nothing comes into. */
    socket: string;
    /** What could bring the mixes that leave it: `desk.net`; nothing where it is what it takes that goes nowhere. */
    brings: readonly string[] | undefined;
    /** As they are written, and as they are called. */
    names: readonly string[];
    sources: readonly string[];
    mixes: readonly string[];
    /** Inputs that the link could go to: `iface.optical`. */
    free: readonly string[];
  }>(
    'error',
    (f) =>
      f.brings
        ? {
            what: `The ${f.mixes.length === 1 ? 'mix' : 'mixes'} ${list(f.mixes)} ${f.mixes.length === 1 ? 'leaves' : 'leave'} by ${f.gear}, which makes none itself, and nothing comes into its ${f.socket} input.`,
            why: 'Its outputs are silent: whoever listens there hears nothing.',
            cure: `Link it to what makes the ${f.mixes.length === 1 ? 'mix' : 'mixes'}: "input ${f.free[0]} takes ${f.brings[0]}".`,
          }
        : {
            what: `The ${f.socket} output of ${f.gear} goes nowhere, and ${list(f.sources)} ${f.sources.length === 1 ? 'is' : 'are'} plugged into ${f.gear}.`,
            why: `${f.sources.length === 1 ? 'It is' : 'They are'} not heard in the ${f.mixes.length === 1 ? 'mix' : 'mixes'} ${list(f.mixes)}, however far the fader goes up.`,
            cure:
              f.free.length > 0
                ? `Link it: "input ${f.free[0]} takes ${f.name}".`
                : `Link it to the gear that makes the mixes ("takes ${f.name}"), which needs a free socket of the same kind; or plug ${f.sources.length === 1 ? 'it' : 'them'} in there.`,
          },
    { brief: 'linked to nothing', restsOn: ['neighbours', 'inputs'] },
  ),
  'capacity/too-many-mixes': problem<{
    gear: string;
    stereo: number;
    mono: number;
    needed: number;
    count: number;
    width: 'mono' | 'stereo';
    /** How many stereo mixes have to become mono for all to fit; nothing where that does not do it. */
    toMono: number | undefined;
  }>(
    'error',
    (f) => ({
      what: `${capital(list([f.stereo, f.mono].flatMap((n, at) => (n > 0 ? [count(n, at === 0 ? 'stereo mix' : 'mono mix', at === 0 ? 'stereo mixes' : 'mono mixes')] : []))))} leave${f.stereo + f.mono === 1 ? 's' : ''} ${f.gear}. That takes ${count(f.needed, `${f.width} mix`, `${f.width} mixes`)}, and it can make ${spoken(f.count)}.`,
      why: `${f.needed - f.count === 1 ? 'One of them' : 'Some of them'} cannot be set up at all.`,
      cure: `${f.toMono ? `Make ${f.toMono === 1 ? 'a stereo mix' : `${spoken(f.toMono)} of the stereo mixes`} mono${f.width === 'stereo' ? ' (two mono mixes fit on one stereo mix, one on each side)' : ''}, or let` : 'Let'} people share a mix: "for a, b".`,
    }),
    { brief: 'more mixes than it makes' },
  ),
};
