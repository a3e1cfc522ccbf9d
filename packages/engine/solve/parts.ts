/**
 * A rig in parts: lines that can touch each other, each with all that is asked of it, as a small rig of its own. A source with all its
 * legs is one, a mix with the ways it leaves by another, however many of them end at one desk. What is so of a part (what is plugged into
 * what, its leads, its levels) depends on nothing outside it, and is kept for as long as everything in it is the same.
 */
import { freshId, type InputRun, type Mix, type OutputRun, type Performer, type Piece, type Rig, type Run, type Source } from '#rig';
import { type Followed, follow, networkAtOnce } from './follow';
import { type JointLead, leads } from './leads';
import { levels, type PartLevels } from './levels';
import type { Kept } from './memory';
import { findPort, type Joint } from './network';

export interface Part {
  readonly runs: readonly Run[];
  readonly followed: Followed;
  readonly leads: ReadonlyMap<Joint, JointLead>;
  readonly levels: PartLevels;
}

/** The parts of a rig, in the order of their first lines. */
export function partsOf(rig: Rig, kept: Kept): Part[] {
  const order = kept.once('order', undefined, [rig.pieces, rig.sources], () => orderOf(rig));
  const listed = new Map<unknown, Members>();
  const { settings, pieces, sources, mixes, performers } = rig;
  const things = kept.once('things', undefined, [settings, pieces, sources, mixes, performers], () => ({}));
  return together(rig).map((runs) => {
    let members: Members | undefined;
    const membersOf = () => {
      members ??= new Members(rig, runs, order, listed);
      return members;
    };
    return kept.onceFrom(
      'part',
      runs[0],
      [things, ...runs],
      () => membersOf().of,
      () => solved(membersOf()),
    );
  });
}

/** The place of each piece and source in the text, by their ids. */
function orderOf({ pieces, sources }: Rig): ReadonlyMap<string, number> {
  return new Map([...pieces.keys(), ...sources.keys()].map((id, index) => [id, index]));
}

function solved(members: Members): Part {
  const rig = members.rig();
  const followed = follow(rig);
  const net = networkAtOnce(rig, followed);
  const joined = leads(net);
  return { runs: members.runs, followed, leads: new Map(joined.map((lead) => [lead.joint, lead])), levels: levels(net, joined) };
}

/** What some lines ask of a rig. */
class Members {
  readonly of: readonly unknown[];
  private readonly pieces: Piece[] = [];
  private readonly sources: Source[] = [];
  private readonly mixes: Mix[] = [];
  private readonly performers: Performer[] = [];

  /** `listed`: who has listed a thing last. One for all parts, so that not each has to have sets of its own. */
  constructor(
    private readonly whole: Rig,
    readonly runs: readonly Run[],
    order: ReadonlyMap<string, number>,
    private readonly listed: Map<unknown, Members>,
  ) {
    for (const run of runs) {
      this.piece(endOf(run).piece);
      for (const { piece } of run.via) {
        this.piece(piece);
        for (let channel = 1; this.piece(freshId(piece, channel)); channel++);
      }
      if (run.kind === 'output') this.mix(run.carries);
      else {
        this.piece(run.takes?.id);
        this.mix(run.takes?.id);
      }
    }
    // As in the whole: which of two sources behind a switch is looked at first hangs on it.
    putInOrder(this.pieces, order);
    putInOrder(this.sources, order);
    this.of = [whole.settings, ...runs, ...this.pieces, ...this.sources, ...this.mixes, ...this.performers];
  }

  rig(): Rig {
    const { runs, whole } = this;
    const byId = <T extends { readonly id: string }>(all: readonly T[]) => new Map(all.map((each) => [each.id, each]));
    const [pieces, sources] = [byId(this.pieces), byId(this.sources)];
    const [mixes, performers] = [byId(this.mixes), byId(this.performers)];
    const inputs = runs.filter((run) => run.kind === 'input');
    const house = runs.filter((run) => run.kind === 'house');
    const outputs = runs.filter((run) => run.kind === 'output');
    return { settings: whole.settings, pieces, performers, sources, mixes, inputs, house, outputs, place: whole.place };
  }

  private piece(id: string | undefined): Piece | undefined {
    const piece = id === undefined ? undefined : this.whole.pieces.get(id);
    if (!piece || this.has(piece)) return piece;
    this.pieces.push(piece);
    const source = this.whole.sources.get(piece.id);
    if (source) this.sources.push(source);
    this.performer(source?.by);
    // Whose gear it is says where it lies.
    this.performer(piece.for[0]);
    return piece;
  }

  private mix(id: string | undefined): void {
    const mix = id === undefined ? undefined : this.whole.mixes.get(id);
    if (!mix || this.has(mix)) return;
    this.mixes.push(mix);
    for (const listener of mix.for) this.performer(listener);
  }

  private performer(id: string | undefined): void {
    const performer = id === undefined ? undefined : this.whole.performers.get(id);
    if (performer && !this.has(performer)) this.performers.push(performer);
  }

  private has(thing: Piece | Mix | Performer): boolean {
    if (this.listed.get(thing) === this) return true;
    this.listed.set(thing, this);
    return false;
  }
}

function putInOrder(things: { readonly id: string }[], order: ReadonlyMap<string, number>): void {
  const placeOf = ({ id }: { readonly id: string }) => order.get(id) ?? 0;
  // Mostly they are already, and sorting makes lists of its own.
  let last = 0;
  for (const each of things) {
    const place = placeOf(each);
    if (place < last) {
      things.sort((a, b) => placeOf(a) - placeOf(b));
      return;
    }
    last = place;
  }
}

function endOf(run: Run): InputRun['to'] | OutputRun['from'] {
  return run.kind === 'input' ? run.to : run.kind === 'output' ? run.from : { piece: run.piece, ports: [], place: run.place };
}

/** Lines that share a signal, gear on their way, or a socket, in the order of the text; linear in the number of lines. */
function together(rig: Rig): Run[][] {
  const runs: Run[] = [...rig.inputs, ...rig.house, ...rig.outputs];
  const sets = new Sets(runs.length);
  /** Gear that a line goes through: all that is plugged into it counts there. */
  const passed = new Set<string>();
  /** By piece, the sockets that are written. */
  const sockets = new Map<string, Set<string>>();
  const taken = new Set<string>();
  runs.forEach((run, index) => {
    const signal = run.kind === 'output' ? run.carries : run.takes?.id;
    if (signal !== undefined) sets.join(index, signal);
    if (run.kind !== 'output' && run.takes?.kind === 'gear') taken.add(run.takes.id);
    for (const { piece } of run.via) {
      sets.join(index, piece);
      passed.add(piece);
    }
    if (run.kind === 'house') sets.join(index, run.piece);
    const { piece, ports } = endOf(run);
    for (const port of ports) {
      const key = run.kind === 'output' ? goingOut(piece, port) : comingIn(piece, port);
      sets.join(index, key);
      const written = sockets.get(piece);
      if (written) written.add(key);
      else sockets.set(piece, new Set([key]));
    }
  });
  for (const [id, written] of sockets) {
    const piece = rig.pieces.get(id);
    if (!piece) continue;
    if (passed.has(id)) for (const key of written) sets.unite(id, key);
    else for (const key of written) joinBehind(sets, piece, key, taken.has(id));
  }
  // Of gear that is taken, what comes into it by the way counts as well.
  for (const id of taken) {
    const piece = rig.pieces.get(id);
    for (const port of piece?.model.ports ?? []) {
      if (port.direction === 'output') for (const input of port.tie?.inputs ?? []) sets.unite(id, comingIn(id, input));
    }
  }
  const found = new Map<number, Run[]>();
  runs.forEach((run, index) => {
    const root = sets.rootOf(index);
    const part = found.get(root);
    if (part) part.push(run);
    else found.set(root, [run]);
  });
  return [...found.values()];
}

/** An output that is written, and the inputs that it is made from. */
function joinBehind(sets: Sets, piece: Piece, key: string, taken: boolean): void {
  if (!key.startsWith(OUT)) return;
  if (taken) sets.unite(piece.id, key);
  const tie = findPort(piece, key.slice(OUT.length + piece.id.length + 1), 'output')?.tie;
  for (const input of tie?.inputs ?? []) sets.unite(key, comingIn(piece.id, input));
}

const OUT = '> ';
const goingOut = (piece: string, port: string) => `${OUT}${piece}.${port}`;
const comingIn = (piece: string, port: string) => `< ${piece}.${port}`;

/** Disjoint sets of lines, and of what they have in common. */
class Sets {
  private readonly parents: number[];
  private readonly byKey = new Map<string, number>();

  constructor(lines: number) {
    this.parents = Array.from({ length: lines }, (_, index) => index);
  }

  /** The first member of the set that something is in. */
  rootOf(index: number): number {
    let root = index;
    while (this.parents[root] !== root) root = this.parents[root] as number;
    for (let at = index; at !== root; ) {
      const next = this.parents[at] as number;
      this.parents[at] = root;
      at = next;
    }
    return root;
  }

  join(index: number, key: string): void {
    this.merge(index, this.indexOf(key, index));
  }

  unite(one: string, other: string): void {
    this.merge(this.indexOf(one), this.indexOf(other));
  }

  private indexOf(key: string, otherwise = this.parents.length): number {
    const known = this.byKey.get(key);
    if (known !== undefined) return known;
    this.byKey.set(key, otherwise);
    if (otherwise === this.parents.length) this.parents.push(otherwise);
    return otherwise;
  }

  private merge(one: number, other: number): void {
    const [first, second] = [this.rootOf(one), this.rootOf(other)];
    if (first === second) return;
    if (first < second) this.parents[second] = first;
    else this.parents[first] = second;
  }
}
