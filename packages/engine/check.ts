/** Everything that is computed from a rig, at once. */
import type { Rig } from '#rig';
import { capacity } from './capacity';
import type { Finding } from './findings';
import { withoutFollowers } from './followers';
import { connectors, type JointLead, leads } from './leads';
import { type Levels, levels } from './levels';
import { mixes } from './mixes';
import { type Network, network } from './network';
import { phantom } from './phantom';
import { splits } from './splits';
import { type Supplies, supplies } from './supply';

export interface Checked {
  readonly rig: Rig;
  readonly network: Network;
  readonly levels: Levels;
  /** One for each joint, in the same order. */
  readonly leads: readonly JointLead[];
  /** Phantom power: what needs it and which inputs give it. */
  readonly supplies: Supplies;
  readonly findings: readonly Finding[];
}

/** Pure: the same rig gives the same result, byte for byte. Never throws, whatever is missing from the rig. */
export function check(rig: Rig): Checked {
  const net = network(rig);
  const solved = levels(net);
  const joined = leads(net);
  const supplied = supplies(net);
  return {
    rig,
    network: net,
    levels: solved,
    leads: joined,
    supplies: supplied,
    findings: withoutFollowers([
      ...capacity(net),
      ...splits(net),
      ...connectors(net, joined),
      ...solved.findings,
      ...phantom(net, supplied),
      ...mixes(net),
    ]),
  };
}
