/** Names on labels: whole where they fit, else cut in the middle, so that both ends of a name can be read. */
import { widthOf } from '../draw/words';
import { graphemes } from '../graphemes';

/** As much of its start and its end as fits, with an ellipsis between; widths are reckoned as in drawings. */
export function cutMiddle(text: string, size: number, width: number, bold = false): string {
  if (widthOf(text, size, bold) <= width) return text;
  const letters = graphemes(text);
  const widths = letters.map((letter) => widthOf(letter, size, bold));
  let left = width - widthOf('…', size, bold);
  let first = 0;
  let last = letters.length;
  // One from the start, one from the end, as long as there is room.
  for (let fromStart = true; first < last; fromStart = !fromStart) {
    left -= widths[fromStart ? first : last - 1] ?? 0;
    if (left < 0) break;
    if (fromStart) first++;
    else last--;
  }
  return first === 0 ? '' : `${letters.slice(0, first).join('').trimEnd()}…${letters.slice(last).join('').trimStart()}`;
}

/** On two lines at most, broken at a space; the second is cut where it has to be. */
export function onTwo(text: string, size: number, width: number, bold = false): string[] {
  if (widthOf(text, size, bold) <= width) return [text];
  const words = text.split(' ');
  let taken = 0;
  while (taken < words.length - 1 && widthOf(words.slice(0, taken + 1).join(' '), size, bold) <= width) taken++;
  if (taken === 0) return [cutMiddle(text, size, width, bold)];
  return [words.slice(0, taken).join(' '), cutMiddle(words.slice(taken).join(' '), size, width, bold)];
}
