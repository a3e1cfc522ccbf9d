/** Which inputs could take a signal. */
import type { Model, Piece, Port, SignalKind, Tie } from '#rig';
import { isRadio, mates } from './mating';
import { memoryOf } from './memory';
import { type Joint, type Line, type Network, socket } from './network';
import { kindsAt, wholePath } from './path';

export interface Demand {
  readonly output: Port;
  readonly kinds: readonly SignalKind[];
  readonly phantom: boolean;
}

/** Whether phantom power goes through: over the signal wires, and back by pin 1 (IEC 61938), which what is isolated does not join. */
export function passesPhantom(tie: Tie | undefined): boolean {
  return (tie?.how === 'parallel' || tie?.how === 'switch') && !tie.isolated;
}

export function canTake(port: Port, demand: Demand): boolean {
  return (
    port.direction === 'input' &&
    mates(demand.output, port) &&
    port.modes.some((mode) => demand.kinds.includes(mode.kind) && (!demand.phantom || mode.phantom !== undefined))
  );
}

/** Equal for demands that the same ports can meet. */
export function askedBy({ output, kinds, phantom }: Demand): string {
  return `${output.connector} ${isRadio(output)} ${kinds.join()} ${phantom}`;
}

/** Equal for inputs that can take the same. */
export function takenBy(input: Port): string {
  return `${input.connector} ${input.modes.map(({ kind, phantom }) => `${kind} ${phantom}`).join()}`;
}

/** Whether a microphone's output needs power from the port it goes to. */
export function needsPhantom(output: Port): boolean {
  return output.modes.some((mode) => mode.phantom === 'needed');
}

/** Whether a source, such as a condenser microphone, does nothing without phantom power. */
export function isNeedy(source: Piece): boolean {
  return source.model.ports.some((port) => port.direction === 'output' && needsPhantom(port));
}

/** Whether phantom power can destroy a source. */
export function isHarmed(source: Piece): boolean {
  return source.model.ports.some((port) => port.direction === 'output' && port.modes.some((mode) => mode.phantom === 'harmful'));
}

/** How an input feeds phantom power to what is plugged into it: by itself, or on a switch that it shares; undefined where it cannot. */
export function supplyOf(input: Port): 'each' | 'shared' | undefined {
  for (const { phantom } of input.modes) if (phantom === 'each' || phantom === 'shared') return phantom;
  return undefined;
}

/** Whether an input can feed phantom power to what is plugged into it. */
export function gives48V(input: Port): boolean {
  return supplyOf(input) !== undefined;
}

/** What the last lead of a line brings. */
export function demandOf(net: Network, line: Line): Demand {
  const path = wholePath(net, line);
  const output = path.at(-1)?.from.port ?? { id: '', direction: 'output', modes: [], separate: false, bank: 0, place: '' };
  const source = net.rig.pieces.get(line.signal ?? '');
  const phantom = source?.kind === 'source' && isNeedy(source) && !path.some(({ from: { port } }) => port.tie && !passesPhantom(port.tie));
  return { output, kinds: kindsAt(path), phantom: phantom || needsPhantom(output) };
}

/** Free inputs on the gear that a joint goes to, which could take its signal: port ids in the gear's order. */
export function freePortsFor(net: Network, joint: Joint, kinds: readonly SignalKind[]): string[] {
  const { piece } = joint.to;
  const source = net.rig.pieces.get(joint.runs[0]?.kind !== 'output' ? (joint.runs[0]?.takes?.id ?? '') : '');
  const phantom = source !== undefined && isNeedy(source);
  const demand: Demand = { output: joint.from.port, kinds, phantom: (phantom || needsPhantom(joint.from.port)) && kinds.includes('mic') };
  const could = takersOf(piece.model, demand);
  return could.filter((port) => !net.entering.has(socket(piece, port).key)).map((port) => port.id);
}

/** The ports of a model that could take what is asked for. A large device is asked again and again by lines that ask the same. */
function takersOf(model: Model, demand: Demand): readonly Port[] {
  return memoryOf(model).once('takers', askedBy(demand), () => model.ports.filter((port) => canTake(port, demand)));
}

/** The inputs of a piece that nothing is plugged into. */
export function freeInputs(net: Network, piece: Piece): readonly Port[] {
  return net.memory.once('free inputs', piece, () =>
    piece.model.ports.filter((port) => port.direction === 'input' && !net.entering.has(socket(piece, port).key)),
  );
}

/** Numbers alone go through it, and no sound. */
export function isDigital({ modes }: Port): boolean {
  return modes.length > 0 && modes.every(({ kind }) => kind === 'digital');
}
