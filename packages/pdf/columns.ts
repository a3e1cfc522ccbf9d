/** How wide the columns of a table are, by what stands in them. In points. */
import { type Need as Crowded, crowded, sum } from '#sheets/print';

export interface Need extends Crowded {
  readonly number: boolean;
}

/** A table that needs less is not drawn out over the whole page, where the eye would lose the row. */
const SMALL = 0.6;

/** `room` is for all columns, gaps not counted. Together they take no more. */
export function columnWidths(needs: readonly Need[], room: number): number[] {
  const most = sum(needs.map((need) => need.most));
  if (most > room) return crowded(needs, room);
  const wanted = most < room * SMALL ? room * SMALL : room;
  // Numbers stay near what they belong to; words get what is left.
  const words = sum(needs.filter((need) => !need.number).map((need) => need.most));
  const spare = wanted - most;
  return needs.map((need) => need.most + (words === 0 ? spare / needs.length : need.number ? 0 : (spare * need.most) / words));
}
