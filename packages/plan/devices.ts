/**
 * Where lines can land: the gear that makes mixes, and what brings its inputs to it. Its free inputs are sorted into blocks of
 * neighbours that take the same, so that a plan chooses a block and not one of sixteen equal sockets.
 */
import { channelsAt, isRadio, type Link, linksOf, mates, type Network } from '#engine';
import type { Piece, Port } from '#rig';
import { isFree, type Stock, stretches, unitsOf } from './stock';

/** A link that a plan may plug: from an expander's output to a free input of gear that makes mixes. */
export interface LinkChoice {
  readonly id: number;
  readonly from: Device;
  readonly output: Port;
  readonly to: Device;
  readonly input: Port;
  /** Ids of the inputs that it carries at the rig's rate. */
  readonly carries: readonly string[];
}

export interface Device {
  readonly id: number;
  /** Of a device that would be bought, a stand-in. */
  readonly piece: Piece;
  /** What it is taken from, where it would be bought. */
  readonly stock?: Stock;
  readonly makes: boolean;
  /** Links that are written already. */
  readonly linked: readonly Link[];
}

/** Inputs of a phantom switch. */
export interface Bank {
  readonly id: number;
  readonly device: Device;
  readonly bank: number;
}

export interface Block {
  readonly id: number;
  readonly device: Device;
  /** Free ones, next to each other, in order. */
  readonly ports: readonly Port[];
  /** The phantom switch that they share with others. */
  readonly bank?: Bank;
  /** What all of them say. */
  readonly says: string;
}

export interface Landing {
  readonly devices: readonly Device[];
  readonly blocks: readonly Block[];
  readonly banks: readonly Bank[];
  readonly links: readonly LinkChoice[];
}

/** Of gear that may be bought to land lines on, one of each kind is thought of. */
export function landingOf(net: Network, stocks: readonly Stock[], without: ReadonlySet<string>): Landing {
  const written = linksOf(net);
  const devices: Device[] = [];
  const add = (piece: Piece, stock?: Stock) => {
    const makes = piece.model.mixes !== undefined;
    devices.push({ id: devices.length, piece, stock, makes, linked: written.filter(({ from }) => from === piece) });
  };
  const landed = new Set(net.rig.inputs.map(({ to }) => to.piece));
  for (const piece of net.rig.pieces.values()) {
    if (piece.kind !== 'gear' || piece.holding?.how === 'theirs' || without.has(piece.id)) continue;
    if (piece.model.mixes || landed.has(piece.id) || passesOn(piece)) add(piece);
  }
  const maker = devices.some(({ makes }) => makes);
  for (const stock of stocks) {
    const { model, offer } = stock;
    if (!offer || stock.pieces.length > 0) continue;
    const stand: Piece = { id: `gear:#${stock.id}`, kind: 'gear', name: `#${stock.id}`, label: model.label, model, for: [], place: '' };
    if (model.mixes ? !maker : passesOn(stand)) add(stand, stock);
  }
  const links: LinkChoice[] = [];
  for (const from of devices) {
    if (from.makes || from.linked.length > 0) continue;
    const output = passesOn(from.piece);
    if (!output) continue;
    for (const to of devices) {
      if (!to.makes) continue;
      const input = to.piece.model.ports.find(
        (port) => port.direction === 'input' && isDigital(port) && mates(output, port) && isFree(net, to.piece, port),
      );
      const channels = input && channelsAt(output, input, net.rig.settings.rateHz);
      if (input && channels !== 0) {
        const carries = (output.tie?.inputs ?? []).slice(0, channels);
        links.push({ id: links.length, from, output, to, input, carries });
      }
    }
  }
  const banks: Bank[] = [];
  const blocks: Block[] = [];
  for (const device of devices) {
    const carried = device.makes
      ? undefined
      : new Set([...device.linked, ...links.filter(({ from }) => from === device)].flatMap(carriedBy));
    const taken = new Set(net.rig.inputs.flatMap(({ to }) => (to.piece === device.piece.id ? to.ports : [])));
    const free = device.piece.model.ports.filter(
      (port) =>
        port.direction === 'input' &&
        !isRadio(port) &&
        isFree(net, device.piece, port) &&
        !taken.has(port.id) &&
        (!carried || carried.has(port.id)),
    );
    for (const ports of stretches(free)) {
      const first = ports[0] as Port;
      const shared = first.modes.some(({ phantom }) => phantom === 'shared');
      let bank = shared ? banks.find((each) => each.device === device && each.bank === first.bank) : undefined;
      if (shared && !bank) {
        bank = { id: banks.length, device, bank: first.bank };
        banks.push(bank);
      }
      const { direction, connector, modes, tailM } = first;
      blocks.push({ id: blocks.length, device, ports, bank, says: JSON.stringify([direction, connector, modes, tailM]) });
    }
  }
  return { devices, blocks, banks, links };
}

function carriedBy(link: Link | LinkChoice): readonly string[] {
  return 'carries' in link ? link.carries : link.carried;
}

function isDigital({ modes }: Port): boolean {
  return modes.some(({ kind }) => kind === 'digital');
}

/** The output by which gear passes several inputs on as numbers, such as an expander's optical one. */
function passesOn({ model }: Piece): Port | undefined {
  if (model.mixes) return undefined;
  return unitsOf(model)
    .filter(({ inputs }) => inputs.length > 1)
    .flatMap(({ outputs }) => outputs)
    .find((port) => isDigital(port) && port.tie !== undefined);
}
