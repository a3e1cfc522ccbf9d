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

export function lengthUnit({ inFeet }: Lengths): 'ft' | 'm' {
  return inFeet ? 'ft' : 'm';
}

export function inLengthUnit(lengthM: number, lengths: Lengths): number {
  return fromBase(lengthM, lengthUnit(lengths));
}
