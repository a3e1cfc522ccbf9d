/** What a plan buys or hires, with what for. */
import type { Holding, Model } from '#rig';
import type { Assembled } from './assemble';
import { centsOf } from './formulate';
import { modelsOf } from './lines';

export interface Purchase {
  readonly model: Model;
  readonly how: Holding['how'];
  readonly count: number;
  /** In hundredths, of all of them. */
  readonly cents: number;
  /** Labels of the sources, mixes and people that it serves. */
  readonly serves: readonly string[];
}

export function purchasesOf({ gear, inputs }: Assembled): Purchase[] {
  const found = new Map<string, Purchase>();
  const add = (model: Model, how: Holding['how'], cents: number, serves: readonly string[]) => {
    const key = `${model.id} ${how} ${cents}`;
    const there = found.get(key);
    found.set(key, {
      model,
      how,
      count: (there?.count ?? 0) + 1,
      cents: (there?.cents ?? 0) + cents,
      serves: [...new Set([...(there?.serves ?? []), ...serves.filter(Boolean)])],
    });
  };
  for (const { stock, serves } of gear) if (stock.cents > 0) add(stock.model, stock.offer?.how ?? 'buy', stock.cents, serves);
  for (const { choice } of inputs) {
    const cents = centsOf(choice);
    const model = modelsOf(choice.wanted)[choice.way.model];
    if (cents > 0 && model) add(model, model.holding?.how ?? 'buy', cents, [choice.wanted.source.label]);
  }
  return [...found.values()];
}
