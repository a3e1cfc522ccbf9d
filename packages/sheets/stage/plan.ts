/** How metres on the stage come to be millimetres on paper. */
import type { Lengths } from '#engine';
import { isStage, type Position, type Settings } from '#rig';
import type { Area } from '../draw/room';

export interface Ground {
  readonly left: number;
  readonly right: number;
  readonly front: number;
  readonly back: number;
}

export interface Plan {
  /** In which unit it is told. */
  readonly lengths: Lengths;
  /** The stage, in metres; as far as things stand, where the rig does not say how large it is. */
  readonly stage: Ground;
  readonly said: boolean;
  /** What is drawn, in metres: the stage and what stands near it. */
  readonly drawn: Ground;
  /** One to so much. */
  readonly ratio: number;
  readonly mmPerM: number;
  /** On paper, with a margin round what is drawn. */
  readonly area: Area;
  x(metres: number): number;
  y(metres: number): number;
  /** The nearest place that is drawn. */
  held(at: Position): Position;
}

const WIDTH_MM = 180;
const MOST_HIGH_MM = 125;
/** Room for a marker whose middle stands at the edge. */
const MARGIN_MM = 6.5;
/** What stands farther off the stage is drawn at the edge. */
const NEAR_M = 3;
/** Where no size is said: round the things that stand there. */
const ROUND_M = 1;
const LEAST_M = 1;
const RATIOS = [10, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000];

/** `places` are such as can be (`isPlace`); `top`: where on paper it starts. Never fails, whatever the size that is stated. */
export function planOf({ stageM, inFeet }: Settings, places: readonly Position[], top: number): Plan {
  const said = stageM !== undefined && isStage(stageM);
  const stage: Ground = said
    ? { left: -stageM.width / 2, right: stageM.width / 2, front: 0, back: stageM.depth }
    : round(
        places.map(({ x }) => x),
        places.map(({ y }) => y),
      );
  const near = (at: Position): Position => ({
    x: within(at.x, stage.left - NEAR_M, stage.right + NEAR_M),
    y: within(at.y, stage.front - NEAR_M, stage.back + NEAR_M),
  });
  const nearby = places.map(near);
  const drawn: Ground = {
    left: Math.min(stage.left, ...nearby.map(({ x }) => x)),
    right: Math.max(stage.right, ...nearby.map(({ x }) => x)),
    front: Math.min(stage.front, ...nearby.map(({ y }) => y)),
    back: Math.max(stage.back, ...nearby.map(({ y }) => y)),
  };
  const wide = Math.max(LEAST_M, drawn.right - drawn.left);
  const deep = Math.max(LEAST_M, drawn.back - drawn.front);
  const needs = Math.max((wide * 1000) / (WIDTH_MM - 2 * MARGIN_MM), (deep * 1000) / MOST_HIGH_MM);
  const ratio = RATIOS.find((each) => each >= needs - 1e-9) ?? Math.ceil(needs / 1000) * 1000;
  const mmPerM = 1000 / ratio;
  const offset = (WIDTH_MM - (drawn.right - drawn.left) * mmPerM) / 2;
  return {
    lengths: { inFeet },
    stage,
    said,
    drawn,
    ratio,
    mmPerM,
    area: { left: 0, top, right: WIDTH_MM, bottom: top + 2 * MARGIN_MM + (drawn.back - drawn.front) * mmPerM },
    x: (metres) => hundredth(offset + (metres - drawn.left) * mmPerM),
    y: (metres) => hundredth(top + MARGIN_MM + (drawn.back - metres) * mmPerM),
    held: near,
  };
}

/** So that it is the same on every machine, and short. */
export function hundredth(value: number): number {
  return Math.round(value * 100) / 100;
}

/** The part of the stage on which most things stand: one far away does not make the others small. */
function round(xs: readonly number[], ys: readonly number[]): Ground {
  const [left, right] = middle(xs);
  const [front, back] = middle(ys);
  return { left: left - ROUND_M, right: right + ROUND_M, front: Math.min(0, front), back: Math.max(back + ROUND_M, LEAST_M) };
}

/** Farther than this from the one in the middle is far away. */
const FAR_M = 15;

function middle(values: readonly number[]): [number, number] {
  const sorted = values.toSorted((a, b) => a - b);
  const median = sorted[sorted.length >> 1] ?? 0;
  const near = sorted.filter((value) => Math.abs(value - median) <= FAR_M);
  return [near[0] ?? 0, near.at(-1) ?? 0];
}

function within(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}
