import type { Connector } from '#rig';
import { capital, count, list, portList, spoken, stereoLead } from './phrases';
import { NEEDS_SPLIT, problem, resting } from './problem';

export const SPLITS = resting(['inputs', 'house'], {
  /** `models`: what would split it; none where it is digital. */
  'splits/missing': problem<{
    source: string;
    output: string;
    takers: readonly string[];
    models: readonly string[];
    run: string;
    house: boolean;
  }>(
    'error',
    (f) => ({
      what: `${capital(list(f.takers))} ${f.takers.length === 2 ? 'both' : 'all'} take ${f.source}, and nothing splits it.`,
      why: f.house
        ? 'One plug fits one socket: on the night either the house or your ears go without.'
        : 'One plug fits one socket: one of the two stays silent.',
      cure:
        f.models.length === 0
          ? 'What is digital goes from one plug into one socket: no Y-lead and no split box is for it. Let one of them take it: what comes in once can go into every mix that is made there.'
          : `Add a split to the line of ${f.run}: "via ${f.models[0]}"${f.models[1] ? `, or "via ${f.models[1]}"` : ''}. The other line takes the side that is left.`,
    }),
    {
      brief: 'nothing splits it',
      short: ({ takers }, own) => ({ wrong: `taken by ${takers[own ? 0 : 1]}`, needs: NEEDS_SPLIT }),
      restsOn: ['neighbours'],
    },
  ),
  /** `inOne`: what it comes on, where left and right are in one plug. */
  'splits/over-several': problem<{ source: string; run: string; inputs: number; channels: number; inOne: Connector | undefined }>(
    'error',
    (f) => ({
      what: f.inOne
        ? `${f.source} has one plug, with left and right in it, and ${spoken(f.inputs)} inputs take it: ${f.run}.`
        : `${f.source} is ${count(f.channels, 'channel')}, and ${spoken(f.inputs)} inputs take it: ${f.run}.`,
      why: `One plug fits one socket: the ${f.inputs - f.channels === 1 ? 'other input gets' : 'other inputs get'} nothing.`,
      cure: f.inOne
        ? `Take ${stereoLead(f.inOne)}.`
        : `Write ${count(f.channels, 'input')}. If it has more channels than that, write a model of it that says so.`,
    }),
    {
      // With one of the inputs it is one plug, and that fits or not by itself.
      overrules: /^(capacity\/too-few-inputs|levels\/(mic|phones)-on-line|connectors\/stereo-into-balanced)$/,
      short: () => ({ wrong: 'more inputs than it has channels' }),
    },
  ),
  /** `behind`: the split that the second of them goes through next. */
  'splits/leg-taken-twice': problem<{
    leg: string;
    takers: readonly string[];
    free: readonly string[];
    behind: string | undefined;
    same: boolean;
  }>(
    'error',
    (f) => ({
      what: f.same ? `${f.leg} feeds two sockets from one line, ${f.takers[0]}.` : `${f.leg} feeds both ${list(f.takers)}.`,
      why: 'One plug fits one socket: one of the two gets nothing.',
      cure: f.same
        ? `Write one line for each socket, each by a side of its own${f.free.length > 0 ? `: ${list(f.free.slice(0, 3), 'or')} is free` : ''}.`
        : f.behind
          ? `Leave "via" out at ${f.takers[0]}: it takes the free side of ${f.behind}.${f.free.length > 0 ? ` Or use a side that is free: ${list(f.free.slice(0, 3), 'or')}.` : ''}`
          : f.free.length > 0
            ? `Use a side that is free: ${list(f.free.slice(0, 3), 'or')}.`
            : 'None of its outputs is free: use a split with one more.',
    }),
    { short: () => ({ wrong: 'that leg is taken' }) },
  ),
  'splits/no-such-leg': problem<{ leg: string; gear: string; ports: readonly string[] }>(
    'error',
    (f) => ({
      what: `${f.gear} has no socket called ${f.leg}.`,
      why: 'The line ends here, and nothing beyond it can be checked.',
      cure:
        f.ports.length > 0
          ? `${f.ports.length === 1 ? 'It has one' : 'It has'}: ${portList(f.ports)}.`
          : 'Its model has no sockets at all: write some into it.',
    }),
    { brief: 'no such socket', restsOn: ['neighbours'] },
  ),
  'splits/needless': problem<{ split: string; source: string; run: string }>(
    'note',
    (f) => ({
      what: `${f.split} splits ${f.source}, but only ${f.run} takes it.`,
      why: 'Every piece in a line is one more to carry, to pay for and to fail.',
      cure: 'Leave it out, or let somebody take the other side.',
    }),
    { restsOn: ['neighbours'] },
  ),
  'splits/side-left-out': problem<{ source: string; name: string; channels: readonly string[]; run: string; house: boolean }>(
    'warning',
    (f) => ({
      what: `${capital(f.run)} takes only a part of ${f.source}, whose channels are ${list(f.channels)}.`,
      why: 'What is left out is not heard.',
      cure: f.house
        ? `One line of the house’s is one channel: write a line for each, with "takes ${f.name}.${f.channels[0]}" and so on.`
        : `Take them all on as many inputs, or name the one you want: "takes ${f.name}.${f.channels[0]}".`,
    }),
    { short: ({ channels }) => ({ wrong: `one of its ${channels.length} sides alone` }), restsOn: ['neighbours'] },
  ),
  /** `elsewhere`: what takes the other side, at the other desk. */
  'splits/one-side': problem<{
    source: string;
    run: string;
    house: boolean;
    side: string;
    other: string;
    elsewhere: string | undefined;
    instead: string;
  }>(
    'note',
    (f) => ({
      what: `${f.house ? 'The house gets' : 'Our rig gets'} only the ${f.side} of ${f.source}, on ${f.run}; ${
        f.elsewhere === undefined ? `nobody takes its ${f.other}` : `its ${f.other} goes to ${f.elsewhere} alone`
      }.`,
      why: `What is only on the ${f.other} is not heard ${f.house ? 'in the hall' : 'in the ears'}.${
        f.elsewhere === undefined && f.side === 'left'
          ? ` Many instruments give both on one side (it is marked "mono") while nothing is plugged into the other: of one like that nothing is lost.`
          : ''
      }`,
      cure: f.house
        ? `Let the house take the other side on a line of its own: "${f.instead}".`
        : `Take the other side on one more input: "takes ${f.instead}".`,
    }),
    { restsOn: ['neighbours'] },
  ),
  'splits/hangs-on-theirs': problem<{ run: string; box: string; socket: string; house: string }>(
    'note',
    (f) => ({
      what: `${capital(f.run)} comes out of ${f.box} in the line of ${f.house} (${f.socket}): nothing of ours splits it.`,
      why: 'Your ears hang on a box that others bring and plug: without it, or where it has no such socket, they go without.',
      cure: `Ask the house for it before the day, or bring your own and write it into ${f.house} instead.`,
    }),
    { restsOn: ['neighbours'] },
  ),
  'splits/outputs-joined': problem<{ gear: string; output: string; signals: readonly string[] }>(
    'error',
    (f) => ({
      what: `${list(f.signals)} meet in ${f.gear} on bare wire: ${f.output} is joined to ${f.signals.length === 2 ? 'both' : 'all of them'}.`,
      why: 'Each output then drives the others instead of your input: all come out faint or distorted, and some outputs are damaged by it.',
      cure: 'Give each an input of its own and put them together in the mix, or go through a switch ("ab-switch").',
    }),
    { short: () => ({ wrong: 'on bare wire with another output', needs: 'an input of its own' }), restsOn: ['neighbours'] },
  ),
  'splits/second-piece': problem<{
    piece: string;
    model: string;
    run: string;
    first: string;
    splitter: boolean;
    same: boolean;
    /** Both lines go on through one and the same piece, so that there can be one box only. */
    meant: boolean;
  }>(
    'warning',
    (f) => ({
      what: `A second ${f.piece} stands behind the first: one in the line of ${f.first}, and one more here.`,
      why: 'Each piece in a "via" that has no name is a new one, to be brought and plugged in.',
      cure: f.same
        ? 'Leave one of them out.'
        : f.splitter
          ? 'If the same one is meant, leave it out here: this line takes the free side by itself.'
          : `If the same one is meant, give it a name ("gear my-di is ${f.model}") and write that name in both lines.`,
    }),
    { short: () => ({ wrong: 'a second one behind the first' }) },
  ),
  /** `driven`: there are electronics in it. */
  'splits/circle': problem<{ gear: readonly string[]; driven: boolean }>(
    'error',
    (f) => ({
      what:
        f.gear.length === 1
          ? `${f.gear[0]} is plugged into itself: what comes out of it goes back in.`
          : `${list(f.gear)} are plugged round in a circle: what comes out of each comes back into it.`,
      why: f.driven
        ? 'Electronics that get what they give hum or howl by themselves, as loud as they can.'
        : 'No signal comes in, and the outputs are joined to each other.',
      cure: 'Plug one of these leads into where it was meant to go, or delete its line.',
    }),
    { brief: 'goes round in a circle' },
  ),
  'splits/nothing-comes-out': problem<{ gear: string; run: string }>(
    'error',
    (f) => ({
      what: `${capital(f.run)} goes into ${f.gear}, and nothing comes out of it that could go on.`,
      why: 'The signal ends there.',
      cure: `Take ${f.gear} out of the line, or go through something that has an output.`,
    }),
    { short: () => ({ wrong: 'nothing comes out of it' }) },
  ),
});
