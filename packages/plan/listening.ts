/** Every way by which a mix can come to somebody's ears, or to the house, each tried with the engine. */
import { floorLength, isRadio, mates, type Network, stockLength } from '#engine';
import type { HouseRun, Mix, OutputRun, Performer, Piece, Port, PortRef, Rig } from '#rig';
import type { Device, Landing } from './devices';
import { isNoDearer, noWorse, portOf, standIn, type Through } from './lines';
import { isBox, isFree, type Stock, stretches, type Unit } from './stock';
import type { Trials, Verdict } from './trial';
import type { WantedMix } from './wanted';

/** Free outputs of a device, next to each other, that give the same. */
export interface OutBlock {
  readonly id: number;
  readonly device: Device;
  readonly ports: readonly Port[];
  readonly says: string;
}

/** A transmitter that is there, or one of those that could be bought. */
export interface Air {
  readonly id: number;
  readonly piece: Piece;
  /** What it is taken from, where it would be bought: then there may be several. */
  readonly stock?: Stock;
  /** Inputs that are free, in order. */
  readonly sides: readonly Port[];
  /** How many sides it has in all. */
  readonly size: number;
}

/** By which sides a mix goes out: both in stereo; one, with a pack that picks it; or one with nothing on the other. */
export type Sides = 'both' | 'one' | 'alone';

/** A mix that leaves by a transmitter. */
export interface Transmission {
  readonly id: number;
  readonly wanted: WantedMix;
  readonly stereo: boolean;
  readonly block: OutBlock;
  readonly air: Air;
  readonly sides: Sides;
  /** Of a transmitter that is there, which side. */
  readonly side?: string;
  readonly verdict: Verdict;
}

export interface Hearing {
  readonly id: number;
  readonly wanted: WantedMix;
  readonly performer: Performer;
  readonly stereo: boolean;
  readonly how: /** On a lead: straight from the device, or by an amplifier of a stock. */
    | { readonly kind: 'wired'; readonly block: OutBlock; readonly amplifier?: Stock }
    /** By a pack that is there and hears it already, or one of a stock. */
    | { readonly kind: 'radio'; readonly by: Transmission; readonly pack?: Stock; readonly worn?: Piece };
  readonly verdict: Verdict;
}

/** A mix on its way to the house. */
export interface ToHouse {
  readonly id: number;
  readonly wanted: WantedMix;
  readonly stereo: boolean;
  readonly block: OutBlock;
  readonly step?: Through;
  readonly verdict: Verdict;
}

export interface Listening {
  readonly blocks: readonly OutBlock[];
  readonly airs: readonly Air[];
  readonly transmissions: readonly Transmission[];
  readonly hearings: readonly Hearing[];
  readonly toHouse: readonly ToHouse[];
  /** Mixes that each device makes already, by its piece's id. */
  readonly made: ReadonlyMap<string, readonly Mix[]>;
}

const hasKind = (port: Port, kind: string) => port.modes.some((mode) => mode.kind === kind);

export function listeningOf(
  net: Network,
  rig: Rig,
  landing: Landing,
  stocks: readonly Stock[],
  mixes: readonly WantedMix[],
  trials: Trials,
  without: ReadonlySet<string>,
): Listening {
  return new Finder(net, rig, landing, stocks, trials, without).all(mixes);
}

class Finder {
  private readonly blocks: OutBlock[] = [];
  private readonly airs: Air[] = [];
  private readonly amplifiers: readonly Stock[];
  private readonly packs: readonly Stock[];
  private readonly boxes: readonly Through[];
  private readonly verdicts = new Map<string, Verdict>();

  constructor(
    net: Network,
    private readonly rig: Rig,
    { devices }: Landing,
    stocks: readonly Stock[],
    private readonly trials: Trials,
    without: ReadonlySet<string>,
  ) {
    const taken = new Set(rig.outputs.flatMap(({ from }) => from.ports.map((port) => `${from.piece}.${port}`)));
    for (const device of devices) {
      if (!device.makes) continue;
      const free = device.piece.model.ports.filter(
        (port) =>
          port.direction === 'output' &&
          !port.tie &&
          (hasKind(port, 'line') || hasKind(port, 'phones')) &&
          !taken.has(`${device.piece.id}.${port.id}`) &&
          isFree(net, device.piece, port),
      );
      for (const ports of stretches(free)) {
        const { connector, modes } = ports[0] as Port;
        this.blocks.push({ id: this.blocks.length, device, ports, says: JSON.stringify([connector, modes]) });
      }
    }
    const onAir = ({ outputs }: Unit) => outputs.some(isRadio);
    for (const piece of rig.pieces.values()) {
      if (piece.kind !== 'gear' || piece.holding?.how === 'theirs' || without.has(piece.id)) continue;
      const inputs = piece.model.ports.filter(({ direction }) => direction === 'input');
      if (!piece.model.ports.some((port) => port.direction === 'output' && isRadio(port)) || inputs.length === 0) continue;
      const sides = inputs.filter((port) => isFree(net, piece, port));
      this.airs.push({ id: this.airs.length, piece, sides, size: inputs.length });
    }
    for (const stock of stocks) {
      const unit = stock.units[0] as Unit;
      if (!stock.offer || !onAir(unit) || stock.endless) continue;
      this.airs.push({
        id: this.airs.length,
        piece: standIn({ ...stock, pieces: [] }),
        stock,
        sides: unit.inputs,
        size: unit.inputs.length,
      });
    }
    this.amplifiers = stocks.filter(({ units: [unit] }) => {
      if (!unit) return false;
      return unit.outputs.some((port) => hasKind(port, 'phones')) && unit.inputs.every((port) => hasKind(port, 'line'));
    });
    this.packs = stocks.filter(({ units: [unit] }) => unit?.inputs.some(isRadio) && unit.outputs.some((port) => hasKind(port, 'phones')));
    this.boxes = stocks.flatMap((stock) => {
      const unit = stock.units[0] as Unit;
      if (!isBox(unit) || stock.offer?.how === 'theirs') return [];
      return unit.legs.length === 1 ? [{ stock }] : unit.legs.map((_, leg) => ({ stock, leg }));
    });
  }

  all(mixes: readonly WantedMix[]): Listening {
    const transmissions: Transmission[] = [];
    const hearings: Hearing[] = [];
    const toHouse: ToHouse[] = [];
    for (const wanted of mixes) {
      for (const stereo of wanted.mix.stereo ? [true, false] : [false]) {
        if (wanted.mix.house) {
          // Over our own loudspeakers it leaves by an output, and nobody else is told.
          if (this.rig.noHouse !== 'none') toHouse.push(...this.houseWays(wanted, stereo));
          continue;
        }
        for (const performer of wanted.listeners) hearings.push(...this.wired(wanted, performer, stereo));
        for (const { transmission, heard } of this.radio(wanted, stereo)) {
          transmissions.push(transmission);
          hearings.push(...heard);
        }
      }
    }
    const made = new Map<string, Mix[]>();
    for (const run of this.rig.outputs) {
      const mix = this.rig.mixes.get(run.carries ?? '');
      const there = made.get(run.from.piece) ?? [];
      if (mix && !there.includes(mix)) made.set(run.from.piece, [...there, mix]);
    }
    const numbered = <T extends { id: number }>(all: readonly T[]) => {
      for (const [id, each] of all.entries()) (each as { id: number }).id = id;
      return all;
    };
    return {
      blocks: this.blocks,
      airs: this.airs,
      transmissions: numbered(transmissions),
      hearings: numbered(hearings),
      toHouse: numbered(toHouse),
      made,
    };
  }

  private wired(wanted: WantedMix, performer: Performer, stereo: boolean): Hearing[] {
    const found: Hearing[] = [];
    for (const block of this.blocks) {
      const port = block.ports[0] as Port;
      if (hasKind(port, 'phones')) {
        const verdict = this.judge(wanted, performer, stereo, { block });
        if (!verdict.blocked) found.push({ id: 0, wanted, performer, stereo, how: { kind: 'wired', block }, verdict });
      }
      if (!hasKind(port, 'line') || block.ports.length < (stereo ? 2 : 1)) continue;
      for (const amplifier of this.amplifiers) {
        const unit = amplifier.units[0] as Unit;
        if (amplifier.for.length > 0 && !amplifier.for.includes(performer.id)) continue;
        if (unit.inputs.length < (stereo ? 2 : 1) || !mates(port, unit.inputs[0] as Port)) continue;
        const verdict = this.judge(wanted, performer, stereo, { block, amplifier });
        if (!verdict.blocked) found.push({ id: 0, wanted, performer, stereo, how: { kind: 'wired', block, amplifier }, verdict });
      }
    }
    // Of two that can be bought and do the same, the cheaper.
    return found.filter(
      (each) =>
        !found.some(
          (other) =>
            other !== each &&
            each.how.kind === 'wired' &&
            other.how.kind === 'wired' &&
            other.how.block === each.how.block &&
            each.how.amplifier !== undefined &&
            other.how.amplifier !== undefined &&
            isNoDearer(other.how.amplifier, each.how.amplifier) &&
            !isNoDearer(each.how.amplifier, other.how.amplifier) &&
            noWorse(other.verdict, each.verdict),
        ),
    );
  }

  private radio(wanted: WantedMix, stereo: boolean): { transmission: Transmission; heard: Hearing[] }[] {
    return this.airs.flatMap((air) =>
      this.blocks.flatMap((block) => {
        const port = block.ports[0] as Port;
        if (!hasKind(port, 'line') || block.ports.length < (stereo ? 2 : 1) || !air.sides.some((side) => mates(port, side))) return [];
        const ways: { sides: Sides; side?: string }[] = [];
        if (stereo) {
          if (air.size >= 2 && air.sides.length === air.size) ways.push({ sides: 'both' });
        } else {
          if (air.size >= 2) {
            if (air.stock) ways.push({ sides: 'one' });
            else for (const side of air.sides) ways.push({ sides: 'one', side: side.id });
          }
          if (air.sides.length === air.size) ways.push({ sides: 'alone' });
        }
        return ways.flatMap((way) => this.sent(wanted, stereo, block, air, way));
      }),
    );
  }

  private sent(
    wanted: WantedMix,
    stereo: boolean,
    block: OutBlock,
    air: Air,
    { sides, side }: { sides: Sides; side?: string },
  ): { transmission: Transmission; heard: Hearing[] }[] {
    const heard: Omit<Hearing, 'how'>[] = [];
    const how: { pack?: Stock; worn?: Piece }[] = [];
    let first: Verdict | undefined;
    const listens = (pack: Piece | undefined) => (pack?.hears?.port === undefined ? sides !== 'one' : pack.hears.port === side);
    for (const performer of wanted.listeners) {
      const worn = [...this.rig.pieces.values()].filter((piece) => piece.hears && piece.for.includes(performer.id));
      const fitting = worn.filter((piece) => piece.hears?.piece === air.piece.id && listens(piece));
      const packs = worn.length > 0 ? [] : this.packs.filter((pack) => pack.for.length === 0 || pack.for.includes(performer.id));
      for (const each of [...fitting.map((piece) => ({ worn: piece })), ...packs.map((pack) => ({ pack }))]) {
        const verdict = this.judge(wanted, performer, stereo, { block, air, sides, side, ...each });
        if (verdict.blocked) continue;
        first ??= verdict;
        heard.push({ id: 0, wanted, performer, stereo, verdict: { ...verdict, leads: 0, length: 0, metal: 0 } });
        how.push(each);
      }
    }
    if (!first) return [];
    const transmission: Transmission = { id: 0, wanted, stereo, block, air, sides, side, verdict: { ...first, warnings: [], wrong: 0 } };
    return [
      {
        transmission,
        heard: heard.map((each, index) => ({ ...each, how: { kind: 'radio', by: transmission, ...(how[index] as { pack?: Stock }) } })),
      },
    ];
  }

  private houseWays(wanted: WantedMix, stereo: boolean): ToHouse[] {
    if (stereo) return [];
    return this.blocks.flatMap((block) => {
      const port = block.ports[0] as Port;
      if (!hasKind(port, 'line')) return [];
      return [undefined, ...(this.rig.noHouse ? [] : this.boxes)].flatMap((step): ToHouse[] => {
        if (step && !mates(port, (step.stock.units[0] as Unit).inputs[0] as Port)) return [];
        const key = JSON.stringify([block.says, block.device.piece.model.id, step?.stock.id, step?.leg, wanted.mix.id]);
        const known = this.verdicts.get(key);
        const verdict = known ?? this.tryHouse(wanted, block, step, key);
        this.verdicts.set(key, verdict);
        return verdict.blocked ? [] : [{ id: 0, wanted, stereo, block, step, verdict }];
      });
    });
  }

  private tryHouse(wanted: WantedMix, block: OutBlock, step: Through | undefined, key: string): Verdict {
    const { rig } = this;
    const device = block.device.piece;
    const pieces = new Map<string, Piece>([[device.id, device]]);
    const mix: Mix = { ...wanted.mix, stereo: false, sends: [] };
    const steps: PortRef[] = [];
    if (step) {
      const piece = standIn(step.stock);
      pieces.set(piece.id, piece);
      steps.push({
        piece: piece.id,
        port: portOf(step, step.stock.pieces[0]?.idle[0] ?? (step.stock.units[0] as Unit)),
        place: 'output:plan/via.0',
      });
    }
    const run: OutputRun = {
      kind: 'output',
      id: 'output:plan',
      from: { piece: device.id, ports: [(block.ports[0] as Port).id], place: 'output:plan/port' },
      carries: mix.id,
      via: steps,
      place: 'output:plan',
    };
    const house: HouseRun[] = [...wanted.house];
    for (const { piece } of house) {
      const there = rig.pieces.get(piece);
      if (there) pieces.set(piece, there);
    }
    const whole: Rig = {
      ...rig,
      pieces,
      sources: new Map(),
      mixes: new Map([[mix.id, mix]]),
      performers: new Map(),
      inputs: [],
      house,
      outputs: [run],
    };
    const kind = JSON.stringify(['to the house', device.model.id, step?.stock.id]);
    return this.trials.way(whole, [run], [], house, { key, kind });
  }

  private judge(
    wanted: WantedMix,
    performer: Performer,
    stereo: boolean,
    way: {
      readonly block: OutBlock;
      readonly amplifier?: Stock;
      readonly air?: Air;
      readonly sides?: Sides;
      readonly side?: string;
      readonly pack?: Stock;
      readonly worn?: Piece;
    },
  ): Verdict {
    const { block, amplifier, air, sides, side, pack, worn } = way;
    const spans = [amplifier ? (amplifier.at ?? performer.at) : undefined, air?.piece.at].map((at) => {
      const metres = floorLength(block.device.piece.at, at);
      return metres === undefined ? undefined : [Math.ceil(metres - 1e-9), stockLength(this.rig, metres)];
    });
    const far = floorLength(block.device.piece.at, performer.at);
    const key = JSON.stringify([
      block.says,
      block.device.piece.model.id,
      amplifier?.id,
      air?.piece.id,
      sides,
      side,
      pack?.id,
      worn?.id,
      stereo,
      performer.ears?.id,
      spans,
      far === undefined ? null : Math.ceil(far - 1e-9),
    ]);
    const known = this.verdicts.get(key);
    if (known) return known;
    const { rig } = this;
    const device = block.device.piece;
    const pieces = new Map<string, Piece>([[device.id, device]]);
    const mix: Mix = { ...wanted.mix, stereo, for: [performer.id], sends: [] };
    const via: PortRef[] = [];
    const packs: Piece[] = [];
    if (amplifier) {
      const piece = { ...standIn(amplifier), ...(amplifier.at ? {} : { at: performer.at }) };
      pieces.set(piece.id, piece);
      const unit = amplifier.pieces[0]?.idle[0] ?? (amplifier.units[0] as Unit);
      via.push({ piece: piece.id, port: amplifierPort(amplifier, unit, stereo), place: 'output:plan/via.0' });
    }
    if (air) {
      pieces.set(air.piece.id, air.piece);
      const port = sides === 'both' ? undefined : (side ?? air.sides[0]?.id);
      via.push({ piece: air.piece.id, port: sides === 'alone' && air.size < 2 ? undefined : port, place: 'output:plan/via.0' });
      const base = worn ?? (pack && standIn(pack));
      if (base) {
        const hears = worn?.hears ?? { piece: air.piece.id, port: sides === 'one' ? port : undefined, place: `${base.id}/hears` };
        packs.push({ ...base, for: [performer.id], hears });
      }
    }
    for (const each of packs) pieces.set(each.id, each);
    const ports = block.ports.slice(0, stereo && !hasKind(block.ports[0] as Port, 'phones') ? 2 : 1).map(({ id }) => id);
    const run: OutputRun = {
      kind: 'output',
      id: 'output:plan',
      from: { piece: device.id, ports, place: 'output:plan/port' },
      carries: mix.id,
      via,
      place: 'output:plan',
    };
    const whole: Rig = {
      ...rig,
      pieces,
      sources: new Map(),
      mixes: new Map([[mix.id, mix]]),
      performers: new Map([[performer.id, performer]]),
      inputs: [],
      house: [],
      outputs: [run],
    };
    const kind = JSON.stringify(['to ears', device.model.id, amplifier?.id, air?.piece.id]);
    const verdict = this.trials.way(whole, [run], packs, [], { key, kind });
    this.verdicts.set(key, verdict);
    return verdict;
  }
}

/** The input of an amplifier's unit by which a mono mix goes in. A stereo mix takes the first two that are free, and names none. */
export function amplifierPort(stock: Stock, unit: Unit, stereo: boolean): string | undefined {
  return stock.units.length > 1 && !stereo ? unit.inputs[0]?.id : undefined;
}
