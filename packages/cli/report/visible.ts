/** Text from a file, made safe to print: what would steer a terminal, or turn the direction of reading, is shown instead. */

// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
const STEERING = /[\u0000-\u0008\u000B-\u001F\u007F-\u009F\u061C\u200E\u200F\u202A-\u202E\u2028\u2029\u2066-\u2069]/g;

/** Tabs and line ends stay as they are. */
export function visible(text: string): string {
  return text.replace(STEERING, (letter) => {
    const code = letter.charCodeAt(0);
    if (code < 0x20) return String.fromCharCode(0x2400 + code);
    return code === 0x7f ? '\u2421' : `<U+${code.toString(16).toUpperCase().padStart(4, '0')}>`;
  });
}

/** JSON in which such letters are written by their number; it says the same. */
export function escaped(json: string): string {
  return json.replace(STEERING, (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`);
}
