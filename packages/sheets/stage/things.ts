/** What is on the stage: people, gear, microphones on stands, the house's box; each with what is at its feet. */
import { type Checked, isRadio, isTheirs, count as plural } from '#engine';
import { isPlace, type Model, type Piece, type Place, type Position, type Rig, type Source } from '#rig';
import { alike } from '../shared/alike';
import { contextOf } from '../shared/context';
import { about } from '../shared/draft';
import { mainsPlaces } from '../shared/mains';
import { isOnStand } from '../shared/stand';

export type Kind = 'person' | 'mic' | 'stand' | 'box' | 'interface' | 'radio' | 'other' | 'house' | 'mains';

export interface Thing {
  /** Unique; the same for the same thing from one state of the text to the next. */
  readonly key: string;
  readonly kind: Kind;
  readonly label: string;
  /** What it is: `Belt pack`, `performer`. */
  readonly is: string;
  /** Under its name on the drawing: what somebody plays, and the house’s lines that get it. */
  readonly under: readonly string[];
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
  stand: 'microphone, on a stand if wanted',
  box: 'DI, split or pad',
  interface: 'interface or expander',
  radio: 'pack, transmitter, receiver',
  other: 'other gear',
  house: 'the house’s stage box',
  mains: 'mains sockets that we need',
};

interface Making extends Thing {
  readonly under: string[];
  readonly with: { kind: Kind; label: string }[];
  readonly about: Place[];
}

/** People first, then gear, then sources with a place of their own, then the house's box, then where we need the mains. */
export function thingsOf(checked: Checked): Thing[] {
  const { rig, leads } = checked;
  const people = new Map<string, Making>();
  const things: Making[] = [];
  const add = (thing: Omit<Thing, 'with' | 'about' | 'under'>): Making => {
    const made = { ...thing, at: thing.at && isPlace(thing.at) ? thing.at : undefined, with: [], under: [], about: about(thing.place) };
    things.push(made);
    return made;
  };
  for (const { id, name, label, at, place } of rig.performers.values())
    people.set(id, add({ key: `performer:${name}`, kind: 'person', label, is: 'performer', at, place }));

  for (const [id, made] of people) {
    const sources = [...rig.sources.values()].filter(({ by }) => by === id);
    made.under.push(...playedBy(sources), ...linesOf(rig, sources));
  }

  const pieces = [...rig.pieces.values()];
  for (const kind of ['gear', 'source'] as const) {
    for (const piece of pieces.filter((each) => each.kind === kind)) {
      const owner = people.get((kind === 'gear' ? piece.for[0] : rig.sources.get(piece.id)?.by) ?? '');
      if (!piece.at && (!isThere(piece) || piece.holding?.spare)) continue;
      const kindHere = kindOf(piece.model);
      // What stands there is the receiver; the player has the rest of it.
      if (piece.at && owner && kind === 'source' && kindHere === 'radio')
        owner.with.push({ kind: 'mic', label: `${piece.label}, by radio` });
      if (!piece.at && owner) attach(owner, piece);
      else {
        const made = add({ key: piece.id, kind: kindHere, label: piece.label, is: whatItIs(piece), at: piece.at, place: piece.place });
        const source = kind === 'source' && !owner ? rig.sources.get(piece.id) : undefined;
        if (source) made.under.push(...linesOf(rig, [source]));
      }
    }
  }
  const [first] = rig.house;
  if (first) {
    const box = rig.pieces.get(first.piece);
    const count = plural(checked.impact.count, 'line');
    const made = add({ key: 'house', kind: 'house', label: 'House’s stage box', is: count, at: box?.at, place: first.place });
    made.under.push(houseWords(rig.house.map(({ number }) => number)));
  }
  mainsPlaces(contextOf(checked)).forEach(({ at, sockets }, index) => {
    const [piece] = sockets.flatMap((each) => each.piece ?? []);
    if (!at || !piece) return;
    const made = add({
      key: `mains ${index}`,
      kind: 'mains',
      label: 'Mains',
      is: plural(sockets.length, 'socket'),
      at,
      place: piece.place,
    });
    made.under.push(plural(sockets.length, 'socket'));
    made.with.push({ kind: 'other', label: `for ${alike(sockets.map(({ label }) => label)).join(', ')}` });
  });

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
  to.with.push({ kind: isOnStand(piece) ? 'stand' : kindOf(piece.model), label: piece.label });
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

/** So many of what somebody plays are named; the others are counted. */
const MOST_PLAYED = 3;

function playedBy(sources: readonly Source[]): string[] {
  const played = alike(sources.map(({ label }) => label));
  const named = played.length > MOST_PLAYED ? [...played.slice(0, MOST_PLAYED - 1), `${played.length - MOST_PLAYED + 1} more`] : played;
  return named.length > 0 ? [named.join(', ')] : [];
}

/** The house’s lines that get these, and those for its own microphones that are called the same. */
function linesOf(rig: Rig, sources: readonly Source[]): string[] {
  const ids = new Set(sources.map(({ id }) => id));
  const labels = new Set(sources.map(({ label }) => label));
  const numbers = rig.house.flatMap(({ number, takes, ownMic, label }) =>
    ids.has(takes?.id ?? '') || (ownMic && labels.has(label)) ? [number] : [],
  );
  return numbers.length > 0 ? [houseWords(numbers)] : [];
}

/** `house 4`, `house 1 to 3, 5`. */
function houseWords(numbers: readonly string[]): string {
  const runs: string[][] = [];
  for (const number of numbers) {
    const run = runs.at(-1);
    if (run && Number(number) === Number(run.at(-1)) + 1) run.push(number);
    else runs.push([number]);
  }
  return `house ${runs.map((run) => (run.length > 2 ? `${run[0]} to ${run.at(-1)}` : run.join(', '))).join(', ')}`;
}
