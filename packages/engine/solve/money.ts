/** What a rig costs as it is written: gear, microphones, boxes, and what people wear in their ears. */
import type { Holding, Model, Place, Rig } from '#rig';

/** One thing that is to be bought or hired. */
export interface Paid {
  /** Of a piece; of earphones, of who wears them. */
  readonly id: string;
  readonly label: string;
  readonly place: Place;
  readonly model: Model;
  readonly holding: Holding;
}

/** What is to be bought or hired in one currency. Nothing is converted. */
export interface Costs {
  /** In hundredths, so that sums of prices such as 19.90 come out as they do by hand. */
  readonly cents: number;
  readonly things: readonly Paid[];
}

/** All that is to be bought or hired, with a price or without; in the order of the rig. */
export function paidIn({ pieces, performers }: Pick<Rig, 'pieces' | 'performers'>): Paid[] {
  const gear = [...pieces.values()].flatMap(({ id, label, place, model, holding, kind }) =>
    holding && kind !== 'house' ? [{ id, label, place, model, holding }] : [],
  );
  const ears = [...performers.values()].flatMap(({ id, label, place, ears: model }) =>
    model?.holding ? [{ id, label: `${label}’s ${model.label}`, place, model, holding: model.holding }] : [],
  );
  return [...gear, ...ears].filter(({ holding: { how } }) => how === 'buy' || how === 'hire');
}

export function costsOf(rig: Pick<Rig, 'pieces' | 'performers'>, currency: string): Costs {
  const things = paidIn(rig).filter(({ holding }) => holding.price?.currency === currency);
  return { cents: things.reduce((sum, { holding }) => sum + Math.round((holding.price?.amount ?? 0) * 100), 0), things };
}
