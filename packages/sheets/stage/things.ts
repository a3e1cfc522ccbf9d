/** What is on the stage: people, gear, microphones on stands, the house's box; each with what is at its feet. */
import { type Checked, isRadio, isTheirs } from '#engine';
import { isPlace, type Model, type Piece, type Place, type Position } from '#rig';
import { alike } from '../shared/alike';
import { about } from '../shared/draft';

export type Kind = 'person' | 'mic' | 'box' | 'interface' | 'radio' | 'other' | 'house';

export interface Thing {
  /** Unique; the same for the same thing from one state of the text to the next. */
  readonly key: string;
  readonly kind: Kind;
  readonly label: string;
  /** What it is: `Belt pack`, `performer`. */
  readonly is: string;
  /** Undefined where the rig does not say it. */
  readonly at?: Position;
  /** What is carried there or lies there without a place of its own. */
  readonly with: readonly { readonly kind: Kind; readonly label: string }[];
  readonly place: Place;
  readonly about: readonly Place[];
}

/** From the roots of the library's families; a model of the band's own that is none of these is other gear. */
const KINDS: ReadonlyMap<string, Kind> = new Map<string, Kind>([
  ['microphone', 'mic'],
  ['pickup', 'mic'],
  ['di', 'box'],
  ['splitter', 'box'],
  ['pad', 'box'],
  ['switch', 'box'],
  ['interface', 'interface'],
  ['expander', 'interface'],
  ['pack', 'radio'],
  ['transmitter', 'radio'],
  ['receiver', 'radio'],
]);

export const KIND_WORDS: Readonly<Record<Kind, string>> = {
  person: 'person',
  mic: 'microphone or pickup',
  box: 'DI, split or pad',
  interface: 'interface or expander',
  radio: 'pack, transmitter, receiver',
  other: 'other gear',
  house: 'the house’s stage box',
};

interface Making extends Thing {
  readonly with: { kind: Kind; label: string }[];
  readonly about: Place[];
}

/** People first, then gear, then sources with a place of their own, then the house's box. */
export function thingsOf({ rig, leads }: Checked): Thing[] {
  const people = new Map<string, Making>();
  const things: Making[] = [];
  const add = (thing: Omit<Thing, 'with' | 'about'>): Making => {
    const made = { ...thing, at: thing.at && isPlace(thing.at) ? thing.at : undefined, with: [], about: about(thing.place) };
    things.push(made);
    return made;
  };
  for (const { id, name, label, at, place } of rig.performers.values())
    people.set(id, add({ key: `performer:${name}`, kind: 'person', label, is: 'performer', at, place }));

  const pieces = [...rig.pieces.values()];
  for (const kind of ['gear', 'source'] as const) {
    for (const piece of pieces.filter((each) => each.kind === kind)) {
      const owner = people.get((kind === 'gear' ? piece.for[0] : rig.sources.get(piece.id)?.by) ?? '');
      if (!piece.at && (!isThere(piece) || piece.holding?.how === 'spare')) continue;
      const kindHere = kindOf(piece.model);
      // What stands there is the receiver; the player has the rest of it.
      if (piece.at && owner && kind === 'source' && kindHere === 'radio')
        owner.with.push({ kind: 'mic', label: `${piece.label}, by radio` });
      if (!piece.at && owner) attach(owner, piece);
      else add({ key: piece.id, kind: kindHere, label: piece.label, is: whatItIs(piece), at: piece.at, place: piece.place });
    }
  }
  const [first] = rig.house;
  if (first) {
    const box = rig.pieces.get(first.piece);
    const count = `${rig.house.length} ${rig.house.length === 1 ? 'line' : 'lines'}`;
    add({ key: 'house', kind: 'house', label: 'House’s stage box', is: count, at: box?.at, place: first.place });
  }

  const byPlace = new Map<string, Making>();
  for (const thing of things) {
    const spot = thing.at && spotKey(thing.at);
    if (spot !== undefined && !byPlace.has(spot)) byPlace.set(spot, thing);
  }
  const seen = new Set<Piece>();
  for (const { joint, fromAt, toAt } of leads) {
    for (const [piece, at] of [
      [joint.from.piece, fromAt],
      [joint.to.piece, toAt],
    ] as const) {
      const there = at && byPlace.get(spotKey(at));
      if (piece.kind !== 'fresh' || seen.has(piece) || !there) continue;
      seen.add(piece);
      attach(there, piece);
    }
  }
  return things;
}

export function spotKey({ x, y }: Position): string {
  return `${x.toFixed(3)} ${y.toFixed(3)}`;
}

/** `Voice, Y-lead, 2 × Passive DI`. */
export function withWords({ with: there }: Thing): string {
  return alike(there.map(({ label }) => label)).join(', ');
}

function attach(to: Making, piece: Piece): void {
  to.with.push({ kind: kindOf(piece.model), label: piece.label });
  if (piece.kind !== 'fresh') to.about.push(piece.place);
}

/** A channel of a computer stands nowhere. */
function isThere({ model }: Piece): boolean {
  return model.ports.length === 0 || model.ports.some((port) => port.connector !== undefined || isRadio(port));
}

function kindOf({ lineage, mixes }: Model): Kind {
  for (const id of lineage) {
    const kind = KINDS.get(id);
    if (kind) return kind;
  }
  if (lineage.includes('desk')) return 'house';
  return mixes ? 'interface' : 'other';
}

function whatItIs(piece: Piece): string {
  return isTheirs(piece) && !piece.model.lineage.includes('desk') ? `${piece.model.label}, the house’s` : piece.model.label;
}
