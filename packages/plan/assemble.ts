/** A solution as lines and gear: each choice gets its socket and its piece, and the rig is written with them. */
import type { HouseRun, InputRun, Mix, Model, OutputRun, Piece, Port, PortRef, Rig, Source } from '#rig';
import type { Device, LinkChoice } from './devices';
import type { Asking, Columns } from './formulate';
import { type LineChoice, modelsOf, portOf, type Through, theirsOn } from './lines';
import { amplifierPort, type Hearing, type OutBlock, type ToHouse, type Transmission } from './listening';
import type { Stock, Unit } from './stock';

/** Gear that the plan brings into the rig. */
export interface NewGear {
  readonly piece: Piece;
  readonly stock: Stock;
  /** What it is for: the labels of sources, mixes or performers. */
  readonly serves: readonly string[];
}

export interface PlannedInput {
  readonly choice: LineChoice;
  readonly runs: readonly InputRun[];
  /** The house's lines with their ways, where these are the plan's. */
  readonly house: readonly HouseRun[];
  /** Gear on the way that is there or bought, in order. */
  readonly pieces: readonly Piece[];
}

export interface PlannedOutput {
  readonly choice: Hearing | ToHouse | Transmission;
  readonly run: OutputRun;
  readonly mix: Mix;
}

export interface PlannedPack {
  readonly choice: Hearing;
  readonly piece: Piece;
  readonly isNew: boolean;
}

export interface Assembled {
  /** The rig with the plan in it. */
  readonly rig: Rig;
  readonly gear: readonly NewGear[];
  readonly inputs: readonly PlannedInput[];
  readonly links: readonly { readonly link: LinkChoice; readonly run: InputRun }[];
  readonly outputs: readonly PlannedOutput[];
  readonly packs: readonly PlannedPack[];
  /** Who hears a mix by a pack that is there and set already. */
  readonly worn: readonly Hearing[];
  /** Mixes that are made mono. */
  readonly narrowed: readonly Mix[];
  /** Lines that the house is to be told of. */
  readonly told: readonly HouseRun[];
}

export function assemble(asking: Asking, columns: Columns, values: ArrayLike<number>): Assembled {
  return new Assembler(asking, columns, values).assembled();
}

interface Open {
  readonly piece: Piece;
  readonly idle: Unit[];
}

class Assembler {
  private readonly pieces: Map<string, Piece>;
  private readonly names: Set<string>;
  private readonly gear: (NewGear & { serves: string[] })[] = [];
  private readonly open = new Map<Stock, Open[]>();
  private readonly devices = new Map<Device, Piece>();
  private readonly inputs: PlannedInput[] = [];
  private readonly outputs: PlannedOutput[] = [];
  private readonly packs: PlannedPack[] = [];
  private readonly airs = new Map<Stock, { readonly piece: Piece; readonly sides: Port[] }[]>();

  constructor(
    private readonly asking: Asking,
    private readonly columns: Columns,
    private readonly values: ArrayLike<number>,
  ) {
    const { rig } = asking.wanted;
    this.pieces = new Map(rig.pieces);
    this.names = new Set([...rig.pieces.values()].flatMap(({ name }) => name ?? []));
    for (const name of [...rig.sources.values(), ...rig.mixes.values()]) this.names.add(name.name);
  }

  assembled(): Assembled {
    const { rig } = this.asking.wanted;
    const { landing, listening } = this.asking;
    for (const device of landing.devices) if (device.stock && this.is(this.columns.device.get(device.id))) this.buyDevice(device);
    const links = landing.links.filter(({ id }) => this.is(this.columns.link[id])).map((link) => ({ link, run: this.linked(link) }));
    const chosen = [...this.columns.line].filter(([, column]) => this.is(column)).map(([choice]) => choice);
    const ports = new Map<LineChoice, readonly string[]>();
    for (const block of landing.blocks) {
      const here = chosen.filter((choice) => choice.block === block);
      for (const [choice, mine] of packed(
        block,
        here,
        wasOf,
        ({ width }) => width,
        ({ state }) => state,
      ))
        ports.set(choice, mine);
    }
    // What stays as it was keeps its boxes; then boxes that serve a stereo line whole need all their units.
    const moves = (choice: LineChoice) => (this.asking.isChange(choice) || choice.wanted.was.length === 0 ? 1 : 0);
    for (const choice of [...chosen].sort((a, b) => moves(a) - moves(b) || b.width - a.width)) this.input(choice, ports.get(choice) ?? []);
    const order = [...this.columns.line.keys()];
    this.inputs.sort((a, b) => order.indexOf(a.choice) - order.indexOf(b.choice));

    const sent = [...this.columns.transmission].filter(([, column]) => this.is(column)).map(([choice]) => choice);
    const heard = [...this.columns.hearing].filter(([, column]) => this.is(column)).map(([choice]) => choice);
    const brought = [...this.columns.toHouse].filter(([, column]) => this.is(column)).map(([choice]) => choice);
    // A transmitter that nobody listens to is none.
    const wanted = sent.filter((choice) => heard.some(({ how }) => how.kind === 'radio' && how.by === choice));
    const wired = heard.filter(({ how }) => how.kind === 'wired');
    const told: HouseRun[] = [];
    for (const block of listening.blocks) {
      const here: (Hearing | ToHouse | Transmission)[] = [
        ...wired.filter(({ how }) => how.kind === 'wired' && how.block === block),
        ...wanted.filter((choice) => choice.block === block),
        ...brought.filter((choice) => choice.block === block),
      ];
      const inOrder = here.sort((a, b) => rank(rig, a.wanted.mix) - rank(rig, b.wanted.mix));
      for (const [choice, mine] of packed({ stretches: [block.ports] }, inOrder, wasOut, widthOut)) this.output(choice, block, mine);
    }
    for (const choice of heard) if (choice.how.kind === 'radio') this.pack(choice);
    const narrowed = [
      ...new Set([...heard, ...brought].filter(({ wanted: { mix }, stereo }) => mix.stereo && !stereo).map((each) => each.wanted.mix)),
    ];
    for (const { wanted: each } of brought) {
      if (each.house.length > 0 || rig.noHouse) continue;
      const number = nextNumber(rig, told.length);
      const id = `house:plan-${number}`;
      const model = [...rig.pieces.values()].find(({ kind }) => kind === 'house');
      if (model) this.pieces.set(id, { ...model, id, label: `house ${number}`, place: id });
      const takes = { kind: 'mix', id: each.mix.id, place: `${id}/takes` } as const;
      told.push({ kind: 'house', id, number: String(number), label: each.mix.label, piece: id, ownMic: false, takes, via: [], place: id });
    }
    const ways = new Map(this.inputs.flatMap(({ house }) => house.map((run) => [run.id, run])));
    const sources = new Map(
      [...rig.sources].map(([id, source]): [string, Source] => {
        const choice = chosen.find(({ wanted: each }) => each.source.id === id);
        return [id, choice && choice.way.model > 0 ? { ...source, instead: insteadOf(choice) } : source];
      }),
    );
    const mixes = new Map([...rig.mixes].map(([id, mix]): [string, Mix] => [id, narrowed.includes(mix) ? { ...mix, stereo: false } : mix]));
    const whole: Rig = {
      ...rig,
      pieces: this.pieces,
      sources,
      mixes,
      inputs: [...rig.inputs, ...links.map(({ run }) => run), ...this.inputs.flatMap(({ runs }) => runs)],
      house: [...rig.house.map((run) => ways.get(run.id) ?? run), ...told],
      outputs: [...rig.outputs, ...this.outputs.map(({ run }) => run)],
    };
    const worn = heard.filter(({ how }) => how.kind === 'radio' && how.worn);
    return { worn, rig: whole, gear: this.gear, inputs: this.inputs, links, outputs: this.outputs, packs: this.packs, narrowed, told };
  }

  private is(column: number | undefined): boolean {
    return column !== undefined && Math.round(this.values[column] ?? 0) > 0;
  }

  // ---- gear --------------------------------------------------------------------------------------

  private nameFor(wished: string): string {
    let name = wished;
    for (let count = 2; this.names.has(name); count++) name = `${wished}-${count}`;
    this.names.add(name);
    return name;
  }

  private buy(stock: Stock, name: string, serves: string, label = stock.model.label, more: Partial<Piece> = {}): Piece {
    const written = this.nameFor(name);
    const { offer, model } = stock;
    const piece: Piece = {
      id: `gear:${written}`,
      kind: 'gear',
      name: written,
      label,
      model,
      holding: offer && { how: offer.how, price: offer.price },
      for: [],
      place: `gear:${written}`,
      ...more,
    };
    this.pieces.set(piece.id, piece);
    this.gear.push({ piece, stock, serves: [serves] });
    return piece;
  }

  /** A piece without a name, in its place in a line. */
  private fresh(place: string, model: Model, holding?: Piece['holding']): void {
    this.pieces.set(place, { id: place, kind: 'fresh', label: model.label, model, holding, for: [], place });
  }

  private buyDevice(device: Device): void {
    if (device.stock) this.devices.set(device, this.buy(device.stock, device.stock.model.mixes ? 'interface' : 'expander', ''));
  }

  private deviceOf(device: Device): Piece {
    return this.devices.get(device) ?? device.piece;
  }

  /** Units of a stock that are free: `whole` of one piece, of the one that `was` there if it is free, else of the next. Bought where there is none. */
  private take(stock: Stock, whole: number, name: string, serves: string, was?: PortRef): { piece: Piece; unit: Unit } {
    const there = this.open.get(stock) ?? stock.pieces.map(({ piece, idle }) => ({ piece, idle: [...idle] }));
    this.open.set(stock, there);
    const open = there.filter(({ idle }) => idle.length >= whole);
    let from = open.find(({ piece }) => piece.id === was?.piece) ?? open[0];
    if (!from) {
      from = { piece: this.buy(stock, name, serves), idle: [...stock.units] };
      there.push(from);
    }
    const before = from.piece.id === was?.piece ? from.idle.findIndex(({ outputs }) => outputs.some(({ id }) => id === was.port)) : -1;
    const at = whole === 1 ? Math.max(0, before) : 0;
    const unit = from.idle[at] as Unit;
    from.idle.splice(at, whole);
    const bought = this.gear.find(({ piece }) => piece === from.piece);
    if (bought && !bought.serves.includes(serves)) bought.serves.push(serves);
    return { piece: from.piece, unit };
  }

  // ---- lines -------------------------------------------------------------------------------------

  private linked({ from, output, to, input }: LinkChoice): InputRun {
    const [expander, device] = [this.deviceOf(from), this.deviceOf(to)];
    const id = `input:plan-link-${expander.name}`;
    const several = expander.model.ports.filter(({ direction, tie }) => direction === 'output' && tie).length > 1;
    return {
      kind: 'input',
      id,
      to: { piece: device.id, ports: [input.id], place: `${id}/port` },
      takes: { kind: 'gear', id: expander.id, port: several ? output.id : undefined, place: `${id}/takes` },
      via: [],
      pad: false,
      place: id,
    };
  }

  private input(choice: LineChoice, ports: readonly string[]): void {
    const { wanted, way, width, apart, block, theirs, off } = choice;
    const { source } = wanted;
    const model = modelsOf(wanted)[way.model] as Model;
    const channels = model.ports.filter(({ direction, separate }) => direction === 'output' && separate);
    if (way.model > 0) this.pieces.set(source.id, { ...wanted.piece, model });
    const pieces: Piece[] = [];
    const via = (id: string): PortRef[] =>
      way.steps.map((step, index) => {
        const place = `${id}/via.${index}`;
        if (step.stock.endless) {
          this.fresh(place, step.stock.model);
          return { piece: place, port: portOf(step, step.stock.units[0] as Unit), place };
        }
        const whole = width > 1 && !apart;
        const was = wanted.was[0]?.via[index];
        const { piece, unit } = this.take(step.stock, whole ? width : 1, `${source.name}-${step.stock.model.id}`, source.label, was);
        const port = whole ? undefined : portOf(step, unit);
        if (piece.kind === 'fresh') {
          this.fresh(place, piece.model, piece.holding);
          return { piece: place, port, place };
        }
        pieces.push(piece);
        return { piece: piece.id, port, place };
      });
    const runs: InputRun[] = [];
    if (block) {
      const device = this.deviceOf(block.device);
      for (const [channel, mine] of (apart ? ports.map((id) => [id]) : [ports]).entries()) {
        const id = `input:plan-${source.name}${apart ? `.${channels[channel]?.id}` : ''}`;
        runs.push({
          kind: 'input',
          id,
          to: { piece: device.id, ports: mine, place: `${id}/port` },
          takes: { kind: 'source', id: source.id, port: apart ? channels[channel]?.id : way.takes, place: `${id}/takes` },
          via: via(id),
          pad: false,
          phantom: off ? 'off' : undefined,
          place: id,
        });
      }
    }
    const house = wanted.open.flatMap((run): HouseRun[] => {
      const steps = [...(block ? [] : via(run.id)), ...theirsOn(run, theirs, this.pieces)];
      return steps.length > 0 ? [{ ...run, via: steps }] : [];
    });
    this.inputs.push({ choice, runs, house, pieces });
  }

  // ---- mixes -------------------------------------------------------------------------------------

  private output(choice: Hearing | ToHouse | Transmission, block: OutBlock, ports: readonly string[]): void {
    const { mix } = choice.wanted;
    const who = 'performer' in choice ? choice.performer.name : '';
    const id = `output:plan-${mix.name}-${who}-${this.outputs.length}`;
    const via: PortRef[] = [];
    const step = (piece: Piece, port: string | undefined) => {
      const place = `${id}/via.${via.length}`;
      if (piece.kind === 'fresh') this.fresh(place, piece.model, piece.holding);
      via.push({ piece: piece.kind === 'fresh' ? place : piece.id, port, place });
    };
    if ('air' in choice) {
      const { piece, port } = this.air(choice);
      step(piece, port);
    } else if ('how' in choice) {
      const amplifier = choice.how.kind === 'wired' ? choice.how.amplifier : undefined;
      if (amplifier?.endless) {
        const place = `${id}/via.0`;
        this.fresh(place, amplifier.model);
        via.push({ piece: place, place });
      } else if (amplifier) {
        const { piece, unit } = this.take(amplifier, 1, `${who}-${amplifier.model.id}`, choice.performer.label);
        step(piece, amplifierPort(amplifier, unit, choice.stereo));
      }
    } else if (choice.step) {
      const taken: Through = choice.step;
      const { piece, unit } = this.take(taken.stock, 1, `${mix.name}-${taken.stock.model.id}`, mix.label);
      step(piece, portOf(taken, unit));
    }
    const run: OutputRun = {
      kind: 'output',
      id,
      from: { piece: this.deviceOf(block.device).id, ports, place: `${id}/port` },
      carries: mix.id,
      via,
      place: id,
    };
    this.outputs.push({ choice, run, mix });
  }

  private readonly sideOf = new Map<Transmission, { piece: Piece; port: string | undefined }>();

  private air(choice: Transmission): { piece: Piece; port: string | undefined } {
    const known = this.sideOf.get(choice);
    if (known) return known;
    const { air, sides, side } = choice;
    const found = air.stock ? this.boughtAir(air.stock, choice) : { piece: air.piece, port: side ?? air.sides[0]?.id };
    const result = { piece: found.piece, port: sides === 'both' || air.size < 2 ? undefined : found.port };
    this.sideOf.set(choice, result);
    return result;
  }

  private boughtAir(stock: Stock, { sides, air, wanted }: Transmission): { piece: Piece; port: string | undefined } {
    const there = this.airs.get(stock) ?? [];
    this.airs.set(stock, there);
    const need = sides === 'one' ? 1 : air.size;
    let from = there.find((each) => each.sides.length >= need);
    if (!from) {
      from = { piece: this.buy(stock, 'transmitter', wanted.mix.label), sides: [...air.sides] };
      there.push(from);
    }
    const [port] = from.sides.splice(0, need);
    const bought = this.gear.find(({ piece }) => piece === from.piece);
    if (bought && !bought.serves.includes(wanted.mix.label)) bought.serves.push(wanted.mix.label);
    return { piece: from.piece, port: port?.id };
  }

  private pack(choice: Hearing): void {
    const { how, performer } = choice;
    if (how.kind !== 'radio' || !how.pack) return;
    const { piece: air, port } = this.air(how.by);
    const hears = { piece: air.id, port: how.by.sides === 'one' ? port : undefined, place: '' };
    const owned = this.take(how.pack, 1, `pack-${performer.name}`, performer.label);
    const bought = this.gear.find(({ piece }) => piece === owned.piece);
    const label = bought ? `${performer.label}'s pack` : owned.piece.label;
    const piece: Piece = { ...owned.piece, label, for: [performer.id], hears: { ...hears, place: `${owned.piece.id}/hears` } };
    this.pieces.set(piece.id, piece);
    if (bought) this.gear[this.gear.indexOf(bought)] = { ...bought, piece };
    this.packs.push({ choice, piece, isNew: bought !== undefined });
  }
}

function insteadOf({ wanted, way }: LineChoice): readonly Model[] {
  return modelsOf(wanted).filter((_, index) => index !== way.model);
}

const rank = (rig: Rig, mix: Mix) => [...rig.mixes.keys()].indexOf(mix.id);

function nextNumber({ house }: Rig, more: number): number {
  return house.reduce((most, { number }) => Math.max(most, Number(number) || 0), 0) + 1 + more;
}

/** The ports that a line was on, where it stays on the same gear. */
function wasOf({ wanted, block, apart }: LineChoice): readonly string[] | undefined {
  const [was, ...more] = wanted.was;
  return was && more.length === 0 && !apart && was.to.piece === block?.device.piece.id ? was.to.ports : undefined;
}

function wasOut(choice: Hearing | ToHouse | Transmission): readonly string[] | undefined {
  const block = 'how' in choice ? (choice.how.kind === 'wired' ? choice.how.block : undefined) : choice.block;
  return choice.wanted.was.find(({ from }) => from.piece === block?.device.piece.id)?.from.ports;
}

function widthOut(choice: Hearing | ToHouse | Transmission): number {
  if (!choice.stereo) return 1;
  return 'how' in choice && choice.how.kind === 'wired' && !choice.how.amplifier ? 1 : 2;
}

/**
 * Ports of a block for each: where they were, as far as the others then find room, else side by side, the wide ones first. On inputs of
 * several phantom switches a line goes where the switch is as it needs it: what is to be on fills them from the first, what is to be off
 * from the last.
 */
function packed<T>(
  { stretches }: { readonly stretches: readonly (readonly Port[])[] },
  choices: readonly T[],
  was: (choice: T) => readonly string[] | undefined,
  width: (choice: T) => number,
  state: (choice: T) => 'on' | 'off' | 'any' = () => 'any',
): Map<T, readonly string[]> {
  const several = stretches.length > 1;
  for (const keep of [true, false]) {
    const free = stretches.map((ports) => ports.map(({ id }) => id));
    const states: ('on' | 'off' | undefined)[] = stretches.map(() => undefined);
    const placed = new Map<T, readonly string[]>();
    const put = (choice: T, at: number, ids: readonly string[]) => {
      const mine = free[at] as string[];
      mine.splice(mine.indexOf(ids[0] as string), ids.length);
      const needs = state(choice);
      if (needs !== 'any') states[at] = needs;
      placed.set(choice, ids);
    };
    const suits = (choice: T, at: number) => !several || state(choice) === 'any' || (states[at] ?? state(choice)) === state(choice);
    for (const choice of keep ? choices : []) {
      const before = was(choice);
      const at = before ? free.findIndex((ids) => before.every((id) => ids.includes(id))) : -1;
      if (before && at >= 0 && before.length === width(choice) && suits(choice, at)) put(choice, at, before);
    }
    const order = { on: 0, off: 1, any: 2 };
    const rest = choices
      .filter((choice) => !placed.has(choice))
      .sort((a, b) => (several ? order[state(a)] - order[state(b)] : 0) || width(b) - width(a));
    for (const choice of rest) {
      const all = stretches.map((_, index) => index);
      const found = (state(choice) === 'off' ? all.reverse() : all).flatMap((at) => {
        const start = suits(choice, at) ? roomIn(stretches[at] ?? [], free[at] ?? [], width(choice)) : undefined;
        return start ? [{ at, start }] : [];
      })[0];
      if (!found) break;
      put(choice, found.at, found.start);
    }
    if (placed.size === choices.length) return placed;
  }
  return new Map();
}

/** The first neighbours that are free. */
function roomIn(ports: readonly Port[], free: readonly string[], width: number): string[] | undefined {
  const ids = ports.map(({ id }) => id);
  const start = ids.findIndex((_, at) => at + width <= ids.length && ids.slice(at, at + width).every((id) => free.includes(id)));
  return start < 0 ? undefined : ids.slice(start, start + width);
}
