import { fitted, widthOf } from './words';

/** As much of it as fits, the last word whole: a port's number says more than the end of its gear's name. */
export function fittedToLast(text: string, size: number, width: number, bold = false): string {
  const at = text.lastIndexOf(' ');
  const last = text.slice(at);
  const room = width - widthOf(last, size, bold);
  if (at <= 0 || widthOf(text, size, bold) <= width || room < width / 3) return fitted(text, size, width, bold);
  return fitted(text.slice(0, at), size, room, bold) + last;
}
