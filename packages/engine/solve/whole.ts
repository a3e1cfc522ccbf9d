/** What a rig is, from what its parts are: one network, a lead for each joint, all levels. */
import type { Rig } from '#rig';
import { networkOf } from './follow';
import type { JointLead } from './leads';
import { type Levels, levelsOf } from './levels';
import type { Kept } from './memory';
import type { Network } from './network';
import type { Part } from './parts';

export interface Whole {
  readonly network: Network;
  /** One for each joint, in the same order. */
  readonly leads: readonly JointLead[];
  readonly levels: Levels;
}

export function wholeOf(rig: Rig, parts: readonly Part[], kept: Kept): Whole {
  const byRun = new Map(parts.flatMap((part) => part.runs.map((run) => [run, part])));
  const network = networkOf(
    rig,
    parts.map(({ followed }) => followed),
    kept,
    (run) => byRun.get(run),
  );
  const leads = new Map(parts.flatMap((part) => part.leads).map((lead) => [lead.joint, lead]));
  return {
    network,
    leads: network.joints.flatMap((joint) => leads.get(joint) ?? []),
    levels: levelsOf(
      rig,
      parts.map((part) => part.levels),
    ),
  };
}
