/** What follows from a thing alone is worked out once, and kept for as long as somebody has the thing. */
export function onceEach<T extends object, V extends {}>(answer: (thing: T) => V): (thing: T) => V {
  const known = new WeakMap<T, V>();
  return (thing) => {
    const there = known.get(thing) ?? answer(thing);
    known.set(thing, there);
    return there;
  };
}
