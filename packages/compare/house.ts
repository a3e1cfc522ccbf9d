/** What changes for the house although nobody wrote so: what our rig does to a line of theirs. */
import { type Touching, touching } from '#engine';
import type { Place } from '#rig';
import { stable } from './plain';
import type { Side } from './side';

export interface TouchChange {
  readonly before: Place;
  readonly after: Place;
  readonly was?: Touching;
  readonly is?: Touching;
}

export function touchChanges(before: Side, after: Side, lines: ReadonlyMap<string, string>): TouchChange[] {
  const [was, is] = [touched(before), touched(after)];
  return [...lines].flatMap(([old, anew]): TouchChange[] => {
    const [then, now] = [was.get(old), is.get(anew)];
    // The loss in dB is a figure of the circuit: it is told where it bites, as a finding.
    const short = (each: Touching | undefined) => each && stable({ ...each, lossDb: undefined });
    return short(then) === short(now) ? [] : [{ before: old, after: anew, was: then, is: now }];
  });
}

function touched({ checked }: Side): ReadonlyMap<Place, Touching> {
  const { impact, network, supplies } = checked;
  return new Map(impact.lines.map((line) => [line.run.id, touching(network, supplies, line)]));
}
