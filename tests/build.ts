/** Bundles dist/ once before the tests where it is older than what it is made from, and they run on it. */
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

/** Folders whose tests run on the sources alone: to build for them would take longer than they do. */
const ON_SOURCES = /\btests\/(checks|editor-services|house|language|plan|reference|sheets|syntaxes)\b/;

export default function setup({ provide }: TestProject): void {
  let failure = '';
  const asked = process.argv.slice(2).filter((word) => /\.test\.|\//.test(word));
  const needless = asked.length > 0 && asked.every((path) => ON_SOURCES.test(path));
  try {
    if (!needless && isOlder(BUNDLES, sources())) execFileSync(process.execPath, ['esbuild.mjs'], { cwd: root, stdio: 'pipe' });
  } catch (problem) {
    failure = String((problem as { stderr?: Buffer }).stderr ?? problem);
  }
  // Told by the tests that need dist/, so that the others run all the same.
  provide('buildFailure', failure);
}
