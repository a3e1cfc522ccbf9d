/** The text of a list's file: in UTF-8 with or without a mark, in UTF-16, or in Windows-1252, as programs for tables write it. */

/** A list that cannot be used, in words for the person who has it. */
export class UnusableList extends Error {
  constructor(
    readonly what: string,
    readonly cure: string,
  ) {
    super(`${what} ${cure}`);
  }
}

/** Some ten thousand times a long list: keeps a slip from filling the memory. */
export const MOST_BYTES = 16 * 1024 * 1024;

/** Throws `UnusableList` for what is no text. */
export function decodeList(bytes: Uint8Array): string {
  if (bytes.length > MOST_BYTES)
    throw new UnusableList(`The list is larger than ${MOST_BYTES / 1024 / 1024} MB.`, 'No channel list is: name the file that you meant.');
  const begins = String.fromCharCode(...bytes.subarray(0, 5));
  if (begins.startsWith('PK\u0003\u0004') || begins.startsWith('\u00D0\u00CF\u0011\u00E0'))
    throw new UnusableList(
      'This is the file of a spreadsheet program, and not a list in plain text.',
      'Save it as CSV there, and take that.',
    );
  if (begins === '%PDF-')
    throw new UnusableList('This is a PDF.', 'Copy the list out of it and save it as plain text, a row a line, or ask for it as CSV.');
  const text = textOf(bytes);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
  if (/[\u0000-\u0008\u000E-\u001A]/.test(text)) throw new UnusableList('This is not text.', 'Take a list in plain text, as CSV.');
  return text;
}

/** So many halves that are nothing make it UTF-16: text in any other encoding has none. */
const SURE = 4;

function textOf(bytes: Uint8Array): string {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (first === 0xfe && second === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  // Without a mark: the half of each plain letter, of a tab or the end of a line, is nothing, and always the same half.
  const start = bytes.subarray(0, 200);
  const zeros = (from: number) => start.filter((byte, index) => index % 2 === from && byte === 0).length;
  const isEven = bytes.length % 2 === 0;
  if (isEven && zeros(1) >= SURE && zeros(0) === 0) return new TextDecoder('utf-16le').decode(bytes);
  if (isEven && zeros(0) >= SURE && zeros(1) === 0) return new TextDecoder('utf-16be').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return windows1252(bytes);
  }
}

/** What 0x80 to 0x9F are there, by the WHATWG's Encoding standard; Node 20 has a decoder of that name that takes them for control signs. */
const HIGH = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008DŽ\u008F\u0090‘’“”•–—˜™š›œ\u009DžŸ';

function windows1252(bytes: Uint8Array): string {
  const letters: string[] = [];
  for (const byte of bytes) letters.push(byte >= 0x80 && byte < 0xa0 ? (HIGH[byte - 0x80] ?? '') : String.fromCharCode(byte));
  return letters.join('');
}
