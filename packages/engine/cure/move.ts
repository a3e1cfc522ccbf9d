/** Another port for a line. */
import type { InputRun } from '#rig';
import type { Level } from '../solve/levels';
import type { Fix } from './fix';
import { stands } from './gainStands';

/** Whether a run has one port, so that it can be moved. */
export function isMovable(run: InputRun): boolean {
  return run.to.ports.length === 1;
}

/** To another port, with the gain that it wants there where another one is written. */
export function moveFix(run: InputRun, port: string, level: Level | undefined): Fix {
  const move: Fix = { kind: 'move', run: run.id, port };
  const gain = level?.gain;
  if (!gain || !level || stands(run, level)) return move;
  const gainDb = Math.max(level.mode?.gainDb?.low ?? 0, Math.floor(gain.setDb));
  return { kind: 'several', fixes: [move, { kind: 'set-gain', run: run.id, gainDb }] };
}
