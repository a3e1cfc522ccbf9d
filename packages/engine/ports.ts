/** Which inputs could take a signal. */
import type { Port, SignalKind } from '#rig';
import { mates } from './mating';
import { type Joint, type Network, socket } from './network';

export interface Demand {
  readonly output: Port;
  readonly kinds: readonly SignalKind[];
  readonly phantom: boolean;
}

export function canTake(port: Port, demand: Demand): boolean {
  return (
    port.direction === 'input' &&
    mates(demand.output, port) &&
    port.modes.some((mode) => demand.kinds.includes(mode.kind) && (!demand.phantom || mode.phantom !== undefined))
  );
}

/** Whether a microphone's output needs power from the port it goes to. */
export function needsPhantom(output: Port): boolean {
  return output.modes.some((mode) => mode.phantom === 'needed');
}

/** Free inputs on the gear that a joint goes to, which could take its signal: port ids in the gear's order. */
export function freePortsFor(net: Network, joint: Joint, kinds: readonly SignalKind[]): string[] {
  const { piece } = joint.to;
  const source = net.rig.pieces.get(joint.runs[0]?.kind !== 'output' ? (joint.runs[0]?.takes?.id ?? '') : '');
  const phantom = source?.model.ports.some((port) => port.direction === 'output' && needsPhantom(port)) ?? false;
  const demand: Demand = { output: joint.from.port, kinds, phantom: phantom && kinds.includes('mic') };
  return piece.model.ports
    .filter((port) => canTake(port, demand) && !net.entering.has(socket(piece, port).key))
    .map((port) => port.id);
}
