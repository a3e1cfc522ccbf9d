import { type Checked, privatePart } from '#engine';

/** What is for the band alone, by the ids of the sources. What only sounds like it, and goes to the house, is not called so. */
export function bandAlone({ rig, findings }: Checked): ReadonlyMap<string, string> {
  const doubtful = new Set(findings.flatMap(({ code, about }) => (code === 'mixes/may-be-private' ? about : [])));
  const some = [...rig.sources.values()].filter((source) => source.private && !doubtful.has(source.id));
  return new Map(some.map((source) => [source.id, privatePart(source)]));
}
