/** Frequencies for the sets of a rig: where each may stand, and a choice for all of ours or for one. */
import type { Rig, Span } from '#rig';
import { reaching } from './avoiding';
import { type Chosen, choose, clearPoints, type Fixed, type Wanted } from './choose';
import { type Coordination, coordination } from './coordination';
import { isInside } from './regions';
import { RASTER_HZ, type Transmission } from './transmissions';

/** More points than a set has: what tunes from nothing to everything is no reason to count for ever. */
const MOST_POINTS = 20_000;

export interface Choice {
  readonly set: Transmission;
  readonly nowHz?: number;
  /** Nothing where no place is left for it. */
  readonly hz?: number;
}

/**
 * Why a set is left as it is: what it tunes is not stated; none of that is in a range that may come into question here; or all of what is, is to
 * be avoided or loud in a scan.
 */
export interface Left {
  readonly set: Transmission;
  readonly why: 'not-stated' | 'not-here' | 'not-clear';
}

export interface Choosing extends Pick<Chosen, 'changes' | 'proven'> {
  readonly choices: readonly Choice[];
  /** Ours that are left as they are. */
  readonly left: readonly Left[];
}

/** For all of ours at once: as many as can be clear of each other and of what is the house's, with the fewest changes. `avoid` besides what the rig says. */
export function chooseAll(rig: Rig, avoid: readonly Span[] = []): Choosing {
  const radio = coordination(rig);
  const ours = radio.all.filter(({ ours, kind }) => ours && kind !== 'hopping');
  return chooseFor(rig, radio, ours, avoid);
}

/** The same for some of ours, all others being where they are. Ids of pieces. */
export function chooseSome(rig: Rig, pieces: ReadonlySet<string>): Choosing {
  const radio = coordination(rig);
  const some = radio.all.filter(({ ours, kind, piece }) => ours && kind !== 'hopping' && pieces.has(piece.id));
  return chooseFor(rig, radio, some, []);
}

/** The nearest to where one of ours stands now that is clear, all others being where they are; the lowest where it stands nowhere yet. */
export function chooseOne(rig: Rig, piece: string): number | undefined {
  const radio = coordination(rig);
  const set = radio.all.find((each) => each.piece.id === piece);
  if (!set || set.kind === 'hopping') return undefined;
  const points = pointsOf(rig, radio, set, []);
  const near =
    set.hz === undefined ? points : points.toSorted((a, b) => Math.abs(a - (set.hz ?? 0)) - Math.abs(b - (set.hz ?? 0)) || a - b);
  const wanted = { bandwidthHz: set.bandwidthHz, mixes: set.kind === 'analogue', points };
  const clear = new Set(clearPoints(wanted, fixedOf(radio, [set]), rig.settings.guard));
  return near.find((hz) => clear.has(hz));
}

function chooseFor(rig: Rig, radio: Coordination, sets: readonly Transmission[], avoid: readonly Span[]): Choosing {
  const points = sets.map((set) => pointsOf(rig, radio, set, avoid));
  const moved = sets.filter((_, index) => (points[index]?.length ?? 0) > 0);
  const left = sets
    .filter((set) => !moved.includes(set))
    .map(
      (set): Left => ({
        set,
        why: tunedBy(set) === undefined ? 'not-stated' : within(rig, radio, set).length > 0 ? 'not-clear' : 'not-here',
      }),
    );
  const wanted = sets.flatMap((set, index): Wanted[] =>
    moved.includes(set)
      ? [{ bandwidthHz: set.bandwidthHz, mixes: set.kind === 'analogue', points: points[index] ?? [], nowHz: set.hz }]
      : [],
  );
  const { hz, changes, proven } = choose(wanted, fixedOf(radio, moved), rig.settings.guard);
  return { choices: moved.map((set, index) => ({ set, nowHz: set.hz, hz: hz[index] })), changes, proven, left };
}

/** All that stands somewhere, but for those that are to be set. */
function fixedOf({ onAir }: Coordination, but: readonly Transmission[]): Fixed[] {
  const pieces = new Set(but.map(({ piece }) => piece.id));
  return onAir
    .filter(({ piece }) => !pieces.has(piece.id))
    .map(({ hz, bandwidthHz, kind }) => ({ hz, bandwidthHz, mixes: kind === 'analogue' }));
}

/** What a set and all that hear it tune; nothing where that is not stated. */
function tunedBy({ tunesHz, piece, packs }: Transmission): Span | undefined {
  if (!tunesHz) return undefined;
  const tunes = [piece, ...packs].flatMap(({ model }) => model.tunesHz ?? []);
  return { low: Math.max(...tunes.map(({ low }) => low)), high: Math.min(...tunes.map(({ high }) => high)) };
}

/** Where a set may stand, in rising order: as `within`, and clear of what is to be avoided. */
function pointsOf(rig: Rig, radio: Coordination, set: Transmission, avoid: readonly Span[]): number[] {
  const { avoid: said, scans } = rig.settings;
  const reaches = reaching([...said, ...scans.flatMap(({ loud }) => loud), ...avoid]);
  return inQuestion(rig, radio, set, (hz) => !reaches({ hz, bandwidthHz: set.bandwidthHz }));
}

function within(rig: Rig, radio: Coordination, set: Transmission): number[] {
  return inQuestion(rig, radio, set, () => true);
}

/**
 * Where a set may come into question, in rising order: what it and all that hear it tune, in steps; inside the ranges that need no licence here,
 * or, where none of those is left, in the others. Where the rig holds a licence, or nothing is known of the place, all that it tunes.
 * Nothing where its tuning is not stated.
 */
function inQuestion(rig: Rig, { where }: Coordination, set: Transmission, isClear: (hz: number) => boolean): number[] {
  const tuned = tunedBy(set);
  if (!tuned) return [];
  const { low, high } = tuned;
  const step = Math.max(1, Math.round(Math.max(set.piece.model.stepHz ?? RASTER_HZ, (high - low) / MOST_POINTS)));
  const all: number[] = [];
  for (let hz = Math.ceil(low / step) * step; hz <= high; hz += step) all.push(hz);
  const now = set.hz;
  if (now !== undefined && now >= low && now <= high && !all.includes(now)) all.push(now);
  const kept = all.sort((a, b) => a - b).filter(isClear);
  if (rig.settings.licensed || typeof where === 'string') return kept;
  const inside = (free: boolean) =>
    kept.filter((hz) => where.ranges.some((range) => (range.licence === 'none') === free && isInside(range, hz, set.bandwidthHz)));
  const free = inside(true);
  return free.length > 0 ? free : inside(false);
}
