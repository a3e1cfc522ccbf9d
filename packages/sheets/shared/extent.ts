/** How much paper something takes. */
export interface Extent {
  readonly pages: number;
  /** How much of the last is used, as a part of its height. */
  readonly last: number;
}

/** Of a page, down to the last words on it. */
const NEARLY_EMPTY = 0.35;

/** Whether the last page has next to nothing on it, so that it is worth being spared. */
export function nearlyEmpty({ pages, last }: Extent): boolean {
  return pages > 1 && last <= NEARLY_EMPTY;
}
