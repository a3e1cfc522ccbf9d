/** Who plays what, from the way people write it down: "Ana voice, Brik hurdy-gurdy, Cleo frame drum". */

export interface Person {
  readonly name: string;
  /** What they play or sing; nothing where it was not said. */
  readonly plays?: string;
}

/** A name may be of several words where a colon ends it: "Ana Lu: voice". */
export function peopleIn(written: string): Person[] {
  return written
    .split(/[,;\n]/)
    .map((each) => each.trim().replace(/\s+/g, ' '))
    .filter((each) => /[\p{L}\p{N}]/u.test(each))
    .map((each) => {
      const [, name = each, plays = ''] = /^([^:]*[\p{L}\p{N}][^:]*):(.*)$/u.exec(each) ?? /^(\S+)\s(.*)$/.exec(each) ?? [];
      return { name: name.trim(), plays: plays.trim() || undefined };
    });
}
