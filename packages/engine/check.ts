/** Everything that is computed from a rig, at once. */
import type { Model, Rig } from '#rig';
import { ownOf, withOwn } from './cure/roles';
import { identified } from './find/about';
import { amplifiers } from './find/amplifiers';
import { budget } from './find/budget';
import { capacity } from './find/capacity';
import { inCircles } from './find/circles';
import { clock } from './find/clock';
import { connectors } from './find/connectors';
import { earphonesReach } from './find/connectors/earphones';
import type { Finding } from './find/finding';
import { withoutFollowers } from './find/followers';
import { ground } from './find/ground';
import { hearing } from './find/hearing';
import { house } from './find/house';
import { late } from './find/latency';
import { levelFindings } from './find/levels';
import { settings } from './find/levels/settings';
import { mixes } from './find/mixes';
import { hotMixes } from './find/mixes/hot';
import { noHouse } from './find/noHouse';
import { hanging, oneSide } from './find/oneSide';
import { phantom } from './find/phantom';
import { power } from './find/power';
import { radio } from './find/radio';
import { splits } from './find/splits';
import { offStage } from './find/stage';
import { type Buses, buses } from './solve/buses';
import { type Hearing, hearings } from './solve/hearing';
import { type HouseImpact, houseImpact } from './solve/impact';
import { type Latency, latencies } from './solve/latency';
import type { JointLead } from './solve/leads';
import type { Levels } from './solve/levels';
import { Kept } from './solve/memory';
import { type MetalPath, metalPaths } from './solve/metalPaths';
import type { Network } from './solve/network';
import { type Supplies, supplies } from './solve/supply';
import { atOnce, byParts, type Whole } from './solve/whole';

/** What is so in a rig, and all that is wrong with it, before anybody has said what may stand. */
export interface Examined {
  readonly rig: Rig;
  readonly network: Network;
  readonly levels: Levels;
  /** One for each joint, in the same order. */
  readonly leads: readonly JointLead[];
  /** Phantom power: what needs it, which inputs give it, and the volts that are left. */
  readonly supplies: Supplies;
  /** How loud each mix is, and what of it comes to everything behind its outputs. */
  readonly buses: Buses;
  /** How late everybody hears what they sing or play themselves. */
  readonly latencies: readonly Latency[];
  /** How loud it can get in everybody's ears. */
  readonly hearings: readonly Hearing[];
  /** What our rig does to each of the house's lines. */
  readonly impact: HouseImpact;
  /** Where metal joins our ground and the house's. */
  readonly metalPaths: readonly MetalPath[];
  /** Each by itself: also what only follows from another, with cures that take what the library has. */
  readonly found: readonly Finding[];
}

export interface Checked extends Examined {
  /** Without what another finding overrules, with cures by what one has. */
  readonly findings: readonly Finding[];
}

/** Pure: the same rig gives the same result, byte for byte. Never throws, whatever is missing from the rig. */
export function examine(rig: Rig): Examined {
  return examined(rig, atOnce(rig));
}

/**
 * The same of a rig that somebody edits. `before`: what was found of it as it was, whose things it shares where they are the same
 * (`sharing`); of these, what was so still is.
 */
export function examineEdited(rig: Rig, before: Examined | undefined): Examined {
  const kept = new Kept(before?.network.kept);
  const made = examined(rig, byParts(rig, kept));
  kept.close();
  return made;
}

function examined(rig: Rig, { network: net, leads: joined, levels: solved }: Whole): Examined {
  const mixed = buses(net, solved);
  const delays = latencies(net);
  const heard = hearings(net);
  const supplied = supplies(net);
  const touched = houseImpact(net, solved, supplied);
  const metal = metalPaths(net);
  const found = identified(rig, [
    ...capacity(net),
    ...splits(net),
    ...inCircles(net),
    ...oneSide(net),
    ...hanging(net),
    ...connectors(net, joined),
    ...earphonesReach(net, joined),
    ...levelFindings(net, solved),
    ...settings(net, solved),
    ...phantom(net, supplied),
    ...ground(net, metal, supplied),
    ...amplifiers(net),
    ...mixes(net),
    ...house(net, touched, supplied),
    ...noHouse(net),
    ...hotMixes(net, mixed),
    ...late(net, delays),
    ...hearing(rig.settings, heard),
    ...clock(net),
    ...net.kept.ofRig('power', rig, ['pieces', 'settings'], power),
    ...net.kept.ofRig('radio', rig, ['pieces', 'settings'], radio),
    ...net.kept.ofRig('off stage', rig, ['pieces', 'performers', 'settings', 'house'], offStage),
    ...net.kept.ofRig('budget', rig, ['pieces', 'performers', 'settings'], budget),
  ]);
  return {
    rig,
    network: net,
    levels: solved,
    leads: joined,
    supplies: supplied,
    buses: mixed,
    latencies: delays,
    hearings: heard,
    impact: touched,
    metalPaths: metal,
    found,
  };
}

/**
 * As pure as `examine`. What `mayStand` leaves out no other finding, as nobody is going to cure it. `models` are those in the rig's own
 * files, for cures; asked for only where there is one. `looked`: what was found of the same rig, where it has been looked at.
 */
export function check(
  rig: Rig,
  mayStand: (finding: Finding) => boolean = () => false,
  models: () => readonly Model[] = () => [],
  looked: Examined = examine(rig),
): Checked {
  const left = withoutFollowers(rig, looked.found, mayStand);
  const own = ownOf(looked.network, models);
  return { ...looked, findings: left.map((each) => (each.fixes.length > 0 ? { ...each, fixes: withOwn(each.fixes, own) } : each)) };
}
