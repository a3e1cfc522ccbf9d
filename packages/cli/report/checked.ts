/** What checking found, file by file, as the reports take it. */

import type { Severity } from '#engine';
import type { Located } from '#language';
import type { Unusable } from '../exit';

export interface CheckedFile {
  /** As messages call it. */
  readonly shown: string;
  /** As other programs know it; `-` for standard input. */
  readonly path: string;
  readonly located: readonly Located[];
  /** What is found as well, and may stand. */
  readonly allowed: readonly Located[];
  readonly text: string;
  /** Why it could not be read; then there is nothing else. */
  readonly problem?: Unusable;
}

export type Counts = Readonly<Record<Severity | 'allowed', number>>;

export function countsOf(files: readonly CheckedFile[]): Counts {
  const counts = { danger: 0, error: 0, warning: 0, note: 0, allowed: 0 };
  for (const { located, allowed } of files) {
    for (const { finding } of located) counts[finding.severity]++;
    counts.allowed += allowed.length;
  }
  return counts;
}

const RANK: Readonly<Record<Severity, number>> = { danger: 0, error: 1, warning: 2, note: 3 };

/** In the order of the text; the worst first where several are about the same. */
export function inOrder(located: readonly Located[]): Located[] {
  return located.toSorted(
    (a, b) =>
      a.range.start.line - b.range.start.line ||
      a.range.start.character - b.range.start.character ||
      RANK[a.finding.severity] - RANK[b.finding.severity],
  );
}
