/**
 * Where lines can land: the gear that makes mixes, and what brings its inputs to it. Its free inputs are sorted into blocks of
 * neighbours that take the same, so that a plan chooses a block and not one of sixteen equal sockets.
 */
import { channelsAt, isRadio, isTheirs, type Link, linksOf, mates, type Network } from '#engine';
import type { Piece, Port } from '#rig';
import { grouped } from './grouped';
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

/** Phantom switches that are alike: of as many free inputs each, and nothing written decides any of them. Only how many are on matters. */
export interface Switches {
  readonly id: number;
  readonly device: Device;
  /** The banks of the device's inputs, as ports have them. */
  readonly banks: readonly number[];
  /** What is written has them on, or would be harmed by it. */
  readonly set?: 'on' | 'off';
}

export interface Block {
  readonly id: number;
  readonly device: Device;
  /** Free ones that take the same, in order. */
  readonly ports: readonly Port[];
  /** The same, in stretches of neighbours: one for each of its switches, where it has any. */
  readonly stretches: readonly (readonly Port[])[];
  /** The phantom switches that they share: with others, where it is one; else one a stretch, all stretches of one length. */
  readonly switches?: Switches;
  /** What all of them say. */
  readonly says: string;
}

/** What decides a phantom switch already, by the device and the inputs on it. */
export type Preset = (device: Piece, inputs: readonly string[]) => 'on' | 'off' | undefined;

export interface Landing {
  readonly devices: readonly Device[];
  readonly blocks: readonly Block[];
  readonly switches: readonly Switches[];
  readonly links: readonly LinkChoice[];
}

/**
 * Of gear that may be bought to land lines on, one of each kind is thought of. `widths` are those of the lines that are wanted: switches are
 * taken together only where stretches of their length can be filled by any mix of them.
 */
export function landingOf(
  net: Network,
  stocks: readonly Stock[],
  without: ReadonlySet<string>,
  widths: readonly number[],
  preset: Preset,
): Landing {
  const written = linksOf(net);
  const devices: Device[] = [];
  const add = (piece: Piece, stock?: Stock) => {
    const makes = piece.model.mixes !== undefined;
    devices.push({ id: devices.length, piece, stock, makes, linked: written.filter(({ from }) => from === piece) });
  };
  const landed = new Set(net.rig.inputs.map(({ to }) => to.piece));
  const there = [...net.rig.pieces.values()].filter(({ id, kind }) => kind === 'gear' && !without.has(id));
  const oursMakes = there.some((piece) => piece.model.mixes && !isTheirs(piece));
  for (const piece of there) {
    // The house's desk makes the mixes where nothing of ours does.
    if (isTheirs(piece) && (oursMakes || !piece.model.mixes)) continue;
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
  const switches: Switches[] = [];
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
    const all = stretches(free);
    const isShared = ([first]: readonly Port[]) => first?.modes.some(({ phantom }) => phantom === 'shared') === true;
    const stateOf = (bank: number) => {
      const inputs = device.piece.model.ports.filter((port) => port.direction === 'input' && port.bank === bank);
      return preset(
        device.piece,
        inputs.map(({ id }) => id),
      );
    };
    const groups = grouped(all, (ports) => {
      const [first] = ports as [Port];
      if (!isShared(ports)) return first.id;
      const alone = all.filter(([other]) => other?.bank === first.bank).length === 1;
      const fills = widths.every((width) => ports.length % width === 0);
      return alone && fills ? JSON.stringify([saysOf(first), ports.length, stateOf(first.bank)]) : first.id;
    });
    for (const group of groups) {
      const first = group[0]?.[0] as Port;
      const banks = group.map(([port]) => (port as Port).bank);
      let shared: Switches | undefined;
      if (isShared(group[0] ?? [])) {
        shared = switches.find((each) => each.device === device && each.banks.includes(first.bank));
        if (!shared) {
          shared = { id: switches.length, device, banks, set: stateOf(first.bank) };
          switches.push(shared);
        }
      }
      blocks.push({ id: blocks.length, device, ports: group.flat(), stretches: group, switches: shared, says: saysOf(first) });
    }
  }
  return { devices, blocks, switches, links };
}

function saysOf({ direction, connector, modes, tailM }: Port): string {
  return JSON.stringify([direction, connector, modes, tailM]);
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
