/** What a rig costs as it is written. */
import type { Piece, Rig } from '#rig';

/** What is to be bought or hired in one currency. Nothing is converted. */
export interface Costs {
  /** In hundredths, so that sums of prices such as 19.90 come out as they do by hand. */
  readonly cents: number;
  readonly pieces: readonly Piece[];
}

export function costsOf({ pieces }: Rig, currency: string): Costs {
  const paid = [...pieces.values()].filter(
    ({ holding }) => (holding?.how === 'buy' || holding?.how === 'hire') && holding.price?.currency === currency,
  );
  return { cents: paid.reduce((sum, { holding }) => sum + Math.round((holding?.price?.amount ?? 0) * 100), 0), pieces: paid };
}
