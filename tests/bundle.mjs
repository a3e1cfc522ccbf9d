/** Bundles a program of the tests, which is TypeScript, for Node to run. */
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import esbuild from 'esbuild';
import { pageScripts } from '../.ci/pageScript.mjs';

export const root = path.resolve(fileURLToPath(import.meta.url), '../..');

/** Paths from the root of the checkout. Gives the absolute path of the bundle. */
export async function bundle(entry, outfile) {
  const output = path.join(root, outfile);
  await esbuild.build({
    absWorkingDir: root,
    entryPoints: [entry],
    outfile: output,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'cjs',
    mainFields: ['module', 'main'],
    plugins: [pageScripts],
    loader: { '.rig': 'text', '.css': 'text' },
    jsx: 'automatic',
    jsxImportSource: 'preact',
    // Its entry for modules looks for its WebAssembly by an address, which a bundle has not.
    alias: { highs: './node_modules/highs/build/highs.js' },
    external: ['playwright-core'],
    sourcemap: 'inline',
    logLevel: 'warning',
  });
  return output;
}
