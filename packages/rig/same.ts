/**
 * Whether two values of plain data say the same in the same order: objects, arrays, maps and what they hold. The order of a map counts, as
 * sheets follow it. What is one and the same, as models mostly are, is not looked into. Nothing in a rig leads back to itself.
 */
export function isSame(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) return false;
  if (Array.isArray(one)) {
    return Array.isArray(other) && one.length === other.length && one.every((each, index) => isSame(each, other[index]));
  }
  if (one instanceof Map) return other instanceof Map && one.size === other.size && isSame([...one], [...other]);
  if (Array.isArray(other) || other instanceof Map) return false;
  const keys = Object.keys(one);
  return (
    keys.length === Object.keys(other).length &&
    keys.every((key) => Object.hasOwn(other, key) && isSame((one as Fields)[key], (other as Fields)[key]))
  );
}

type Fields = Readonly<Record<string, unknown>>;
