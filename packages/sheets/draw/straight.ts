import type { Path } from '../drawing';

/** A line from one point to another, in mm. */
export function straight(x1: number, y1: number, x2: number, y2: number, look: Omit<Path, 'kind' | 'points'>): Path {
  const points = [[x1, y1] as const, [x2, y2] as const];
  return { kind: 'path', points, ...look };
}
