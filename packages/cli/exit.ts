/** What a command's exit code says, and what to say when it could not do its work at all. */

/** Nothing wrong, or nothing that matters. */
export const CLEAN = 0;
/** The rig was read, and something is wrong with it. */
export const FOUND = 1;
/** A file that cannot be used, or a command that cannot be understood. */
export const UNUSABLE = 2;

/** Something that a command cannot go on with, in words for the person who typed it. */
export class Unusable extends Error {
  readonly isUnusable = true;

  constructor(
    readonly what: string,
    readonly cure: string,
    /** What the machine said. */
    cause?: unknown,
  ) {
    super(`${what} ${cure}`, { cause });
  }
}

/** Commands are bundled apart from what starts them, and each bundle has this class by itself. */
export function isUnusable(problem: unknown): problem is Unusable {
  return (problem as Partial<Unusable> | undefined)?.isUnusable === true;
}

/** A file that is there, and is not a rig's kind of text. */
export class NotText extends Unusable {
  constructor(
    shown: string,
    /** As a message goes on after "cannot be read:". */
    readonly reason: string,
    cure: string,
  ) {
    super(`${shown} cannot be read: ${reason}.`, cure);
  }
}
