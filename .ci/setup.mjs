/**
 * What a fresh clone needs before anything else: its packages and its bundles. Says nothing where both are there.
 *
 *   node .ci/setup.mjs            packages and bundles
 *   node .ci/setup.mjs packages   packages only
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

export const root = path.dirname(path.dirname(fileURLToPath(import.meta.url)));

/** The oldest of each line that the tests' runner works with; the program itself asks less (`engines` in package.json). */
const OLDEST = { 20: 19, 22: 12 };
export const BUNDLES = [
  'extension.cjs',
  'extension.web.js',
  'server.cjs',
  'server.web.js',
  'cli.cjs',
  'check.cjs',
  'commands.cjs',
  'layoutThread.cjs',
  'planThread.cjs',
  'preview.js',
  'preview.css',
  'mistakes.json',
  'NOTICES.txt',
  'pdf.cjs',
  'junit.cjs',
  'highs.cjs',
  'highs.wasm',
  'fonts/DejaVuSansCondensed.ttf',
].map((name) => `dist/${name}`);

export function setUp({ bundles = true } = {}) {
  needNode();
  if (isOlder(['node_modules/.package-lock.json'], [path.join(root, 'package-lock.json')])) {
    console.log('Fetching the packages that Earloom is built with (npm ci) …');
    npm('ci', 'The packages could not be fetched. Is there a network? Then run "npm start" again.');
  }
  if (bundles && isOlder(BUNDLES, sources())) {
    console.log('Building …');
    run(process.execPath, ['esbuild.mjs'], 'The build failed.');
  }
}

function needNode() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major > 22 || minor >= (OLDEST[major] ?? Number.POSITIVE_INFINITY)) return;
  fail(
    `Earloom is built and tested with Node 20.19, 22.12 or newer, and this is Node ${process.versions.node}. Get a newer one from https://nodejs.org and run this again.`,
  );
}

/** Everything that the bundles are made from. */
export function sources() {
  const found = [path.join(root, 'esbuild.mjs'), path.join(root, 'package.json'), path.join(root, 'package-lock.json')];
  const folders = [path.join(root, 'packages'), path.join(root, 'examples/mistakes')];
  for (const folder of folders) {
    for (const entry of readdirSync(folder, { withFileTypes: true })) {
      const file = path.join(folder, entry.name);
      if (entry.isDirectory()) folders.push(file);
      else found.push(file);
    }
  }
  return found;
}

/** Whether one of the products (paths from the root) is missing, or older than one of the files it is made from (whole paths). */
export function isOlder(products, from) {
  const files = products.map((file) => path.join(root, file));
  if (!files.every((file) => existsSync(file))) return true;
  const made = Math.min(...files.map((file) => statSync(file).mtimeMs));
  return from.some((file) => existsSync(file) && statSync(file).mtimeMs > made);
}

/** npm as it was used to get here, or the one on the path. */
function npm(command, orElse) {
  const own = process.env.npm_execpath;
  if (own && /\.c?js$/.test(own)) run(process.execPath, [own, command], orElse);
  else run('npm', [command], orElse, { shell: process.platform === 'win32' });
}

export function run(program, words, orElse, options = {}) {
  const { status, error } = spawnSync(program, words, { cwd: root, stdio: ['ignore', 'inherit', 'inherit'], ...options });
  if (status !== 0) fail(error ? `${orElse} ${error.message}` : orElse);
}

export function fail(message) {
  console.error(message);
  process.exit(1);
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) setUp({ bundles: process.argv[2] !== 'packages' });
