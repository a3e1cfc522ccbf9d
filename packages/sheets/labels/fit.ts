/** Names on labels on two lines. */
import { fitted, widthOf } from '../draw/words';

/** On two lines at most, broken at a space; the second is cut where it has to be. */
export function onTwo(text: string, size: number, width: number, bold = false): string[] {
  if (widthOf(text, size, bold) <= width) return [text];
  const words = text.split(' ');
  let taken = 0;
  while (taken < words.length - 1 && widthOf(words.slice(0, taken + 1).join(' '), size, bold) <= width) taken++;
  if (taken === 0) return [fitted(text, size, width, bold)];
  return [words.slice(0, taken).join(' '), fitted(words.slice(taken).join(' '), size, width, bold)];
}
