/** Names on labels: whole where they fit, else cut in the middle, so that both ends of a name can be read. */
import { widthOf } from '../draw/words';

const GRAPHEMES = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** As much of its start and its end as fits, with an ellipsis between; widths are reckoned as in drawings. */
export function cutMiddle(text: string, size: number, width: number, bold = false): string {
  if (widthOf(text, size, bold) <= width) return text;
  const letters = [...GRAPHEMES.segment(text)].map(({ segment }) => segment);
  // No letter is narrower than this, so more than so many need not be tried.
  const most = Math.min(letters.length - 1, Math.floor(width / (NARROWEST * size)));
  for (let kept = most; kept > 0; kept--) {
    const end = Math.floor(kept / 2);
    const first = letters.slice(0, kept - end).join('');
    const last = letters.slice(letters.length - end).join('');
    const cut = `${first.trimEnd()}…${last.trimStart()}`;
    if (widthOf(cut, size, bold) <= width) return cut;
  }
  return '';
}

const NARROWEST = 0.4;

/** On two lines at most, broken at a space; the second is cut where it has to be. */
export function onTwo(text: string, size: number, width: number, bold = false): string[] {
  if (widthOf(text, size, bold) <= width) return [text];
  const words = text.split(' ');
  let taken = 0;
  while (taken < words.length - 1 && widthOf(words.slice(0, taken + 1).join(' '), size, bold) <= width) taken++;
  if (taken === 0) return [cutMiddle(text, size, width, bold)];
  return [words.slice(0, taken).join(' '), cutMiddle(words.slice(taken).join(' '), size, width, bold)];
}
