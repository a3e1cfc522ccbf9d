/** A rig in an order of its own, so that what is computed from it does not hang on the order of statements. */
import type { Rig, Run } from '#rig';
import { byText, stable } from './plain';

export function ordered(rig: Rig): Rig {
  const maps = <T>(map: ReadonlyMap<string, T>) => new Map([...map].sort(([a], [b]) => byText(a, b)));
  return {
    ...rig,
    pieces: maps(rig.pieces),
    performers: maps(rig.performers),
    sources: maps(rig.sources),
    mixes: maps(rig.mixes),
    inputs: runs(rig.inputs),
    house: runs(rig.house),
    outputs: runs(rig.outputs),
  };
}

/** Of several for one socket, by what is in them: which of them is the second is a matter of order. */
function runs<R extends Run>(all: readonly R[]): R[] {
  const keys = new Map(all.map((run) => [run, `${run.id.replace(/~\d+$/, '')} ${stable({ ...run, id: '' }).replaceAll(run.id, '')}`]));
  return [...all].sort((a, b) => byText(keys.get(a) ?? '', keys.get(b) ?? ''));
}
