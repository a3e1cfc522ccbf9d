/**
 * Findings that only make another one worse to read, or whose cure works against another's: of what must not be plugged in
 * at all, nobody wants to hear how to split it or how to pad it.
 */
import type { Finding } from './findings';
import type { Code } from './words';

/** What overrules other subjects on the line that it is about. */
const OVERRULES: ReadonlyMap<Code, RegExp> = new Map<Code, RegExp>([
  ['levels/speaker-output', /^(levels|splits|connectors|phantom)\/|^capacity\/too-few-inputs$/],
  ['mixes/private-to-house', /^(levels|splits|connectors|phantom)\//],
  ['phantom/blocked', /^splits\/needless$/],
]);

export function withoutFollowers(findings: readonly Finding[]): Finding[] {
  const runs = new Map<string, RegExp>();
  const sources = new Map<string, RegExp>();
  for (const { code, place, figures } of findings) {
    const over = OVERRULES.get(code);
    if (!over) continue;
    runs.set(runOf(place), over);
    // A loudspeaker output is as dangerous on every line that takes it.
    if (code === 'levels/speaker-output') sources.set((figures as { source: string }).source, over);
  }
  if (runs.size === 0) return [...findings];
  return findings.filter(({ code, place, figures }) => {
    if (OVERRULES.has(code)) return true;
    const { source } = figures as { source?: string };
    return !runs.get(runOf(place))?.test(code) && !(source !== undefined && sources.get(source)?.test(code));
  });
}

function runOf(place: string): string {
  return place.split('/')[0] as string;
}
