/** Lengths as they are told: in feet where a rig is written in feet. The only place that knows which. */
import { fromBase, type Settings } from '#rig';
import { tidy } from './phrases';

/** What says in which unit lengths are told. */
export type Lengths = Pick<Settings, 'inFeet'>;

/** From here on a tenth of a foot is beside the point. */
const WHOLE_FEET = 10;

/** `7.6 m`, or `25 ft`, from metres. Without `digits` to a tenth, and from 10 ft to a foot. */
export function lengthText(lengthM: number, lengths: Lengths, digits?: number): string {
  const length = inLengthUnit(lengthM, lengths);
  return `${tidy(length, digits ?? (lengths.inFeet && Math.abs(length) >= WHOLE_FEET ? 0 : 1))} ${lengthUnit(lengths)}`;
}

/** Of examples: beyond this many feet, to the nearest five. */
const ROUND_FEET = 5;

/** An example of how something is written, with its lengths as the rig has them: `at 1 m, 4 m` as `at 3 ft, 15 ft`. Round figures: nobody measures an example. */
export function exampleText(example: string, lengths: Lengths): string {
  if (!lengths.inFeet) return example;
  return example.replace(/(?<![\w.])(-?\d+(?:\.\d+)?) m\b(?!\/)/g, (_, metres: string) => {
    const feet = inLengthUnit(Number(metres), lengths);
    const step = Math.abs(feet) < WHOLE_FEET ? 1 : ROUND_FEET;
    return `${tidy(Math.round(feet / step) * step, 0)} ${lengthUnit(lengths)}`;
  });
}

export function lengthUnit({ inFeet }: Lengths): 'ft' | 'm' {
  return inFeet ? 'ft' : 'm';
}

export function inLengthUnit(lengthM: number, lengths: Lengths): number {
  return fromBase(lengthM, lengthUnit(lengths));
}
