/** Which unit of length a text is written in. */

/** A length, or a comment, which says what it likes. */
const LENGTH = /#.*|\d\s*(?:(ft|foot|feet)|m)\b/g;

/** Asked of a whole text at each key, and most have none. */
const ANY_FEET = /\d\s*(?:ft|foot|feet)\b/;

/** More of their lengths are in feet than in metres. */
export function isInFeet(...texts: readonly string[]): boolean {
  return texts.some((text) => ANY_FEET.test(text)) && texts.reduce((more, text) => more + moreInFeet(text), 0) > 0;
}

/** By how many the lengths in feet are more than those in metres. */
export function moreInFeet(text: string): number {
  let more = 0;
  for (const [found, foot] of text.matchAll(LENGTH)) {
    if (foot !== undefined) more++;
    else if (!found.startsWith('#')) more--;
  }
  return more;
}
