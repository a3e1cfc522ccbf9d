/** Leads one behind the other, joined by copper alone: what drives the first of them drives them all, balanced only where each of them is. */
import type { Piece, Port, Run } from '#rig';
import { floorLength, type JointLead, metresOf } from './leads';
import { type Joint, type Network, type Socket, sidesOf, socket } from './network';

export interface Copper {
  /** The lead that leaves the output which drives it. */
  readonly first: JointLead;
  /** What all leads to here need, each with its slack, as far as that follows from the rig, in metres; undefined where that is of none. */
  readonly needsM?: number;
  /** How long they are as they are laid, as far as that is known. */
  readonly laidM: number;
  readonly balanced: boolean;
  /** What could drive a balanced lead instead: the output of a DI that is gone through by its thru. */
  readonly instead?: Socket;
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
  if (!copper) return { first: next, needsM: next.needsM, laidM: metresOf(next), balanced: own };
  // Where a box in between has no place, it is as far as from end to end at least.
  const direct = floorLength(copper.first.fromAt, next.toAt);
  const known = [copper.needsM, next.needsM].filter((each) => each !== undefined);
  const sum = known.length === 0 ? undefined : known.reduce((all, each) => all + each);
  return {
    first: copper.first,
    needsM: direct === undefined ? sum : Math.max(direct, sum ?? 0),
    laidM: copper.laidM + metresOf(next),
    balanced: copper.balanced && own,
    instead: copper.instead ?? besideThru(next.joint.from),
  };
}

/** What a DI makes of what it hands on by its thru. */
function besideThru({ piece, port }: Socket): Socket | undefined {
  return port.tie && balancedFrom(piece, port.tie.inputs);
}

/** The balanced output, at the level of a microphone, that a DI makes of what comes into it. */
export function balancedFrom(piece: Piece, inputs: readonly string[]): Socket | undefined {
  const port = inputs.flatMap((input) => sidesOf(piece.model).tied.get(input) ?? []).find(isDriven);
  return port && socket(piece, port);
}

function isDriven({ connector, tie, modes }: Port): boolean {
  return connector === 'xlr' && (tie?.how === 'transformer' || tie?.how === 'active') && modes.some(({ kind }) => kind === 'mic');
}
