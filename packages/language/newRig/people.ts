/** Who plays what, from the way people write it down: "Ana voice, Brik hurdy-gurdy and voice, Cleo frame drum". */

export interface Person {
  readonly name: string;
  /** What they play or sing, one after the other; nothing where it was not said. */
  readonly plays: readonly string[];
}

/**
 * A name may be of several words where a colon ends it: "Ana Lu: voice". Behind a comma comes the next person, or, in small letters where
 * names have capitals, what else the last one plays: "Ana fiddle, voice, Brik drum". Who has no name is called by what they play: "double
 * bass", "2 trumpets".
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
      const nameless = withoutName(words);
      people.push(...(nameless.length > 0 ? nameless : [named(words)]));
    }
  }
  return people;
}

/** How many lines that makes: somebody of whom nothing was said has one, too, and what has a left and a right has two. */
export function linesOf(people: readonly Person[]): number {
  return people.reduce((sum, { plays }) => sum + Math.max(1, plays.length) + plays.filter(isStereo).length, 0);
}

/** Whether it has a left and a right, as said or as keyboards have. */
export function isStereo(plays: string): boolean {
  return /\bstereo\b/i.test(plays) || (KEYS.test(plays) && !/\bmono\b/i.test(plays));
}

const KEYS = /\b(keys|keyboards?|synth|synths|synthesi[sz]ers?|electric piano|e-piano)\b/i;

const SAYS_SOMETHING = /[\p{L}\p{N}]/u;

function named(words: string): { name: string; plays: string[] } {
  const [, name = words, plays = ''] = /^([^:]*[\p{L}\p{N}][^:]*):(.*)$/u.exec(words) ?? /^(\S+)\s(.*)$/.exec(words) ?? [];
  return { name: name.trim(), plays: apart(plays) };
}

function goesOn(words: string, people: readonly Person[]): boolean {
  return /^\p{Ll}/u.test(words) && !words.includes(':') && people.every(({ name }) => /^\p{Lu}/u.test(name));
}

/** What nobody is called: what people play, and what is put before it. In small letters, as some of it is a name as well. */
const NO_NAME =
  /^(?:double|upright|electric|acoustic|bass|lead|backing|frame|snare|kick|hammered|hurdy-gurdy|voice|vocals?|guitar|drums?|percussion|fiddle|violin|cello|clarinet|flute|whistle|trumpet|trombone|tuba|sax|saxophone|accordion|banjo|mandolin|harp|keys|keyboards?|synth|piano|organ|singer)(?= |$)/;

const HOW_MANY = ['two', 'three', 'four', 'five', 'six', 'seven', 'eight'];

/** "double bass with piezo", "2 trumpets": people without a name. None where there is one. */
function withoutName(words: string): { name: string; plays: string[] }[] {
  if (words.includes(':')) return [];
  const [, count = '', many = ''] = /^(\S+) (.+)$/.exec(words) ?? [];
  const number = howMany(count);
  if (number !== undefined) {
    const parts = apart(many.replace(/s$/, ''));
    return numbered(many, number).map((name, index) => ({
      name,
      plays: parts.length === 1 && parts[0] !== 'voice' ? [`${parts[0]} ${index + 1}`] : parts,
    }));
  }
  if (!NO_NAME.test(words)) return [];
  const plays = apart(words);
  return [{ name: label(plays[0] ?? words), plays }];
}

function howMany(word: string): number | undefined {
  const at = HOW_MANY.indexOf(word.toLowerCase());
  const number = at >= 0 ? at + 2 : /^\d{1,2}$/.test(word) ? Number(word) : 0;
  return number > 1 ? number : undefined;
}

/** "trumpet 1", "trumpet 2". */
function numbered(many: string, count: number): string[] {
  const one = many.replace(/s$/, '');
  return Array.from({ length: count }, (_, index) => `${one} ${index + 1}`);
}

/** What is played, without how it is picked up: "Double bass" of "double bass with piezo", "keys" of "keys (stereo)". */
export function label(plays: string): string {
  return plays
    .replace(/\bwith (?:an? |the )?[^()]*$/i, '')
    .replace(/\(\s*(?:stereo|mono)\s*\)|\b(?:stereo|mono)\b/gi, '')
    .replace(/\s+/g, ' ')
    .trim();
}

/** "fiddle and voice", "fiddle + voice", "sings and plays two trumpets". */
function apart(plays: string): string[] {
  return plays
    .split(/(?:^|\s)and(?=\s|$)|[+&]/i)
    .map((each) => plainly(each.trim()))
    .flatMap((each) => {
      const [, count = '', many = ''] = /^(\S+) (.+)$/.exec(each) ?? [];
      const number = howMany(count);
      return number === undefined ? [each] : numbered(many, number);
    })
    .filter((each) => SAYS_SOMETHING.test(each));
}

const VOICE = /\b(voice|voices|vocals?|vox|soprano|alto|tenor|baritone|rap|raps|speech)\b/i;

/** Whether it is something that one sings into. */
export function isVoice(plays: string): boolean {
  return VOICE.test(plays);
}

/** "plays clarinet" is a clarinet, and who sings has a voice. */
function plainly(words: string): string {
  const [, sings, what = ''] = /^(?:who )?(?:(sings?|singing|singer)|(?:is )?(?:plays?|playing|on|does))(?:\s+(.*))?$/i.exec(words) ?? [
    undefined,
    undefined,
    words,
  ];
  if (sings === undefined) return what;
  return what === '' ? 'voice' : isVoice(what) ? what : `${what} voice`;
}
