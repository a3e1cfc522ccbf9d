import { distance } from 'fastest-levenshtein';

const MOST = 3;

/** Nobody mistypes a name as long as this, and comparing long ones takes long. */
const LONGEST = 100;

/** In a name shorter than this, another letter makes another name. */
const SHORT = 3;

/**
 * Names that a mistyped one may have been meant for, the nearest first: at most a third of its letters away. One that starts with another
 * letter is one slip away at most, and not so short that this makes another name.
 */
export function nearest(name: string, known: readonly string[]): string[] {
  if (name.length > LONGEST) return [];
  const wanted = name.toLowerCase();
  const limit = Math.max(1, Math.floor(wanted.length / 3));
  // Capitals alone: no other can have been meant.
  const same = known.filter((candidate) => candidate.toLowerCase() === wanted);
  if (same.length > 0) return same.slice(0, MOST);
  return known
    .filter((candidate) => Math.abs(candidate.length - wanted.length) <= limit || candidate.toLowerCase().startsWith(wanted))
    .map((candidate) => ({ candidate, far: far(wanted, candidate.toLowerCase()) }))
    .filter(({ candidate, far }) => far <= limit && startsAlike(wanted, candidate.toLowerCase(), far))
    .sort((a, b) => a.far - b.far || (a.candidate < b.candidate ? -1 : 1))
    .slice(0, MOST)
    .map(({ candidate }) => candidate);
}

function startsAlike(wanted: string, candidate: string, far: number): boolean {
  return candidate.charAt(0) === wanted.charAt(0) || isSwapped(wanted, candidate) || (far <= 1 && wanted.length > SHORT);
}

function far(wanted: string, candidate: string): number {
  if (Math.min(wanted.length, candidate.length) < SHORT) return slipOfShort(wanted, candidate);
  return candidate.startsWith(wanted) ? 1 : slips(wanted, candidate);
}

/** Of so few letters a slip is two the wrong way round, or one of them twice. */
function slipOfShort(wanted: string, candidate: string): number {
  if (wanted === candidate) return 0;
  const once = (word: string) => word.replace(/(.)\1+/gu, '$1');
  return isSwapped(wanted, candidate) || once(wanted) === once(candidate) ? 1 : Number.POSITIVE_INFINITY;
}

/** Two letters the wrong way round are one slip, not two. */
function slips(wanted: string, candidate: string): number {
  return isSwapped(wanted, candidate) ? 1 : distance(wanted, candidate);
}

function isSwapped(wanted: string, candidate: string): boolean {
  const first = [...wanted].findIndex((letter, at) => letter !== candidate[at]);
  return first >= 0 && wanted.slice(0, first) + (wanted[first + 1] ?? '') + (wanted[first] ?? '') + wanted.slice(first + 2) === candidate;
}
