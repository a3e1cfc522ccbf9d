/** What is left out for want of money: there is room for it, and what it needs besides would have to be bought. */
import type { Model } from '#rig';
import type { Assembled } from './assemble';
import { type Asking, centsOf, widthOf } from './formulate';
import { type LineChoice, modelsOf, uses } from './lines';
import type { Hearing } from './listening';
import type { Found } from './search';
import { idleUnits, type Stock } from './stock';

/** The cheapest that would serve it beside all else that is planned. */
export interface Affording<Choice extends LineChoice | Hearing = LineChoice | Hearing> {
  readonly choice: Choice;
  /** In hundredths, and more than is left. */
  readonly cents: number;
  /** One for each that would be bought. */
  readonly models: readonly Model[];
}

interface Bought {
  readonly cents: number;
  readonly models: readonly Model[];
}

const NOTHING: Bought = { cents: 0, models: [] };

export class Affordable {
  private readonly left: number;
  private readonly assembled: Assembled;

  constructor(asking: Omit<Asking, 'cuts'>, { assembled, best }: Found) {
    this.assembled = assembled;
    const spent = best.reached.find(({ name }) => name === 'money')?.value ?? 0;
    this.left = asking.cents === undefined ? Number.POSITIVE_INFINITY : asking.cents - spent;
  }

  /** The cheapest of these that has room and that the money does not reach for; nothing where one has room and could be paid. */
  of<Choice extends LineChoice | Hearing>(choices: readonly Choice[]): Affording<Choice> | undefined {
    const priced = choices
      .filter((choice) => this.hasRoom(choice))
      .flatMap((choice) => {
        const bought = this.priceOf(choice);
        return bought ? [{ choice, ...bought }] : [];
      });
    const [first] = priced.sort((one, other) => one.cents - other.cents);
    return first && first.cents > this.left ? first : undefined;
  }

  /** Whether there is room for it and it could be paid: what keeps it out is something else. */
  fits(choice: LineChoice | Hearing): boolean {
    const bought = this.hasRoom(choice) ? this.priceOf(choice) : undefined;
    return bought !== undefined && bought.cents <= this.left;
  }

  private hasRoom(choice: LineChoice | Hearing): boolean {
    if ('apart' in choice) {
      const { block } = choice;
      if (!block) return true;
      const taken = this.assembled.inputs.filter((each) => each.choice.block === block);
      return taken.reduce((sum, each) => sum + each.choice.width, 0) + choice.width <= block.ports.length;
    }
    const block = choice.how.kind === 'wired' ? choice.how.block : choice.how.by.block;
    const taken = this.assembled.outputs.filter((each) => blockOf(each.choice) === block);
    const wide = choice.how.kind === 'wired' ? widthOf(choice) : choice.stereo ? 2 : 1;
    return taken.reduce((sum, { run }) => sum + run.from.ports.length, 0) + wide <= block.ports.length;
  }

  /** Undefined where something of it can neither be taken nor bought. */
  private priceOf(choice: LineChoice | Hearing): Bought | undefined {
    if ('apart' in choice) {
      const stocks = new Set(choice.way.steps.map(({ stock }) => stock));
      const boxes = this.sum([...stocks].map((stock) => this.bought(stock, uses(choice, stock))));
      const device = choice.block?.device;
      const isThere = !device?.stock || this.assembled.gear.some(({ stock }) => stock === device.stock);
      const expander = isThere || !device?.stock ? NOTHING : { cents: device.stock.cents, models: [device.stock.model] };
      const cents = centsOf(choice);
      const model = modelsOf(choice.wanted)[choice.way.model];
      return this.sum([boxes, expander, cents > 0 && model ? { cents, models: [model] } : NOTHING]);
    }
    const { how } = choice;
    if (how.kind === 'wired') return how.amplifier ? this.bought(how.amplifier, 1) : NOTHING;
    const isSent = this.assembled.outputs.some((each) => each.choice === how.by);
    const transmitter = isSent || !how.by.air.stock ? NOTHING : { cents: how.by.air.stock.cents, models: [how.by.air.stock.model] };
    return this.sum([transmitter, how.pack ? this.bought(how.pack, 1) : NOTHING]);
  }

  private bought(stock: Stock, units: number): Bought | undefined {
    if (stock.endless) return NOTHING;
    const size = stock.units.length;
    const had = idleUnits(stock) + this.assembled.gear.filter((each) => each.stock === stock).length * size;
    const used =
      this.assembled.inputs.reduce((sum, { choice }) => sum + uses(choice, stock), 0) +
      [...this.assembled.outputs, ...this.assembled.packs].filter(({ choice }) => 'how' in choice && amplifierOrPack(choice) === stock)
        .length;
    const things = Math.ceil(Math.max(0, units - Math.max(0, had - used)) / size);
    if (things === 0) return NOTHING;
    return stock.offer ? { cents: things * stock.cents, models: Array.from({ length: things }, () => stock.model) } : undefined;
  }

  private sum(parts: readonly (Bought | undefined)[]): Bought | undefined {
    const all = parts.flatMap((each) => each ?? []);
    if (all.length < parts.length) return undefined;
    return { cents: all.reduce((total, { cents }) => total + cents, 0), models: all.flatMap(({ models }) => models) };
  }
}

function blockOf(choice: Assembled['outputs'][number]['choice']) {
  if ('how' in choice) return choice.how.kind === 'wired' ? choice.how.block : undefined;
  return choice.block;
}

function amplifierOrPack({ how }: Hearing): Stock | undefined {
  return how.kind === 'wired' ? how.amplifier : how.pack;
}
