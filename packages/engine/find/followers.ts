/**
 * Findings that only make another one worse to read, or whose cure works against another's: of what must not be plugged in
 * at all, nobody wants to hear how to split it or how to pad it.
 */
import type { Rig } from '#rig';
import { statementOf } from '../solve/ids';
import { type Code, type FiguresOf, PROBLEMS } from '../words';
import type { Problem } from '../words/problem';
import { SEVERITIES } from '../words/severity';
import type { Finding } from './finding';

/**
 * Of what finds no place because there are too few: that it is in a wrong one, as long as there is no better one to name. That a microphone
 * is short of gain there has a figure, with which it may do; without phantom power it never does.
 */
function isPlaceless({ code, figures, fixes }: Finding): boolean {
  if (fixes.length > 0) return false;
  if (code === 'levels/mic-on-line') return (figures as FiguresOf<typeof code>).dead;
  return code === 'phantom/missing' || code === 'levels/instrument-on-line';
}

/** What is found of a line that seems to go through a box twice, and goes through it once. */
const OF_A_SECOND_BOX = /^(phantom|levels|house)\/|^capacity\/input-taken-twice$/;

/** What can stay where it is behind a box. */
function isBoxed({ code, fixes }: Finding): boolean {
  return (code === 'levels/line-on-mic' || code === 'levels/instrument-on-mic') && fixes.some(({ kind }) => kind === 'add-step');
}

/** What `mayStand` overrules nothing, and nothing overrules what is graver. */
export function withoutFollowers(rig: Rig, findings: readonly Finding[], mayStand: (finding: Finding) => boolean): Finding[] {
  /** By the statement that they stand in, and by the source that they are about wherever it is taken. */
  const over = new Map<string, { readonly code: Code; readonly codes: RegExp }[]>();
  const placeless = new Set<string>();
  // Of what is plugged into gear that is linked to nothing, that is all there is to say.
  const unlinked = new Set<string>();
  const boxed = new Set<string>();
  const doubled = new Set<string>();
  const runs = new Set(rig.inputs.map(({ id }) => id));
  for (const finding of findings) {
    const { code, place, about } = finding;
    if (mayStand(finding)) continue;
    if (code === 'capacity/no-link') for (const id of about) unlinked.add(id);
    if (code === 'splits/second-piece' && (finding.figures as FiguresOf<typeof code>).meant) for (const id of about) doubled.add(id);
    if (isBoxed(finding)) boxed.add(statementOf(place));
    if (code === 'capacity/too-few-inputs') for (const id of about) placeless.add(id);
    const { overrules, everywhere }: Problem<never> = PROBLEMS[code];
    if (!overrules) continue;
    const sources = everywhere ? about.filter((id) => rig.sources.has(id)) : [];
    for (const id of [statementOf(place), ...sources]) over.set(id, [...(over.get(id) ?? []), { code, codes: overrules }]);
  }
  if (over.size + unlinked.size + placeless.size + doubled.size === 0) return [...findings];
  const rank = (code: Code) => SEVERITIES.indexOf(PROBLEMS[code].severity);
  return findings.filter((finding) => {
    const { code, place, about } = finding;
    if (code === 'mixes/not-patched' && about.some((id) => rig.sources.has(id) && unlinked.has(id))) return false;
    // With each of them behind a box there are inputs enough, and that is told of each.
    if (code === 'capacity/too-few-inputs' && about.every((id) => boxed.has(id) || !runs.has(id))) return false;
    if (placeless.has(statementOf(place)) && isPlaceless(finding)) return false;
    if (about.some((id) => doubled.has(id)) && OF_A_SECOND_BOX.test(code) && PROBLEMS[code].severity !== 'danger') return false;
    return ![statementOf(place), ...about.filter((id) => rig.sources.has(id))].some((id) =>
      over.get(id)?.some((each) => each.code !== code && each.codes.test(code) && rank(each.code) <= rank(code)),
    );
  });
}
