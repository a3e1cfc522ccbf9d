/**
 * How leads lie on the floor: at right angles, along the edges where they reach, round people, many in one way where they can share
 * it. No way is longer than its lead: what that has to spare over straight across and back is what it can go round with.
 */
import { type Checked, mustNotBe, signalLabel } from '#engine';
import { isPlace, type Place, type Position, type Rig } from '#rig';
import { alike } from '../shared/alike';
import { unique } from '../shared/draft';
import type { Ground } from './plan';
import { spotKey } from './things';

/** A piece of floor on which the same leads lie; along x or along y. */
export interface Way {
  readonly from: Position;
  readonly to: Position;
  readonly count: number;
  readonly runs: readonly Place[];
  /** What they carry, in words. */
  readonly carry: readonly string[];
}

export interface Floor {
  readonly ways: readonly Way[];
  /** Where leads cross the way of somebody to the nearer side of the stage. */
  readonly crossings: readonly Position[];
}

interface Pair {
  readonly ends: readonly [Position, Position];
  readonly runs: Place[];
  /** Signals, by their ids. */
  readonly carry: string[];
  count: number;
  /** The shortest of its leads, less its ends. */
  reachM: number;
}

interface Segment {
  readonly from: Position;
  readonly to: Position;
}

const HAIR_M = 0.005;
/** Nobody wants a lead round their feet. */
const FEET_M = 0.4;
/** At the sides and the back it is in nobody's way. */
const EDGE_M = 0.7;
/** Crossings nearer to each other than this are one; along the same leads, nearer than that. */
const ONE_M = 0.5;
const ONE_ALONG_M = 1.5;
/** Across the stage in front of the middle, a lead is in everybody's way; at the back or a side it is in nobody's. */
const IN_FRONT = 1.6;
const AT_EDGE = 0.6;
/** To go through somebody costs as much as so many metres: more than any way round. */
const THROUGH_SOMEBODY = 100;
/** Each corner costs as much as so many metres: of two ways, the plainer. */
const CORNER = 0.2;
/** So far from an edge lies what lies along it. */
const INSET_M = 0.3;
/** Kept of a lead for its ends: up to a socket, down from a stand. */
const ENDS_M = 1;
/** Of the ways that others have taken, so many are tried. */
const MOST_TRUNKS = 24;

export function floorOf(
  { rig, network, leads }: Checked,
  people: readonly Position[],
  stage: Ground,
  held: (at: Position) => Position,
): Floor {
  const pairs = new Map<string, Pair>();
  for (const { joint, lead, lengthM, ownM, fromAt, toAt } of leads) {
    if (!lead || !fromAt || !toAt || mustNotBe(joint) || !isPlace(fromAt) || !isPlace(toAt)) continue;
    const ends = [held(fromAt), held(toAt)] as const;
    const [from, to] = ends.map(spotKey) as [string, string];
    if (from === to) continue;
    const key = from < to ? `${from} ${to}` : `${to} ${from}`;
    const pair = pairs.get(key) ?? { ends, runs: [], carry: [], count: 0, reachM: Number.POSITIVE_INFINITY };
    pair.count++;
    pair.reachM = Math.min(pair.reachM, (lengthM ?? ownM ?? 0) - ENDS_M);
    pair.runs.push(...joint.runs.map((run) => run.place));
    pair.carry.push(...network.linesThrough(joint).flatMap((line) => line.signal ?? []));
    pairs.set(key, pair);
  }
  const ways = shared(rig, laid([...pairs.values()], people, stage));
  return { ways, crossings: crossed(ways, people, stage) };
}

// ---- which corners ---------------------------------------------------------------------------------

interface Laid {
  readonly pair: Pair;
  readonly segments: readonly Segment[];
}

/** The leads of the busiest places come first, so that the others can join their ways. */
function laid(pairs: readonly Pair[], people: readonly Position[], stage: Ground): Laid[] {
  const busy = new Map<string, number>();
  for (const { ends, count } of pairs) for (const end of ends) busy.set(spotKey(end), (busy.get(spotKey(end)) ?? 0) + count);
  const weight = (end: Position) => busy.get(spotKey(end)) ?? 0;
  const sorted = pairs
    .map((pair) => {
      const [a, b] = pair.ends;
      return weight(a) > weight(b) ? { pair, hub: a, end: b } : { pair, hub: b, end: a };
    })
    .sort((a, b) => weight(b.hub) - weight(a.hub) || length(b.end, b.hub) - length(a.end, a.hub));
  const covered = new Map<string, [number, number][]>();
  const lanes: Lanes = { xs: edgesOf(stage.left, stage.right), ys: edgesOf(stage.front, stage.back) };
  // Beside somebody there is a way as well.
  for (const { x, y } of people.slice(0, MOST_TRUNKS / 4)) {
    lanes.xs.push(x - 1.2 * FEET_M, x + 1.2 * FEET_M);
    lanes.ys.push(y - 1.2 * FEET_M, y + 1.2 * FEET_M);
  }
  return sorted.map(({ pair, hub, end }) => {
    let best: { segments: Segment[]; cost: number } | undefined;
    const most = Math.max(pair.reachM, length(end, hub)) + HAIR_M;
    for (const corners of cornersOf(end, hub, lanes)) {
      const segments = segmentsOf([end, ...corners, hub]);
      if (segments.reduce((sum, { from, to }) => sum + length(from, to), 0) > most) continue;
      const all = segments.reduce((sum, segment) => sum + cost(segment, pair, people, stage, covered), CORNER * segments.length);
      if (!best || all < best.cost - HAIR_M) best = { segments, cost: all };
    }
    const segments = best?.segments ?? [];
    for (const segment of segments) {
      const { key, low, high } = onAxis(segment);
      covered.set(key, joined([...(covered.get(key) ?? []), [low, high]]));
      // Others can join it.
      const [along, across] = segment.from.x === segment.to.x ? [lanes.xs, segment.from.x] : [lanes.ys, segment.from.y];
      if (along.length < MOST_TRUNKS && !along.includes(across)) along.push(across);
    }
    return { pair, segments };
  });
}

/** Where leads may run besides straight: x of what runs back and forth, y of what runs across. */
interface Lanes {
  readonly xs: number[];
  readonly ys: number[];
}

function edgesOf(low: number, high: number): number[] {
  const inset = Math.min(INSET_M, (high - low) / 4);
  return [low + inset, high - inset];
}

/** Ways of one, two and three corners, each at right angles. */
function* cornersOf(end: Position, hub: Position, { xs, ys }: Lanes): Generator<Position[]> {
  yield [{ x: end.x, y: hub.y }];
  yield [{ x: hub.x, y: end.y }];
  for (const y of ys)
    yield [
      { x: end.x, y },
      { x: hub.x, y },
    ];
  for (const x of xs)
    yield [
      { x, y: end.y },
      { x, y: hub.y },
    ];
  for (const x of xs) {
    for (const y of ys) {
      yield [
        { x, y: end.y },
        { x, y },
        { x: hub.x, y },
      ];
      yield [
        { x: end.x, y },
        { x, y },
        { x, y: hub.y },
      ];
    }
  }
}

function segmentsOf(points: readonly Position[]): Segment[] {
  const segments: Segment[] = [];
  points.slice(1).forEach((to, index) => {
    const from = points[index] as Position;
    if (length(from, to) > HAIR_M) segments.push({ from, to });
  });
  return segments;
}

/** In metres: what is new of it, less along an edge, far more through people. */
function cost(
  segment: Segment,
  { ends }: Pair,
  people: readonly Position[],
  stage: Ground,
  covered: ReadonlyMap<string, [number, number][]>,
) {
  const { key, low, high } = onAxis(segment);
  const there = (covered.get(key) ?? []).reduce((sum, [from, to]) => sum + Math.max(0, Math.min(high, to) - Math.max(low, from)), 0);
  const through = people.filter((person) => distance(person, segment) < FEET_M && !ends.some((end) => length(end, person) < FEET_M)).length;
  // What lies beside others is no new way, but not for nothing.
  return (high - low - 0.8 * there) * weightOf(segment, stage) + through * THROUGH_SOMEBODY;
}

function weightOf({ from, to }: Segment, stage: Ground): number {
  if (from.x === to.x) return from.x <= stage.left + EDGE_M || from.x >= stage.right - EDGE_M ? AT_EDGE : 1;
  if (from.y >= stage.back - EDGE_M) return AT_EDGE;
  return from.y < (stage.front + stage.back) / 2 ? IN_FRONT : 1;
}

function distance(at: Position, { from, to }: Segment): number {
  const beside = (value: number, a: number, b: number) => Math.max(0, Math.min(a, b) - value, value - Math.max(a, b));
  return Math.hypot(beside(at.x, from.x, to.x), beside(at.y, from.y, to.y));
}

function length(a: Position, b: Position): number {
  return Math.abs(a.x - b.x) + Math.abs(a.y - b.y);
}

/** Overlapping stretches made one. */
function joined(stretches: [number, number][]): [number, number][] {
  const all: [number, number][] = [];
  for (const [from, to] of stretches.toSorted((a, b) => a[0] - b[0])) {
    const last = all.at(-1);
    if (last && from <= last[1]) last[1] = Math.max(last[1], to);
    else all.push([from, to]);
  }
  return all;
}

// ---- what lies together ----------------------------------------------------------------------------

function onAxis({ from, to }: Segment): { readonly key: string; readonly low: number; readonly high: number } {
  const along = Math.abs(from.y - to.y) < HAIR_M ? 'x' : 'y';
  const across = along === 'x' ? from.y : from.x;
  return { key: `${along} ${across.toFixed(2)}`, low: Math.min(from[along], to[along]), high: Math.max(from[along], to[along]) };
}

/** The stretches of each line on which the number of leads is the same. */
function shared(rig: Rig, all: readonly Laid[]): Way[] {
  const lines = new Map<string, { segment: Segment; low: number; high: number; pair: Pair }[]>();
  for (const { pair, segments } of all) {
    for (const segment of segments) {
      const { key, low, high } = onAxis(segment);
      const line = lines.get(key) ?? [];
      line.push({ segment, low, high, pair });
      lines.set(key, line);
    }
  }
  return [...lines].flatMap(([key, line]) => {
    const across = line[0]?.segment.from;
    const stops = [...new Set(line.flatMap(({ low, high }) => [low, high]))].sort((a, b) => a - b);
    const ways: Way[] = [];
    stops.slice(1).forEach((high, index) => {
      const low = stops[index] as number;
      const here = line.filter((each) => each.low < high - HAIR_M && each.high > low + HAIR_M);
      if (here.length === 0 || !across) return;
      const at = (along: number): Position => (key.startsWith('x') ? { x: along, y: across.y } : { x: across.x, y: along });
      const runs = unique(here.flatMap(({ pair }) => pair.runs));
      const carry = alike(
        unique(here.flatMap(({ pair }) => pair.carry))
          .map((id) => signalLabel(rig, id))
          .filter(Boolean),
      );
      const count = here.reduce((sum, { pair }) => sum + pair.count, 0);
      const last = ways.at(-1);
      if (last && last.count === count && last.runs.join() === runs.join()) ways[ways.length - 1] = { ...last, to: at(high) };
      else ways.push({ from: at(low), to: at(high), count, runs, carry });
    });
    return ways;
  });
}

// ---- where people walk -----------------------------------------------------------------------------

function crossed(ways: readonly Way[], people: readonly Position[], stage: Ground): Position[] {
  const found: Position[] = [];
  for (const { x, y } of people) {
    const side = x - stage.left < stage.right - x ? stage.left : stage.right;
    for (const { from, to } of ways) {
      const isAcross = from.x === to.x && Math.min(from.y, to.y) < y - HAIR_M && Math.max(from.y, to.y) > y + HAIR_M;
      const isOnTheWay = from.x >= Math.min(x, side) - HAIR_M && from.x <= Math.max(x, side) + HAIR_M;
      if (!isAcross || !isOnTheWay || Math.abs(from.x - x) < FEET_M) continue;
      const at = { x: from.x, y };
      if (!found.some((other) => length(other, at) < (other.x === at.x ? ONE_ALONG_M : ONE_M))) found.push(at);
    }
  }
  return found;
}
