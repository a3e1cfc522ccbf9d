/** Which unit of length a text is written in. */

/** A length, or a comment, which says what it likes. */
const LENGTH = /#.*|\d\s*(?:(ft|foot|feet)|m)\b/g;

/** More of its lengths are in feet than in metres. */
export function isInFeet(...texts: readonly string[]): boolean {
  let [feet, metres] = [0, 0];
  for (const text of texts) {
    for (const [found, foot] of text.matchAll(LENGTH)) {
      if (foot !== undefined) feet++;
      else if (!found.startsWith('#')) metres++;
    }
  }
  return feet > metres;
}
