/** The carriers of a band across its frequencies, a row each, with what they make together below. */
import { type Coordination, hertz, type OnAir, productsOf, type Trouble } from '#engine';
import type { Span } from '#rig';
import { type Scale, xOf } from '../draw/axis';
import { legend, SAMPLE_MM, type Sign } from '../draw/legend';
import { straight } from '../draw/straight';
import { widthOf, words } from '../draw/words';
import type { Drawing, Shape } from '../drawing';
import { ABOVE_LOOK, SCAN_HEIGHT, SCAN_LOOK, scanStrip, scansOf } from './scan';

/** In mm. */
const PAGE = 180;
const NAME = 50;
const AXIS = { x: 54, width: 122 };
const ROW = 6;
const MARK = 3.2;
const PRODUCTS = 9;
const FIGURE = 2.2;
const HAIR = 0.2;
/** So many rows go on a page. */
const MOST_ROWS = 30;
/** What is further apart than this is drawn apart, in Hz: a band and the next. */
const BAND_GAP_HZ = 30e6;
/** Beyond so many, products of three fill all there is. */
const MOST_MIXING = 24;

export interface Band {
  readonly carriers: readonly OnAir[];
  readonly span: Span;
}

/** Carriers that lie near each other, from the lowest up. */
export function bands({ onAir }: Coordination): Band[] {
  const rising = onAir.toSorted((a, b) => a.hz - b.hz);
  const groups: OnAir[][] = [];
  for (const each of rising) {
    const last = groups.at(-1);
    const before = last?.at(-1);
    if (last && before && each.hz - before.hz <= BAND_GAP_HZ && last.length < MOST_ROWS) last.push(each);
    else groups.push([each]);
  }
  return groups.map((carriers) => {
    const widest = Math.max(...carriers.map(({ bandwidthHz }) => bandwidthHz));
    const low = (carriers[0] as OnAir).hz - widest;
    const high = (carriers.at(-1) as OnAir).hz + widest;
    const step = stepFor(high - low);
    return { carriers, span: { low: Math.floor(low / step) * step, high: Math.ceil(high / step) * step } };
  });
}

const STEPS_HZ = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 500].map((mega) => mega * 1e6);

/** From one figure of the scale to the next. */
function stepFor(wide: number): number {
  return STEPS_HZ.find((step) => wide / step <= 12) ?? (STEPS_HZ.at(-1) as number);
}

export function spectrum(air: Coordination, { carriers, span }: Band): Drawing {
  const scale: Scale = { from: span.low, to: span.high, step: stepFor(span.high - span.low), ...AXIS };
  const free = typeof air.where === 'string' ? [] : air.where.ranges.filter((each) => each.lowHz < span.high && each.highHz > span.low);
  const avoided = air.avoidedRanges.filter(({ low, high }) => low < span.high && high > span.low);
  const scans = scansOf(air.scans, scale);
  const loud = scans.flatMap((scan) =>
    scan.loud.filter(({ low, high }) => low < span.high && high > span.low).map((each) => ({ ...each, scan })),
  );
  const hit = air.troubles.filter(({ victim }) => carriers.includes(victim));
  const ticks = productTicks(air, span);
  const key = legend(
    [
      ...(carriers.some(({ ours }) => ours) ? [OURS] : []),
      ...(carriers.some(({ ours }) => !ours) ? [THEIRS] : []),
      ...(ticks.pairs.length > 0 ? [PAIR] : []),
      ...(ticks.triples.length > 0 ? [TRIPLE] : []),
      ...(hit.length > 0 ? [HIT] : []),
      ...(free.length > 0 ? [KNOWN] : []),
      ...(avoided.length > 0 ? [AVOIDED] : []),
      ...(loud.length > 0 ? [LOUD] : []),
      ...(scans.length > 0 ? [SCANNED] : []),
    ],
    { x: 0, top: 0, width: PAGE },
  );
  const top = key.height + 6;
  const bottom = top + carriers.length * ROW;
  const above = bottom + (ticks.pairs.length + ticks.triples.length > 0 ? PRODUCTS : 0);
  const end = above + scans.length * SCAN_HEIGHT;
  const shapes: Shape[] = [
    ...key.shapes,
    words('MHz', { x: NAME, y: top - 1.4, size: FIGURE, width: 8, anchor: 'end', role: 'muted' }),
    ...free.map((each) => area(scale, each.lowHz, each.highHz, top, end, { fill: 'tint' })),
    ...avoided.map(({ low, high, place, label }) => ({
      ...area(scale, low, high, top, end, { stroke: 'danger', strokeWidth: 0.3, dashed: true }),
      place,
      label: `to be avoided${label ? `: ${label}` : ''}`,
    })),
    ...merged(scale, loud).map(
      ([from, to]) => ({ kind: 'box', x: from, y: top, width: to - from, height: end - top, ...LOUD_LOOK }) as const,
    ),
    ...grid(scale, top, end),
    ...carriers.flatMap((carrier, index) =>
      row(
        scale,
        carrier,
        hit.filter(({ victim }) => victim === carrier),
        top + index * ROW,
      ),
    ),
    straight(0, bottom, PAGE, bottom, { stroke: 'line', strokeWidth: 0.2 }),
    ...(above > bottom
      ? [
          words('what they make together', { x: 0, y: bottom + 5.4, size: 2.4, width: NAME, role: 'muted' }),
          ...ticks.pairs.map((hz) => straight(xOf(scale, hz), bottom + 1, xOf(scale, hz), bottom + 8, PAIR_LOOK)),
          ...ticks.triples.map((hz) => straight(xOf(scale, hz), bottom + 4.5, xOf(scale, hz), bottom + 8, TRIPLE_LOOK)),
        ]
      : []),
    ...scans.flatMap((scan, index) => scanStrip(scan, scale, above + index * SCAN_HEIGHT, NAME, PAGE)),
  ];
  return { width: PAGE, height: end + 0.5, shapes };
}

/** Ranges as they are seen, in mm: what is closer than a hair is one, and none is thinner than that. */
function merged(scale: Scale, ranges: readonly Span[]): [number, number][] {
  const found: [number, number][] = [];
  for (const { low, high } of ranges.toSorted((a, b) => a.low - b.low)) {
    const from = xOf(scale, low);
    const to = Math.min(scale.x + scale.width, Math.max(xOf(scale, high), from + HAIR));
    const last = found.at(-1);
    if (last && from <= last[1] + HAIR) last[1] = Math.max(last[1], to);
    else found.push([Math.min(from, to - HAIR), to]);
  }
  return found;
}

function grid(scale: Scale, top: number, bottom: number): Shape[] {
  const { from, to, step } = scale;
  const decimals = step < 1e6 ? 1 : 0;
  return Array.from({ length: Math.round((to - from) / step) + 1 }, (_, index) => from + index * step).flatMap((hz) => {
    const text = (hz / 1e6).toFixed(decimals);
    const x = xOf(scale, hz);
    return [
      straight(x, top, x, bottom, { stroke: 'line', strokeWidth: 0.12 }),
      words(text, { x, y: top - 1.4, size: FIGURE, width: widthOf(text, FIGURE) + 0.1, anchor: 'middle', role: 'muted' }),
    ];
  });
}

function area(scale: Scale, low: number, high: number, top: number, bottom: number, look: object): Shape {
  const x = xOf(scale, low);
  return { kind: 'box', x, y: top, width: xOf(scale, high) - x, height: bottom - top, ...look };
}

function row(scale: Scale, carrier: OnAir, hit: readonly Trouble[], y: number): Shape[] {
  const { piece, hz, bandwidthHz, ours } = carrier;
  const middle = y + ROW / 2;
  const from = xOf(scale, hz - bandwidthHz / 2);
  const width = Math.max(0.8, xOf(scale, hz + bandwidthHz / 2) - from);
  const shapes: Shape[] = [
    straight(0, y, PAGE, y, { stroke: 'line', strokeWidth: 0.12 }),
    words(`${hertz(hz)}  ${piece.label}`, { x: 0, y: middle + 1, size: 2.6, width: NAME, bold: ours }),
    mark(from, middle, width, ours, `${piece.label}, ${hertz(hz)}`),
    ...hit.flatMap(({ productHz }) => {
      const x = xOf(scale, productHz);
      return [
        straight(x - 1.1, middle - 2.2, x + 1.1, middle + 2.2, HIT_LOOK),
        straight(x - 1.1, middle + 2.2, x + 1.1, middle - 2.2, HIT_LOOK),
      ];
    }),
  ];
  return shapes.map((shape) => ({ ...shape, place: piece.place }));
}

function mark(x: number, middle: number, width: number, ours: boolean, label?: string): Shape {
  const box = { kind: 'box', x, y: middle - MARK / 2, width, height: MARK, label } as const;
  return ours ? { ...box, fill: 'accent' } : { ...box, fill: 'paper', stroke: 'ink', strokeWidth: 0.3 };
}

/** Third-order products inside a band, once each for what is seen of them. */
function productTicks({ onAir }: Coordination, { low, high }: Span): { pairs: number[]; triples: number[] } {
  const signals = onAir.map(({ hz, kind }) => ({ hz, mixes: kind === 'analogue' }));
  if (signals.filter(({ mixes }) => mixes).length > MOST_MIXING) return { pairs: [], triples: [] };
  const seen = { pair: new Map<number, number>(), triple: new Map<number, number>() };
  const each = (high - low) / (AXIS.width * 5);
  for (const { order, hz } of productsOf(signals)) {
    if (order === 'fifth' || hz < low || hz > high) continue;
    seen[order].set(Math.round(hz / each), hz);
  }
  return { pairs: [...seen.pair.values()], triples: [...seen.triple.values()] };
}

const PAIR_LOOK = { stroke: 'ink', strokeWidth: 0.35 } as const;
const TRIPLE_LOOK = { stroke: 'muted', strokeWidth: 0.25 } as const;
const HIT_LOOK = { stroke: 'danger', strokeWidth: 0.5 } as const;

const OURS: Sign = { sample: (x, y) => [mark(x, y, SAMPLE_MM, true)], text: 'a carrier of ours, as wide as it is' };
const THEIRS: Sign = { sample: (x, y) => [mark(x, y, SAMPLE_MM, false)], text: 'one of the house’s' };
const PAIR: Sign = {
  sample: (x, y) => [straight(x + SAMPLE_MM / 2, y - 2, x + SAMPLE_MM / 2, y + 2, PAIR_LOOK)],
  text: 'a third-order product of two',
};
const TRIPLE: Sign = {
  sample: (x, y) => [straight(x + SAMPLE_MM / 2, y, x + SAMPLE_MM / 2, y + 2, TRIPLE_LOOK)],
  text: 'of three',
};
const HIT: Sign = {
  sample: (x, y) => [
    straight(x + SAMPLE_MM / 2 - 1.1, y - 1.8, x + SAMPLE_MM / 2 + 1.1, y + 1.8, HIT_LOOK),
    straight(x + SAMPLE_MM / 2 - 1.1, y + 1.8, x + SAMPLE_MM / 2 + 1.1, y - 1.8, HIT_LOOK),
  ],
  text: 'a product that falls on a carrier or near it',
};
const KNOWN: Sign = {
  sample: (x, y) => [{ kind: 'box', x, y: y - 1.8, width: SAMPLE_MM, height: 3.6, fill: 'tint' }],
  text: 'a range that is known for radio microphones here',
};
const LOUD_LOOK = { stroke: 'ink', strokeWidth: 0.25, dashed: true } as const;
const LOUD: Sign = {
  sample: (x, y) => [{ kind: 'box', x, y: y - 1.8, width: SAMPLE_MM, height: 3.6, ...LOUD_LOOK }],
  text: 'loud in a scan',
};
const SCANNED: Sign = {
  sample: (x, y) => [straight(x, y + 1, x + SAMPLE_MM, y + 1, ABOVE_LOOK), straight(x, y - 1, x + SAMPLE_MM, y - 1, SCAN_LOOK)],
  text: 'a scan’s levels, and from which on it is kept clear of',
};
const AVOIDED: Sign = {
  sample: (x, y) => [{ kind: 'box', x, y: y - 1.8, width: SAMPLE_MM, height: 3.6, stroke: 'danger', strokeWidth: 0.3, dashed: true }],
  text: 'to be avoided',
};
