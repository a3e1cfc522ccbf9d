/** What becomes of the leads: those that are new, those that nobody needs any more, those with one plug that goes elsewhere. */
import { isTheirs, type JointLead, type Lead, leadId, mustNotBe, type Network, plugName, type Socket } from '#engine';
import type { Place } from '#rig';
import { byText, stable } from './plain';
import type { Side } from './side';

export interface LeadEnd {
  /** `Interface in 3`. */
  readonly name: string;
  /** The id of the piece: gear, source, a fresh piece of a line, a line of the house's. */
  readonly piece: string;
}

export interface ComparedLead {
  /** As the list of leads knows it, for its number. */
  readonly id: string;
  readonly from: LeadEnd;
  readonly to: LeadEnd;
  readonly lead: Lead;
  readonly kind: JointLead['kind'];
  /** The length to take, in metres; nothing where it does not follow from the rig, or where the gear brings its own. */
  readonly lengthM?: number;
  readonly ownM?: number;
  /** What runs on it, by id. */
  readonly signals: readonly string[];
  /** The lines that it is a part of. */
  readonly runs: readonly Place[];
}

export type LeadChange =
  | { readonly what: 'new'; readonly after: ComparedLead }
  | { readonly what: 'needless'; readonly before: ComparedLead }
  /** The same lead with one end plugged elsewhere. */
  | { readonly what: 'moved'; readonly end: 'from' | 'to'; readonly before: ComparedLead; readonly after: ComparedLead }
  /** Between the same two sockets, another lead: of another length or kind. */
  | { readonly what: 'other'; readonly before: ComparedLead; readonly after: ComparedLead };

interface Keyed {
  readonly lead: ComparedLead;
  /** In the names of the new rig. */
  readonly from: string;
  readonly to: string;
  readonly kind: string;
}

/** `name` gives what something of the old rig is called in the new. */
export function leadChanges(before: Side, after: Side, name: (id: string) => string): LeadChange[] {
  let olds = leadsOf(before, name);
  let news = leadsOf(after, (id) => id);
  const changes: LeadChange[] = [];
  const pair = (sign: (each: Keyed) => string, change?: (old: ComparedLead, anew: ComparedLead) => LeadChange) => {
    const waiting = new Map<string, Keyed[]>();
    for (const each of news) waiting.set(sign(each), [...(waiting.get(sign(each)) ?? []), each]);
    const found = new Map<Keyed, Keyed>();
    for (const each of olds) {
      const there = waiting.get(sign(each))?.shift();
      if (there) found.set(each, there);
    }
    const taken = new Set(found.values());
    olds = olds.filter((each) => !found.has(each));
    news = news.filter((each) => !taken.has(each));
    if (change) for (const [old, anew] of found) changes.push(change(old.lead, anew.lead));
  };
  pair(({ from, to, kind }) => stable([from, to, kind]));
  pair(
    ({ from, kind }) => stable([from, kind]),
    (old, anew) => ({ what: 'moved', end: 'to', before: old, after: anew }),
  );
  pair(
    ({ to, kind }) => stable([to, kind]),
    (old, anew) => ({ what: 'moved', end: 'from', before: old, after: anew }),
  );
  pair(
    ({ from, to }) => stable([from, to]),
    (old, anew) => ({ what: 'other', before: old, after: anew }),
  );
  changes.push(...news.map(({ lead }): LeadChange => ({ what: 'new', after: lead })));
  changes.push(...olds.map(({ lead }): LeadChange => ({ what: 'needless', before: lead })));
  return changes;
}

/** Those that are plugged by somebody: not the house's own between two things of theirs, and none that must not be. */
function leadsOf({ checked }: Side, name: (id: string) => string): Keyed[] {
  const { network } = checked;
  const found = checked.leads.flatMap((each): Keyed[] => {
    const { joint, lead, kind, lengthM, ownM } = each;
    if (!lead || mustNotBe(joint) || (isTheirs(joint.from.piece) && isTheirs(joint.to.piece))) return [];
    const lines = network.linesThrough(joint);
    const signals = [...new Set(lines.flatMap(({ signal }) => signal ?? []))].sort(byText);
    const runs = [...new Set([...joint.runs, ...lines.map(({ run }) => run)].map(({ id }) => id))];
    const end = (socket: Socket): LeadEnd => ({ name: plugName(socket), piece: socket.piece.id });
    const compared: ComparedLead = {
      id: leadId(joint.from, joint.to),
      from: end(joint.from),
      to: end(joint.to),
      lead,
      kind,
      ...(lengthM === undefined ? {} : { lengthM }),
      ...(ownM === undefined ? {} : { ownM }),
      signals,
      runs,
    };
    const key = (socket: Socket) => socketKey(network, socket, name);
    const made = stable([lead, kind ?? null, lengthM ?? null, ownM ?? null]);
    return [{ lead: compared, from: key(joint.from), to: key(joint.to), kind: made }];
  });
  // By their own names, so that it is the same whichever of the two rigs is the old one.
  return found.sort((a, b) => byText(a.lead.id, b.lead.id));
}

/** A fresh piece has no name: it is known by what it is and what comes through it. */
function socketKey(network: Network, { piece, port }: Socket, name: (id: string) => string): string {
  if (piece.kind !== 'fresh') return `${name(piece.id)}.${port.direction} ${port.id}`;
  const joints = piece.model.ports.flatMap(({ id }) => [
    ...(network.entering.get(`${piece.id}.${id}`) ?? []),
    ...(network.leaving.get(`${piece.id}.${id}`) ?? []),
  ]);
  const signals = new Set(joints.flatMap((joint) => network.linesThrough(joint)).flatMap(({ signal }) => (signal ? [name(signal)] : [])));
  return `${name(`model:${piece.model.id}`)} for ${[...signals].sort(byText).join()}.${port.direction} ${port.id}`;
}
