/** `npm run bench`: bundles the measurements, which are TypeScript, and runs them. */
import { spawnSync } from 'node:child_process';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import esbuild from 'esbuild';

const root = path.resolve(fileURLToPath(import.meta.url), '../../..');
const outfile = path.join(root, 'out/bench.cjs');
await esbuild.build({
  absWorkingDir: root,
  entryPoints: ['tests/bench/main.ts'],
  outfile,
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  mainFields: ['module', 'main'],
  loader: { '.rig': 'text', '.css': 'text' },
  logLevel: 'warning',
});
process.exitCode = spawnSync(process.execPath, [outfile, ...process.argv.slice(2)], { cwd: root, stdio: 'inherit' }).status ?? 1;
