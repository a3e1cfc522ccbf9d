/** Leads one behind the other, joined by copper alone: what drives the first of them drives them all, balanced only where each of them is. */
import type { Run } from '#rig';
import { floorLength, type JointLead, SLACK_M } from './leads';
import type { Joint, Network } from './network';

export interface Copper {
  /** The lead that leaves the output which drives it. */
  readonly first: JointLead;
  /** All leads to here, as far as their lengths follow from the rig, in metres; undefined where that is of none. */
  readonly metres?: number;
  readonly balanced: boolean;
}

/** Tells of each lead the copper that ends with it. Linear in how many are asked for, however many boxes stand in a row. */
export function coppers(net: Network, all: readonly JointLead[]): (lead: JointLead) => Copper {
  let leads: ReadonlyMap<Joint, JointLead> | undefined;
  return (each) => {
    // All that copper joins is in one part of the rig.
    const known = net.memoryOf(each.joint.runs[0] as Run).of<JointLead, Copper>('copper');
    const there = known.get(each);
    if (there) return there;
    leads ??= new Map(all.map((lead) => [lead.joint, lead]));
    const behind: JointLead[] = [];
    const seen = new Set<JointLead>();
    let at: JointLead | undefined = each;
    // What is plugged round in a circle has no first: it starts where it is met again.
    while (at && !known.has(at) && !seen.has(at)) {
      seen.add(at);
      behind.push(at);
      at = before(net, leads, at.joint);
    }
    let copper = at && known.get(at);
    for (const next of behind.reverse()) {
      copper = extended(copper, next);
      known.set(next, copper);
    }
    return known.get(each) as Copper;
  };
}

/** The lead that comes into the box which a lead leaves, where that is copper from the one to the other. */
function before(net: Network, leads: ReadonlyMap<Joint, JointLead>, { from: { piece, port } }: Joint): JointLead | undefined {
  const { tie, modes } = port;
  if (modes.length > 0 || tie?.isolated || (tie?.how !== 'parallel' && tie?.how !== 'switch')) return undefined;
  const joint = tie.inputs.flatMap((input) => net.entering.get(`${piece.id}.${input}`) ?? [])[0];
  return joint && leads.get(joint);
}

function extended(copper: Copper | undefined, next: JointLead): Copper {
  const own = next.lead?.balanced !== false;
  if (!copper) return { first: next, metres: next.needsM, balanced: own };
  // Where a box in between has no place, it is as far as from end to end at least.
  const direct = floorLength(copper.first.fromAt, next.toAt);
  const known = [copper.metres, next.needsM].filter((each) => each !== undefined);
  // What hangs and is coiled is counted once.
  const sum = known.length === 0 ? undefined : known.reduce((all, each) => all + each - SLACK_M);
  const metres = direct === undefined ? sum : Math.max(direct, sum ?? 0);
  return { first: copper.first, metres, balanced: copper.balanced && own };
}
