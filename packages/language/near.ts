import { distance } from 'fastest-levenshtein';

const MOST = 3;

/** Names that a mistyped one may have been meant for, the nearest first: at most a third of its letters away. */
export function nearest(name: string, known: readonly string[]): string[] {
  const wanted = name.toLowerCase();
  const limit = Math.max(1, Math.floor(wanted.length / 3));
  return known
    .filter((candidate) => Math.abs(candidate.length - wanted.length) <= limit || candidate.toLowerCase().startsWith(wanted))
    .map((candidate) => ({ candidate, far: candidate.toLowerCase().startsWith(wanted) && wanted.length > 2 ? 1 : distance(wanted, candidate.toLowerCase()) }))
    .filter(({ far }) => far <= limit)
    .sort((a, b) => a.far - b.far || (a.candidate < b.candidate ? -1 : 1))
    .slice(0, MOST)
    .map(({ candidate }) => candidate);
}
