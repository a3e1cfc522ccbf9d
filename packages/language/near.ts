import { distance } from 'fastest-levenshtein';

const MOST = 3;

/** Nobody mistypes a name as long as this, and comparing long ones takes long. */
const LONGEST = 100;

/** Names that a mistyped one may have been meant for, the nearest first: at most a third of its letters away. */
export function nearest(name: string, known: readonly string[]): string[] {
  if (name.length > LONGEST) return [];
  const wanted = name.toLowerCase();
  const limit = Math.max(1, Math.floor(wanted.length / 3));
  return known
    .filter((candidate) => Math.abs(candidate.length - wanted.length) <= limit || candidate.toLowerCase().startsWith(wanted))
    .map((candidate) => ({
      candidate,
      far: candidate.toLowerCase().startsWith(wanted) && wanted.length > 2 ? 1 : slips(wanted, candidate.toLowerCase()),
    }))
    .filter(({ far }) => far <= limit)
    .sort((a, b) => a.far - b.far || (a.candidate < b.candidate ? -1 : 1))
    .slice(0, MOST)
    .map(({ candidate }) => candidate);
}

/** Two letters the wrong way round are one slip, not two. */
function slips(wanted: string, candidate: string): number {
  const first = [...wanted].findIndex((letter, at) => letter !== candidate[at]);
  const swapped = wanted.slice(0, first) + (wanted[first + 1] ?? '') + (wanted[first] ?? '') + wanted.slice(first + 2);
  return first >= 0 && swapped === candidate ? 1 : distance(wanted, candidate);
}
