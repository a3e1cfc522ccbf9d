/** How many columns of a monospaced font a text takes. */
import stringWidth from 'string-width';

const PLAIN = /^[\x20-\x7e]*$/;

export function widthOf(text: string): number {
  return PLAIN.test(text) ? text.length : stringWidth(text);
}
