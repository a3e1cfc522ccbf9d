/**
 * Findings that only make another one worse to read, or whose cure works against another's: of what must not be plugged in
 * at all, nobody wants to hear how to split it or how to pad it.
 */
import type { Rig } from '#rig';
import { statementOf } from '../solve/ids';
import type { Code } from '../words';
import type { Finding } from './finding';

/** What overrules other subjects on the line that it is about. */
const OVERRULES: ReadonlyMap<Code, RegExp> = new Map<Code, RegExp>([
  ['levels/speaker-output', /^(levels|splits|connectors|phantom|house|amplifiers)\/|^capacity\/too-few-inputs$/],
  ['mixes/private-to-house', /^(levels|splits|connectors|phantom|house)\//],
  ['phantom/blocked', /^splits\/needless$/],
  // The DI that cures it keeps the 48 volts away as well.
  ['levels/instrument-on-mic', /^phantom\/into-output$/],
  // It tells of the hum as well.
  ['levels/top-end', /^connectors\/long-unbalanced$/],
]);

/** What `mayStand` overrules nothing. */
export function withoutFollowers(rig: Rig, findings: readonly Finding[], mayStand: (finding: Finding) => boolean): Finding[] {
  const runs = new Map<string, RegExp>();
  const sources = new Map<string, RegExp>();
  // Of what is plugged into gear that is linked to nothing, that is all there is to say.
  const unlinked = new Set(findings.flatMap((finding) => (finding.code === 'capacity/no-link' && !mayStand(finding) ? finding.about : [])));
  for (const finding of findings) {
    const { code, place, about } = finding;
    const over = OVERRULES.get(code);
    if (!over || mayStand(finding)) continue;
    runs.set(statementOf(place), over);
    // A loudspeaker output is as dangerous on every line that takes it.
    if (code === 'levels/speaker-output') for (const id of about) if (rig.sources.has(id)) sources.set(id, over);
  }
  if (runs.size === 0 && unlinked.size === 0) return [...findings];
  return findings.filter(({ code, place, about }) => {
    if (OVERRULES.has(code)) return true;
    if (code === 'mixes/not-patched' && about.some((id) => rig.sources.has(id) && unlinked.has(id))) return false;
    return !runs.get(statementOf(place))?.test(code) && !about.some((id) => sources.get(id)?.test(code));
  });
}
