/** What there is to plan with: gear that is declared and not in use, and what may be had besides. */
import { follows, memoryOf, type Network, socket } from '#engine';
import type { Holding, Model, Piece, Port, Position } from '#rig';
import { grouped } from './grouped';

/** A model that may be had besides what is declared. `theirs` and `owned` cost nothing and there is enough of them. */
export interface Offer {
  readonly model: Model;
  readonly how: Holding['how'];
  readonly price?: { readonly amount: number; readonly currency: string };
}

/** Ports of a model that belong together: an input with all that is made of it. A split of sixteen ways has sixteen. */
export interface Unit {
  readonly inputs: readonly Port[];
  readonly outputs: readonly Port[];
  /** Outputs that say the same, by what they say: a Y-lead's two are one leg, a transformer split's are two. */
  readonly legs: readonly (readonly Port[])[];
}

/** Things that do the same in any line: of one model, in one place. */
export interface Stock {
  readonly id: number;
  readonly model: Model;
  readonly at?: Position;
  /** Performer ids, where it is meant for somebody. */
  readonly for: readonly string[];
  /** Of each thing, as many units are alike. */
  readonly units: readonly Unit[];
  /** Declared things with the units that are idle. */
  readonly pieces: readonly { readonly piece: Piece; readonly idle: readonly Unit[] }[];
  readonly offer?: Offer;
  /** In hundredths of the currency, of one more thing; 0 where it costs nothing. */
  readonly cents: number;
  /** There is no end of them, at no price. */
  readonly endless: boolean;
}

/** Not more of one thing is bought than anybody needs for one rig. */
export const MOST_BOUGHT = 64;

export function idleUnits(stock: Stock): number {
  return stock.pieces.reduce((sum, { idle }) => sum + idle.length, 0);
}

/** The units of a model, in the order of its inputs. */
export function unitsOf(model: Model): readonly Unit[] {
  return memoryOf(model).once('units', undefined, () => unitsIn(model));
}

function unitsIn(model: Model): Unit[] {
  const inputs = model.ports.filter(({ direction }) => direction === 'input');
  const outputs = model.ports.filter(({ direction }) => direction === 'output');
  const done = new Set<string>();
  const units: Unit[] = [];
  for (const first of inputs) {
    if (done.has(first.id)) continue;
    const ids = new Set([first.id]);
    let mine: Port[] = [];
    for (let size = -1; size !== mine.length + ids.size; ) {
      size = mine.length + ids.size;
      mine = outputs.filter(({ tie }) => tie?.inputs.some((id) => ids.has(id)));
      for (const { tie } of mine) for (const id of tie?.inputs ?? []) ids.add(id);
    }
    for (const id of ids) done.add(id);
    const legs = grouped(mine, saidBy);
    units.push({ inputs: inputs.filter(({ id }) => ids.has(id)), outputs: mine, legs });
  }
  return units;
}

/** All that a port says but its name. */
export function saidBy(port: Port): string {
  const { direction, connector, modes, separate, tailM, tie } = port;
  return JSON.stringify([direction, connector, modes, separate, tailM, tie && { ...tie, inputs: tie.inputs.length }]);
}

export function unitSays(unit: Unit): string {
  return [...unit.inputs, ...unit.outputs].map(saidBy).join();
}

/** A box that a line can go through: one thing in, something out that is neither for ears nor on the air. */
export function isBox({ inputs, outputs }: Unit): boolean {
  const kinds = (port: Port) => port.modes.map(({ kind }) => kind);
  return (
    inputs.length === 1 &&
    outputs.length > 0 &&
    outputs.every(({ tie }) => tie?.how !== 'switch') &&
    [...inputs, ...outputs].every((port) => !kinds(port).some((kind) => kind === 'radio' || kind === 'phones' || kind === 'digital'))
  );
}

/** All stocks of a network and of what is offered. Offers in another currency than the rig's are left out. */
export function stocksOf(
  net: Network,
  offers: readonly Offer[],
  currency: string | undefined,
  without: ReadonlySet<string>,
  loose: readonly Piece[] = [],
): Stock[] {
  const drafts = new Map<string, Omit<Stock, 'id'> & { pieces: { piece: Piece; idle: readonly Unit[] }[] }>();
  const add = (model: Model, units: readonly Unit[], at: Position | undefined, people: readonly string[]) => {
    const key = JSON.stringify([model.id, units.length > 0 && unitSays(units[0] as Unit), at, people]);
    const there = drafts.get(key) ?? { model, at, for: people, units, pieces: [], cents: 0, endless: false };
    drafts.set(key, there);
    return { key, there };
  };
  for (const piece of net.rig.pieces.values()) {
    if (piece.kind !== 'gear' || piece.holding?.how === 'theirs' || piece.model.mixes || piece.hears || without.has(piece.id)) continue;
    for (const units of alike(piece.model)) {
      const idle = units.filter((unit) => [...unit.inputs, ...unit.outputs].every((port) => isFree(net, piece, port)));
      if (idle.length === 0) continue;
      add(piece.model, units, piece.at, piece.for).there.pieces.push({ piece, idle });
    }
  }
  for (const piece of loose) {
    if (piece.holding?.how === 'theirs' || piece.model.mixes) continue;
    for (const idle of alike(piece.model)) add(piece.model, idle, undefined, []).there.pieces.push({ piece, idle });
  }
  for (const offer of offers) {
    const { price, how } = offer;
    const paid = how === 'buy' || how === 'hire';
    if (paid && (!price || (currency !== undefined && price.currency !== currency))) continue;
    for (const units of alike(offer.model)) {
      const { key, there } = add(offer.model, units, undefined, []);
      const cents = paid && price ? Math.round(price.amount * 100) : 0;
      // The cheapest of several offers for one thing.
      if (there.offer && !there.endless && there.cents <= cents) continue;
      drafts.set(key, { ...there, offer, cents, endless: !paid });
    }
  }
  return [...drafts.values()].map((draft, id) => ({ ...draft, id }));
}

/** Units of a model that say the same, together. */
function alike(model: Model): readonly Unit[][] {
  return grouped(unitsOf(model), unitSays);
}

export function isFree(net: Network, piece: Piece, port: Port): boolean {
  const { key } = socket(piece, port);
  return !(port.direction === 'input' ? net.entering.has(key) : net.leaving.has(key));
}

/** Ports next to each other that say the same, in stretches. */
export function stretches(ports: readonly Port[]): Port[][] {
  const all: Port[][] = [];
  for (const port of ports) {
    const last = all.at(-1);
    const before = last?.at(-1);
    if (last && before && before.bank === port.bank && saidBy(before) === saidBy(port) && follows(before.id, port.id)) last.push(port);
    else all.push([port]);
  }
  return all;
}
