/** What of a file can be a rig. Whoever reads the file, the server or its client, goes by this. */

/** Some hundred times the largest rig; keeps a slip from filling the memory. */
const MOST_BYTES = 16 * 1024 * 1024;

/** A file that is there and cannot be a rig. The message goes after "cannot be read:". */
export class NotText extends Error {}

/** Throws `NotText` for a file of more bytes than any rig has; it need not be read for that. */
export function refuseTooLarge(bytes: number): void {
  if (bytes > MOST_BYTES) throw new NotText(`it is larger than ${MOST_BYTES / 1024 / 1024} MB`);
}

/** A byte order mark is left out, as editors leave it out of the text that they show and count. Throws `NotText`. */
export function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new NotText('it is not text in UTF-8');
  }
}

/** Why a file that is there could not be read; nothing where it is just not there. */
export function reasonOf(problem: unknown): string | undefined {
  return problem instanceof NotText ? problem.message : undefined;
}
