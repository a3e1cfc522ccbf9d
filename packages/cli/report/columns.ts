/** How many columns of a terminal a text takes. */

let measure: ((text: string) => number) | undefined;

/** Each of these takes one column by itself: Latin letters with and without accents, and the marks that our sentences are set with. */
export const PLAIN = /^[\t\r\n\x20-\x7e\xa1-\xac\xae-\u024f\u2010-\u2027\u2030-\u203a\u2212]*$/;

/** Has to be called before these are measured. What knows the widths of all letters takes as long to load as a rig to be read. */
export async function prepareFor(texts: Iterable<string>): Promise<void> {
  if (measure) return;
  for (const text of texts) {
    if (PLAIN.test(text)) continue;
    measure = (await import('string-width')).default;
    return;
  }
}

export function columnsOf(text: string): number {
  return measure ? measure(text) : text.length;
}

/** What a reader takes for one letter each. */
export function* lettersOf(text: string): Iterable<string> {
  if (PLAIN.test(text)) yield* text;
  else for (const { segment } of new Intl.Segmenter().segment(text)) yield segment;
}
