/** A merge that is not settled: git writes both states of what differs into the file, between lines of seven marks. The first is read. */

export interface Skipped {
  readonly start: number;
  readonly end: number;
}

const BEGINS = /^<{7}(?: |$)/;
const BASE = /^\|{7}(?: |$)/;
const MIDDLE = /^={7}$/;
const ENDS = /^>{7}(?: |$)/;

/** Whether there are any, at little cost. */
export function hasMergeMarks(text: string): boolean {
  return /^[<>]{7}(?: |\r?$)/m.test(text);
}

/** What is not read of such a file, in its order: the marks themselves, and all states but the first. */
export function mergeMarks(text: string): Skipped[] {
  if (!hasMergeMarks(text)) return [];
  const skipped: Skipped[] = [];
  let inFirst = false;
  /** Where the other states start, with the end of the line that says so. */
  let others: Skipped | undefined;
  for (const { 0: line, index: start } of text.matchAll(/[^\r\n]+/g)) {
    const end = start + line.length;
    if (BEGINS.test(line)) {
      if (others) skipped.push(others);
      others = undefined;
      inFirst = true;
      skipped.push({ start, end });
    } else if (inFirst && (BASE.test(line) || MIDDLE.test(line))) {
      inFirst = false;
      others = { start, end };
    } else if (ENDS.test(line)) {
      skipped.push({ start: others?.start ?? start, end });
      others = undefined;
      inFirst = false;
    }
  }
  // Somebody has begun to settle it: what has no end is not hidden.
  return others ? [...skipped, others] : skipped;
}
