/** Words as they are printed: a minus is a minus and apostrophes are curly, whoever wrote them. */

/** What stands in straight quotes is to be typed into the rig as it is. */
const TYPED = /("[^"]*")/;

/** `−4 dB`, `Idris’s pack`. A hyphen inside a word or between figures stays one, and so does all that is to be typed: `"gain -4 dB"`. */
export function typeset(words: string): string {
  return words
    .split(TYPED)
    .map((part, index) => (index % 2 === 1 ? part : printed(part)))
    .join('');
}

function printed(words: string): string {
  return words.replace(/(?<![\p{L}\p{N}_.…)-])-(?=\d)/gu, '\u2212').replace(/(?<=\p{L})'(?=\p{L})|(?<=s)'(?= \p{L})/gu, '\u2019');
}
