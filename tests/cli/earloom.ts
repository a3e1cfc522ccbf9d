/** Runs the built command line as a process. */
import { type SpawnSyncOptions, spawnSync } from 'node:child_process';
import { copyFileSync } from 'node:fs';
import path from 'node:path';
import { inject } from 'vitest';
import { root } from '../build';

export const EARLOOM = path.join(root, 'dist/cli.cjs');

/** Copies what starts it and its commands to where somebody else can read them, and gives the program. */
export function copyTo(folder: string): string {
  for (const name of ['cli', 'check', 'commands']) copyFileSync(path.join(root, `dist/${name}.cjs`), path.join(folder, `${name}.cjs`));
  return path.join(folder, 'cli.cjs');
}

export interface Ran {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export function earloom(words: readonly string[], options: SpawnSyncOptions & { program?: string } = {}): Ran {
  const failure = inject('buildFailure');
  if (failure) throw new Error(`dist/ could not be built:\n${failure}`);
  const { program = EARLOOM, ...rest } = options;
  const env = { ...process.env, NO_COLOR: undefined, FORCE_COLOR: undefined, ...rest.env };
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...words], {
    timeout: 60_000,
    input: '',
    ...rest,
    env,
    encoding: 'utf-8',
  });
  return { status, stdout: String(stdout), stderr: String(stderr) };
}
