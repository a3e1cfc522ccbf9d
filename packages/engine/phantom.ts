/**
 * Phantom power: which microphones need it, and what reaches them, through which legs.
 *
 * It travels the leads backwards: through parallel legs and resistive pads, not through transformers or electronics,
 * and only over three contacts (IEC 61938).
 */
import { CONNECTORS, type Mode, type Piece, type Port } from '#rig';
import { isMovable, swaps } from './cures';
import { type Finding, type Fix, finding } from './findings';
import { socketName } from './naming';
import { type Joint, type Line, type Network, type Socket, socket, stepOf } from './network';
import { freePortsFor, needsPhantom } from './ports';

interface Way {
  readonly line: Line;
  readonly end: Socket;
  readonly last: Joint;
  /** What stops phantom power on its way to the source, if anything does. */
  readonly block?: Piece;
  /** How the input at the end supplies it, if it can. */
  readonly supply?: 'each' | 'shared';
}

export function phantom(net: Network): Finding[] {
  const findings: Finding[] = [];
  /** Inputs whose supply is on, with whom it is on for. */
  const on = new Map<string, { socket: Socket; source: string; own: boolean }>();
  for (const { label, place, ways } of [...microphones(net), ...boxes(net)]) {
    const powered = ways.filter((way) => way.supply && !way.block && !way.line.joints.some((joint) => joint.clashes));
    const ours = powered.find((way) => way.line.run.kind === 'input');
    if (ours) {
      on.set(ours.end.key, { socket: ours.end, source: label, own: true });
      for (const neighbour of bankOf(ours.end)) {
        if (!on.has(neighbour.key)) on.set(neighbour.key, { socket: neighbour, source: label, own: false });
      }
    }
    if (powered.length > 0) continue;
    const way = ways.find((candidate) => candidate.line.run.kind === 'input') ?? (ways[0] as Way);
    findings.push(unpowered(net, label, place, way));
  }
  findings.push(...reached(net, on));
  return findings;
}

/** What needs phantom power, and the ways by which it could come. At least one way each. */
interface Needy {
  readonly label: string;
  readonly place: string;
  readonly ways: readonly Way[];
}

function microphones(net: Network): Needy[] {
  return [...net.rig.sources.values()].flatMap((source) => {
    const piece = net.rig.pieces.get(source.id);
    if (!piece?.model.ports.some((port) => port.direction === 'output' && needsPhantom(port))) return [];
    const ways = waysFrom(net, source.id);
    return ways.length > 0 ? [{ label: source.label, place: source.place, ways }] : [];
  });
}

/** DIs and the like with electronics, which are fed back down their own output. */
function boxes(net: Network): Needy[] {
  const found = new Map<string, { piece: Piece; ways: Way[] }>();
  for (const line of net.lines) {
    const last = line.joints.at(-1);
    if (line.run.kind === 'output' || !last || !line.end || last.to.key !== line.end.key) continue;
    for (const [index, joint] of line.joints.entries()) {
      const { piece, port } = joint.from;
      if (piece.kind === 'source' || !needsPhantom(port)) continue;
      const way: Way = { line, end: line.end, last, block: blockOn(line, index), supply: supplyOf(line.end.port) };
      const there = found.get(piece.id);
      if (there) there.ways.push(way);
      else found.set(piece.id, { piece, ways: [way] });
    }
  }
  return [...found.values()].map(({ piece, ways }) => ({ label: piece.label, place: piece.place, ways }));
}

function unpowered(net: Network, source: string, made: string, way: Way): Finding {
  const { run } = way.line;
  const free = freePortsFor(net, way.last, ['mic']).filter((id) => way.end.piece.model.ports.some((port) => port.id === id && supplyOf(port)));
  const related = [{ place: made, says: `${source} needs phantom power` }];
  if (way.block && way.supply) {
    const step = stepOf(run, way.block);
    const through = passingLeg(way.block);
    const fixes: Fix[] = through ? [{ kind: 'replace-step', step: `${run.id}/via.${step}`, with: `${way.block.name ?? way.block.model.id}.${through.id}` }] : [];
    return finding('phantom/blocked', `${run.id}/via.${step}`, { source, by: way.block.label, port: socketName(way.end), leg: through?.id }, { related, fixes });
  }
  const moves: Fix[] = run.kind === 'input' && isMovable(run) ? free.map((port) => ({ kind: 'move', run: run.id, port })) : [];
  const fixes = [...moves, ...swaps(net, way.line).slice(0, 2)];
  return finding(
    'phantom/missing',
    run.kind === 'input' ? `${run.id}/port` : `${run.id}/takes`,
    { source, port: socketName(way.end), free: free.map((id) => `${way.end.piece.name ?? way.end.piece.label}.${id}`) },
    { related, fixes },
  );
}

/** The output of a splitter that passes phantom power. */
function passingLeg(piece: Piece): Port | undefined {
  return piece.model.ports.find((port) => port.direction === 'output' && port.tie?.how === 'parallel');
}

function waysFrom(net: Network, source: string): Way[] {
  return net.linesOf(source).flatMap((line) => {
    const last = line.joints.at(-1);
    if (!last || !line.end || last.to.key !== line.end.key) return [];
    return [{ line, end: line.end, last, block: blockOn(line), supply: supplyOf(line.end.port) }];
  });
}

export function supplyOf(port: Port): Way['supply'] {
  const mode = port.modes.find((candidate): candidate is Mode & { phantom: 'each' | 'shared' } => candidate.phantom === 'each' || candidate.phantom === 'shared');
  return mode?.phantom;
}

/** The first piece on a line, seen from its end, that phantom power does not get through. `from`: the joint that leaves what needs it, where that is not the source. */
function blockOn(line: Line, from = -1): Piece | undefined {
  for (let at = line.joints.length - 1; at >= Math.max(0, from); at--) {
    const joint = line.joints[at] as Joint;
    const { tie } = joint.from.port;
    if (at > from && tie && tie.how !== 'parallel' && tie.how !== 'switch') return joint.from.piece;
    if (!carriesThree(joint)) return joint.from.piece;
  }
  return undefined;
}

export function carriesThree(joint: Joint): boolean {
  const poles = (port: Port) => (port.connector === undefined ? 0 : CONNECTORS[port.connector].poles);
  return poles(joint.from.port) >= 3 && poles(joint.to.port) >= 3;
}

/** The other inputs on the same phantom switch. */
export function bankOf(end: Socket): Socket[] {
  if (supplyOf(end.port) !== 'shared') return [];
  return end.piece.model.ports
    .filter((port) => port.direction === 'input' && port.bank === end.port.bank && port.id !== end.port.id && supplyOf(port) === 'shared')
    .map((port) => socket(end.piece, port));
}

/** Inputs on other switches for what phantom power can destroy; else a transformer before it, which keeps it away. */
function outOfReach(net: Network, line: Line, joint: Joint, on: ReadonlyMap<string, unknown>): Fix[] {
  const { run } = line;
  if (run.kind !== 'input') return [];
  const free = freePortsFor(net, joint, ['mic']).filter((id) => !on.has(`${joint.to.piece.id}.${id}`));
  const moves: Fix[] = isMovable(run) ? free.slice(0, 3).map((port) => ({ kind: 'move', run: run.id, port })) : [];
  return [...moves, { kind: 'add-step', run: run.id, model: 'transformer-split.iso', where: 'last' }];
}

/** What else gets the 48 volts: sources that are harmed by it, and the house by a parallel leg. */
function reached(net: Network, on: ReadonlyMap<string, { socket: Socket; source: string; own: boolean }>): Finding[] {
  const findings: Finding[] = [];
  for (const [key, { source: because, own, socket: port }] of on) {
    for (const joint of net.entering.get(key) ?? []) {
      const line = net.linesThrough(joint).find((candidate) => candidate.end?.key === key);
      if (!line || line.signal === undefined) continue;
      const source = net.rig.sources.get(line.signal);
      const piece = net.rig.pieces.get(line.signal);
      if (!source || !piece || blockOn(line)) continue;
      if (piece.model.ports.some((p) => p.direction === 'output' && p.modes.some((mode) => mode.phantom === 'harmful'))) {
        findings.push(
          finding('phantom/harmful', `${line.run.id}/port`, { source: source.label, port: socketName(port), because }, {
            related: [{ place: source.place, says: `${source.label} is harmed by phantom power` }],
            fixes: outOfReach(net, line, joint, on),
          }),
        );
      }
      if (own) continue;
      const house = waysFrom(net, source.id).find((way) => way.line.run.kind === 'house' && !way.block);
      if (!house) continue;
      const step = line.run.via.findIndex((via) => {
        const through = net.rig.pieces.get(via.piece);
        return through?.model.ports.some((p) => p.direction === 'output' && p.tie?.how === 'parallel') ?? false;
      });
      const fixes: Fix[] = step >= 0 && net.rig.pieces.get(line.run.via[step]?.piece ?? '')?.kind === 'fresh' ? [{ kind: 'replace-step', step: `${line.run.id}/via.${step}`, with: 'transformer-split.iso' }] : [];
      findings.push(
        finding(
          'phantom/reaches-house',
          step >= 0 ? `${line.run.id}/via.${step}` : `${line.run.id}/port`,
          { source: source.label, port: socketName(port), because, house: socketName(house.end) },
          { related: [{ place: house.line.run.place, says: `the way to the house` }], fixes },
        ),
      );
    }
  }
  return findings;
}
