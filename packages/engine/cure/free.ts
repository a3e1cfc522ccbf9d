/** Ports that nothing is plugged into. */
import { type InputRun, MOST_COUNTED, type Piece, type Port, type Rig } from '#rig';
import { type Network, socket } from '../solve/network';

/** Free line outputs of gear that makes mixes, one or two next to each other, as they are written: `iface.3`, `iface.3..4`. */
export function freeOutputs(net: Network, wide = false): readonly string[] {
  return net.memory.once('free outputs', wide, () => findFreeOutputs(net, wide));
}

function findFreeOutputs(net: Network, wide: boolean): string[] {
  const used = new Set(net.rig.outputs.flatMap((run) => run.from.ports.map((port) => `${run.from.piece}.${port}`)));
  return [...net.rig.pieces.values()].flatMap((piece) => {
    if (piece.kind !== 'gear' || piece.model.mixes === undefined) return [];
    const outputs = piece.model.ports.filter((port) => port.direction === 'output' && port.modes[0]?.kind === 'line');
    const free = (port: Port | undefined) => port !== undefined && !used.has(`${piece.id}.${port.id}`);
    if (!wide) return outputs.filter(free).map((port) => `${piece.name}.${port.id}`);
    return outputs.flatMap((port, index) => {
      const next = outputs[index + 1];
      return index % 2 === 0 && free(port) && free(next) && follows(port.id, next?.id ?? '')
        ? [`${piece.name}.${port.id}..${next?.id}`]
        : [];
    });
  });
}

/** Amplifiers for earphones in one box that nothing is plugged into, each by its first input, as it is written: `hp.left2`. */
export function freeAmplifiers({ entering, leaving }: Network, piece: Piece): string[] {
  const { name } = piece;
  if (name === undefined) return [];
  return piece.model.ports.flatMap((port) => {
    const { direction, tie, modes } = port;
    const [first] = tie?.inputs ?? [];
    const isAmplifier = direction === 'output' && tie?.how === 'active' && modes.some(({ kind }) => kind === 'phones');
    if (!isAmplifier || first === undefined || leaving.has(socket(piece, port).key)) return [];
    return tie.inputs.every((id) => !entering.has(`${piece.id}.${id}`)) ? [`${name}.${first}`] : [];
  });
}

/** `4` after `3`, `usb2` after `usb1`. */
export function follows(first: string, second: string): boolean {
  const [a, b] = [/^(.*?)(\d+)$/.exec(first), /^(.*?)(\d+)$/.exec(second)];
  return a !== null && b !== null && a[1] === b[1] && Number(b[2]) === Number(a[2]) + 1;
}

/** An input and the one after it, of the same kind, where that is free: `3..4`. */
export function pairFrom(net: Network, run: InputRun): string | undefined {
  const piece = net.rig.pieces.get(run.to.piece);
  const [only, more] = run.to.ports;
  if (!piece || only === undefined || more !== undefined) return undefined;
  const inputs = piece.model.ports.filter(({ direction }) => direction === 'input');
  const here = inputs.find(({ id }) => id === only);
  const next = inputs.find(({ id }) => follows(only, id));
  const kinds = (port: Port) => port.modes.map(({ kind }) => kind).join();
  if (!here || !next || kinds(here) !== kinds(next)) return undefined;
  const written = net.rig.inputs.some((other) => other.to.piece === piece.id && other.to.ports.includes(next.id));
  return written || net.entering.has(socket(piece, next).key) ? undefined : `${here.id}..${next.id}`;
}

/** One after the last of the house's lines that is written, as far as there can be such a number. */
export function freeHouseNumber(rig: Rig): number {
  const numbers = rig.house.map((run) => Number(run.number)).filter((number) => Number.isInteger(number) && number < MOST_COUNTED);
  return numbers.reduce((most, number) => Math.max(most, number), 0) + 1;
}
