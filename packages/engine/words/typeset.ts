/** Words as they are printed: a minus is a minus and apostrophes are curly, whoever wrote them. */

/** What stands in straight quotes is to be typed into the rig as it is. */
const TYPED = /("[^"]*")/;

/** `−4 dB`, `Idris’s pack`. A hyphen inside a word or between figures stays one, and so does all that is to be typed: `"gain -4 dB"`. */
export function typeset(words: string): string {
  if (!words.includes('"')) return printed(words);
  return words
    .split(TYPED)
    .map((part, index) => (index % 2 === 1 ? part : printed(part)))
    .join('');
}

const HYPHEN = /(?<![\p{L}\p{N}_.…)-])-(?=\d)/gu;
const APOSTROPHE = /(?<=\p{L})'(?=\p{L})|(?<=s)'(?= \p{L})/gu;

/** Most words have neither, and each key has hundreds of messages typeset. */
function printed(words: string): string {
  const signed = words.includes('-') ? words.replace(HYPHEN, '\u2212') : words;
  return signed.includes("'") ? signed.replace(APOSTROPHE, '\u2019') : signed;
}
