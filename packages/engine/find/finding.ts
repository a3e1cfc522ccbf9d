/** A finding is data: what is wrong, where, the figures, and edits that would cure it. Words are made in `words/`. */
import type { Place } from '#rig';
import type { Fix } from '../cure/fix';
import { type Code, type FiguresOf, PROBLEMS } from '../words';
import type { Lengths } from '../words/lengths';
import type { Severity } from '../words/severity';
import type { Related } from './related';

export interface Finding<C extends Code = Code> {
  readonly code: C;
  readonly severity: Severity;
  readonly place: Place;
  readonly figures: FiguresOf<C>;
  /**
   * Ids of what it is about: source, gear, port, lead, run, mix, performer. What stands at its place is among them by itself (`about.ts`);
   * what else it is about is said where it is made. Labels are for reading: two things may have the same.
   */
  readonly about: readonly string[];
  readonly related: readonly Related[];
  readonly fixes: readonly Fix[];
  /** Why it may stand, where whoever wrote the rig says so: it is told to readers of the sheets, and counts no more. */
  readonly allowed?: string;
  /** The rig that it is found in is written in feet: its words have lengths in feet. Its figures are in metres all the same. */
  readonly inFeet?: true;
}

/** Findings as they are told in a rig with these settings. */
export function toldIn({ inFeet }: Lengths, findings: readonly Finding[]): readonly Finding[] {
  return inFeet ? findings.map((each) => ({ ...each, inFeet })) : findings;
}

/** Makes a finding; how bad it is follows from its code. */
export function finding<C extends Code>(
  code: C,
  place: Place,
  figures: FiguresOf<C>,
  more: { readonly about?: readonly string[]; readonly related?: readonly Related[]; readonly fixes?: readonly Fix[] } = {},
): Finding<C> {
  const { about = [], related = [], fixes = [] } = more;
  return { code, severity: PROBLEMS[code].severity, place, figures, about, related, fixes };
}
