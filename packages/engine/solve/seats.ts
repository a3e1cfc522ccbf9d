/**
 * Who plugs their earphones in where. Of the sockets that a mix comes out at each listener has one to themselves: one of their own gear
 * before one that is nobody's, one that their lead reaches before one that it does not, then the nearest, then in the order of the text.
 */
import type { Mix, Performer } from '#rig';
import { placed, reach, wayAlong } from './leads';
import { match } from './matching';
import { type Line, type Network, push, type Socket } from './network';
import { drivesEarphones, isTunedTo, ownedBy, type Way, waysOf } from './ways';

/** The most that a lead of earphones or headphones has as a rule, for those that say nothing of theirs: common practice, no source. */
const USUAL_TAIL_M = 3;

export interface Seat {
  readonly performer: Performer;
  readonly mix: Mix;
  /** Where earphones go in; or they themselves, where the rig has them as gear. */
  readonly at: Socket;
  /** All that bring the mix there: of a stereo mix one for each side. */
  readonly lines: readonly Line[];
  /** Theirs alone. Otherwise nobody has it, or there are too few and it has to be shared. */
  readonly own: boolean;
}

interface Outlet {
  readonly at: Socket;
  readonly owners: readonly string[];
  readonly lines: Line[];
}

const NONE: readonly Seat[] = [];

/** Where a listener can plug in for a mix that comes by wire, their own socket first. */
export function seatsFor(net: Network, performer: string, mix: string): readonly Seat[] {
  return seatsOf(net).get(`${performer} ${mix}`) ?? NONE;
}

/** Who can plug in where a line comes out. */
export function seatedAt(net: Network, line: Line): readonly Seat[] {
  return (net.rig.mixes.get(line.signal ?? '')?.for ?? []).flatMap((id) =>
    seatsFor(net, id, line.signal ?? '').filter(({ lines }) => lines.includes(line)),
  );
}

/** By listener and mix. */
export function seatsOf(net: Network): ReadonlyMap<string, readonly Seat[]> {
  const ways = waysOf(net);
  const { pieces, performers } = net.rig;
  return net.kept.once('seats', undefined, [ways, pieces, performers], () => findSeats(net, ways));
}

function findSeats(net: Network, all: readonly Way[]): ReadonlyMap<string, readonly Seat[]> {
  const byMix = new Map<Mix, Way[]>();
  for (const way of all) push(byMix, way.mix, way);
  const packs = [...net.rig.pieces.values()].filter(({ hears }) => hears);
  const found = new Map<string, readonly Seat[]>();
  for (const [mix, ways] of byMix) {
    const outlets = outletsOf(net, ways);
    if (outlets.length === 0) continue;
    const people = [...new Set(mix.for)].flatMap((id) => net.rig.performers.get(id) ?? []);
    const onAir = ({ id }: Performer) => ways.some((way) => packs.some((pack) => pack.for.includes(id) && isTunedTo(pack, way)));
    const wanting = people.filter((performer) => !onAir(performer));
    const own = assigned(net, wanting, outlets);
    const had = new Set(own.values());
    for (const performer of people) {
      const theirs = own.get(performer);
      const can = outlets.filter(({ owners }) => belongs(owners, performer));
      const free = can.filter((outlet) => !had.has(outlet));
      const chosen = theirs ? [theirs, ...free] : wanting.includes(performer) ? can : free;
      const seats = chosen.map(({ at, lines }) => ({ performer, mix, at, lines, own: at === theirs?.at }));
      found.set(`${performer.id} ${mix.id}`, seats);
    }
  }
  return found;
}

/** The sockets for earphones at which ways of one mix come out, with nothing in them yet. */
function outletsOf(net: Network, ways: readonly Way[]): Outlet[] {
  const outlets = new Map<string, Outlet>();
  for (const { line, end, how } of ways) {
    if (how !== 'phones') continue;
    const ends = line.open.length > 0 ? line.open.filter((at) => drivesEarphones(net, at) && !net.leaving.has(at.key)) : [end];
    for (const at of ends) {
      // A loudspeaker on such a socket is in nobody's ears.
      if (at.port.direction === 'input' && !at.port.modes.some(({ kind }) => kind === 'phones')) continue;
      const outlet = outlets.get(at.key) ?? { at, owners: ownedBy(net, at)?.for ?? [], lines: [] };
      outlet.lines.push(line);
      outlets.set(at.key, outlet);
    }
  }
  return [...outlets.values()];
}

/** As many as can be have one to themselves; with as little as can be missing from the lead that is too short by most. */
function assigned(net: Network, people: readonly Performer[], outlets: readonly Outlet[]): ReadonlyMap<Performer, Outlet> {
  const wishes = people.map((performer) => {
    const wished = outlets.flatMap(({ at, owners }, index) => {
      if (!belongs(owners, performer)) return [];
      const place = placed(net.rig, at.piece);
      const shortM = Math.max(0, (reach(place, performer.at) ?? 0) - tailOf(performer).tailM);
      return [{ index, shortM, nobodys: owners.length === 0, wayM: wayAlong(place, performer.at) ?? 0 }];
    });
    return wished.sort((a, b) => Number(a.nobodys) - Number(b.nobodys) || a.wayM - b.wayM);
  });
  const within = (mostM: number) =>
    match(wishes.map((wished) => wished.flatMap(({ index, shortM }) => (shortM <= mostM ? index : [])))).right;
  const seated = (right: readonly (number | undefined)[]) => right.filter((index) => index !== undefined).length;
  const limits = [...new Set(wishes.flat().map(({ shortM }) => shortM))].sort((a, b) => a - b);
  const most = seated(within(Number.POSITIVE_INFINITY));
  const right = limits.map(within).find((each) => seated(each) === most) ?? [];
  return new Map(people.flatMap((performer, index) => (right[index] === undefined ? [] : [[performer, outlets[right[index]] as Outlet]])));
}

/** Two on one mix have a pack each, and it says for whom; what says nothing is for all. */
export function belongs(owners: readonly string[], { id }: Performer): boolean {
  return owners.length === 0 || owners.includes(id);
}

/** How long the lead of what somebody wears is. `assumed`: nothing says so. */
export function tailOf({ ears }: Performer): { readonly tailM: number; readonly assumed: boolean } {
  const stated = ears?.ports.find(({ direction, tailM }) => direction === 'input' && tailM !== undefined)?.tailM;
  return { tailM: stated ?? USUAL_TAIL_M, assumed: stated === undefined };
}
