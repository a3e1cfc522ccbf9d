/** Stereo sources of which a desk takes one side alone, and lines of ours that hang on a box of the house's without saying so. */
import type { HouseRun, InputRun, Run } from '#rig';
import type { Fix } from '../cure/fix';
import { freeHouseNumber, pairFrom } from '../cure/free';
import { runName, socketText } from '../solve/naming';
import { findPort, type Line, type Network, socket, stepOf } from '../solve/network';
import { isTheirs } from '../solve/path';
import { BESIDE } from '../words/beside';
import { type Finding, finding } from './finding';
import { channelsOf } from './mixes/contents';

export function oneSide(net: Network): Finding[] {
  const found: Finding[] = [];
  for (const id of net.rig.sources.keys()) if (channelsOf(net.rig, id).length > 0) found.push(...sidesOf(net, id));
  return found;
}

function sidesOf(net: Network, id: string): Finding[] {
  const { rig } = net;
  const source = rig.sources.get(id);
  const channels = channelsOf(rig, id);
  // Where some of it is private, each side may well be another thing.
  if (!source || source.private) return [];
  const lines = net.linesOf(id);
  return (['input', 'house'] as const).flatMap((desk) => {
    const here = lines.filter(({ run }) => run.kind === desk);
    const [first] = here;
    const side = first?.channel;
    const other = channels.find((channel) => channel !== side);
    // Of a line that takes the whole and gets a side it is told already.
    const whole = here.some(({ run }) => run.kind !== 'output' && run.takes?.port === undefined);
    if (!first || !side || !other || whole || here.some(({ channel }) => channel !== side)) return [];
    const elsewhere = lines.find(({ run, channel }) => run.kind !== desk && channel === other);
    const line = first.run.kind === 'house' ? secondLine(net, first.run, `${source.name}.${other}`, side, other) : undefined;
    return [
      finding(
        'splits/one-side',
        `${first.run.id}/takes`,
        {
          source: source.label,
          run: runName(rig, first.run),
          house: desk === 'house',
          side,
          other,
          elsewhere: elsewhere && runName(rig, elsewhere.run),
          instead: line ? lineText(line) : `${source.name}.${other}`,
        },
        {
          about: [id],
          related: elsewhere ? [{ place: elsewhere.run.place, says: BESIDE.goesHere(other) }] : [],
          fixes: line ? [line] : first.run.kind === 'input' ? bothSides(net, first.run, source.name) : [],
        },
      ),
    ];
  });
}

type HouseLine = Extract<Fix, { kind: 'add-house' }>;

/** Through the same boxes: new ones for each line, or the other channel of one that has a name. */
function secondLine(net: Network, run: HouseRun, takes: string, side: string, other: string): HouseLine | undefined {
  const { rig } = net;
  const boxes = run.via.map(({ piece: id, port }) => {
    const piece = rig.pieces.get(id);
    if (port === undefined) return piece?.kind === 'fresh' ? piece.model.id : undefined;
    // `odi.right` beside `odi.left`, where nothing is plugged into it yet.
    const beside = piece?.kind === 'gear' && port.includes(side) ? findPort(piece, port.replace(side, other), 'output') : undefined;
    return piece && beside && !net.leaving.has(socket(piece, beside).key) ? socketText(socket(piece, beside)) : undefined;
  });
  if (boxes.includes(undefined)) return undefined;
  return { kind: 'add-house', takes, number: freeHouseNumber(rig), via: boxes.length > 0 ? boxes.join(', ') : undefined };
}

function lineText({ number, takes, via }: HouseLine): string {
  return `house ${number} takes ${takes}${via ? ` via ${via}` : ''}`;
}

/** The whole on this input and the next, where that is free. */
function bothSides(net: Network, run: InputRun, name: string): Fix[] {
  const pair = pairFrom(net, run);
  if (!pair || run.via.some(({ port }) => port !== undefined)) return [];
  return [
    {
      kind: 'several',
      fixes: [
        { kind: 'move', run: run.id, port: pair },
        { kind: 'rewrite', place: `${run.id}/takes`, with: name },
      ],
    },
  ];
}

// ---- by way of the house -------------------------------------------------------------------------

/** Lines of ours that nothing of ours splits: they come out of a box that the house brings for a line of its own. */
export function hanging(net: Network): Finding[] {
  const told = new Set<Run>();
  return net.lines.flatMap((line) => {
    const { run } = line;
    const box = run.kind === 'input' && !told.has(run) ? boxOfTheirs(net, line) : undefined;
    if (!box) return [];
    told.add(run);
    const { from, theirs } = box;
    const { piece } = from;
    const step = `${theirs.id}/via.${stepOf(theirs, piece)}`;
    return [
      finding(
        'splits/hangs-on-theirs',
        `${run.id}/takes`,
        { run: runName(net.rig, run), box: piece.label, socket: socketText(from), house: runName(net.rig, theirs) },
        {
          about: [piece.id, theirs.id],
          related: [{ place: step, says: BESIDE.inThisLine(piece.label) }],
          fixes: piece.model.lineage.includes('di')
            ? ['passive-di', 'active-di'].map((model) => ({ kind: 'replace-step', step, with: model }))
            : [],
        },
      ),
    ];
  });
}

function boxOfTheirs(net: Network, { run, joints }: Line) {
  for (const { from } of joints) {
    const { piece } = from;
    if (piece.kind !== 'fresh' || !isTheirs(piece) || stepOf(run, piece) >= 0) continue;
    const theirs = net.rig.house.find((house) => stepOf(house, piece) >= 0);
    if (theirs) return { from, theirs };
  }
  return undefined;
}
