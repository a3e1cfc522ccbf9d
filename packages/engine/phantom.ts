/** What is wrong with phantom power: microphones that get none, and what gets it and should not. `supply.ts` works it out. */
import type { Piece, Port } from '#rig';
import { isMovable, swaps } from './cures';
import { type Finding, type Fix, finding } from './findings';
import { socketName } from './naming';
import { type Joint, type Line, type Network, stepOf } from './network';
import { freePortsFor, gives48V, isHarmed } from './ports';
import { blockOn, type Live, type Needy, type Supplies, type Way } from './supply';

export function phantom(net: Network, supplied: Supplies): Finding[] {
  return [...supplied.needy.filter((needy) => !needy.supplier).map((needy) => unpowered(net, needy)), ...reached(net, supplied.live)];
}

function unpowered(net: Network, { piece, ways }: Needy): Finding {
  const way = ways.find((candidate) => candidate.line.run.kind === 'input') ?? (ways[0] as Way);
  const { run } = way.line;
  const source = piece.label;
  const related = [{ place: piece.place, says: `${source} needs phantom power` }];
  if (way.block && way.supply) {
    const step = stepOf(run, way.block);
    const through = passingLeg(way.block);
    const fixes: Fix[] = through
      ? [{ kind: 'replace-step', step: `${run.id}/via.${step}`, with: `${way.block.name ?? way.block.model.id}.${through.id}` }]
      : [];
    return finding(
      'phantom/blocked',
      `${run.id}/via.${step}`,
      { source, by: way.block.label, port: socketName(way.end), leg: through?.id },
      { related, fixes },
    );
  }
  const free = freePortsFor(net, way.last, ['mic']).filter((id) =>
    way.end.piece.model.ports.some((port) => port.id === id && gives48V(port)),
  );
  const moves: Fix[] = run.kind === 'input' && isMovable(run) ? free.map((port) => ({ kind: 'move', run: run.id, port })) : [];
  return finding(
    'phantom/missing',
    run.kind === 'input' ? `${run.id}/port` : `${run.id}/takes`,
    { source, port: socketName(way.end), free: free.map((id) => `${way.end.piece.name ?? way.end.piece.label}.${id}`) },
    { related, fixes: [...moves, ...swaps(net, way.line).slice(0, 2)] },
  );
}

/** The output of a splitter that passes phantom power. */
function passingLeg(piece: Piece): Port | undefined {
  return piece.model.ports.find((port) => port.direction === 'output' && port.tie?.how === 'parallel');
}

/** What else gets the 48 volts of our inputs: sources that are harmed by it, and the house by a parallel leg. */
function reached(net: Network, live: ReadonlyMap<string, Live>): Finding[] {
  const findings: Finding[] = [];
  for (const [key, each] of live) {
    if (each.socket.piece.kind === 'house') continue;
    for (const joint of net.entering.get(key) ?? []) {
      const line = net.linesThrough(joint).find((candidate) => candidate.end?.key === key);
      const piece = net.rig.pieces.get(line?.signal ?? '');
      if (!line || piece?.kind !== 'source' || blockOn(line)) continue;
      if (isHarmed(piece)) {
        findings.push(
          finding(
            'phantom/harmful',
            `${line.run.id}/port`,
            { source: piece.label, port: socketName(each.socket), because: each.because.label },
            {
              related: [{ place: piece.place, says: `${piece.label} is harmed by phantom power` }],
              fixes: outOfReach(net, line, joint, live),
            },
          ),
        );
      }
      // For a microphone that needs it, whoever supplies it is a matter between the two desks; by accident it is a trap.
      if (!each.own) findings.push(...towardsHouse(net, line, piece, each));
    }
  }
  return findings;
}

function towardsHouse(net: Network, line: Line, piece: Piece, { socket, because }: Live): Finding[] {
  const house = net.linesOf(piece.id).find((other) => other.run.kind === 'house' && other.end && !blockOn(other));
  if (!house?.end) return [];
  const { run } = line;
  const step = run.via.findIndex((via) =>
    net.rig.pieces.get(via.piece)?.model.ports.some((port) => port.direction === 'output' && port.tie?.how === 'parallel'),
  );
  const fresh = net.rig.pieces.get(run.via[step]?.piece ?? '')?.kind === 'fresh';
  return [
    finding(
      'phantom/reaches-house',
      step >= 0 ? `${run.id}/via.${step}` : `${run.id}/port`,
      { source: piece.label, port: socketName(socket), because: because.label, house: socketName(house.end) },
      {
        related: [{ place: house.run.place, says: 'the way to the house' }],
        fixes: fresh ? [{ kind: 'replace-step', step: `${run.id}/via.${step}`, with: 'transformer-split.iso' }] : [],
      },
    ),
  ];
}

/** Inputs on other switches for what phantom power can destroy; else a transformer before it, which keeps it away. */
function outOfReach(net: Network, line: Line, joint: Joint, live: ReadonlyMap<string, unknown>): Fix[] {
  const { run } = line;
  if (run.kind !== 'input') return [];
  const free = freePortsFor(net, joint, ['mic']).filter((id) => !live.has(`${joint.to.piece.id}.${id}`));
  const moves: Fix[] = isMovable(run) ? free.slice(0, 3).map((port) => ({ kind: 'move', run: run.id, port })) : [];
  return [...moves, { kind: 'add-step', run: run.id, model: 'transformer-split.iso', where: 'last' }];
}
