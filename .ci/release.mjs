/**
 * Makes what is published, and tries it: the command line as an npm package that needs no other, and the extension, both of the version in package.json.
 * Nothing is published by it.
 *
 *   node .ci/release.mjs                                    both, in dist/
 *   node .ci/release.mjs --repository https://forge/owner/earloom   … with the pictures and links of the listing leading there
 */
import { execFileSync, spawn } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { root, run } from './setup.mjs';

const manifest = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8'));
const { version } = manifest;
const repository = process.argv.includes('--repository') ? process.argv[process.argv.indexOf('--repository') + 1] : undefined;

/** What the command line and the server load, and what they show. */
const SHIPPED = [
  ...['cli', 'check', 'commands', 'server', 'layout', 'layoutThread', 'planThread', 'pdf', 'junit', 'highs'].map(
    (name) => `dist/${name}.cjs`,
  ),
  'dist/highs.wasm',
  'dist/mistakes.json',
  'dist/NOTICES.txt',
  'dist/fonts',
  'examples/editors',
  'examples/pipelines',
  'examples/first.rig',
  'syntaxes/rig.tmLanguage.json',
  'LICENSE',
  'CHANGELOG.md',
];

const folder = path.join(root, 'dist/npm');
const problems = [];
const hold = (is, says) => is || problems.push(says);
const npm = (words, cwd) => execFileSync('npm', words, { cwd, encoding: 'utf8', shell: process.platform === 'win32' });

oneVersion();
run(process.execPath, ['esbuild.mjs'], 'The build failed.');
const tarball = pack();
await tryPackage(tarball);
const vsix = packExtension();
if (problems.length > 0) {
  for (const problem of problems) console.error(`Not ready: ${problem}`);
  process.exit(1);
}
const size = (file) => `${path.relative(root, file)} (${Math.round(statSync(file).size / 1024)} kB)`;
console.log(
  `Ready, both at ${version}:\n  ${size(tarball)}   npm publish dist/${path.basename(tarball)}\n  ${size(vsix)}   npx vsce publish --packagePath dist/${path.basename(vsix)}`,
);
if (!repository)
  console.log('Without --repository the pictures of the listing lead nowhere: say where this is kept before you publish the extension.');

/** Every file that names a version names this one. */
function oneVersion() {
  const read = (file) => readFileSync(path.join(root, file), 'utf8');
  const lock = JSON.parse(read('package-lock.json'));
  hold(lock.version === version && lock.packages[''].version === version, `package-lock.json is of ${lock.version}: run "npm install".`);
  hold(read('CHANGELOG.md').includes(`\n## ${version}\n`), `CHANGELOG.md tells nothing of ${version}.`);
  for (const file of ['action.yml', '.pre-commit-hooks.yaml', 'examples/pipelines/README.md'])
    for (const [, told] of read(file).matchAll(/earloom@v?(\d+\.\d+\.\d+)/g)) hold(told === version, `${file} names ${told}.`);
}

function pack() {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  for (const file of SHIPPED) cpSync(path.join(root, file), path.join(folder, file), { recursive: true });
  cpSync(path.join(root, 'packages/cli/README.md'), path.join(folder, 'README.md'));
  const { name, license, keywords, engines } = manifest;
  const own = {
    name,
    version,
    description: 'A band’s in-ear monitor rig as text: mistakes found before the day, sheets to print, what changes from night to night.',
    license,
    keywords,
    engines: { node: engines.node },
    bin: { earloom: 'dist/cli.cjs' },
    ...(repository ? { repository: { type: 'git', url: `git+${repository}.git` } } : {}),
  };
  writeFileSync(path.join(folder, 'package.json'), `${JSON.stringify(own, null, 2)}\n`);
  const [made] = JSON.parse(npm(['pack', '--json', '--pack-destination', path.join(root, 'dist')], folder));
  return path.join(root, 'dist', made.filename);
}

/** As somebody would have it: installed in an empty folder without a network, each thing done that loads a part of it. */
async function tryPackage(file) {
  const home = mkdtempSync(path.join(tmpdir(), 'earloom-release-'));
  try {
    writeFileSync(path.join(home, 'package.json'), '{ "private": true }\n');
    npm(['install', '--offline', '--no-audit', '--no-fund', file], home);
    const installed = JSON.parse(npm(['ls', '--all', '--json'], home));
    hold(
      Object.keys(installed.dependencies ?? {}).join() === 'earloom' && !installed.dependencies.earloom.dependencies,
      'the package brings others along.',
    );
    const program = path.join(home, 'node_modules/.bin/earloom');
    const earloom = (words, input = '') =>
      execFileSync(program, words, { cwd: home, input, encoding: 'utf8', shell: process.platform === 'win32' });
    cpSync(path.join(home, 'node_modules/earloom/examples/first.rig'), path.join(home, 'first.rig'));
    hold(earloom(['--version']).trim() === version, 'the installed program is of another version.');
    earloom(['check', 'first.rig']);
    hold(earloom(['check', 'first.rig', '--format', 'junit']).startsWith('<?xml'), 'it writes no JUnit.');
    hold(
      JSON.parse(earloom(['check', 'first.rig', '--format', 'sarif'])).runs[0].tool.driver.rules.every(({ help }) => help),
      'it has no pages.',
    );
    earloom(['sheets', 'first.rig', '-o', 'first.pdf']);
    hold(readFileSync(path.join(home, 'first.pdf')).subarray(0, 5).toString() === '%PDF-', 'it writes no PDF.');
    earloom(['plan', 'first.rig', '--afresh', '--limit', '5']);
    hold(await answers(program, home), 'its language server does not answer.');
  } catch (problem) {
    hold(false, `the installed package fails: ${problem.stderr || problem.message}`);
  } finally {
    rmSync(home, { recursive: true, force: true });
  }
}

/** Whether a server greets back. */
function answers(program, cwd) {
  const server = spawn(program, ['serve'], { cwd, stdio: ['pipe', 'pipe', 'ignore'], shell: process.platform === 'win32' });
  const hello = JSON.stringify({
    jsonrpc: '2.0',
    id: 1,
    method: 'initialize',
    params: { processId: null, rootUri: null, capabilities: {} },
  });
  server.stdin.write(`Content-Length: ${hello.length}\r\n\r\n${hello}`);
  let said = '';
  return new Promise((resolve) => {
    const end = (does) => {
      clearTimeout(late);
      server.kill();
      resolve(does);
    };
    const late = setTimeout(end, 60_000, false);
    server.on('exit', () => end(false));
    server.stdout.on('data', (data) => {
      said += data;
      if (said.includes('"hoverProvider"')) end(true);
    });
  });
}

function packExtension() {
  const out = path.join(root, 'dist/earloom.vsix');
  const vsce = path.join(root, 'node_modules/@vscode/vsce/vsce');
  const links = repository
    ? ['--baseContentUrl', `${repository}/blob/v${version}`, '--baseImagesUrl', `${repository}/raw/v${version}`]
    : ['--no-rewrite-relative-links'];
  run(
    process.execPath,
    [vsce, 'package', '--no-dependencies', '--allow-missing-repository', ...links, '--out', out],
    'The extension could not be packed.',
  );
  const listed = execFileSync(process.execPath, [vsce, 'ls', '--no-dependencies'], { cwd: root, encoding: 'utf8' }).split(/\r?\n/);
  for (const file of ['README.md', 'CHANGELOG.md', 'LICENSE', 'dist/NOTICES.txt', manifest.icon, manifest.main, manifest.browser].map(
    (each) => each.replace(/^\.\//, ''),
  ))
    hold(listed.includes(file), `the extension ships without ${file}.`);
  for (const [, picture] of readFileSync(path.join(root, 'README.md'), 'utf8').matchAll(/!\[[^\]]*\]\(([^)]+)\)/g))
    hold(existsSync(path.join(root, picture)), `README.md shows ${picture}, which is not there.`);
  for (const field of ['displayName', 'description', 'publisher', 'license', 'icon', 'categories', 'keywords'])
    hold(manifest[field], `the manifest has no ${field}.`);
  return out;
}
