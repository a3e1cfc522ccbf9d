/** Which of the leads that are needed there are already, by what the rig says. */
import type { LeadHad } from '#rig';
import type { Packed } from './leads';

type Needed = Packed & { readonly key: string };

/**
 * Of each kind and length how many there are, by its key. A longer lead does for a shorter one: the longest that are needed choose first, each the
 * shortest that does, so that no other choice covers more. Nothing of what has no known length, or makes another
 * lead longer: nobody can tell.
 */
export function hadOf(needed: readonly Needed[], leads: readonly LeadHad[]): ReadonlyMap<string, number> {
  const left = leads.map(({ count, plugs, lengthM }) => ({ count, plugs, lengthM })).sort((a, b) => a.lengthM - b.lengthM);
  const found = new Map<string, number>();
  for (const each of needed.toSorted((a, b) => (b.lengthM ?? 0) - (a.lengthM ?? 0))) {
    const { key, count, lengthM, plugs } = each;
    if (lengthM === undefined || !plugs) continue;
    let had = 0;
    for (const there of left) {
      if (there.lengthM < lengthM - 1e-9 || !fits(there, plugs)) continue;
      const taken = Math.min(there.count, count - had);
      there.count -= taken;
      had += taken;
    }
    found.set(key, had);
  }
  return found;
}

/** A lead without plugs and sockets that differ in gender can be turned round. */
function fits({ plugs: [from, to] }: LeadHad, [first, second]: NonNullable<Packed['plugs']>): boolean {
  if (from === first.connector && to === second.connector) return true;
  return first.gender === undefined && second.gender === undefined && from === second.connector && to === first.connector;
}
