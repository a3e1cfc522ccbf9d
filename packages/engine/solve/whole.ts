/** What a rig is, solved at once or from what its parts are: one network, a lead for each joint, all levels. */
import type { Rig, Run } from '#rig';
import { follow, networkAtOnce, networkOf, ranks } from './follow';
import { type JointLead, leads } from './leads';
import { type Levels, levels, levelsOf } from './levels';
import type { Kept } from './memory';
import type { Network } from './network';
import { type Part, partsOf } from './parts';

export interface Whole {
  readonly network: Network;
  /** One for each joint, in the same order. */
  readonly leads: readonly JointLead[];
  readonly levels: Levels;
}

/** For a rig that is looked at once: what its parts are is not asked. */
export function atOnce(rig: Rig): Whole {
  const network = networkAtOnce(rig, follow(rig));
  const joined = leads(network);
  const solved = levels(network, joined);
  return { network, leads: joined, levels: levelsOf(rig, [solved], () => solved) };
}

/** For a rig that somebody edits: the same, with the parts that are as they were taken from what is kept. */
export function byParts(rig: Rig, kept: Kept): Whole {
  const parts = partsOf(rig, kept);
  const rank = ranks(rig);
  const byRank: Part[] = [];
  for (const part of parts) for (const run of part.runs) byRank[rank.get(run) ?? 0] = part;
  const partOf = (run: Run | undefined) => (run ? byRank[rank.get(run) ?? -1] : undefined);
  const network = networkOf(rig, parts, kept, rank, (run) => partOf(run)?.followed);
  const joined: JointLead[] = [];
  for (const joint of network.joints) {
    const lead = partOf(joint.runs[0])?.leads.get(joint);
    if (lead) joined.push(lead);
  }
  const solved = parts.map((part) => part.levels);
  return { network, leads: joined, levels: levelsOf(rig, solved, (run) => partOf(run)?.levels) };
}
