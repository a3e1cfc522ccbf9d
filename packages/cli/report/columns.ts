/** How many columns of a terminal a text takes. */

let measure: ((text: string) => number) | undefined;

const PLAIN = /^[\t\r\n\x20-\x7e]*$/;

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
