/** Where on stage a change is made, in the order in which one walks it for setting up. */

import { type Areas, areasOf } from '../set-up/areas';
import type { Context } from '../shared/context';

export interface Walk {
  /** Of the first of these ids that stands somewhere: `Ilse`, `the house’s stage box`; empty where nobody knows. */
  nameOf(ids: readonly string[]): string;
  /** Those at one place together, in walking order; what is nowhere last. */
  sorted<T>(all: readonly T[], idsOf: (each: T) => readonly string[]): T[];
}

/** By the new rig; what is in the old one alone, by that. */
export function walkOf(after: Context, before: Context): Walk {
  const [now, then] = [standing(after), standing(before)];
  const order = [...now.areas.all, ...then.areas.all].map(({ name }) => name);
  const nameOf = (ids: readonly string[]) => ids.map((id) => now.nameOf(id) ?? then.nameOf(id)).find((name) => name !== undefined) ?? '';
  const rank = (ids: readonly string[]) => {
    const at = order.indexOf(nameOf(ids));
    return at < 0 ? order.length : at;
  };
  return { nameOf, sorted: (all, idsOf) => all.toSorted((a, b) => rank(idsOf(a)) - rank(idsOf(b))) };
}

function standing(context: Context): { readonly areas: Areas; nameOf(id: string): string | undefined } {
  const { rig } = context.checked;
  const areas = areasOf(context);
  return {
    areas,
    nameOf(id) {
      const piece = rig.pieces.get(id);
      if (piece) return areas.of(piece)?.name;
      const performer = rig.performers.get(id);
      return performer?.at && performer.label;
    },
  };
}
