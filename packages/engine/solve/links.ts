/** Links that bring the inputs of one device to another: which of them, at which sample rate. */
import { CONNECTORS, type InputRun, type OutputRun, type Piece, type Port, type Rig } from '#rig';
import { outAt } from './arriving';
import { findPort, type Line, type Network, socket } from './network';
import { canTake, freeInputs, isDigital } from './ports';

export interface Link {
  readonly run: InputRun;
  readonly from: Piece;
  readonly output: Port;
  readonly to: Piece;
  readonly input: Port;
  /** How many channels it carries at the rig's rate; undefined where neither end says. */
  readonly channels: number | undefined;
  /** Ids of the inputs that it could carry, in the device's order. Empty where the device is not made to pass its inputs on. */
  readonly offered: readonly string[];
  /** Those that it does carry. */
  readonly carried: readonly string[];
}

/** Channels that an optical port carries at most: 8 up to 48 kHz, 4 up to 96, 2 up to 192, none above. Common practice, no source. */
export function opticalChannels(rateHz: number): number {
  return rateHz <= 48_000 ? 8 : rateHz <= 96_000 ? 4 : rateHz <= 192_000 ? 2 : 0;
}

/** How many channels go through a link at a rate: what the narrower of its ends states, and no more than light carries. */
export function channelsAt(output: Port, input: Port, rateHz: number): number | undefined {
  const stated = [output, input].flatMap((port) => port.modes.find((mode) => mode.kind === 'digital')?.channels ?? []);
  const optical = [output, input].some(({ connector }) => connector !== undefined && CONNECTORS[connector].family === 'optical');
  const limits = optical ? [...stated, opticalChannels(rateHz)] : stated;
  return limits.length === 0 ? undefined : Math.min(...limits);
}

/**
 * Every digital link from gear to gear. A link carries its inputs in order, as many as it has channels; a second link
 * between the same two goes on where the first has to stop.
 */
export function linksOf(net: Network): readonly Link[] {
  const lines = net.lines.filter(({ run }) => run.kind === 'input' && run.takes?.kind === 'gear');
  return net.kept.once('links', undefined, [net.rig.settings, ...lines], () => linksAmong(net, lines));
}

function linksAmong(net: Network, lines: readonly Line[]): Link[] {
  const links: Link[] = [];
  const before = new Map<string, Set<string>>();
  for (const { run, start, end } of lines) {
    if (run.kind !== 'input' || !start || !end) continue;
    const [output, input] = [start.port, end.port];
    if (![output, input].every((port) => port.modes.some((mode) => mode.kind === 'digital'))) continue;
    const [from, to] = [start.piece, end.piece];
    const pair = `${from.id} ${to.id}`;
    const done = before.get(pair) ?? new Set();
    const offered = output.tie?.inputs ?? [];
    const channels = channelsAt(output, input, net.rig.settings.rateHz);
    const carried = offered.filter((id) => !done.has(id)).slice(0, channels);
    before.set(pair, new Set([...done, ...carried]));
    links.push({ run, from, output, to, input, channels, offered, carried });
  }
  return links;
}

/** Inputs that nothing is plugged into and no line is written for. */
export function openInputs(net: Network, piece: Piece): Port[] {
  return freeInputs(net, piece).filter(({ id }) => !written(net).has(`${piece.id}.${id}`));
}

function written(net: Network): ReadonlySet<string> {
  return net.memory.once('written inputs', undefined, () => writtenInputs(net.rig));
}

/** Gear that mixes leave by, that makes none, and that none comes to. */
export interface Unfed {
  readonly runs: readonly OutputRun[];
  /** Where they would have to come in, as numbers. */
  readonly input: Port;
  /** What could bring them: outputs of gear that makes mixes. */
  readonly from: readonly { readonly piece: Piece; readonly output: Port }[];
}

/** By the ids of the gear. */
export function unfed(net: Network): ReadonlyMap<string, Unfed> {
  return net.memory.once('unfed', undefined, () => findUnfed(net));
}

function findUnfed(net: Network): ReadonlyMap<string, Unfed> {
  const found = new Map<string, { readonly runs: OutputRun[] } & Unfed>();
  for (const run of net.rig.outputs) {
    const piece = net.rig.pieces.get(run.from.piece);
    if (piece?.kind !== 'gear' || piece.model.mixes || run.carries === undefined) continue;
    const input = run.from.ports
      .flatMap((id) => findPort(piece, id, 'output')?.tie?.inputs ?? [])
      .flatMap((id) => findPort(piece, id, 'input') ?? [])[0];
    if (!input || !isLink(input) || net.entering.has(socket(piece, input).key) || written(net).has(`${piece.id}.${input.id}`)) continue;
    const there = found.get(piece.id);
    const from = there?.from ?? makersFor(net, piece, input);
    if (there) there.runs.push(run);
    else if (from.length > 0) found.set(piece.id, { runs: [run], input, from });
  }
  return found;
}

function isLink(port: Port): boolean {
  return port.connector !== undefined && isDigital(port);
}

function makersFor({ rig }: Network, piece: Piece, input: Port): Unfed['from'] {
  return [...rig.pieces.values()].flatMap((maker) => {
    if (maker.kind !== 'gear' || !maker.model.mixes || maker === piece) return [];
    const output = maker.model.ports.find((port) => port.direction === 'output' && canTake(input, outAt(port)));
    return output ? [{ piece: maker, output }] : [];
  });
}

function writtenInputs({ inputs }: Rig): ReadonlySet<string> {
  return new Set(inputs.flatMap(({ to }) => to.ports.map((port) => `${to.piece}.${port}`)));
}
