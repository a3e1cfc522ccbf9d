/**
 * Findings that only make another one worse to read, or whose cure works against another's: of what must not be plugged in
 * at all, nobody wants to hear how to split it or how to pad it.
 */
import type { Rig } from '#rig';
import { statementOf } from '../solve/ids';
import { PROBLEMS } from '../words';
import type { Problem } from '../words/problem';
import type { Finding } from './finding';

/** What `mayStand` overrules nothing. */
export function withoutFollowers(rig: Rig, findings: readonly Finding[], mayStand: (finding: Finding) => boolean): Finding[] {
  const runs = new Map<string, RegExp>();
  const sources = new Map<string, RegExp>();
  // Of what is plugged into gear that is linked to nothing, that is all there is to say.
  const unlinked = new Set(findings.flatMap((finding) => (finding.code === 'capacity/no-link' && !mayStand(finding) ? finding.about : [])));
  for (const finding of findings) {
    const { code, place, about } = finding;
    const { overrules, everywhere }: Problem<never> = PROBLEMS[code];
    if (!overrules || mayStand(finding)) continue;
    runs.set(statementOf(place), overrules);
    if (everywhere) for (const id of about) if (rig.sources.has(id)) sources.set(id, overrules);
  }
  if (runs.size === 0 && unlinked.size === 0) return [...findings];
  return findings.filter(({ code, place, about }) => {
    if (PROBLEMS[code].overrules) return true;
    if (code === 'mixes/not-patched' && about.some((id) => rig.sources.has(id) && unlinked.has(id))) return false;
    return !runs.get(statementOf(place))?.test(code) && !about.some((id) => sources.get(id)?.test(code));
  });
}
