/** Which inputs could take a signal. */
import type { InputRun, Port, SignalKind } from '#rig';
import { mates } from './mating';
import { type Joint, kindsOut, type Line, type Network, socket } from './network';

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

/** Whether an input can feed phantom power to what is plugged into it. */
export function gives48V(input: Port): boolean {
  return input.modes.some((mode) => mode.phantom === 'each' || mode.phantom === 'shared');
}

/** What the last lead of a line brings. */
export function demandOf(net: Network, line: Line): Demand {
  const last = line.joints.at(-1);
  const output = last?.from.port ?? { id: '', direction: 'output', modes: [], separate: false, bank: 0, place: '' };
  let kinds = output.modes.map((mode) => mode.kind);
  for (let at = line.joints.length - 1; kinds.length === 0 && at >= 0; at--)
    kinds = line.joints[at]?.from.port.modes.map((mode) => mode.kind) ?? [];
  const source = net.rig.pieces.get(line.signal ?? '');
  const phantom =
    source?.kind === 'source' &&
    source.model.ports.some((port) => port.direction === 'output' && needsPhantom(port)) &&
    !line.joints.some((joint) => joint.from.port.tie && joint.from.port.tie.how !== 'parallel');
  return { output, kinds, phantom: phantom || needsPhantom(output) };
}

/** What could come to the end of a run, from the text alone, where its port is not there and no line reaches it. */
export function demandsOf(net: Network, run: InputRun): Demand[] {
  const outputs = (id: string | undefined) => net.rig.pieces.get(id ?? '')?.model.ports.filter((port) => port.direction === 'output') ?? [];
  const taken = run.takes?.port;
  let demands: Demand[] = outputs(run.takes?.id)
    .filter((port) => taken === undefined || port.id === taken)
    .map((output) => ({ output, kinds: output.modes.map((mode) => mode.kind), phantom: needsPhantom(output) }));
  for (const { piece, port } of run.via) {
    const kinds = demands.flatMap((demand) => demand.kinds);
    const phantom = demands.some((demand) => demand.phantom);
    demands = outputs(piece)
      .filter((output) => output.tie && (port === undefined || output.id === port || output.tie.inputs.includes(port)))
      .map((output) => ({
        output,
        kinds: kindsOut(output, kinds),
        phantom: needsPhantom(output) || (phantom && output.tie?.how === 'parallel'),
      }));
  }
  return demands;
}

/** Free inputs on the gear that a joint goes to, which could take its signal: port ids in the gear's order. */
export function freePortsFor(net: Network, joint: Joint, kinds: readonly SignalKind[]): string[] {
  const { piece } = joint.to;
  const source = net.rig.pieces.get(joint.runs[0]?.kind !== 'output' ? (joint.runs[0]?.takes?.id ?? '') : '');
  const phantom = source?.model.ports.some((port) => port.direction === 'output' && needsPhantom(port)) ?? false;
  const demand: Demand = { output: joint.from.port, kinds, phantom: (phantom || needsPhantom(joint.from.port)) && kinds.includes('mic') };
  return piece.model.ports.filter((port) => canTake(port, demand) && !net.entering.has(socket(piece, port).key)).map((port) => port.id);
}
