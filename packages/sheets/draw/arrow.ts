/** How long the head of an arrow is, in mm, on a stroke of this width. */
export function headLength(strokeWidth: number): number {
  return 1.2 + 2 * strokeWidth;
}

/** Half of its height, in parts of its length. */
export const HEAD_HALF = 0.42;
