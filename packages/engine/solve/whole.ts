/** What a rig is, solved at once or from what its parts are: one network, a lead for each joint, all levels. */
import type { Rig } from '#rig';
import { follow, networkOf } from './follow';
import { type JointLead, leads } from './leads';
import { type Levels, levels, levelsOf } from './levels';
import type { Kept } from './memory';
import type { Network } from './network';
import { partsOf } from './parts';

export interface Whole {
  readonly network: Network;
  /** One for each joint, in the same order. */
  readonly leads: readonly JointLead[];
  readonly levels: Levels;
}

/** For a rig that is looked at once: what its parts are is not asked. */
export function atOnce(rig: Rig): Whole {
  const network = networkOf(rig, [follow(rig)]);
  const joined = leads(network);
  return { network, leads: joined, levels: levelsOf(rig, [levels(network, joined)]) };
}

/** For a rig that somebody edits: the same, with the parts that are as they were taken from what is kept. */
export function byParts(rig: Rig, kept: Kept): Whole {
  const parts = partsOf(rig, kept);
  const byRun = new Map(parts.flatMap((part) => part.runs.map((run) => [run, part])));
  const network = networkOf(
    rig,
    parts.map(({ followed }) => followed),
    kept,
    (run) => byRun.get(run),
  );
  const known = new Map(parts.flatMap((part) => part.leads).map((lead) => [lead.joint, lead]));
  return {
    network,
    leads: network.joints.flatMap((joint) => known.get(joint) ?? []),
    levels: levelsOf(
      rig,
      parts.map((part) => part.levels),
    ),
  };
}
