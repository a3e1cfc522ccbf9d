/** What there has to be more of, or can stay at home: gear, boxes, leads. Counted by kind, whatever it is called. */
import { isTheirs, isThing } from '#engine';
import type { Holding, Model } from '#rig';
import type { ComparedLead, LeadChange } from './leads';
import { byText, stable } from './plain';
import type { Side } from './side';

export interface ThingChange {
  readonly model: Model;
  /** Nothing where the rig does not say. */
  readonly how?: Holding['how'];
  /** Of one. */
  readonly price?: Holding['price'];
  readonly before: number;
  readonly after: number;
}

export interface LeadCount {
  /** One of them. */
  readonly lead: ComparedLead;
  /** How many more are needed; fewer than none where so many are left over. */
  readonly more: number;
}

/** `name` gives what something of the old rig is called in the new. */
export function thingChanges(before: Side, after: Side, name: (id: string) => string): ThingChange[] {
  const [was, is] = [counted(before, name), counted(after, (id) => id)];
  return [...new Set([...was.keys(), ...is.keys()])].sort(byText).flatMap((key): ThingChange[] => {
    const [old, anew] = [was.get(key), is.get(key)];
    const one = anew ?? old;
    if (!one || old?.count === anew?.count) return [];
    const { model, how, price } = one;
    return [{ model, ...(how ? { how } : {}), ...(price ? { price } : {}), before: old?.count ?? 0, after: anew?.count ?? 0 }];
  });
}

interface Counted extends Pick<ThingChange, 'model' | 'how' | 'price'> {
  count: number;
}

function counted({ rig }: Side, name: (id: string) => string): ReadonlyMap<string, Counted> {
  const found = new Map<string, Counted>();
  for (const piece of rig.pieces.values()) {
    if (piece.kind === 'house' || !isThing(piece.model)) continue;
    const { how, price } = piece.holding ?? {};
    const key = stable([name(`model:${piece.model.id}`), labelled(piece.model), how ?? '', price ?? null]);
    const there = found.get(key);
    if (there) there.count++;
    else found.set(key, { model: piece.model, how, price, count: 1 });
  }
  return found;
}

/** Without a label it is called by its name, which may be another in the other rig. */
function labelled({ id, label }: Model): string {
  return label === id ? '' : label;
}

/** A lead that is needless in one place serves in another, if it is of the same kind and length. */
export function leadCounts(changes: readonly LeadChange[], before: Side, after: Side): LeadCount[] {
  const counts = new Map<string, { lead: ComparedLead; more: number }>();
  const add = (lead: ComparedLead, more: number, side: Side) => {
    // What is the gear's own is no lead to bring, and the house brings its own.
    if (lead.ownM !== undefined && lead.lengthM === undefined) return;
    if (isTheirLead(lead, side)) return;
    const ends = lead.lead.ends.map((end) => stable(end)).sort(byText);
    const key = stable([ends, lead.lead.balanced, lead.lead.adapting, lead.kind === 'speaker', lead.lengthM ?? null]);
    const there = counts.get(key);
    if (there) there.more += more;
    else counts.set(key, { lead, more });
  };
  for (const change of changes) {
    if (change.what !== 'needless') add(change.after, 1, after);
    if (change.what !== 'new') add(change.before, -1, before);
  }
  return [...counts.values()].filter(({ more }) => more !== 0);
}

/** Into the house's stage box, on a line that we do not bring. */
function isTheirLead({ to, runs }: ComparedLead, { checked }: Side): boolean {
  const end = checked.rig.pieces.get(to.piece);
  if (!end || !isTheirs(end)) return false;
  const house = new Map(checked.rig.house.map((run) => [run.id, run]));
  return runs.every((id) => {
    const run = house.get(id);
    return run !== undefined && checked.impact.of(run)?.how !== 'brought';
  });
}
