/** Bundles dist/ once before the tests where it is older than what it is made from. */
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  export interface ProvidedContext {
    /** Why dist/ could not be built; nothing where all is well. */
    buildFailure: string;
  }
}

export const root = path.resolve(fileURLToPath(import.meta.url), '../..');

export default function setup({ provide }: TestProject): void {
  let failure = '';
  try {
    if (isOlder(bundles, sources())) execFileSync(process.execPath, ['esbuild.mjs'], { cwd: root, stdio: 'pipe' });
  } catch (problem) {
    failure = String((problem as { stderr?: Buffer }).stderr ?? problem);
  }
  // Told by the tests that need dist/, so that the others run all the same.
  provide('buildFailure', failure);
}

const bundles = ['dist/extension.cjs', 'dist/server.cjs', 'dist/cli.cjs', 'dist/preview.js', 'dist/preview.css'];

/** Everything that a bundle is made from. */
export function sources(): string[] {
  const found = readdirSync(path.join(root, 'packages'), { recursive: true, withFileTypes: true });
  return [
    ...found.filter((entry) => entry.isFile()).map((entry) => path.join(entry.parentPath, entry.name)),
    path.join(root, 'esbuild.mjs'),
    path.join(root, 'package.json'),
  ];
}

/** Whether one of these products is missing or older than one of these sources. */
export function isOlder(products: readonly string[], from: readonly string[]): boolean {
  const files = products.map((file) => path.join(root, file));
  if (!files.every(existsSync)) return true;
  const made = Math.min(...files.map((file) => statSync(file).mtimeMs));
  return from.some((file) => statSync(path.resolve(root, file)).mtimeMs > made);
}
