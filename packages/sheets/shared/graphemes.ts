let segmenter: Intl.Segmenter | undefined;

/** What a reader takes for one character each. */
export function graphemes(text: string): string[] {
  // The segmenter takes a time that grows with the square of the length: it gets a word at a time, and only where it is needed.
  if (/^[\x20-\x7e]*$/.test(text)) return [...text];
  segmenter ??= new Intl.Segmenter('en', { granularity: 'grapheme' });
  return (text.match(/\s+|\S+/g) ?? []).flatMap((word) => [...(segmenter as Intl.Segmenter).segment(word)].map(({ segment }) => segment));
}
