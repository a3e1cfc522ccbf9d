import type { Model } from './model';
import type { Piece, Rig } from './rig';

/**
 * Whether two values of plain data say the same in the same order: objects, arrays, maps and what they hold. The order of a map counts, as
 * sheets follow it. What is one and the same, as models mostly are, is not looked into. Nothing in a rig leads back to itself.
 */
export function isSame(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) return false;
  if (Array.isArray(one)) {
    if (!Array.isArray(other) || one.length !== other.length) return false;
    for (let index = 0; index < one.length; index++) if (!isSame(one[index], other[index])) return false;
    return true;
  }
  if (one instanceof Map) return other instanceof Map && one.size === other.size && isSame([...one], [...other]);
  if (Array.isArray(other) || other instanceof Map) return false;
  // Without lists of what they hold: most that is compared is the same, and there is much of it.
  let more = 0;
  for (const key in one) {
    if (!Object.hasOwn(other, key) || !isSame((one as Fields)[key], (other as Fields)[key])) return false;
    more += 1;
  }
  for (const _ in other) more -= 1;
  return more === 0;
}

/** Whether two lists have the very same things in them. Without a closure: it is asked thousands of times a key. */
export function isSameList(one: readonly unknown[], other: readonly unknown[]): boolean {
  if (one === other) return true;
  if (one.length !== other.length) return false;
  for (let index = 0; index < one.length; index++) if (one[index] !== other[index]) return false;
  return true;
}

type Fields = Readonly<Record<string, unknown>>;

/**
 * The same rig, with the very things of an earlier one wherever they say the same, and that one itself where all do: so that what was
 * worked out of a thing holds as long as the thing is the same.
 */
export function sharing(before: Rig, now: Rig): Rig {
  const shared: Rig = {
    ...now,
    night: one(before.night, now.night),
    settings: one(before.settings, now.settings),
    pieces: named(before.pieces, now.pieces, sharingModels(before.pieces)),
    performers: named(before.performers, now.performers),
    sources: named(before.sources, now.sources),
    mixes: named(before.mixes, now.mixes),
    inputs: listed(before.inputs, now.inputs),
    house: listed(before.house, now.house),
    outputs: listed(before.outputs, now.outputs),
  };
  return (Object.keys(shared) as (keyof Rig)[]).every((key) => shared[key] === before[key]) ? before : shared;
}

function one<T>(before: T, now: T): T {
  return isSame(before, now) ? before : now;
}

function listed<T extends { readonly id: string }>(before: readonly T[], now: readonly T[]): readonly T[] {
  const all: T[] = [];
  let known: Map<string, T> | undefined;
  let same = before.length === now.length;
  for (const each of now) {
    // Mostly it is where it was.
    let there = before[all.length];
    if (there?.id !== each.id) {
      known ??= new Map(before.map((other) => [other.id, other]));
      there = known.get(each.id);
    }
    const kept = there === undefined ? each : one(there, each);
    same = same && kept === before[all.length];
    all.push(kept);
  }
  return same ? before : all;
}

function named<T>(
  before: ReadonlyMap<string, T>,
  now: ReadonlyMap<string, T>,
  prepared: (each: T) => T = (each) => each,
): ReadonlyMap<string, T> {
  const order = before.keys();
  /** So many are the same in the same order. */
  let same = 0;
  /** Only made where something is otherwise. */
  let all: Map<string, T> | undefined;
  now.forEach((read, id) => {
    const each = prepared(read);
    const known = before.get(id);
    const kept = known === undefined ? each : one(known, each);
    if (!all && kept === known && order.next().value === id) {
      same += 1;
      return;
    }
    all ??= new Map([...before].slice(0, same));
    all.set(id, kept);
  });
  return all ?? (same === before.size ? before : new Map([...before].slice(0, same)));
}

/** Pieces of one model share it, and each model is looked into once. */
function sharingModels(before: ReadonlyMap<string, Piece>): (piece: Piece) => Piece {
  const known = new Map<string, Model>();
  for (const { model } of before.values()) known.set(model.place, model);
  const kept = new Map<Model, Model>();
  return (piece) => {
    const { model } = piece;
    let shared = kept.get(model);
    if (!shared) {
      shared = one(known.get(model.place) ?? model, model);
      kept.set(model, shared);
    }
    return shared === model ? piece : { ...piece, model: shared };
  };
}
