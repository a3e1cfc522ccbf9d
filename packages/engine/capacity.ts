/** Whether there are ports, and mixes, for everything that is asked of the gear. */
import type { HouseRun, OutputRun, Piece, Port, Run } from '#rig';
import { outOfRun } from './arriving';
import { freeOutputs } from './cures';
import { type Finding, type Fix, finding } from './findings';
import { match } from './matching';
import { runName, signalLabel, socketText } from './naming';
import { type Joint, type Line, type Network, socket, stepOf } from './network';
import { canTake, type Demand, demandOf } from './ports';

export function capacity(net: Network): Finding[] {
  return [
    ...missingPorts(net),
    ...inputsTakenTwice(net),
    ...houseLinesTakenTwice(net),
    ...outputsTakenTwice(net),
    ...crowdedInputs(net),
    ...tooManyMixes(net),
  ];
}

function missingPorts(net: Network): Finding[] {
  return net.snags.flatMap((snag) => {
    if (snag.kind !== 'no-such-port' || snag.direction === 'any') return [];
    const direction = snag.direction;
    const of = snag.piece.model.ports.filter((port) => port.direction === direction);
    const used = direction === 'input' ? net.entering : net.leaving;
    const open = of.filter((port) => !used.has(socket(snag.piece, port).key)).map((port) => port.id);
    // Who writes `iface.9` is not after a playback channel, usb3.
    const alike = open.filter((id) => stem(id) === stem(snag.ref.port ?? ''));
    const free = alike.length > 0 ? alike : open;
    return [
      finding(
        'capacity/no-such-port',
        snag.ref.place,
        {
          gear: snag.piece.label,
          direction,
          port: snag.ref.port ?? '',
          ports: of.map((port) => port.id),
          free,
          source: snag.piece.kind === 'source',
        },
        {
          related: [{ place: snag.piece.model.place, says: `what ${snag.piece.label} is made of` }],
          fixes: otherPorts(net, snag.ref.place, snag.piece, open),
        },
      ),
    ];
  });
}

/** Ports of the same gear that would do instead of one that is not there. `open` are those of its direction with no plug in them. */
function otherPorts(net: Network, place: string, piece: Piece, open: readonly string[]): Fix[] {
  const input = net.rig.inputs.find((run) => `${run.id}/port` === place);
  const output = net.rig.outputs.find((run) => `${run.id}/port` === place);
  const run = input ?? output;
  if (!run) return piece.name === undefined ? [] : open.slice(0, 3).map((id) => ({ kind: 'rewrite', place, with: `${piece.name}.${id}` }));
  const wanted = input ? input.to.ports : (output?.from.ports ?? []);
  if (wanted.length !== 1) return [];
  const others = input
    ? net.rig.inputs.map((each) => ({ run: each.id, end: each.to }))
    : net.rig.outputs.map((each) => ({ run: each.id, end: each.from }));
  const written = new Set(others.flatMap((each) => (each.run !== run.id && each.end.piece === piece.id ? each.end.ports : [])));
  const demands = input ? outOfRun(net, input) : [];
  const suits = (port: Port) => (input ? demands.some((demand) => canTake(port, demand)) : port.modes[0]?.kind === 'line');
  const fitting = piece.model.ports.filter(
    (port) => port.direction === (input ? 'input' : 'output') && open.includes(port.id) && !written.has(port.id) && suits(port),
  );
  return fitting.slice(0, 3).map((port) => ({ kind: 'move', run: run.id, port: port.id }));
}

const stem = (port: string) => port.replace(/\d+$/, '');

/** Inputs with two plugs in them, of a device or of a piece on the way; and lines that say the same thing twice. */
function inputsTakenTwice(net: Network): Finding[] {
  const findings: Finding[] = [];
  for (const joints of net.entering.values()) {
    const [first, ...rest] = joints;
    // Two lines of the house's with one number are told as such.
    if (!first || first.to.piece.kind === 'house') continue;
    for (const joint of rest) findings.push(takenTwice(net, joint, runOf(first), runOf(joint)));
    for (const joint of joints) {
      const seen = new Map<string, Run>();
      for (const line of net.linesThrough(joint)) {
        if (line.run.kind !== 'input' || line.end?.key !== joint.to.key) continue;
        const what = `${line.signal} ${line.channel}`;
        const before = seen.get(what);
        if (before) findings.push(takenTwice(net, joint, before, line.run));
        else seen.set(what, line.run);
      }
    }
  }
  return findings;
}

function takenTwice(net: Network, joint: Joint, other: Run, run: Run): Finding {
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
  const moves = free.slice(0, 3).flatMap(({ id }): Fix[] => {
    if (place.endsWith('/port')) return run.kind === 'input' && run.to.ports.length === 1 ? [{ kind: 'move', run: run.id, port: id }] : [];
    return piece.kind === 'gear' ? [{ kind: 'replace-step', step: place, with: `${piece.name}.${id}` }] : [];
  });
  return finding(
    'capacity/input-taken-twice',
    place,
    {
      port: socketText(socket(piece, port)),
      takers: [taker(other), taker(run)],
      free: free.map(({ id }) => `${piece.name ?? piece.label}.${id}`),
    },
    {
      related: [{ place: placeOf(other, joint), says: `${taker(other)} is plugged in here` }],
      fixes: again ? [{ kind: 'remove', statement: run.id }] : moves,
    },
  );
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
    const fixes: Fix[] = again ? [{ kind: 'remove', statement: run.id }] : [];
    return [
      finding(
        'capacity/house-line-twice',
        run.place,
        { number: run.number },
        { related: [{ place: first.place, says: `house ${run.number} is written here first` }], fixes },
      ),
    ];
  });
}

function outputsTakenTwice(net: Network): Finding[] {
  const carriers = new Map<string, OutputRun>();
  const findings: Finding[] = [];
  for (const run of net.rig.outputs) {
    const piece = net.rig.pieces.get(run.from.piece);
    if (!piece) continue;
    for (const port of run.from.ports) {
      const key = `${piece.id}.${port}`;
      const first = carriers.get(key);
      if (!first) {
        carriers.set(key, run);
        continue;
      }
      // A mix that is not known is told by itself.
      if (first.carries === undefined || run.carries === undefined || samePlug(net, key, first, run)) continue;
      const free = piece.model.ports
        .filter((p) => p.direction === 'output' && !net.leaving.has(socket(piece, p).key) && p.modes[0]?.kind === 'line')
        .map((p) => p.id);
      const written = free.filter((id) => !net.rig.outputs.some((other) => other.from.piece === piece.id && other.from.ports.includes(id)));
      const places =
        run.from.ports.length === 1
          ? written
          : freeOutputs(net, true).flatMap((pair) =>
              pair.startsWith(`${piece.name}.`) ? [pair.slice((piece.name ?? '').length + 1)] : [],
            );
      const moves: Fix[] = run.from.ports.length <= 2 ? places.slice(0, 3).map((id) => ({ kind: 'move', run: run.id, port: id })) : [];
      const again = first.carries === run.carries && first.from.ports.join() === run.from.ports.join();
      const fixes: Fix[] = again ? [{ kind: 'remove', statement: run.id }] : moves;
      findings.push(
        finding(
          'capacity/output-taken-twice',
          `${run.id}/port`,
          {
            port: `${piece.name ?? piece.label}.${port}`,
            mixes: [signalLabel(net.rig, first.carries), signalLabel(net.rig, run.carries)],
            free: written.map((id) => `${piece.name ?? piece.label}.${id}`),
          },
          { related: [{ place: `${first.id}/port`, says: `${signalLabel(net.rig, first.carries)} leaves here` }], fixes },
        ),
      );
      break;
    }
  }
  return findings;
}

/** Two listeners to one mix share a plug where a split follows it: `via y.1, amp.left1` and `via y.2, amp.left2`. */
function samePlug(net: Network, key: string, first: OutputRun, second: OutputRun): boolean {
  const plug = (run: OutputRun) => net.lines.find((line) => line.run === run && line.start?.key === key)?.joints[0];
  return first.carries === second.carries && plug(first) !== undefined && plug(first) === plug(second);
}

/**
 * More lines than ports that can take them. Lines are matched to ports, whatever the text says they are plugged into:
 * where not all can be placed, those that compete for too few ports are named, with the ports.
 */
function crowdedInputs(net: Network): Finding[] {
  const findings: Finding[] = [];
  const byPiece = new Map<string, Line[]>();
  for (const line of net.lines) {
    if (line.run.kind !== 'input' || line.joints.length === 0) continue;
    const lines = byPiece.get(line.run.to.piece);
    if (lines) lines.push(line);
    else byPiece.set(line.run.to.piece, [line]);
  }
  for (const [id, lines] of byPiece) {
    const piece = net.rig.pieces.get(id);
    if (!piece) continue;
    const ports = piece.model.ports.filter((port) => port.direction === 'input');
    // One plug serves all the lines that share it.
    const plugs = [...new Map(lines.map((line) => [line.joints.at(-1), line])).values()];
    const demands = plugs.map((line) => demandOf(net, line));
    const { crowded, contested } = match(demands.map((demand) => ports.flatMap((port, index) => (canTake(port, demand) ? [index] : []))));
    if (crowded.length < 2 || crowded.length <= contested.length) continue;
    const first = plugs[crowded[0] as number];
    if (!first) continue;
    const needy = crowded.map((index) => demands[index] as Demand);
    findings.push(
      finding(
        'capacity/too-few-inputs',
        `${(plugs[crowded.at(-1) as number] ?? first).run.id}/port`,
        {
          gear: piece.label,
          sources: crowded.map((index) => signalLabel(net.rig, plugs[index]?.signal)),
          kind: needy.every((demand) => demand.kinds.includes('mic'))
            ? 'mic'
            : needy.every((demand) => demand.kinds.includes('instrument'))
              ? 'instrument'
              : 'such',
          phantom: needy.every((demand) => demand.phantom),
          ports: contested.map((index) => ports[index]?.id ?? ''),
        },
        {
          related: crowded
            .slice(0, 8)
            .map((index) => plugs[index] as Line)
            .map((line) => ({ place: `${line.run.id}/port`, says: `${signalLabel(net.rig, line.signal)} needs one` })),
        },
      ),
    );
  }
  return findings;
}

/** Mixes that leave a device against what its mixer can make. Two mono mixes fit on one stereo mix, one on each side. */
function tooManyMixes(net: Network): Finding[] {
  const findings: Finding[] = [];
  const byPiece = new Map<string, OutputRun[]>();
  for (const run of net.rig.outputs) {
    const runs = byPiece.get(run.from.piece);
    if (runs) runs.push(run);
    else byPiece.set(run.from.piece, [run]);
  }
  for (const [id, runs] of byPiece) {
    const piece = net.rig.pieces.get(id);
    const mixer = piece?.model.mixes;
    if (!piece || !mixer) continue;
    const mixes = [...new Set(runs.flatMap((run) => run.carries ?? []))].flatMap((mix) => net.rig.mixes.get(mix) ?? []);
    const stereo = mixes.filter((mix) => mix.stereo).length;
    const mono = mixes.length - stereo;
    const needs = (wide: number, narrow: number) => (mixer.width === 'stereo' ? wide + Math.ceil(narrow / 2) : wide * 2 + narrow);
    const needed = needs(stereo, mono);
    if (needed <= mixer.count) continue;
    const last = runs.at(-1) as OutputRun;
    const enough = stereo > 0 && needs(stereo - 1, mono + 1) <= mixer.count;
    const fixes: Fix[] = enough
      ? mixes
          .filter((mix) => mix.stereo)
          .reverse()
          .slice(0, 3)
          .map((mix) => ({ kind: 'set-width', mix: mix.id, width: 'mono' }))
      : [];
    findings.push(
      finding(
        'capacity/too-many-mixes',
        `${last.id}/carries`,
        { gear: piece.label, stereo, mono, needed, count: mixer.count, width: mixer.width },
        {
          related: [
            ...runs.slice(0, -1).map((run) => ({ place: `${run.id}/carries`, says: `${runName(net.rig, run)} carries one` })),
            { place: piece.model.place, says: `what ${piece.label} is made of` },
          ],
          fixes,
        },
      ),
    );
  }
  return findings;
}
