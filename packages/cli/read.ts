/** Text from files and from standard input: plain UTF-8 and of a size that a rig can have, or a clear reason why not. */
import type { Readable } from 'node:stream';
import { openRegular } from '#server/regular';
import { NotText as NotTextThere } from '#server/text';
import { NotText, Unusable } from './exit';

/** Some two hundred times a large rig; keeps a slip (a disk image, a device without end) from filling the memory. */
const MOST_BYTES = 4 * 1024 * 1024;

/** The text of a file, without a byte order mark unless that is to be kept. Throws `Unusable`. `shown` is how messages call it. */
export async function readText(file: string, shown: string, keepMark = false): Promise<string> {
  try {
    const handle = await openRegular(file);
    try {
      return await textOf(handle.createReadStream({ autoClose: false }), shown, keepMark);
    } finally {
      await handle.close();
    }
  } catch (problem) {
    throw unreadable(problem, shown);
  }
}

/** The bytes of a file, or of standard input (`-`), whatever they are. Throws `Unusable`. */
export async function readBytes(word: string, shown: string): Promise<Buffer> {
  try {
    const handle = word === '-' ? undefined : await openRegular(word);
    try {
      return await bytesOf(handle ? handle.createReadStream({ autoClose: false }) : process.stdin, shown, 16 * 1024 * 1024);
    } finally {
      await handle?.close();
    }
  } catch (problem) {
    throw unreadable(problem, shown);
  }
}

/** The text of a stream, as `readText`. */
export async function textOf(stream: Readable, shown: string, keepMark = false): Promise<string> {
  return decode(await bytesOf(stream, shown, MOST_BYTES), shown, keepMark);
}

async function bytesOf(stream: Readable, shown: string, most: number): Promise<Buffer> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of stream) {
    const bytes = typeof chunk === 'string' ? Buffer.from(chunk) : (chunk as Buffer);
    size += bytes.length;
    if (size > most) throw new NotText(shown, `it is larger than ${most / 1024 / 1024} MB`, 'No rig is: name the file that you meant.');
    chunks.push(bytes);
  }
  return Buffer.concat(chunks);
}

/** The text of a file that has been read already, as `readText`. */
export function textOfBytes(bytes: Buffer, shown: string): string {
  if (bytes.length > MOST_BYTES)
    throw new NotText(shown, `it is larger than ${MOST_BYTES / 1024 / 1024} MB`, 'No rig is: name the file that you meant.');
  return decode(bytes, shown, false);
}

const CURE = 'A rig is plain text in UTF-8: save it as that, or name the file that you meant.';

function decode(bytes: Buffer, shown: string, keepMark: boolean): string {
  const first = bytes.subarray(0, 2).toString('hex');
  if (first === 'fffe' || first === 'feff') throw new NotText(shown, 'it is text in UTF-16', CURE);
  if (bytes.includes(0)) throw new NotText(shown, 'it is not text', CURE);
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: keepMark }).decode(bytes);
  } catch {
    throw new NotText(shown, `it is not text in UTF-8 (the first letter in another encoding is in line ${firstBadLine(bytes)})`, CURE);
  }
}

function firstBadLine(bytes: Buffer): number {
  // Decoded leniently, the first thing that is not UTF-8 becomes a replacement mark.
  const text = bytes.toString('utf-8');
  return text.slice(0, text.indexOf('\uFFFD')).split(/\r\n|\r|\n/).length;
}

const REASONS: Readonly<Record<string, (shown: string) => [what: string, cure: string]>> = {
  ENOENT: (shown) => [`There is no file ${shown}.`, 'Correct the path: it starts from the folder that you are in.'],
  ENOTDIR: (shown) => [`There is no file ${shown}: a part of its path is a file and not a folder.`, 'Correct the path.'],
  EACCES: (shown) => [`${shown} may not be read by you.`, 'Ask for permission to read it, or copy it to a place of your own.'],
  EPERM: (shown) => [`${shown} may not be read by you.`, 'Ask for permission to read it, or copy it to a place of your own.'],
  EISDIR: (shown) => [`${shown} is a folder.`, 'Name a file in it.'],
  ELOOP: (shown) => [`${shown} is a link that leads back to itself.`, 'Name the file that you meant.'],
  ENAMETOOLONG: () => ['That name is longer than a file can have.', 'Correct the path.'],
};

/** Whatever the file system says, as something a person can act on. */
export function unreadable(problem: unknown, shown: string): Unusable {
  if (problem instanceof Unusable) return problem;
  if (problem instanceof NotTextThere) return cannotBeRead(shown, problem.message);
  const code = (problem as NodeJS.ErrnoException).code ?? '';
  const [what, cure] = REASONS[code]?.(shown) ?? [`${shown} cannot be read (${code || String(problem)}).`, 'Name a file that can be read.'];
  return new Unusable(what, cure, problem);
}

/** `reason` goes on after "cannot be read:". */
export function cannotBeRead(shown: string, reason: string): NotText {
  return new NotText(shown, reason, 'Name the file that you meant, or hand its text over on standard input, as "-".');
}
