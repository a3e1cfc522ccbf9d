/** Sockets that two plugs are meant for, and lines that are written twice. */
import { freshCount, type HouseRun, type OutputRun, type Piece, type Run } from '#rig';
import type { Fix } from '../../cure/fix';
import { freeOutputs } from '../../cure/free';
import { signalLabel, socketText } from '../../solve/naming';
import { type Joint, type Network, push, socket, stepOf } from '../../solve/network';
import { canTake, demandOf } from '../../solve/ports';
import { BESIDE } from '../../words/beside';
import { type Finding, finding } from '../finding';

export function takenTwice(net: Network): Finding[] {
  return [...inputsTakenTwice(net), ...houseLinesTakenTwice(net), ...outputsTakenTwice(net)];
}

/** Inputs with two plugs in them, of a device or of a piece on the way; and lines that say the same thing twice. */
function inputsTakenTwice(net: Network): Finding[] {
  const findings: Finding[] = [];
  for (const joints of net.entering.values()) {
    const [first] = joints;
    // Two lines of the house's with one number are told as such.
    if (!first || first.to.piece.kind === 'house' || (joints.length === 1 && net.linesThrough(first).length === 1)) continue;
    const rest = joints.slice(1);
    // Both channels of a line come in there as one.
    for (const run of new Set(rest.map(runOf))) {
      const joint = rest.find((each) => runOf(each) === run) as Joint;
      findings.push(twoPlugs(net, joint, runOf(first), run));
    }
    for (const joint of joints) {
      const seen = new Map<string, Run>();
      for (const line of net.linesThrough(joint)) {
        if (line.run.kind !== 'input' || line.end?.key !== joint.to.key) continue;
        const what = `${line.signal} ${line.channel}`;
        const before = seen.get(what);
        if (before) findings.push(twoPlugs(net, joint, before, line.run));
        else seen.set(what, line.run);
      }
    }
  }
  return findings;
}

function twoPlugs(net: Network, joint: Joint, other: Run, run: Run): Finding {
  const { piece, port } = joint.to;
  const taker = (each: Run) => signalLabel(net.rig, each.kind === 'output' ? each.carries : each.takes?.id);
  const line = net.linesThrough(joint).find((each) => each.run === run);
  const demand = line && demandOf(net, line);
  const free = piece.model.ports.filter(
    (candidate) =>
      candidate.direction === 'input' && !net.entering.has(socket(piece, candidate).key) && demand && canTake(candidate, demand),
  );
  const place = placeOf(run, joint);
  const again =
    run.kind === 'input' && other.kind === 'input' && other.takes?.id === run.takes?.id && other.takes?.port === run.takes?.port;
  const alike = !again && other !== run && taker(other) === taker(run);
  const moves = free.slice(0, 3).flatMap(({ id }): Fix[] => {
    if (place.endsWith('/port')) return run.kind === 'input' && run.to.ports.length === 1 ? [{ kind: 'move', run: run.id, port: id }] : [];
    return piece.kind === 'gear' ? [{ kind: 'replace-step', step: place, with: `${piece.name}.${id}` }] : [];
  });
  const both = socketOfBoth(joint);
  const wide: Fix[] = run.kind === 'output' && both ? [{ kind: 'replace-step', step: place, with: both }] : [];
  return finding(
    'capacity/input-taken-twice',
    place,
    {
      port: socketText(socket(piece, port)),
      // Two things with one label are told apart as they are written.
      takers: [other, run].map((each) => (alike ? written(net, each) : taker(each))),
      each: other === run ? channelsOf(net, run, joint) : [],
      sides: other === run && run.kind === 'output' ? { both } : undefined,
      free: free.map(({ id }) => `${piece.name ?? piece.label}.${id}`),
    },
    {
      // The two channels of one line are plugged in at one place.
      related: other === run ? [] : [{ place: placeOf(other, joint), says: BESIDE.pluggedHere(taker(other)) }],
      // One line that brings two channels by one way is to be two lines.
      fixes: other === run ? wide : again ? [{ kind: 'remove', statement: run.id }] : moves,
    },
  );
}

/**
 * What to write instead, so that each side of a mix has a socket: the output of a piece that is made from an input and from another one; or,
 * of a piece with room for one channel, its model, for a box without a name is there once for each side.
 */
function socketOfBoth({ to: { piece, port } }: Joint): string | undefined {
  const output = piece.model.ports.find(
    ({ direction, tie }) => direction === 'output' && tie?.inputs.includes(port.id) && tie.inputs.length === 2,
  );
  if (piece.kind !== 'gear') return undefined;
  if (output) return socketText(socket(piece, output));
  return freshCount(piece.model, 2) === 2 ? piece.model.id : undefined;
}

/** What a run brings, as the rig writes it: `keys.left`. */
function written({ rig }: Network, run: Run): string {
  if (run.kind === 'output') return rig.mixes.get(run.carries ?? '')?.name ?? '';
  const { id = '', port } = run.takes ?? {};
  const name = (rig.sources.get(id) ?? rig.mixes.get(id) ?? rig.pieces.get(id))?.name ?? '';
  return port === undefined ? name : `${name}.${port}`;
}

/** What a line of its own takes for each of a run's channels that go through one piece, as it would be written. */
function channelsOf(net: Network, run: Run, { to }: Joint): string[] {
  const name = run.kind === 'output' ? undefined : net.rig.sources.get(run.takes?.id ?? '')?.name;
  const channels = net.lines.flatMap((line) => (line.run === run && line.channel !== undefined ? [line.channel] : []));
  const leg = run.via[stepOf(run, to.piece)]?.port;
  const via = `${to.piece.name ?? to.piece.model.id}${leg === undefined ? '' : `.${leg}`}`;
  return name === undefined ? [] : channels.map((channel, index) => (index === 0 ? `${name}.${channel} via ${via}` : `${name}.${channel}`));
}

/** A joint is made by a run, so there is always one. */
const runOf = (joint: Joint) => joint.runs[0] as Run;

/** Where a run says that it goes into an input. */
function placeOf(run: Run, { to }: Joint): string {
  const step = stepOf(run, to.piece);
  return step < 0 ? `${run.id}/port` : `${run.id}/via.${step}`;
}

function houseLinesTakenTwice(net: Network): Finding[] {
  const seen = new Map<string, HouseRun>();
  return net.rig.house.flatMap((run) => {
    const first = seen.get(run.number);
    seen.set(run.number, first ?? run);
    if (!first) return [];
    const again = first.takes?.id === run.takes?.id && first.takes?.port === run.takes?.port;
    const last = (each: Run) => net.lines.find((line) => line.run === each)?.joints.at(-1);
    const together = !again && last(run) !== undefined && last(run) === last(first);
    const fixes: Fix[] = again || together ? [{ kind: 'remove', statement: run.id }] : [];
    return [
      finding(
        'capacity/house-line-twice',
        run.place,
        { number: run.number, together },
        { related: [{ place: first.place, says: BESIDE.houseFirst(run.number) }], fixes },
      ),
    ];
  });
}

function outputsTakenTwice(net: Network): Finding[] {
  const carriers = new Map<string, OutputRun>();
  /** By output, the lines that come to it after the first. */
  const clashes = new Map<string, OutputRun[]>();
  for (const run of net.rig.outputs) {
    if (!net.rig.pieces.has(run.from.piece)) continue;
    for (const port of run.from.ports) {
      const key = `${run.from.piece}.${port}`;
      const first = carriers.get(key);
      if (!first) {
        carriers.set(key, run);
        continue;
      }
      // A mix that is not known is told by itself.
      if (first.carries === undefined || run.carries === undefined || samePlug(net, key, first, run)) continue;
      push(clashes, key, run);
      break;
    }
  }
  return [...clashes].map(([key, more]) => onOneOutput(net, key, carriers.get(key) as OutputRun, more));
}

function onOneOutput(net: Network, key: string, first: OutputRun, more: readonly OutputRun[]): Finding {
  const { rig } = net;
  const piece = rig.pieces.get(first.from.piece) as Piece;
  const name = piece.name ?? piece.label;
  const said = new Set(rig.outputs.flatMap(({ from }) => (from.piece === piece.id ? from.ports : [])));
  const free = piece.model.ports.flatMap((port) =>
    port.direction === 'output' && port.modes[0]?.kind === 'line' && !said.has(port.id) && !net.leaving.has(socket(piece, port).key)
      ? port.id
      : [],
  );
  const all = [first, ...more];
  const second = more[0] as OutputRun;
  const again = more.map((run, index) => all.slice(0, index + 1).some((before) => saysTheSame(net, before, run)));
  const mixes = all.filter(({ carries }, index) => all.findIndex((each) => each.carries === carries) === index);
  const labels = mixes.map(({ carries }) => signalLabel(rig, carries));
  return finding(
    'capacity/output-taken-twice',
    `${second.id}/port`,
    {
      port: `${name}${key.slice(piece.id.length)}`,
      lines: all.length,
      // Two mixes with one label are told apart as they are written.
      mixes: new Set(labels).size < labels.length ? mixes.map((run) => written(net, run)) : labels,
      free: free.map((id) => `${name}.${id}`),
      again: again.every(Boolean),
    },
    {
      about: more.map(({ id }) => id),
      related: all.flatMap((run) =>
        run === second ? [] : [{ place: `${run.id}/port`, says: BESIDE.leavesHere(signalLabel(rig, run.carries)) }],
      ),
      fixes:
        more.length > 1
          ? eachElsewhere(more, again, free)
          : again[0]
            ? [{ kind: 'remove', statement: second.id }]
            : [...elsewhere(net, piece, second, free), ...throughOneLead(net, first, second)],
    },
  );
}

/** On another output, or another pair of them. */
function elsewhere(net: Network, piece: Piece, { id, from }: OutputRun, free: readonly string[]): Fix[] {
  const pairs = () =>
    freeOutputs(net, true).flatMap((pair) => (pair.startsWith(`${piece.name}.`) ? pair.slice(`${piece.name}.`.length) : []));
  const ports = from.ports.length === 1 ? free : from.ports.length === 2 ? pairs() : [];
  return ports.slice(0, 3).map((port) => ({ kind: 'move', run: id, port }));
}

/** All after the first on outputs of their own, where there are as many; but those that are there `again` go. */
function eachElsewhere(more: readonly OutputRun[], again: readonly boolean[], free: readonly string[]): Fix[] {
  const left = [...free];
  const fixes = more.flatMap(({ id, from }, index): Fix[] => {
    if (again[index]) return [{ kind: 'remove', statement: id }];
    const port = from.ports.length === 1 ? left.shift() : undefined;
    return port === undefined ? [] : [{ kind: 'move', run: id, port }];
  });
  return fixes.length === more.length ? [{ kind: 'several', fixes }] : [];
}

/** Whether two lines are written alike, step by step: the second says nothing new. */
function saysTheSame({ rig }: Network, first: OutputRun, second: OutputRun): boolean {
  if (first.carries !== second.carries || first.from.ports.join() !== second.from.ports.join()) return false;
  const asWritten = (id: string) => {
    const piece = rig.pieces.get(id);
    return piece?.kind === 'fresh' ? piece.model.id : id;
  };
  const steps = ({ via }: OutputRun) => via.map(({ piece, port }) => `${asWritten(piece)}.${port ?? ''}`).join();
  return steps(first) === steps(second);
}

/** Two listeners to one mix who each have a way of their own: a Y-lead before both. */
function throughOneLead({ rig }: Network, first: OutputRun, second: OutputRun): Fix[] {
  const mix = rig.mixes.get(first.carries ?? '');
  if (!mix || first.carries !== second.carries || second.from.ports.length > 1 || first.via.length === 0 || second.via.length === 0)
    return [];
  const name = `${mix.name}-y`;
  if (rig.pieces.has(`gear:${name}`)) return [];
  const leg = (run: OutputRun, port: number): Fix => ({ kind: 'add-step', run: run.id, model: `${name}.${port}`, where: 'first' });
  const lead: Fix = { kind: 'add-gear', name, model: 'y-lead', label: `Y-lead of ${mix.label}` };
  return [{ kind: 'several', fixes: [lead, leg(first, 1), leg(second, 2)] }];
}

/** Two listeners to one mix share a plug where a split follows it: `via y.1, amp.left1` and `via y.2, amp.left2`. */
function samePlug(net: Network, key: string, first: OutputRun, second: OutputRun): boolean {
  const plug = (run: OutputRun) => net.lines.find((line) => line.run === run && line.start?.key === key)?.joints[0];
  return first.carries === second.carries && plug(first) !== undefined && plug(first) === plug(second);
}
