/** Whether a gain fits an input, and whether one that is written may stand. */
import type { Arrival, Level } from '../solve/levels';

/** A gain written this much nearer to clipping than the margin asks for is let pass: common practice, no source. */
export const MARGIN_TOLERANCE_DB = 3;
/** A gain written this much lower than it could be is let pass: common practice, no source. */
export const LOW_LIMIT_DB = 12;

export function fits({ mode, gain }: Level, kinds: readonly string[]): boolean {
  return mode !== undefined && kinds.includes(mode.kind) && gain !== undefined && gain.shortDb === 0 && gain.hotDb === 0;
}

/** Whether the gain that a run has written is right for a level. */
export function stands(run: Arrival['line']['run'], { gain, mode }: Level): boolean {
  if (run.kind !== 'input' || run.gainDb === undefined || !gain || !mode) return true;
  const range = mode.gainDb ?? { low: 0, high: 0 };
  const leftDb = gain.headroomDb + gain.setDb - run.gainDb;
  return run.gainDb >= range.low && run.gainDb <= range.high && leftDb >= MARGIN_TOLERANCE_DB && run.gainDb >= gain.setDb - LOW_LIMIT_DB;
}
