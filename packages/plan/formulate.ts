/**
 * The plan as a mixed-integer programme (`programme.ts`). Its columns, all 0 or 1 unless said otherwise:
 *
 *     x_c  the line c is written: a source, a way and a block of inputs (`lines.ts`)
 *     b_k  so many of the phantom switches k are on, which are alike: a whole number
 *     l_e  the link e is plugged; d_g the device g is bought
 *     y_mgw  the mix m is made on the device g, in width w
 *     t_a  a mix leaves by a transmitter; h_a somebody hears a mix, on a lead or by a pack; o_a a mix goes to the house
 *     n_s  so many things of the stock s are bought, a whole number
 *     p_j  a set j of lines stands together that is wrong together though each is fine alone, without being an error
 *
 * Its rows:
 *
 *     of each source           sum x_c <= 1                      one line
 *     of each block            sum width_c x_c <= inputs         (neighbours fit side by side whatever the widths: they are packed anew)
 *     of each switch           sum x_c (of one source, on only) <= b_k;  sum x_c (of one source, off only) <= switches - b_k
 *                              and of several alike: sum width_c x_c (on only) <= inputs a switch * b_k, and off only likewise
 *     of each device           sum milliamps_c x_c <= what its phantom supply has left
 *     of each expander         sum x_c (of one source) <= sum l_e;  sum l_e <= 1;  l_e <= d_g;  one link an input
 *     of each stock            sum uses_c x_c + … <= idle units + units a thing * n_s
 *     of each output block     sum width t_a, h_a, o_a <= outputs
 *     of each transmitter      sides taken <= sides
 *     of each mixer            2 stereo + mono <= 2 count, or as it counts
 *     of each listener         sum h_a <= 1;  h_a <= t_a of its transmission;  each <= y_mgw, sum of which <= 1
 *     where there are several makers: a source of a mix lands where that mix is made, or on what is linked to it; of makers that are alike
 *                              the first makes the first mix, and so on
 *     money                    sum cents_s n_s + … <= what is left of the budget
 *     cuts                     sum of a set of columns <= its size - 1 (+ p_j)
 *
 * Its aims, in their order: `aims.ts`.
 */
import { AIMS, type AimName } from './aims';
import type { Device, Landing } from './devices';
import { grouped } from './grouped';
import { type LineChoice, type Lines, modelsOf, uses } from './lines';
import type { Air, Hearing, Listening, OutBlock, ToHouse, Transmission } from './listening';
import { type Aim, Programme, type Term } from './programme';
import { idleUnits, MOST_BOUGHT, type Stock } from './stock';
import { A_WARNING, type Verdict } from './trial';
import type { Wanted, WantedMix, WantedSource } from './wanted';

export interface Asking {
  readonly wanted: Wanted;
  readonly landing: Landing;
  readonly stocks: readonly Stock[];
  readonly lines: Lines;
  readonly listening: Listening;
  /** Amperes that each device's phantom supply has left, by the device's id. */
  readonly leftA: ReadonlyMap<number, number>;
  /** Hundredths that may be spent; undefined without a budget. */
  readonly cents: number | undefined;
  /** Whether a line is as it was. */
  readonly isChange: (choice: LineChoice | Hearing | ToHouse) => boolean;
  readonly cuts: readonly Cut[];
}

/** Choices that are wrong together. */
export interface Cut {
  readonly together: readonly Chosen[];
  /** It is no error, and only counts. */
  readonly counts?: boolean;
}

export type Chosen =
  | { readonly kind: 'line'; readonly choice: LineChoice }
  | { readonly kind: 'hearing'; readonly choice: Hearing }
  | { readonly kind: 'transmission'; readonly choice: Transmission }
  | { readonly kind: 'house'; readonly choice: ToHouse };

export interface Formulated {
  readonly programme: Programme;
  readonly aims: readonly Aim<AimName>[];
  readonly columns: Columns;
}

export interface Columns {
  readonly line: ReadonlyMap<LineChoice, number>;
  readonly hearing: ReadonlyMap<Hearing, number>;
  readonly transmission: ReadonlyMap<Transmission, number>;
  readonly toHouse: ReadonlyMap<ToHouse, number>;
  readonly link: readonly number[];
  /** How many of them are on, by the id of switches that are alike. */
  readonly bank: readonly number[];
  /** By the device's id, of devices that would be bought. */
  readonly device: ReadonlyMap<number, number>;
  readonly bought: ReadonlyMap<Stock, number>;
}

const one = (column: number, by = 1): Term => ({ column, by });

/** A must that can be served is one that has a line at all. */
export function formulate(asking: Asking, order: readonly AimName[] = AIMS): Formulated {
  return new Formulation(asking).formulated(order);
}

class Formulation {
  private readonly programme = new Programme();
  private readonly line = new Map<LineChoice, number>();
  private readonly hearing = new Map<Hearing, number>();
  private readonly transmission = new Map<Transmission, number>();
  private readonly toHouse = new Map<ToHouse, number>();
  private readonly link: number[] = [];
  private readonly device = new Map<number, number>();
  private readonly bought = new Map<Stock, number>();
  private readonly bank: number[] = [];
  private readonly made = new Map<string, number>();
  private readonly pairs: Term[] = [];
  private readonly money: Term[] = [];

  constructor(private readonly asking: Asking) {}

  formulated(order: readonly AimName[]): Formulated {
    const { landing, lines, listening } = this.asking;
    this.bank.push(...landing.switches.map(({ banks }) => this.programme.column(banks.length)));
    for (const device of landing.devices) if (device.stock) this.device.set(device.id, this.programme.column());
    this.link.push(...landing.links.map(() => this.programme.column()));
    for (const choice of lines.choices) this.line.set(choice, this.programme.column());
    for (const choice of listening.transmissions) this.transmission.set(choice, this.programme.column());
    for (const choice of listening.hearings) this.hearing.set(choice, this.programme.column());
    for (const choice of listening.toHouse) this.toHouse.set(choice, this.programme.column());
    this.sources();
    this.inputs();
    this.switches();
    this.links();
    this.mixes();
    this.makers();
    this.stocks();
    this.cuts();
    const { programme, line, hearing, transmission, toHouse, link, bank, device, bought } = this;
    return { programme, aims: this.aims(order), columns: { line, hearing, transmission, toHouse, link, bank, device, bought } };
  }

  private terms<T>(columns: ReadonlyMap<T, number>, by: (choice: T) => number): Term[] {
    return [...columns].flatMap(([choice, column]) => {
      const weight = by(choice);
      return weight === 0 ? [] : [one(column, weight)];
    });
  }

  // ---- lines -------------------------------------------------------------------------------------

  private of(wanted: WantedSource): [LineChoice, number][] {
    return [...this.line].filter(([choice]) => choice.wanted === wanted);
  }

  private sources(): void {
    for (const wanted of this.asking.wanted.sources) {
      this.programme.row(
        this.of(wanted).map(([, column]) => one(column)),
        { high: 1 },
      );
    }
  }

  private inputs(): void {
    const { blocks, devices } = this.asking.landing;
    for (const block of blocks) {
      this.programme.row(
        this.terms(this.line, (choice) => (choice.block === block ? choice.width : 0)),
        { high: block.ports.length },
      );
    }
    for (const device of devices) {
      const left = this.asking.leftA.get(device.id);
      if (left === undefined) continue;
      const tenths = (amperes: number) => Math.round(amperes * 1e4);
      this.programme.row(
        this.terms(this.line, ({ block, verdict }) => (block?.device === device ? tenths(verdict.drawsA) : 0)),
        { high: tenths(left) },
      );
    }
  }

  private switches(): void {
    for (const { id, banks, set } of this.asking.landing.switches) {
      const column = this.bank[id] as number;
      const count = banks.length;
      if (set) this.programme.row([one(column)], set === 'on' ? { low: count } : { high: 0 });
      const block = this.asking.landing.blocks.find(({ switches }) => switches?.id === id);
      if (block && count > 1) {
        const size = block.stretches[0]?.length ?? 0;
        const wide = (state: 'on' | 'off') =>
          this.terms(this.line, (choice) => (choice.block === block && choice.state === state ? choice.width : 0));
        this.programme.row([...wide('on'), one(column, -size)], { high: 0 });
        this.programme.row([...wide('off'), one(column, size)], { high: size * count });
      }
      for (const wanted of this.asking.wanted.sources) {
        const here = this.of(wanted).filter(([choice]) => choice.block?.switches?.id === id && choice.state !== 'any');
        const terms = (state: 'on' | 'off') => here.filter(([choice]) => choice.state === state).map(([, each]) => one(each));
        const [on, off] = [terms('on'), terms('off')];
        if (on.length > 0) this.programme.row([...on, one(column, -1)], { high: 0 });
        if (off.length > 0) this.programme.row([...off, one(column)], { high: count });
      }
    }
  }

  private links(): void {
    const { devices, links } = this.asking.landing;
    for (const device of devices) {
      const mine = links.filter(({ from }) => from === device);
      const there = this.device.get(device.id);
      this.programme.row(
        mine.map(({ id }) => one(this.link[id] as number)),
        { high: 1 },
      );
      if (there !== undefined) {
        for (const { id } of mine) this.programme.row([one(this.link[id] as number), one(there, -1)], { high: 0 });
      }
      const through = device.makes || device.linked.length > 0 ? [] : mine.map(({ id }) => one(this.link[id] as number, -1));
      const needsLink = !device.makes && device.linked.length === 0 && mine.length > 0;
      for (const wanted of this.asking.wanted.sources) {
        const terms = this.of(wanted)
          .filter(([{ block }]) => block?.device === device)
          .map(([, column]) => one(column));
        if (terms.length === 0) continue;
        if (needsLink) this.programme.row([...terms, ...through], { high: 0 });
        if (there !== undefined) this.programme.row([...terms, one(there, -1)], { high: 0 });
      }
    }
    for (const [at, link] of links.entries()) {
      const same = links.filter(({ to, input }) => to === link.to && input === link.input);
      if (same[0] === link && same.length > 1) {
        this.programme.row(
          same.map(({ id }) => one(this.link[id] as number)),
          { high: 1 },
        );
      }
      const on = this.device.get(link.to.id);
      if (on !== undefined) this.programme.row([one(this.link[at] as number), one(on, -1)], { high: 0 });
    }
  }

  /** What is in a mix lands on the device that makes it, or on one that is linked to it. */
  private makers(): void {
    const { devices, links } = this.asking.landing;
    const makers = devices.filter(({ makes }) => makes);
    if (makers.length < 2) return;
    for (const wanted of this.asking.wanted.mixes) {
      const making = new Map(makers.map((maker) => [maker, [true, false].flatMap((stereo) => this.makingOf(wanted, maker.id, stereo))]));
      const made = (maker: Device) => making.get(maker) ?? [];
      // Not where less of what is written already is in it.
      const there = makers.map((maker) => this.landed(wanted, maker));
      for (const [index, maker] of makers.entries())
        if ((there[index] as number) < Math.max(...there)) this.programme.row(made(maker), { high: 0 });
      for (const source of this.asking.wanted.sources) {
        if (!wanted.mix.sends.some((send) => send.source === source.source.id)) continue;
        for (const device of devices) {
          const lines = this.of(source).flatMap(([{ block }, column]) => (block?.device === device ? [one(column)] : []));
          if (lines.length === 0) continue;
          const away = makers.filter((maker) => maker !== device && !device.linked.some(({ to }) => to === maker.piece));
          const linksTo = (maker: Device) => links.filter(({ from, to }) => from === device && to === maker);
          // A mix is made once: on all those that there can be no link to, together, and on each of the others.
          const never = away.filter((maker) => linksTo(maker).length === 0).flatMap(made);
          const linkable = away.filter((maker) => linksTo(maker).length > 0 && made(maker).length > 0);
          if (linkable.length === 0 && never.length > 0) this.programme.row([...lines, ...never], { high: 1 });
          for (const maker of linkable) {
            const through = linksTo(maker).map(({ id }) => one(this.link[id] as number, -1));
            this.programme.row([...lines, ...never, ...made(maker), ...through], { high: 1 });
          }
        }
      }
    }
    this.alike(makers);
  }

  /** How many of a mix's sources are written to land where a maker has them. */
  private landed({ mix }: WantedMix, maker: Device): number {
    const { wanted, landing } = this.asking;
    const linked = landing.devices.filter((each) => each.linked.some(({ to }) => to === maker.piece));
    const near = new Set([maker, ...linked].map(({ piece }) => piece.id));
    return mix.sends.filter(({ source }) => wanted.rig.inputs.some(({ takes, to }) => takes?.id === source && near.has(to.piece))).length;
  }

  /** Of makers that can stand for each other, a mix is made on the next one only where one before it is made on the one before. */
  private alike(makers: readonly Device[]): void {
    const { wanted, landing, listening } = this.asking;
    if (wanted.sources.some(({ was }) => was.length > 0) || wanted.mixes.some(({ was }) => was.length > 0)) return;
    const used = new Set([...wanted.rig.inputs.map(({ to }) => to.piece), ...wanted.rig.outputs.map(({ from }) => from.piece)]);
    const bare = makers.filter(
      (maker) =>
        !used.has(maker.piece.id) &&
        !listening.made.has(maker.piece.id) &&
        !landing.links.some(({ to }) => to === maker) &&
        !landing.devices.some(({ linked }) => linked.some(({ to }) => to === maker.piece)),
    );
    for (const same of grouped(bare, ({ piece, stock }) => JSON.stringify([piece.model.id, piece.at, stock?.id]))) {
      for (const [index, maker] of same.entries()) {
        const before = same[index - 1];
        if (!before) continue;
        const earlier: Term[] = [];
        for (const mix of wanted.mixes) {
          const made = (on: Device) => [true, false].flatMap((stereo) => this.makingOf(mix, on.id, stereo));
          this.programme.row([...made(maker), ...earlier], { high: 0 });
          for (const { column } of made(before)) earlier.push(one(column, -1));
        }
      }
    }
  }

  // ---- mixes -------------------------------------------------------------------------------------

  private makingOf(wanted: WantedMix, device: number, stereo: boolean): Term[] {
    const column = this.made.get(`${wanted.mix.id} ${device} ${stereo}`);
    return column === undefined ? [] : [one(column)];
  }

  private making(wanted: WantedMix, block: OutBlock, stereo: boolean): number {
    const key = `${wanted.mix.id} ${block.device.id} ${stereo}`;
    const there = this.made.get(key) ?? this.programme.column();
    this.made.set(key, there);
    return there;
  }

  private mixes(): void {
    const { wanted, listening, landing } = this.asking;
    const { programme } = this;
    const leaving: { block: OutBlock; column: number; width: number; wanted: WantedMix; stereo: boolean; who: string }[] = [];
    const leave = (wanted: WantedMix, block: OutBlock, column: number, stereo: boolean, width: number, who: string) =>
      leaving.push({ block, column, width, wanted, stereo, who });
    for (const [choice, column] of this.transmission)
      leave(choice.wanted, choice.block, column, choice.stereo, choice.stereo ? 2 : 1, `by transmitter ${choice.id}`);
    for (const [choice, column] of this.toHouse)
      leave(choice.wanted, choice.block, column, choice.stereo, choice.stereo ? 2 : 1, 'the house');
    for (const [choice, column] of this.hearing) {
      if (choice.how.kind === 'wired') leave(choice.wanted, choice.how.block, column, choice.stereo, widthOf(choice), choice.performer.id);
      else {
        const sent = this.transmission.get(choice.how.by);
        if (sent !== undefined) programme.row([one(column), one(sent, -1)], { high: 0 });
      }
    }
    // For each who hears it, together: the fractions of a solution are then whole more often.
    const alike = new Map<string, { terms: Term[]; making: number }>();
    for (const { block, column, wanted, stereo, who } of leaving) {
      const making = this.making(wanted, block, stereo);
      const key = `${making} ${who}`;
      const there = alike.get(key) ?? { terms: [], making };
      alike.set(key, there);
      there.terms.push(one(column));
    }
    for (const { terms, making } of alike.values()) programme.row([...terms, one(making, -1)], { high: 0 });
    for (const block of listening.blocks) {
      const here = leaving.filter((each) => each.block === block);
      programme.row(
        here.map(({ column, width }) => one(column, width)),
        { high: block.ports.length },
      );
    }
    for (const mix of wanted.mixes) {
      const mine = [...this.made].filter(([key]) => key.startsWith(`${mix.mix.id} `));
      programme.row(
        mine.map(([, column]) => one(column)),
        { high: 1 },
      );
      for (const performer of mix.listeners) {
        programme.row(
          this.terms(this.hearing, (choice) => (choice.wanted === mix && choice.performer === performer ? 1 : 0)),
          { high: 1 },
        );
      }
      programme.row(
        this.terms(this.toHouse, (choice) => (choice.wanted === mix ? 1 : 0)),
        { high: 1 },
      );
      // By one transmitter is enough, and each of those that would be bought is one of several.
      programme.row(
        this.terms(this.transmission, (choice) => (choice.wanted === mix ? 1 : 0)),
        { high: Math.max(1, mix.listeners.length) },
      );
    }
    for (const device of landing.devices) {
      const mixer = device.piece.model.mixes;
      if (!mixer) continue;
      const [stereo, mono] = [2, 1];
      const there = (listening.made.get(device.piece.id) ?? []).reduce((sum, mix) => sum + (mix.stereo ? stereo : mono), 0);
      const terms = [...this.made].flatMap(([key, column]) => {
        const [, id, wide] = key.split(' ');
        return Number(id) === device.id ? [one(column, wide === 'true' ? stereo : mono)] : [];
      });
      programme.row(terms, { high: Math.max(0, (mixer.width === 'stereo' ? 2 * mixer.count : mixer.count) - there) });
      const on = this.device.get(device.id);
      if (on !== undefined) for (const term of terms) programme.row([one(term.column), one(on, -1)], { high: 0 });
    }
    for (const air of listening.airs) if (!air.stock) this.sides(air);
  }

  /** A transmitter that is there: each side once. */
  private sides(air: Air): void {
    const here = [...this.transmission].filter(([choice]) => choice.air === air);
    for (const side of air.sides) {
      this.programme.row(
        here.filter(([choice]) => choice.sides !== 'one' || choice.side === side.id).map(([, column]) => one(column)),
        { high: 1 },
      );
    }
  }

  // ---- what there is of things, and what they cost ------------------------------------------------

  private stocks(): void {
    const { programme } = this;
    const { stocks, landing, cents } = this.asking;
    for (const stock of stocks) {
      if (stock.endless) continue;
      // Transmitters are counted by their sides: a mix on one side leaves the other to another mix.
      const sides = (choice: Transmission) => (choice.air.stock !== stock ? 0 : choice.sides === 'one' ? 1 : choice.air.size);
      const size = this.asking.listening.airs.find((air) => air.stock === stock)?.size;
      const users = [
        ...this.terms(this.line, (choice) => uses(choice, stock)),
        ...this.terms(this.hearing, ({ how }) => (how.kind === 'wired' ? (how.amplifier === stock ? 1 : 0) : how.pack === stock ? 1 : 0)),
        ...this.terms(this.toHouse, ({ step }) => (step?.stock === stock ? 1 : 0)),
        ...this.terms(this.transmission, sides),
      ];
      if (users.length === 0) continue;
      if (!stock.offer) {
        programme.row(users, { high: idleUnits(stock) });
        continue;
      }
      const most = stock.cents > 0 && cents !== undefined ? Math.floor(cents / stock.cents) : MOST_BOUGHT;
      const column = programme.column(Math.min(most, MOST_BOUGHT));
      this.bought.set(stock, column);
      const units = size ?? stock.units.length;
      // A transmitter that is there is one by itself: what stands for those that could be bought is none of them.
      const idle = size === undefined ? idleUnits(stock) : 0;
      programme.row([...users, one(column, -units)], { high: idle });
      // Whoever uses a thing of several units needs it whole.
      if (units > 1 && idle === 0) for (const { column: user } of users) programme.row([one(user), one(column, -1)], { high: 0 });
      if (stock.cents > 0) this.money.push(one(column, stock.cents));
    }
    for (const device of landing.devices) {
      const column = this.device.get(device.id);
      if (column !== undefined && device.stock && device.stock.cents > 0) this.money.push(one(column, device.stock.cents));
    }
    for (const [choice, column] of this.line) {
      const price = centsOf(choice);
      if (price > 0) this.money.push(one(column, price));
    }
    if (cents !== undefined) programme.row(this.money, { high: cents });
  }

  private cuts(): void {
    for (const { together, counts } of this.asking.cuts) {
      const terms = together.flatMap((each) => {
        const column = this.columnOf(each);
        return column === undefined ? [] : [one(column)];
      });
      if (terms.length < together.length) continue;
      if (!counts) {
        this.programme.row(terms, { high: terms.length - 1 });
        continue;
      }
      const pair = this.programme.column();
      this.programme.row([...terms, one(pair, -1)], { high: terms.length - 1 });
      this.pairs.push(one(pair, A_WARNING));
    }
  }

  private columnOf(each: Chosen): number | undefined {
    switch (each.kind) {
      case 'line':
        return this.line.get(each.choice);
      case 'hearing':
        return this.hearing.get(each.choice);
      case 'transmission':
        return this.transmission.get(each.choice);
      case 'house':
        return this.toHouse.get(each.choice);
    }
  }

  // ---- aims --------------------------------------------------------------------------------------

  private aims(order: readonly AimName[]): Aim<AimName>[] {
    const { wanted } = this.asking;
    const served = (need: 'must' | 'should' | 'could') => {
      const sources = this.terms(this.line, (choice) => (choice.wanted.source.need === need ? 1 : 0));
      if (need !== 'must') return sources;
      return [...sources, ...this.terms(this.hearing, () => 1), ...this.terms(this.toHouse, () => 1)];
    };
    const most = (need: 'must' | 'should' | 'could') => {
      const sources = wanted.sources.filter((each) => each.source.need === need && this.of(each).length > 0).length;
      if (need !== 'must') return sources;
      const heard = new Set([...this.hearing.keys()].map((choice) => `${choice.wanted.mix.id} ${choice.performer.id}`)).size;
      return sources + heard + new Set([...this.toHouse.keys()].map((choice) => choice.wanted)).size;
    };
    const of = (measure: (verdict: Verdict) => number) => [
      ...this.terms(this.line, ({ verdict }) => measure(verdict)),
      ...this.terms(this.hearing, ({ verdict }) => measure(verdict)),
      ...this.terms(this.transmission, ({ verdict }) => measure(verdict)),
      ...this.terms(this.toHouse, ({ verdict }) => measure(verdict)),
    ];
    const narrowed = [...this.made].flatMap(([key, column]) => {
      const mix = wanted.mixes.find((each) => key === `${each.mix.id} ${key.split(' ')[1]} false`);
      return mix?.mix.stereo ? [one(column)] : [];
    });
    const changes = [
      ...this.terms(this.line, (choice) => (this.asking.isChange(choice) ? 1 : 0)),
      ...this.terms(this.hearing, (choice) => (this.asking.isChange(choice) ? 1 : 0)),
      ...this.terms(this.toHouse, (choice) => (this.asking.isChange(choice) ? 1 : 0)),
    ];
    const linked = this.link.map((column) => one(column));
    const blocks = this.asking.landing.blocks.length;
    const terms: Readonly<Record<AimName, readonly Term[]>> = {
      must: served('must'),
      should: served('should'),
      could: served('could'),
      width: narrowed,
      dependent: of(({ dependent }) => dependent),
      replugged: of(({ replugged }) => replugged),
      metal: of(({ metal }) => metal),
      warnings: [...of(({ wrong }) => wrong), ...this.pairs],
      money: this.money,
      levels: of(({ levels }) => levels),
      changes,
      leads: [...of(({ leads }) => leads), ...linked],
      length: of(({ length }) => length),
      order: [
        ...this.terms(this.line, (choice) =>
          // Less than nothing for any: where not all find a place, the first do.
          choice.block ? (wanted.sources.length - wanted.sources.indexOf(choice.wanted)) * (choice.block.id - blocks) : 0,
        ),
        ...this.terms(this.hearing, (choice) => {
          const block = choice.how.kind === 'wired' ? choice.how.block : choice.how.by.block;
          return (wanted.mixes.length - wanted.mixes.indexOf(choice.wanted)) * (block.id + 1);
        }),
        ...this.terms(this.toHouse, (choice) => choice.block.id + 1),
      ],
    };
    return order.map((name) => {
      const sense = name === 'must' || name === 'should' || name === 'could' ? 'most' : 'least';
      const bound =
        sense === 'most'
          ? most(name as 'must')
          : terms[name].reduce((sum, { by, column }) => sum + Math.min(0, by) * (this.programme.upper[column] ?? 1), 0);
      return { name, sense, terms: terms[name], bound };
    });
  }
}

/** How many outputs somebody on a lead takes. */
export function widthOf({ stereo, how }: Hearing): number {
  return stereo && how.kind === 'wired' && how.amplifier ? 2 : 1;
}

/** What it costs to take a source another way than it is written. */
export function centsOf({ wanted, way }: LineChoice): number {
  const holding = way.model === 0 ? undefined : modelsOf(wanted)[way.model]?.holding;
  return holding?.price ? Math.round(holding.price.amount * 100) : 0;
}
