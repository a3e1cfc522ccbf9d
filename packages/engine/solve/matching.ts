/** Bipartite matching, and the smallest sets that cannot be matched where there are any. */

export interface Matching {
  /** For each left vertex, the right one it got, or undefined. */
  readonly right: readonly (number | undefined)[];
  /**
   * For each left vertex that got none, the right ones reached from it by swaps, all of them taken. Those who hold them, and
   * it, are one more than these, and any one of them left out lets the rest be placed (along the swaps that lead to it): so
   * no smaller set within them has too few.
   */
  readonly stuck: readonly (readonly number[])[];
}

/** `wishes[l]` lists the right vertices that left vertex `l` can have. Augmenting paths, O(V·E). */
export function match(wishes: readonly (readonly number[])[]): Matching {
  const right: (number | undefined)[] = wishes.map(() => undefined);
  const left = new Map<number, number>();
  const stuck: number[][] = [];
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
      stuck.push([...cameFrom.keys()]);
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
  return { right, stuck };
}

/** Left vertices that want, all together, fewer right ones than they are. */
export interface Shortage {
  /** All that can have nothing but `rights`, in rising order: more than `rights`. */
  readonly lefts: readonly number[];
  readonly rights: readonly number[];
}

/** Up to so many different wish lists every union of them is tried: 4,096 sums. */
const MOST_KINDS = 12;

/** Left vertices with the same wishes. */
interface Kind {
  readonly rights: readonly number[];
  readonly lefts: number[];
}

/**
 * What cannot be matched, smallest first; empty exactly where all can be placed (Hall's condition: P. Hall, "On
 * Representatives of Subsets", 1935).
 *
 * A set with too few to choose from may as well hold everybody who can have nothing else, so it is told by what it fights
 * over: a union of wish lists. Of those the smallest with more takers than members is found by trying all unions, and any
 * of its takers, one more than its members, are a smallest set that cannot fit together. Beyond `MOST_KINDS` different
 * lists it is one that `match` is stuck on, narrowed until no smaller one is left within it; elsewhere there may be one.
 *
 * A further shortage is looked for among the rest, without what is fought over already. Where it wants some of that as well,
 * it is told together with whom it shares it.
 */
export function shortages(wishes: readonly (readonly number[])[]): Shortage[] {
  const found: { lefts: Set<number>; rights: Set<number> }[] = [];
  const done = new Set<number>();
  const taken = new Set<number>();
  for (;;) {
    const kinds = kindsOf(wishes, done, taken);
    const contested = kinds.length <= MOST_KINDS ? smallestUnion(kinds) : narrowest(kinds);
    if (!contested) break;
    const crowd = kinds.filter(({ rights }) => rights.every((r) => contested.has(r))).flatMap(({ lefts }) => lefts);
    const shared = found.filter(({ rights }) => crowd.some((l) => (wishes[l] ?? []).some((r) => rights.has(r))));
    for (const l of crowd) done.add(l);
    for (const r of contested) taken.add(r);
    found.push({
      lefts: new Set([...shared.flatMap(({ lefts }) => [...lefts]), ...crowd]),
      rights: new Set([...shared.flatMap(({ rights }) => [...rights]), ...contested]),
    });
  }
  const sorted = (all: Iterable<number>) => [...all].sort((a, b) => a - b);
  return found.map(({ lefts, rights }) => ({ lefts: sorted(lefts), rights: sorted(rights) }));
}

function kindsOf(wishes: readonly (readonly number[])[], done: ReadonlySet<number>, taken: ReadonlySet<number>): Kind[] {
  // Whoever asks has often one list for many: it is looked at once.
  const byList = new Map<readonly number[], Kind>();
  const byMembers = new Map<string, Kind>();
  for (const [l, list] of wishes.entries()) {
    if (done.has(l)) continue;
    let kind = byList.get(list);
    if (!kind) {
      const rights = [...new Set(list)].filter((r) => !taken.has(r)).sort((a, b) => a - b);
      const key = rights.join();
      kind = byMembers.get(key) ?? { rights, lefts: [] };
      byMembers.set(key, kind);
      byList.set(list, kind);
    }
    kind.lefts.push(l);
  }
  return [...byMembers.values()];
}

/** The smallest union of wish lists that has more takers than members. */
function smallestUnion(kinds: readonly Kind[]): ReadonlySet<number> | undefined {
  // Right vertices that the same kinds want are alike: a bit for each kind.
  const wantedBy = new Map<number, number>();
  for (const [index, { rights }] of kinds.entries()) for (const r of rights) wantedBy.set(r, (wantedBy.get(r) ?? 0) | (1 << index));
  const alike = new Map<number, number>();
  for (const bits of wantedBy.values()) alike.set(bits, (alike.get(bits) ?? 0) + 1);
  let best: { readonly chosen: number; readonly size: number } | undefined;
  for (let chosen = 1; chosen < 1 << kinds.length; chosen++) {
    let takers = 0;
    for (const [index, { lefts }] of kinds.entries()) if (chosen & (1 << index)) takers += lefts.length;
    let size = 0;
    for (const [bits, count] of alike) if (bits & chosen) size += count;
    if (takers > size && (!best || size < best.size)) best = { chosen, size };
  }
  const chosen = best?.chosen;
  return chosen === undefined ? undefined : new Set(kinds.flatMap(({ rights }, index) => (chosen & (1 << index) ? rights : [])));
}

/** A union of wish lists with more takers than members, and none such within it. */
function narrowest(kinds: readonly Kind[]): ReadonlySet<number> | undefined {
  let contested = stuckOn(kinds);
  for (const left of contested ?? []) {
    if (!contested?.has(left)) continue;
    const without = contested;
    contested = stuckOn(kinds.filter(({ rights }) => rights.every((r) => r !== left && without.has(r)))) ?? contested;
  }
  return contested;
}

function stuckOn(kinds: readonly Kind[]): ReadonlySet<number> | undefined {
  const { stuck } = match(kinds.flatMap(({ rights, lefts }) => lefts.map(() => rights)));
  return stuck.length === 0 ? undefined : new Set(stuck.reduce((least, each) => (each.length < least.length ? each : least)));
}
