/** Bipartite matching by augmenting paths, and the set that cannot be matched where there is one. */

export interface Matching {
  /** For each left vertex, the right one it got, or undefined. */
  readonly right: readonly (number | undefined)[];
  /** Left vertices that want, all together, fewer right ones than they are (Hall's condition fails); empty where all fit. */
  readonly crowded: readonly number[];
  /** All the right vertices that these could have. */
  readonly contested: readonly number[];
}

/** `wishes[l]` lists the right vertices that left vertex `l` can have. O(V·E). */
export function match(wishes: readonly (readonly number[])[]): Matching {
  const right: (number | undefined)[] = wishes.map(() => undefined);
  const left = new Map<number, number>();
  const crowded = new Set<number>();
  const contested = new Set<number>();
  for (const root of wishes.keys()) {
    // Breadth first, so that no chain of swaps can exhaust the stack.
    const cameFrom = new Map<number, number>();
    const reached = new Set([root]);
    const queue = [root];
    let end: number | undefined;
    for (let at = 0; at < queue.length && end === undefined; at++) {
      const l = queue[at] as number;
      for (const r of wishes[l] ?? []) {
        if (cameFrom.has(r)) continue;
        cameFrom.set(r, l);
        const holder = left.get(r);
        if (holder === undefined) {
          end = r;
          break;
        }
        if (!reached.has(holder)) {
          reached.add(holder);
          queue.push(holder);
        }
      }
    }
    if (end === undefined) {
      for (const l of reached) crowded.add(l);
      for (const r of cameFrom.keys()) contested.add(r);
      continue;
    }
    for (let r: number | undefined = end; r !== undefined; ) {
      const l = cameFrom.get(r) as number;
      const previous: number | undefined = right[l];
      right[l] = r;
      left.set(r, l);
      r = l === root ? undefined : previous;
    }
  }
  return { right, crowded: [...crowded].sort((a, b) => a - b), contested: [...contested].sort((a, b) => a - b) };
}
