/** The things of a rig, those of one kind together: how many, how they are held, what for. */
import { isThing, type Paid, paidIn, signalLabel, socket } from '#engine';
import type { Holding, Model, Piece, Place } from '#rig';
import { alike } from './alike';
import { type Context, grouped } from './context';
import { unique } from './draft';
import { isExtension } from './extensionLead';

export interface Item {
  readonly key: string;
  readonly model: Model;
  readonly pieces: readonly Piece[];
  /** Nothing where the rig does not say. */
  readonly how?: Holding['how'];
  /** They stay in the case. */
  readonly spare?: true;
  /** Of one of them. */
  readonly price?: Holding['price'];
  /** Names of those that have one; what runs through those that have none: `Bass DI`, `Double bass`. */
  readonly which: readonly string[];
  readonly places: readonly Place[];
}

/** In the order of the rig. What is inside a computer is no thing of its own, and the house's sockets are not ours to list. */
export function itemsOf(context: Context): Item[] {
  const groups = new Map<string, Piece[]>();
  for (const piece of context.checked.rig.pieces.values()) {
    // An extension lead is counted with the leads.
    if (piece.kind === 'house' || !isThing(piece.model) || (piece.kind === 'fresh' && isExtension(piece.model))) continue;
    const { how, price, spare } = piece.holding ?? {};
    const key = [piece.model.id, how ?? 'open', price ? `${price.amount} ${price.currency}` : '', spare && how !== 'spare' ? 'spare' : '']
      .filter(Boolean)
      .join(' ');
    const group = groups.get(key);
    if (group) group.push(piece);
    else groups.set(key, [piece]);
  }
  return [...groups].flatMap(([key, pieces]) => {
    const [first] = pieces;
    return first ? [itemOf(context, key, first, pieces)] : [];
  });
}

function itemOf(context: Context, key: string, first: Piece, pieces: readonly Piece[]): Item {
  return {
    key,
    model: first.model,
    pieces,
    how: first.holding?.how,
    spare: first.holding?.spare,
    price: first.holding?.price,
    which: whichOf(context, pieces),
    places: unique(pieces.map((piece) => (piece.kind === 'fresh' ? statementOf(piece.place) : piece.place))),
  };
}

/** Things of one model together, however they are held: what is counted is alike. In the order of the first of each. */
export function byModel(context: Context, items: readonly Item[]): Item[] {
  const groups = grouped(items, ({ model }) => model.id);
  return [...groups].flatMap(([key, alike]) => {
    const pieces = alike.flatMap((item) => item.pieces);
    const [first] = pieces;
    return first ? [itemOf(context, key, first, pieces)] : [];
  });
}

/** So many of one kind at one price, to be bought or hired. */
export interface PaidItem extends Pick<Item, 'key' | 'model' | 'how' | 'price' | 'which' | 'places'> {
  readonly count: number;
}

/** All that the money goes on, what people wear in their ears with it: what is bought, then what is hired, each in the order of the rig. */
export function paidItemsOf(context: Context): PaidItem[] {
  const { rig } = context.checked;
  const groups = new Map<string, Paid[]>();
  for (const paid of paidIn(rig)) {
    const { how, price } = paid.holding;
    const key = [paid.model.id, how, price ? `${price.amount} ${price.currency}` : ''].filter(Boolean).join(' ');
    groups.set(key, [...(groups.get(key) ?? []), paid]);
  }
  const items = [...groups].flatMap(([key, things]): PaidItem[] => {
    const [first] = things;
    const pieces = things.flatMap(({ id }) => rig.pieces.get(id) ?? []);
    const wearers = things.flatMap(({ id }) => rig.performers.get(id)?.label ?? []);
    const places = unique(things.map(({ id, place }) => (rig.pieces.get(id)?.kind === 'fresh' ? statementOf(place) : place)));
    const { how, price } = first?.holding ?? {};
    return first
      ? [{ key, model: first.model, count: things.length, how, price, which: [...whichOf(context, pieces), ...wearers], places }]
      : [];
  });
  return ['buy', 'hire'].flatMap((how) => items.filter((item) => item.how === how));
}

/** Things by their names, fresh pieces by what runs through them: two for one source (its channels) have one name. */
export function whichOf(context: Context, pieces: readonly Piece[]): string[] {
  const names = new Map<string, string>();
  for (const piece of pieces) {
    const through = piece.kind === 'fresh' ? throughOf(context, piece) : undefined;
    names.set(through?.join() ?? piece.id, through ? labelsOf(context, through).join(', ') : piece.label);
  }
  return alike([...names.values()].filter(Boolean));
}

/** What runs through a piece, by name. */
export function signalsThrough(context: Context, piece: Piece): string[] {
  return labelsOf(context, throughOf(context, piece));
}

function labelsOf({ checked: { rig } }: Context, signals: readonly string[]): string[] {
  return alike(signals.map((id) => signalLabel(rig, id)).filter(Boolean));
}

function throughOf({ checked: { network } }: Context, piece: Piece): string[] {
  const joints = piece.model.ports.flatMap((port) => {
    const { key } = socket(piece, port);
    return [...(network.entering.get(key) ?? []), ...(network.leaving.get(key) ?? [])];
  });
  const lines = joints.flatMap((joint) => network.linesThrough(joint));
  return unique(lines.flatMap((line) => line.signal ?? []));
}

/** `input:iface.3/via.0` stands in `input:iface.3`. */
function statementOf(place: Place): Place {
  return place.split('/', 1)[0] ?? place;
}
