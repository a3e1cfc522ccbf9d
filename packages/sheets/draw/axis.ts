/** A scale in dB from left to right: where a level stands on it, its lines and its figures. */
import type { Path, Words } from '../drawing';
import { figure } from './figure';
import { straight } from './straight';
import { widthOf } from './words';

export interface Scale {
  /** The levels at its two ends, in dB of one kind. */
  readonly from: number;
  readonly to: number;
  /** Where it lies, in mm. */
  readonly x: number;
  readonly width: number;
  /** From one line to the next, in dB. */
  readonly step: number;
}

const STEPS = [10, 20, 50, 100];
const FIGURE_MM = 2.2;

/** A scale that all of these levels fit on, and a little more at both ends; what is beyond `most` stands at the end. In dB. */
export function scaleOf(
  levels: readonly number[],
  at: { readonly x: number; readonly width: number },
  most: readonly [number, number],
): Scale {
  const known = levels.filter(Number.isFinite).map((level) => Math.max(most[0], Math.min(level, most[1])));
  const low = Math.min(...known, most[1]);
  const high = Math.max(...known, low);
  const wanted = widthOf(figure(low), FIGURE_MM) * 1.9;
  const roomy = (each: number) => at.width / Math.max(1, (high - low) / each) >= wanted;
  const step = STEPS.find(roomy) ?? (STEPS.at(-1) as number);
  const from = Math.floor((low - step / 10) / step) * step;
  const to = Math.max(Math.ceil(high / step) * step, from + step);
  return { from, to, step, ...at };
}

/** Where a level stands, in mm: at the end of the scale where it is beyond it. */
export function xOf({ from, to, x, width }: Scale, level: number): number {
  return x + ((Math.max(from, Math.min(level, to)) - from) / (to - from)) * width;
}

function steps({ from, to, step }: Scale): number[] {
  return Array.from({ length: Math.round((to - from) / step) + 1 }, (_, index) => from + index * step);
}

/** A thin line at each step, from `top` to `bottom`; nought stands out. */
export function gridLines(scale: Scale, top: number, bottom: number): Path[] {
  return steps(scale).map((level) => {
    const x = xOf(scale, level);
    return straight(x, top, x, bottom, { stroke: 'line', strokeWidth: level === 0 ? 0.35 : 0.12 });
  });
}

/** The figure of each step, standing on the base line `y`. */
export function gridFigures(scale: Scale, y: number): Words[] {
  return steps(scale).map((level) => {
    const text = figure(level);
    return {
      kind: 'words',
      x: xOf(scale, level),
      y,
      text,
      size: FIGURE_MM,
      width: widthOf(text, FIGURE_MM),
      anchor: 'middle',
      role: 'muted',
    };
  });
}
