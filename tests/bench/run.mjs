/** `npm run bench`: bundles the measurements, which are TypeScript, and runs them. */
import { spawnSync } from 'node:child_process';
import { bundle, root } from '../bundle.mjs';

const program = await bundle('tests/bench/main.ts', 'out/bench.cjs');
// The server with the names of its functions, for what has to tell them apart.
await bundle('packages/server/main.ts', 'out/bench-server.cjs');
process.exitCode = spawnSync(process.execPath, [program, ...process.argv.slice(2)], { cwd: root, stdio: 'inherit' }).status ?? 1;
