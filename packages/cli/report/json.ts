/**
 * Findings for other programs. The shape is stable: within one `version` fields may be added, and none changes or goes.
 *
 * Lines and columns count from 1; a column counts UTF-16 code units, as editors do. `end` is just after the last letter.
 * `path` is relative to the folder one is in (in full where it is not below that), with slashes; `-` is standard input.
 */
import { type Severity, say } from '#engine';
import type { Located } from '#language';
import { type CheckedFile, type Counts, countsOf, inOrder } from './checked';

export interface Report {
  readonly version: 1;
  readonly files: readonly FileReport[];
  readonly counts: Counts & {
    readonly files: number;
    /** Files that could not be read. */
    readonly unusable: number;
  };
}

export interface FileReport {
  readonly path: string;
  readonly findings: readonly FindingReport[];
  /** What is found as well, and may stand, as a comment of the rig says. */
  readonly allowed: readonly FindingReport[];
  /** Only where the file could not be read. */
  readonly unusable?: { readonly what: string; readonly cure: string };
}

export interface FindingReport {
  /** `subject/problem`: `splits/missing`. */
  readonly code: string;
  readonly severity: Severity;
  readonly message: { readonly what: string; readonly why: string; readonly cure: string };
  readonly range: Range;
  readonly related: readonly { readonly path: string; readonly range: Range; readonly says: string }[];
  /** What the message was made from; its fields depend on the code. */
  readonly figures: object;
  /** Why it may stand; only of those that may. */
  readonly allowed?: string;
}

interface Range {
  readonly start: Position;
  readonly end: Position;
}

interface Position {
  readonly line: number;
  readonly column: number;
}

type Counted = { readonly line: number; readonly character: number };

/** `pathOf` says where a file is by its address. */
export function jsonReport(files: readonly CheckedFile[], pathOf: (uri: string) => string): Report {
  return {
    version: 1,
    files: files.map(({ path, located, allowed, problem }) => ({
      path,
      findings: inOrder(located).map((each) => findingReport(each, pathOf)),
      allowed: inOrder(allowed).map((each) => findingReport(each, pathOf)),
      unusable: problem && { what: problem.what, cure: problem.cure },
    })),
    counts: { ...countsOf(files), files: files.length, unusable: files.filter((file) => file.problem).length },
  };
}

function findingReport({ finding, range, related }: Located, pathOf: (uri: string) => string): FindingReport {
  return {
    code: finding.code,
    severity: finding.severity,
    message: say(finding),
    range: rangeOf(range),
    related: related.map(({ uri, range: where, says }) => ({ path: pathOf(uri), range: rangeOf(where), says })),
    figures: finding.figures,
    allowed: finding.allowed,
  };
}

function rangeOf({ start, end }: { readonly start: Counted; readonly end: Counted }): Range {
  return { start: positionOf(start), end: positionOf(end) };
}

function positionOf({ line, character }: Counted): Position {
  return { line: line + 1, column: character + 1 };
}
