/** The stage from above, to scale: things with their numbers and names, leads on the floor, and below it what the shapes mean. */
import { lengthText, lengthUnit, list, tidy } from '#engine';
import { type Position, toBase } from '#rig';
import { legend, SAMPLE_MM, type Sign } from '../draw/legend';
import { type Area, Room } from '../draw/room';
import { straight } from '../draw/straight';
import { broken, fitted, widthOf, words } from '../draw/words';
import type { Drawing, Shape, Words } from '../drawing';
import { feet, HALF_HEIGHT, HALF_WIDTH, marker, outline, reach } from './markers';
import { hundredth, type Plan } from './plan';
import type { Floor } from './routes';
import { KIND_WORDS, type Kind, type Thing } from './things';

const SMALL = 2.6;
const NAME = 2.9;
const BACK_MM = 5;
/** Names are cut to the first of these for which there is room, in mm. */
const NAME_WIDTHS = [46, 26, 16];

/** Where `planOf` starts on paper. */
export const PLAN_TOP = BACK_MM;

interface Spot {
  readonly x: number;
  readonly y: number;
}

interface Put extends Spot {
  readonly thing: Thing;
  readonly number: number;
}

export function picture(things: readonly Thing[], plan: Plan, floor: Floor): Drawing {
  const room = new Room(plan.area);
  const ways = waysDrawn(floor, plan);
  // Where people walk over leads, nothing hides it.
  for (const area of ways.bars) room.take(area);
  const puts = putDown(things, plan, room);
  const lines = new Room(plan.area);
  for (const area of [...ways.areas, ...frame(plan)]) lines.take(area);
  const names = named(puts, room, lines);
  const counts = counted(floor, plan, room, lines);
  const below: Shape[] = [];
  let y = plan.area.bottom;
  y = directions(plan, y, below);
  const meaning = legend(signs(puts, floor), { x: 0, top: y + 1.5, width: plan.area.right });
  below.push(...meaning.shapes);
  y += 1.5 + meaning.height;
  const put = new Set(puts.map(({ thing }) => thing));
  const far = puts.filter(({ thing }) => thing.at && isHeld(plan, thing.at));
  const shortened = puts.filter(({ thing }) => !names.whole.has(thing));
  y = key(
    shortened.map(({ number, thing }) => `${number}  ${thing.label}`),
    y,
    below,
  );
  y = remark(
    'Farther away than drawn',
    far.map(({ number, thing }) => `${number} ${thing.label}`),
    y,
    below,
  );
  const left = things.filter((thing) => !put.has(thing));
  y = remark(
    'Place not said',
    left.filter((thing) => !thing.at).map(({ label }) => label),
    y,
    below,
  );
  y = remark(
    'No room here, see the table',
    left.filter((thing) => thing.at).map(({ label }) => label),
    y,
    below,
  );
  const shapes = [
    ...ground(plan, room),
    ...ways.shapes,
    ...leaders(puts, plan),
    ...names.leaders,
    ...counts,
    ...puts.flatMap(({ thing, number, x, y: at }) => [...marker(thing, number, x, at), ...(names.shapes.get(thing) ?? [])]),
    ...below,
  ];
  return { width: plan.area.right, height: hundredth(y + 1), shapes };
}

// ---- the stage -------------------------------------------------------------------------------------

const RULE = { stroke: 'line', strokeWidth: 0.2 } as const;
const CROSS = 0.6;

function ground(plan: Plan, taken: Room): Shape[] {
  const { stage, said } = plan;
  const [left, right, top, bottom] = [plan.x(stage.left), plan.x(stage.right), plan.y(stage.back), plan.y(stage.front)];
  const step = gridStep(plan);
  const shapes: Shape[] = [];
  // Crosses, not lines: those would run through names. Nor is there one where something stands or is written.
  const [xs, ys] = [squares(stage.left, stage.right, step), squares(stage.front, stage.back, step)];
  for (const x of xs.map(plan.x)) {
    for (const y of ys.map(plan.y)) {
      if (x - left < CROSS || right - x < CROSS || y - top < CROSS || bottom - y < CROSS) continue;
      if (!taken.fits({ left: x - CROSS, right: x + CROSS, top: y - CROSS, bottom: y + CROSS })) continue;
      shapes.push(straight(x - CROSS, y, x + CROSS, y, RULE), straight(x, y - CROSS, x, y + CROSS, RULE));
    }
  }
  const length = (m: number) => lengthText(m, plan.lengths);
  const size = `${length(stage.right - stage.left)} by ${length(stage.back - stage.front)}`;
  shapes.push({ kind: 'box', x: left, y: top, width: right - left, height: bottom - top, stroke: 'ink', strokeWidth: 0.4, dashed: !said });
  shapes.push(
    words(said ? `Back of the stage, ${size}` : 'Back of the stage; its size is not said', {
      x: (plan.area.left + plan.area.right) / 2,
      y: plan.area.top - 1.2,
      size: SMALL,
      width: 120,
      anchor: 'middle',
      role: 'muted',
    }),
  );
  return shapes;
}

/** The stage's edges, as what a name had better not lie on. */
function frame({ stage, ...plan }: Plan): Area[] {
  const [left, right, top, bottom] = [plan.x(stage.left), plan.x(stage.right), plan.y(stage.back), plan.y(stage.front)];
  return [
    { left, right, top, bottom: top },
    { left, right, top: bottom, bottom },
    { left, right: left, top, bottom },
    { left: right, right, top, bottom },
  ];
}

const GRID_STEPS = { m: [1, 5, 10, 50, 100], ft: [5, 10, 20, 50, 100, 300] } as const;
const LEAST_SQUARE_MM = 6;
/** More than go on the paper. */
const MOST_SQUARES = 40;

/** Metres from one line of the grid to the next, round in the unit that is told: not so many lines that they are a grey field. */
function gridStep({ mmPerM, lengths }: Plan): number {
  const unit = lengthUnit(lengths);
  const steps = GRID_STEPS[unit].map((step) => toBase(step, unit));
  return steps.find((step) => step * mmPerM >= LEAST_SQUARE_MM) ?? (steps.at(-1) as number);
}

/** Where the lines of the grid are, counted from the middle of the front edge. */
function squares(from: number, to: number, step: number): number[] {
  const first = Math.ceil(from / step);
  const count = Math.min(MOST_SQUARES, Math.floor(to / step) - first + 1);
  return Array.from({ length: Math.max(0, count) }, (_, index) => (first + index) * step);
}

/** Where the audience is, which side is which, and how long a metre or some feet are. */
function directions(plan: Plan, top: number, shapes: Shape[]): number {
  const y = top + 3;
  const middle = plan.area.right / 2;
  const side = { y, size: SMALL, width: 42, role: 'muted' } as const;
  shapes.push(words('← performers’ right', { ...side, x: 0 }));
  shapes.push(words('performers’ left →', { ...side, x: plan.area.right, anchor: 'end' }));
  shapes.push(words('Audience', { x: middle, y, size: 3.4, width: 40, anchor: 'middle', bold: true }));
  shapes.push(straight(middle - 32, y - 1, middle - 14, y - 1, { stroke: 'ink', strokeWidth: 0.5 }));
  shapes.push(straight(middle + 14, y - 1, middle + 32, y - 1, { stroke: 'ink', strokeWidth: 0.5 }));
  const step = gridStep(plan);
  const bar = step * plan.mmPerM;
  const at = y + 5.5;
  shapes.push({ kind: 'path', points: [[0.2, at - 2.2], [0.2, at - 0.6], [0.2 + bar, at - 0.6], [0.2 + bar, at - 2.2]], stroke: 'ink', strokeWidth: 0.4 }); // biome-ignore format: one stroke
  shapes.push(
    words(
      `${lengthText(step, plan.lengths)} from cross to cross; 1 : ${plan.ratio} where it is printed ${tidy(plan.area.right, 0)} mm wide`,
      {
        x: bar + 2,
        y: at - 0.4,
        size: SMALL,
        width: plan.area.right - bar - 2,
        role: 'muted',
      },
    ),
  );
  return at;
}

// ---- things ----------------------------------------------------------------------------------------

const MOST_DRAWN = 400;
const MOST_WITHOUT_ROOM = 50;

/** Each as near as there is room to where it stands. */
function putDown(things: readonly Thing[], plan: Plan, room: Room): Put[] {
  const puts: Put[] = [];
  let without = 0;
  things.forEach((thing, index) => {
    // Where so many are, no other fits, and each search for room goes over the whole paper.
    if (!thing.at || puts.length === MOST_DRAWN || without === MOST_WITHOUT_ROOM) return;
    const { x, y } = onPaper(thing.at, plan);
    const free = firstFree(thing, rings(x, y, plan.area), room);
    if (!free) {
      without += 1;
      return;
    }
    room.take(areaOf(thing, free.x, free.y));
    puts.push({ thing, number: index + 1, ...free });
  });
  return puts;
}

function firstFree(thing: Thing, spots: Iterable<Spot>, room: Room): Spot | undefined {
  for (const at of spots) if (room.fits(areaOf(thing, at.x, at.y))) return at;
  return undefined;
}

function areaOf(thing: Thing, x: number, y: number): Area {
  const { above, below } = reach(thing);
  return { left: x - HALF_WIDTH - 0.3, right: x + HALF_WIDTH + 0.3, top: y - above - 0.3, bottom: y + below + 0.3 };
}

/** The place itself, then round it in wider and wider rings, as far as the drawing goes. */
function* rings(x: number, y: number, area: Area): Generator<Spot> {
  yield { x, y };
  const most = Math.hypot(area.right - area.left, area.bottom - area.top);
  for (let radius = 2; radius <= most; radius += 2) {
    const steps = Math.ceil((2 * Math.PI * radius) / 4);
    for (let step = 0; step < steps; step++) {
      // Sideways first: rows read better than columns.
      const angle = (2 * Math.PI * step) / steps;
      yield { x: hundredth(x + radius * Math.cos(angle)), y: hundredth(y + radius * Math.sin(angle)) };
    }
  }
}

function onPaper(at: Position, plan: Plan): Spot {
  const { x, y } = plan.held(at);
  return { x: plan.x(x), y: plan.y(y) };
}

function isHeld(plan: Plan, at: Position): boolean {
  const { x, y } = plan.held(at);
  return x !== at.x || y !== at.y;
}

/** From a marker that had to give way to where the thing stands. */
function leaders(puts: readonly Put[], plan: Plan): Shape[] {
  return puts.flatMap(({ thing, x, y }): Shape[] => {
    if (!thing.at) return [];
    const there = onPaper(thing.at, plan);
    if (Math.hypot(there.x - x, there.y - y) < 1) return [];
    return [
      straight(x, y, there.x, there.y, { stroke: 'muted', strokeWidth: 0.25 }),
      { kind: 'dot', x: there.x, y: there.y, radius: 0.5, fill: 'ink' },
    ];
  });
}

// ---- names -----------------------------------------------------------------------------------------

interface Names {
  readonly shapes: ReadonlyMap<Thing, readonly Shape[]>;
  /** From names that stand apart, under all else. */
  readonly leaders: readonly Shape[];
  /** Those whose name is there in full. */
  readonly whole: ReadonlySet<Thing>;
}

/** Whoever is looked for first has the first choice. */
const FIRST: readonly Kind[] = ['person', 'interface', 'house'];

/** Names lie on nothing: not on leads, which would be cut, and not on each other. */
function named(puts: readonly Put[], room: Room, lines: Room): Names {
  const shapes = new Map<Thing, readonly Shape[]>();
  const leaders: Shape[] = [];
  const whole = new Set<Thing>();
  const rank = ({ thing }: Put) => (FIRST.includes(thing.kind) ? FIRST.indexOf(thing.kind) : FIRST.length);
  for (const { thing, x, y } of puts.toSorted((a, b) => rank(a) - rank(b))) {
    const chosen = placedName(thing, x, y, room, lines);
    if (!chosen) continue;
    const { lines: all, area, far } = chosen;
    room.take(area);
    const width = hundredth(area.right - area.left);
    let top = area.top + PAD;
    const written = all.map(({ text, size, bold }): Words => {
      const base = top + ASCENT * size;
      top += size * LEADING;
      const at = { x: hundredth(area.left + PAD), y: hundredth(base), size, width, place: thing.place };
      return bold ? { kind: 'words', ...at, text, bold } : { kind: 'words', ...at, text, role: 'muted' };
    });
    const nearest = { x: Math.min(area.right, Math.max(area.left, x)), y: Math.min(area.bottom, Math.max(area.top, y)) };
    if (far) {
      leaders.push(straight(x, y, hundredth(nearest.x), hundredth(nearest.y), { stroke: 'muted', strokeWidth: 0.2, place: thing.place }));
      lines.take({
        left: Math.min(x, nearest.x),
        right: Math.max(x, nearest.x) + 0.1,
        top: Math.min(y, nearest.y),
        bottom: Math.max(y, nearest.y) + 0.1,
      });
    }
    shapes.set(thing, written);
    if (all[0]?.text === thing.label) whole.add(thing);
  }
  return { shapes, leaders, whole };
}

interface Written {
  readonly text: string;
  readonly size: number;
  readonly bold: boolean;
}

interface Chosen {
  readonly lines: readonly Written[];
  readonly area: Area;
  /** Not beside it: a thin line leads there. */
  readonly far: boolean;
}

/** Under a name, and smaller. */
const UNDER = 2.3;
const LEADING = 1.12;

/** With what stands under it, and without where there is no room; as much of it as there is room for. */
function placedName(thing: Thing, x: number, y: number, room: Room, lines: Room): Chosen | undefined {
  const free = (area: Area) => room.fits(area) && lines.under(area) === 0;
  const tries = NAME_WIDTHS.flatMap((width) =>
    thing.under.length > 0 ? [[width, true] as const, [width, false] as const] : [[width, false] as const],
  );
  const widest = NAME_WIDTHS[0] ?? 0;
  const set = (width: number, whole: boolean) => {
    const all: Written[] = [{ text: fitted(thing.label, NAME, width, true), size: NAME, bold: true }];
    if (whole)
      all.push(...thing.under.flatMap((text) => broken(text, UNDER, width, 3).map((line) => ({ text: line, size: UNDER, bold: false }))));
    return all[0]?.text === '' ? undefined : all;
  };
  // Whole and near, whole and farther off, and only then less of it.
  for (const whole of thing.under.length > 0 ? [true, false] : [false]) {
    for (const width of NAME_WIDTHS) {
      const all = set(width, whole);
      if (!all) continue;
      const isWhole = all[0]?.text === thing.label;
      const area = around(thing, x, y, sizeOf(all)).find(free);
      if (area && isWhole) return { lines: all, area, far: false };
    }
    const all = set(widest, whole);
    const away = all && farther(x, y, sizeOf(all)).find(free);
    if (all && away && all[0]?.text === thing.label) return { lines: all, area: away, far: true };
  }
  for (const [width, whole] of tries) {
    const all = set(width, whole);
    const area = all && around(thing, x, y, sizeOf(all)).find(free);
    if (all && area) return { lines: all, area, far: false };
  }
  return undefined;
}

interface Size {
  readonly wide: number;
  readonly high: number;
}

function sizeOf(lines: readonly Written[]): Size {
  return {
    wide: Math.max(...lines.map(({ text, size, bold }) => widthOf(text, size, bold))) + 2 * PAD,
    high: lines.reduce((sum, { size }) => sum + size * LEADING, 0) + 2 * PAD,
  };
}

/** How far a name may stand from what it names, in mm. */
const FARTHEST_MM = 22;

/** Round it, farther and farther. */
function farther(x: number, y: number, { wide, high }: Size): Area[] {
  const found: Area[] = [];
  for (let away = 6; away <= FARTHEST_MM; away += 2) {
    for (let step = 0; step < 24; step++) {
      const angle = (2 * Math.PI * step) / 24;
      const [cx, cy] = [x + (away + wide / 2) * Math.cos(angle), y + (away + high / 2) * Math.sin(angle)];
      found.push({
        left: hundredth(cx - wide / 2),
        top: hundredth(cy - high / 2),
        right: hundredth(cx + wide / 2),
        bottom: hundredth(cy + high / 2),
      });
    }
  }
  return found;
}

const PAD = 0.35;
const ASCENT = 0.76;

/** Where a name can stand, the best first. */
function around(thing: Thing, x: number, y: number, { wide, high }: Size): Area[] {
  const { above, below } = reach(thing);
  const at = (left: number, top: number): Area => ({ left, top, right: left + wide, bottom: top + high });
  const [east, west] = [x + HALF_WIDTH + 0.4, x - HALF_WIDTH - 0.4 - wide];
  const [north, south, level] = [y - above - 0.4 - high, y + below + 0.4, y - high / 2];
  const centred = x - wide / 2;
  return [
    at(east, level),
    at(west, level),
    at(centred, south),
    at(centred, north),
    at(east, y - above),
    at(west, y - above),
    at(east, y + HALF_HEIGHT - high),
    at(west, y + HALF_HEIGHT - high),
    at(x - HALF_WIDTH, south),
    at(x + HALF_WIDTH - wide, south),
    at(x - HALF_WIDTH, north),
    at(x + HALF_WIDTH - wide, north),
  ];
}

// ---- leads -----------------------------------------------------------------------------------------

function waysDrawn({ ways, crossings }: Floor, plan: Plan): { readonly shapes: Shape[]; readonly areas: Area[]; readonly bars: Area[] } {
  const areas: Area[] = [];
  const shapes: Shape[] = ways.map(({ from, to, count, runs, carry }) => {
    const [a, b] = [onPaper(from, plan), onPaper(to, plan)];
    const half = 0.3 + 0.065 * Math.min(count - 1, 8);
    areas.push({
      left: Math.min(a.x, b.x) - half,
      right: Math.max(a.x, b.x) + half,
      top: Math.min(a.y, b.y) - half,
      bottom: Math.max(a.y, b.y) + half,
    });
    const what = carry.length > MOST_TOLD ? [...carry.slice(0, MOST_TOLD), `${carry.length - MOST_TOLD} more`] : carry;
    return straight(a.x, a.y, b.x, b.y, {
      stroke: 'accent',
      strokeWidth: hundredth(0.45 + 0.13 * Math.min(count - 1, 8)),
      place: count === 1 ? runs[0] : undefined,
      label: `${count === 1 ? 'one lead' : `${count} leads`}: ${list(what)}`,
    });
  });
  const marks = crossings.map((at) => onPaper(at, plan));
  shapes.push(...marks.flatMap(({ x, y }) => bars(x, y)));
  return { shapes, areas, bars: marks.map(({ x, y }) => ({ left: x - BAR, right: x + BAR, top: y - 1, bottom: y + 1 })) };
}

const MOST_TOLD = 6;
const BAR = 1.6;

/** Two bars across a lead that runs away from the audience: tape, or a ramp. */
function bars(x: number, y: number): Shape[] {
  return [-0.7, 0.7].map((dy) => straight(x - BAR, y + dy, x + BAR, y + dy, { stroke: 'ink', strokeWidth: 0.45 }));
}

/** How many leads lie together, beside them, where there is room to say it. */
function counted({ ways }: Floor, plan: Plan, room: Room, lines: Room): Shape[] {
  const size = 2.4;
  return ways
    .filter(({ count }) => count > 1)
    .flatMap(({ from, to, count }): Shape[] => {
      const [a, b] = [onPaper(from, plan), onPaper(to, plan)];
      const text = `×${count}`;
      const [wide, high] = [widthOf(text, size) + 0.4, size + 0.2];
      const vertical = a.x === b.x;
      if (Math.abs(a.x - b.x) + Math.abs(a.y - b.y) < (vertical ? high : wide) + 1) return [];
      const off = 0.45 + 0.065 * Math.min(count - 1, 8);
      const spots = [0.5, 0.3, 0.7].flatMap((part): Area[] => {
        const [x, y] = [a.x + (b.x - a.x) * part, a.y + (b.y - a.y) * part];
        return vertical
          ? [x + off, x - off - wide].map((left) => ({ left, right: left + wide, top: y - high / 2, bottom: y + high / 2 }))
          : [y - off - high, y + off].map((top) => ({ left: x - wide / 2, right: x + wide / 2, top, bottom: top + high }));
      });
      const area = spots.find((each) => room.fits(each) && lines.under(each) === 0);
      if (!area) return [];
      room.take(area);
      return [
        {
          kind: 'words',
          x: hundredth((area.left + area.right) / 2),
          y: hundredth(area.top + 0.1 + ASCENT * size),
          text,
          size,
          width: wide,
          anchor: 'middle',
        },
      ];
    });
}

// ---- below -----------------------------------------------------------------------------------------

const ORDER: readonly Kind[] = ['person', 'stand', 'mic', 'box', 'radio', 'interface', 'other', 'house', 'mains'];

function signs(puts: readonly Put[], floor: Floor): Sign[] {
  const large = new Set(puts.map(({ thing }) => thing.kind));
  const small = new Set(puts.flatMap(({ thing }) => feet(thing)));
  const middle = SAMPLE_MM / 2;
  const found: Sign[] = ORDER.filter((kind) => large.has(kind) || small.has(kind)).map((kind) => ({
    sample: (x, y) => outline(kind, x + middle, y, 0.55, {}),
    text: KIND_WORDS[kind],
  }));
  const [one] = small;
  if (one) found.push({ sample: (x, y) => outline(one, x + middle, y, 0.3, {}), text: 'small: carried, or at the feet' });
  if (floor.ways.length > 0)
    found.push({
      sample: (x, y) => [straight(x + 0.5, y, x + SAMPLE_MM - 0.5, y, { stroke: 'accent', strokeWidth: 0.7 })],
      text: 'leads; ×6: six together',
    });
  if (floor.crossings.length > 0) found.push({ sample: (x, y) => bars(x + middle, y), text: 'tape or a ramp: people walk here' });
  return found;
}

const KEY_COLUMNS = 3;
const KEY_COLUMN = 61;
const KEY_WIDTH = 58;
const MOST_KEY_LINES = 4;
const MOST_KEYS = 75;

/** Whose names had no room, or not enough. */
function key(all: readonly string[], top: number, shapes: Shape[]): number {
  if (all.length === 0) return top;
  const shown = all.length > MOST_KEYS ? [...all.slice(0, MOST_KEYS - 1), `${all.length - MOST_KEYS + 1} more: see the table`] : all;
  // Whole, on as many lines as a name takes.
  const entries = shown.map((text) => broken(text, SMALL, KEY_WIDTH, MOST_KEY_LINES));
  const rows = Math.max(Math.ceil(entries.flat().length / KEY_COLUMNS), ...entries.map((lines) => lines.length));
  let column = 0;
  let row = 0;
  let used = 0;
  for (const lines of entries) {
    if (row > 0 && row + lines.length > rows && column < KEY_COLUMNS - 1) {
      column += 1;
      row = 0;
    }
    for (const line of lines) {
      shapes.push(words(line, { x: column * KEY_COLUMN, y: top + 3.6 + row * 4, size: SMALL, width: KEY_WIDTH }));
      row += 1;
    }
    used = Math.max(used, row);
  }
  return top + 1 + used * 4 + 1;
}

function remark(title: string, all: readonly string[], top: number, shapes: Shape[]): number {
  if (all.length === 0) return top;
  shapes.push(words(`${title}: ${all.join(', ')}`, { x: 0, y: top + 3.2, size: SMALL, width: 180, role: 'muted' }));
  return top + 4.4;
}
