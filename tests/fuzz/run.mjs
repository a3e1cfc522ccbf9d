/** `npm run fuzz`: bundles the fuzzer and runs it. */
import { spawnSync } from 'node:child_process';
import { bundle, root } from '../bundle.mjs';

const program = await bundle('tests/fuzz/main.ts', 'out/fuzz.cjs');
process.exitCode =
  spawnSync(process.execPath, ['--enable-source-maps', program, ...process.argv.slice(2)], { cwd: root, stdio: 'inherit' }).status ?? 1;
