/** Lines as bars of level on one scale in dBu, each against what its input takes at the gain set. */
import { decibels } from '#engine';
import { gridFigures, gridLines, type Scale, scaleOf, xOf } from '../draw/axis';
import { figure } from '../draw/figure';
import { legend, SAMPLE_MM, type Sign } from '../draw/legend';
import { straight } from '../draw/straight';
import { fittedToLast, words } from '../draw/words';
import type { Drawing, Shape } from '../drawing';
import { wholeDown } from '../shared/figures';
import type { LevelLine } from './lines';

/** In mm. */
const PAGE = 180;
const NAME = 43;
const AXIS = { x: 47, width: 96 };
const ROW = 8.2;
/** Right edges of the columns of figures. */
const FIGURES = { gain: 156.5, headroom: 168.5, snr: 180 };
const FIGURE = 11;
/** The smallest letters, 6.2 pt. */
const SMALL = 2.2;
/** So many rows go on a page with what stands above them. */
const MOST_ROWS = 24;
/** Below any input's noise and above any output of ours, in dBu: what is beyond stands at the end of the scale. */
const REACH: readonly [number, number] = [-150, 50];
/** Less than this is not seen on paper. */
const SEEN_DB = 0.5;

/** The scale that all drawings of a rig share. */
export function levelScale(lines: readonly LevelLine[]): Scale {
  const levels = lines.flatMap(({ usual, peak, noise, reach, gain }) => [usual, peak, noise, reach?.low, reach?.high, gain?.clip]);
  return scaleOf([...levels.filter((level) => level !== undefined), 0], AXIS, REACH);
}

/** Whether there is something of a line to draw. */
export function isDrawn({ usual, peak }: LevelLine): boolean {
  return usual !== undefined && peak !== undefined;
}

/** In as many drawings as it takes to go on pages. */
export function levelDrawings(
  lines: readonly LevelLine[],
  scale: Scale,
): { readonly drawing: Drawing; readonly lines: readonly LevelLine[] }[] {
  const drawn = lines.filter(isDrawn);
  const pages = Math.ceil(drawn.length / MOST_ROWS);
  const each = Math.ceil(drawn.length / Math.max(1, pages));
  return Array.from({ length: pages }, (_, page) => {
    const here = drawn.slice(page * each, (page + 1) * each);
    return { drawing: drawingOf(here, scale), lines: here };
  });
}

function drawingOf(lines: readonly LevelLine[], scale: Scale): Drawing {
  const ours = lines.some(({ gain }) => gain !== undefined);
  const signs = [
    SIGNAL,
    ...(lines.some(({ splitLossDb = 0 }) => splitLossDb >= SEEN_DB) ? [LOST] : []),
    ...(ours ? [WINDOW, CLIP] : []),
    ...(lines.some(hasKnob) ? [KNOB] : []),
    ...(ours ? [] : [NOISE]),
  ];
  const key = legend(signs, { x: 0, top: 0, width: PAGE });
  const top = key.height + 7;
  const bottom = top + lines.length * ROW;
  const shapes: Shape[] = [
    ...key.shapes,
    ...gridFigures(scale, top - 1.4),
    words('dBu', { x: NAME, y: top - 1.4, size: SMALL, width: 8, anchor: 'end', role: 'muted' }),
    ...(ours ? [column('gain', FIGURES.gain, top), column('headroom', FIGURES.headroom, top)] : []),
    ...(lines.some(({ snrDb }) => snrDb !== undefined) ? [column('S/N', FIGURES.snr, top)] : []),
    ...gridLines(scale, top, bottom),
    ...lines.flatMap((line, index) => row(line, scale, top + index * ROW)),
    straight(0, bottom, PAGE, bottom, { stroke: 'line', strokeWidth: 0.2 }),
  ];
  return { width: PAGE, height: bottom + 0.5, shapes };
}

function column(title: string, right: number, top: number): Shape {
  return words(title, { x: right, y: top - 1.4, size: SMALL, width: FIGURE + 2, anchor: 'end', role: 'muted' });
}

function row(line: LevelLine, scale: Scale, y: number): Shape[] {
  const { place, usual = 0, peak = 0, gain, snrDb } = line;
  const middle = y + 3.2;
  const small = { size: SMALL, width: FIGURE, anchor: 'end', y: y + 6.5 } as const;
  const cell = { size: 2.7, width: FIGURE, anchor: 'end', y: y + 3.9 } as const;
  const clips = gain !== undefined && gain.headroomDb < 0;
  const shapes: Shape[] = [
    straight(0, y, PAGE, y, { stroke: 'line', strokeWidth: 0.12 }),
    ...(gain ? window(line, scale, middle) : noise(line, scale, middle)),
    ...(hasKnob(line) ? knob(line, scale, y + 6.9) : []),
    ...lost(line, scale, middle),
    bar(xOf(scale, usual), xOf(scale, peak), middle, wordsOf(line)),
    ...(gain ? [straight(xOf(scale, gain.clip), y + 0.9, xOf(scale, gain.clip), hasKnob(line) ? y + 7.6 : y + 5.6, CLIP_LOOK)] : []),
    words(line.signal, { x: 0, y: y + 3.6, size: 2.8, width: NAME, bold: true }),
    words(fittedToLast(line.socket, 2.4, NAME), { x: 0, y: y + 6.8, size: 2.4, width: NAME, role: 'muted', label: line.socket }),
    ...(gain?.gainDb === undefined
      ? []
      : [
          words(figure(gain.gainDb), { ...cell, x: FIGURES.gain }),
          words(gain.written ? 'written' : 'computed', { ...small, x: FIGURES.gain, width: FIGURE + 2, role: 'muted' }),
        ]),
    ...(gain ? [words(figure(gain.headroomDb), { ...cell, x: FIGURES.headroom, bold: clips })] : []),
    ...(clips ? [words('clips', { ...small, x: FIGURES.headroom, bold: true })] : []),
    ...(snrDb === undefined ? [] : [words(figure(wholeDown(snrDb)), { ...cell, x: FIGURES.snr })]),
  ];
  return shapes.map((shape) => ({ ...shape, place }));
}

const BAR_MM = 2.6;
const WINDOW_MM = 4.2;
const CLIP_LOOK = { stroke: 'ink', strokeWidth: 0.7 } as const;

function bar(from: number, to: number, middle: number, label?: string): Shape {
  return { kind: 'box', x: from, y: middle - BAR_MM / 2, width: Math.max(0.6, to - from), height: BAR_MM, fill: 'accent', label };
}

/** From the noise to where it clips; open to the left where the noise is not known. */
function window({ noise: level, gain }: LevelLine, scale: Scale, middle: number): Shape[] {
  const left = level === undefined ? scale.x : xOf(scale, level);
  const width = Math.max(0, xOf(scale, gain?.clip ?? 0) - left);
  const top = middle - WINDOW_MM / 2;
  return [
    { kind: 'box', x: left, y: top, width, height: WINDOW_MM, fill: 'tint' },
    ...[top, top + WINDOW_MM].map((y) => straight(left, y, left + width, y, { stroke: 'line', strokeWidth: 0.2 })),
    ...(level === undefined ? [] : [straight(left, top, left, top + WINDOW_MM, { stroke: 'muted', strokeWidth: 0.25 })]),
  ];
}

function noise({ noise: level }: LevelLine, scale: Scale, middle: number): Shape[] {
  return level === undefined ? [] : [noiseSign(xOf(scale, level), middle)];
}

function noiseSign(x: number, middle: number): Shape {
  return straight(x, middle - WINDOW_MM / 2, x, middle + WINDOW_MM / 2, { stroke: 'muted', strokeWidth: 0.25 });
}

function hasKnob({ reach }: LevelLine): boolean {
  return reach !== undefined && reach.high > reach.low;
}

/** What the gain can be turned through, as where the input then clips. */
function knob({ reach }: LevelLine, scale: Scale, y: number): Shape[] {
  return bracket(xOf(scale, reach?.low ?? 0), xOf(scale, reach?.high ?? 0), y);
}

function bracket(from: number, to: number, y: number): Shape[] {
  const look = { stroke: 'muted', strokeWidth: 0.25 } as const;
  return [straight(from, y, to, y, look), straight(from, y - 0.6, from, y + 0.6, look), straight(to, y - 0.6, to, y + 0.6, look)];
}

/** How far it would reach with nothing else plugged in. */
function lost({ peak = 0, splitLossDb = 0 }: LevelLine, scale: Scale, middle: number): Shape[] {
  if (splitLossDb < SEEN_DB) return [];
  const left = xOf(scale, peak);
  return [lostSign(left, xOf(scale, peak + splitLossDb), middle)];
}

function lostSign(from: number, to: number, middle: number): Shape {
  return {
    kind: 'box',
    x: from,
    y: middle - BAR_MM / 2,
    width: Math.max(0, to - from),
    height: BAR_MM,
    fill: 'paper',
    stroke: 'accent',
    strokeWidth: 0.25,
  };
}

// ---- words ---------------------------------------------------------------------------------------

/** What a line's bar says. */
export function wordsOf({ signal, socket, usual = 0, peak = 0, gain }: LevelLine): string {
  const come = `${signal} at ${socket}: ${decibels(usual, 'dBu')} as usual, ${decibels(peak, 'dBu')} at its loudest`;
  if (!gain) return come;
  return `${come}; ${gain.headroomDb < 0 ? `clips by ${decibels(-gain.headroomDb)}` : `${decibels(gain.headroomDb)} of headroom`}`;
}

// ---- signs ---------------------------------------------------------------------------------------

const SIGNAL: Sign = { text: 'signal, from usual to loudest', sample: (x, y) => [bar(x, x + SAMPLE_MM, y)] };
const LOST: Sign = { text: 'lost to what else is plugged in', sample: (x, y) => [bar(x, x + 4, y), lostSign(x + 4, x + SAMPLE_MM, y)] };
const WINDOW: Sign = {
  text: 'what the input takes, noise to clipping',
  sample: (x, y) => [
    { kind: 'box', x, y: y - WINDOW_MM / 2, width: SAMPLE_MM, height: WINDOW_MM, fill: 'tint', stroke: 'line', strokeWidth: 0.2 },
  ],
};
const CLIP: Sign = {
  text: 'it clips here at the gain given',
  sample: (x, y) => [straight(x + SAMPLE_MM / 2, y - WINDOW_MM / 2, x + SAMPLE_MM / 2, y + WINDOW_MM / 2, CLIP_LOOK)],
};
const KNOB: Sign = { text: 'where it clips from highest to lowest gain', sample: (x, y) => bracket(x, x + SAMPLE_MM, y) };
const NOISE: Sign = { text: 'noise there, at the gain to set', sample: (x, y) => [noiseSign(x + SAMPLE_MM / 2, y)] };
