/** Cures that more than one subject offers: other ports, a swap of two lines, a box in between, a way out for a mix. */
import type { InputRun, Mix, Piece, Port } from '#rig';
import type { Fix } from '../find/finding';
import { isRadio } from '../solve/mating';
import { type Line, type Network, socket } from '../solve/network';
import { askedBy, canTake, type Demand, demandOf, gives48V, takenBy } from '../solve/ports';

/** What a DI or a split gives on: an XLR at microphone level. */
export const FROM_A_BOX: Port = { id: '', direction: 'output', connector: 'xlr', modes: [], separate: false, bank: 0, place: '' };

/** So many are offered: nobody reads a list to its end. */
const MOST_SWAPS = 2;

/** Two lines on one piece of gear that would each be right on the other's port. */
export function swaps(net: Network, line: Line): Fix[] {
  const { run, end } = line;
  if (run.kind !== 'input' || run.to.ports.length !== 1 || !end) return [];
  const mine = demandOf(net, line);
  const found: { readonly place: number; readonly fix: Fix }[] = [];
  for (const group of alikeOn(net, end.piece)) {
    // Of all that are alike one is asked.
    const [{ port, demand }] = group;
    if (!canTake(port, mine) || !canTake(end.port, demand)) continue;
    let taken = 0;
    for (const { line: other, place } of group) {
      if (taken === MOST_SWAPS) break;
      if (other.run === run || other.end?.key === end.key || !other.end) continue;
      found.push({ place, fix: { kind: 'swap', run: run.id, other: other.run.id, ports: [end.port.id, other.end.port.id] } });
      taken += 1;
    }
  }
  return found
    .sort((a, b) => a.place - b.place)
    .slice(0, MOST_SWAPS)
    .map(({ fix }) => fix);
}
/** Lines that ask the same of a port and are on ports that take the same. */
type Alike = [Movable, ...Movable[]];

interface Movable {
  readonly line: Line;
  readonly place: number;
  readonly port: Port;
  readonly demand: Demand;
}

const knownAlike = new WeakMap<Network, ReadonlyMap<Piece, Iterable<Alike>>>();

/** The lines that could be moved on a piece, by what they ask and where they are. Sorted once: the lines of a desk are hundreds and of few kinds. */
function alikeOn(net: Network, piece: Piece): Iterable<Alike> {
  let byPiece = knownAlike.get(net);
  if (!byPiece) {
    const sorted = new Map<Piece, Map<string, Alike>>();
    for (const [place, line] of net.lines.entries()) {
      const { run, end, joints } = line;
      if (run.kind !== 'input' || run.to.ports.length !== 1 || !end || joints.length === 0) continue;
      const movable = { line, place, port: end.port, demand: demandOf(net, line) };
      const groups = sorted.get(end.piece) ?? new Map<string, Alike>();
      sorted.set(end.piece, groups);
      const key = `${askedBy(movable.demand)} on ${takenBy(end.port)}`;
      const group = groups.get(key);
      if (group) group.push(movable);
      else groups.set(key, [movable]);
    }
    byPiece = new Map([...sorted].map(([at, groups]) => [at, [...groups.values()]]));
    knownAlike.set(net, byPiece);
  }
  return byPiece.get(piece) ?? [];
}

/** A DI at the end of a run, where its input is one for microphones; else together with a move to one that is. */
export function boxed(net: Network, line: Line | undefined, where: 'first' | 'last'): Fix[] {
  const end = line?.end;
  if (!line || !end || line.run.kind === 'output') return [];
  const { run } = line;
  const here = boxFor(end.port, run.kind === 'input' ? run.to.ports.length : 1);
  if (here) return [{ kind: 'add-step', run: run.id, model: here, where }];
  if (run.kind !== 'input' || run.to.ports.length !== 1) return [];
  const free = freeInputs(net, end.piece).filter((port) => boxFor(port) === 'active-di');
  return free.slice(0, 2).map((port) => ({
    kind: 'several',
    fixes: [
      { kind: 'move', run: run.id, port: port.id },
      { kind: 'add-step', run: run.id, model: 'active-di', where },
    ],
  }));
}

/** The DI to put before as many inputs: one that needs phantom power only where there is some. None before a line input. */
function boxFor(port: Port, channels = 1): string | undefined {
  if (!canTake(port, { output: FROM_A_BOX, kinds: ['mic'], phantom: false })) return undefined;
  if (channels > 1) return channels === 2 ? 'stereo-di' : undefined;
  return gives48V(port) ? 'active-di' : 'passive-di';
}

// A large rig with much missing asks for the same free ports again and again.
const knownInputs = new WeakMap<Network, Map<Piece, readonly Port[]>>();
const knownOutputs = new WeakMap<Network, Map<boolean, readonly string[]>>();

export function freeInputs(net: Network, piece: Piece): readonly Port[] {
  return remembered(knownInputs, net, piece, () =>
    piece.model.ports.filter((port) => port.direction === 'input' && !net.entering.has(socket(piece, port).key)),
  );
}

/** Free line outputs of gear that makes mixes, one or two next to each other, as they are written: `iface.3`, `iface.3..4`. */
export function freeOutputs(net: Network, wide = false): readonly string[] {
  return remembered(knownOutputs, net, wide, () => findFreeOutputs(net, wide));
}

function remembered<K, V>(known: WeakMap<Network, Map<K, V>>, net: Network, key: K, find: () => V): V {
  const there = known.get(net) ?? new Map<K, V>();
  known.set(net, there);
  const found = there.get(key) ?? find();
  there.set(key, found);
  return found;
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

/** `4` after `3`, `usb2` after `usb1`. */
export function follows(first: string, second: string): boolean {
  const [a, b] = [/^(.*?)(\d+)$/.exec(first), /^(.*?)(\d+)$/.exec(second)];
  return a !== null && b !== null && a[1] === b[1] && Number(b[2]) === Number(a[2]) + 1;
}

/** A way for a mix to leave and be heard: to the transmitter that its listener's pack hears, else by a headphone amplifier. */
export function wayOut(net: Network, mix: Pick<Mix, 'name' | 'stereo' | 'house' | 'for'>): Fix[] {
  const port = freeOutputs(net, mix.stereo)[0];
  if (port === undefined) return [];
  const via = mix.house ? undefined : (transmitterFor(net, mix) ?? 'headphone-amp');
  return [{ kind: 'add-output', mix: mix.name, port, via }];
}

/** A transmitter, and its side, that all the listeners of a mix have a pack for. */
function transmitterFor(net: Network, mix: Pick<Mix, 'stereo' | 'for'>): string | undefined {
  const packs = [...net.rig.pieces.values()].filter((piece) => piece.hears && piece.for.some((id) => mix.for.includes(id)));
  for (const { hears } of packs) {
    const transmitter = net.rig.pieces.get(hears?.piece ?? '');
    if (!hears || !transmitter?.name || !transmitter.model.ports.some(isRadio)) continue;
    const hearing = packs.filter((pack) => pack.hears?.piece === hears.piece && pack.hears.port === hears.port);
    if (!mix.for.every((id) => hearing.some((pack) => pack.for.includes(id)))) continue;
    const sides = freeInputs(net, transmitter);
    const side = sides.find((port) => hears.port === undefined || port.id === hears.port);
    if (mix.stereo && sides.length >= 2 && hears.port === undefined) return transmitter.name;
    if (!mix.stereo && side) return `${transmitter.name}.${side.id}`;
  }
  return undefined;
}

/** Another kind of microphone for a source that is taken by one. */
export function otherMicrophone({ id, kind, model }: Piece, other: string): Fix[] {
  const changes = kind === 'source' && model.lineage.includes('microphone') && !model.lineage.includes(other);
  return changes ? [{ kind: 'set-model', piece: id, model: other }] : [];
}

/** Whether a run has one port, so that it can be moved. */
export function isMovable(run: InputRun): boolean {
  return run.to.ports.length === 1;
}
