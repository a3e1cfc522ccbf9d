/** Who plays what, from the way people write it down: "Ana voice, Brik hurdy-gurdy and voice, Cleo frame drum". */

export interface Person {
  readonly name: string;
  /** What they play or sing, one after the other; nothing where it was not said. */
  readonly plays: readonly string[];
}

/**
 * A name may be of several words where a colon ends it: "Ana Lu: voice". Behind a comma comes the next person, or, in small letters where
 * names have capitals, what else the last one plays: "Ana fiddle, voice, Brik drum".
 */
export function peopleIn(written: string): Person[] {
  const people: { readonly name: string; readonly plays: string[] }[] = [];
  for (const stretch of written.split(/[;\n]/)) {
    for (const [index, each] of stretch.split(',').entries()) {
      const words = each.trim().replace(/\s+/g, ' ');
      if (!SAYS_SOMETHING.test(words)) continue;
      const last = people.at(-1);
      if (index > 0 && last && goesOn(words, people)) {
        last.plays.push(...apart(words));
        continue;
      }
      const [, name = words, plays = ''] = /^([^:]*[\p{L}\p{N}][^:]*):(.*)$/u.exec(words) ?? /^(\S+)\s(.*)$/.exec(words) ?? [];
      people.push({ name: name.trim(), plays: apart(plays) });
    }
  }
  return people;
}

/** How many lines that makes: somebody of whom nothing was said has one, too. */
export function linesOf(people: readonly Person[]): number {
  return people.reduce((sum, { plays }) => sum + Math.max(1, plays.length), 0);
}

const SAYS_SOMETHING = /[\p{L}\p{N}]/u;

function goesOn(words: string, people: readonly Person[]): boolean {
  return /^\p{Ll}/u.test(words) && !words.includes(':') && people.every(({ name }) => /^\p{Lu}/u.test(name));
}

/** "fiddle and voice", "fiddle + voice". */
function apart(plays: string): string[] {
  return plays
    .split(/(?:^|\s)and(?=\s|$)|[+&]/i)
    .map((each) => each.trim())
    .filter((each) => SAYS_SOMETHING.test(each));
}
