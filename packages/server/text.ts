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

const REFUSALS: Readonly<Record<string, string>> = {
  EACCES: 'you may not read it',
  EPERM: 'you may not read it',
  EISDIR: 'it is a folder',
  ELOOP: 'it is a link that leads back to itself',
  ENAMETOOLONG: 'its name is longer than a file can have',
};

/** Why a file that is there could not be read, also by what the file system says; nothing where it is just not there. */
export function reasonOf(problem: unknown): string | undefined {
  if (problem instanceof NotText) return problem.message;
  const code = (problem as { readonly code?: unknown } | undefined)?.code;
  return typeof code === 'string' && Object.hasOwn(REFUSALS, code) ? REFUSALS[code] : undefined;
}
