/** What is found wrong in the new rig alone, what is cured, and what is there in both. */
import { type Finding, say } from '#engine';
import { byText, stable } from './plain';

export interface FindingChanges {
  readonly come: readonly Finding[];
  readonly gone: readonly Finding[];
  /** As the new rig has them. */
  readonly still: readonly Finding[];
}

/** `name` gives what something of the old rig is called in the new. */
export function findingChanges(before: readonly Finding[], after: readonly Finding[], name: (id: string) => string): FindingChanges {
  const counts = (findings: readonly Finding[]) => findings.filter(({ allowed }) => allowed === undefined);
  let [gone, come] = [counts(before), counts(after)];
  const still = new Set<Finding>();
  const pair = (signOld: (each: Finding) => string, signNew: (each: Finding) => string) => {
    const waiting = new Map<string, Finding[]>();
    for (const each of come) waiting.set(signNew(each), [...(waiting.get(signNew(each)) ?? []), each]);
    gone = gone.filter((each) => {
      const there = waiting.get(signOld(each))?.shift();
      if (there) still.add(there);
      return !there;
    });
    come = come.filter((each) => !still.has(each));
  };
  const about = (called: (id: string) => string) => (each: Finding) => stable([each.code, idsOf(each).map(called).sort(byText)]);
  pair(
    about(name),
    about((id) => id),
  );
  // What has changed its place may still be said in the same words.
  pair(said, said);
  return { come, gone, still: counts(after).filter((each) => still.has(each)) };
}

/** One for the whole rig, about whatever lines there are. */
const OF_THE_WHOLE: ReadonlySet<string> = new Set(['house/replugged']);

/** What it is about that has a name; one about the text alone is known by what it says. */
function idsOf(finding: Finding): string[] {
  if (OF_THE_WHOLE.has(finding.code)) return [];
  const ids = finding.about.filter((id) => /^(source|gear|mix|performer):[^/.#>]+$/.test(id));
  if (ids.length > 0) return [...ids];
  // What it may have been meant for, and where it is first, is a matter of order.
  const { name, written, path } = finding.figures as Readonly<Record<string, unknown>>;
  const named = [name, written, path].filter((each) => typeof each === 'string');
  return named.length > 0 ? named : [say(finding).what];
}

function said(finding: Finding): string {
  return stable([finding.code, say(finding).what]);
}
