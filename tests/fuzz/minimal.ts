/** The least of a text that still shows something. */

/**
 * Leaves out lines, then words, then letters, ever smaller stretches at a time, as long as `shows` holds of what is left (delta debugging:
 * Zeller and Hildebrandt, "Simplifying and Isolating Failure-Inducing Input", 2002). Gives up after `patienceMs`.
 */
export async function minimal(text: string, shows: (text: string) => Promise<boolean>, patienceMs = 30_000): Promise<string> {
  const end = performance.now() + patienceMs;
  let least = text;
  for (const cut of [/(?<=\n)/, /(?<=\s)(?=\S)|(?<=\S)(?=\s)/, /(?:)/u]) {
    let pieces = least.split(cut);
    for (let size = Math.ceil(pieces.length / 2); size >= 1; ) {
      let shrunk = false;
      for (let at = 0; at < pieces.length && performance.now() < end; ) {
        const rest = pieces.toSpliced(at, size);
        if (rest.length < pieces.length && (await shows(rest.join('')))) {
          pieces = rest;
          shrunk = true;
        } else at += size;
      }
      if (size > 1) size = Math.floor(size / 2);
      else if (!shrunk || performance.now() >= end) break;
    }
    least = pieces.join('');
  }
  return least;
}
