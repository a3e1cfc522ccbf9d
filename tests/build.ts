/** Bundles dist/ once before the tests where it is older than what it is made from. */
import { execFileSync } from 'node:child_process';
import type { TestProject } from 'vitest/node';
import { BUNDLES, isOlder, root, sources } from '../.ci/setup.mjs';

declare module 'vitest' {
  export interface ProvidedContext {
    /** Why dist/ could not be built; nothing where all is well. */
    buildFailure: string;
  }
}

export { root };

export default function setup({ provide }: TestProject): void {
  let failure = '';
  try {
    if (isOlder(BUNDLES, sources())) execFileSync(process.execPath, ['esbuild.mjs'], { cwd: root, stdio: 'pipe' });
  } catch (problem) {
    failure = String((problem as { stderr?: Buffer }).stderr ?? problem);
  }
  // Told by the tests that need dist/, so that the others run all the same.
  provide('buildFailure', failure);
}
