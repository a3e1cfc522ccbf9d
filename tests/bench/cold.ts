/** A process from its start to its end. */
import { spawnSync } from 'node:child_process';
import { summed, type Times } from './times';

export function cold(runs: number, words: readonly string[]): Times {
  const times: number[] = [];
  for (let run = 0; run < runs; run++) {
    const start = performance.now();
    const { status, error } = spawnSync(process.execPath, words, { stdio: 'ignore' });
    times.push(performance.now() - start);
    if (error || status === null || status > 1) throw new Error(`node ${words.join(' ')} has failed (${status}).`);
  }
  return summed(times);
}
