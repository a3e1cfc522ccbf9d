/**
 * A real VS Code workbench from the npm registry and Debian's packages alone: code-server, which is VS Code's own workbench and
 * extension host behind a web page, driven in headless Chromium.
 *
 *   node tests/editor/host.mjs install     puts it under node_modules/.cache (once; about 90 s and 500 MB)
 *   node tests/editor/host.mjs             says whether it is there
 */
import { execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { root } from '../../.ci/setup.mjs';

/** The newest that runs on Node 20. */
const VERSION = '4.100.3';

const folder = process.env.EARLOOM_EDITOR_HOST ?? path.join(root, 'node_modules/.cache/editor-host');
export const entry = path.join(folder, 'node_modules/code-server/out/node/entry.js');

/** Why no workbench can be driven here, and what would help; nothing where one can. */
export function missing() {
  if (!existsSync(entry)) return 'there is no editor host: "node tests/editor/host.mjs install" puts one under node_modules/.cache';
  if (!chromium()) return 'there is no Chromium on the path: Debian has it as the package "chromium"';
  return undefined;
}

/** The browser's program, or nothing. */
export function chromium() {
  return onPath('chromium') ?? onPath('chromium-browser') ?? onPath('google-chrome');
}

function onPath(program) {
  return (process.env.PATH ?? '')
    .split(path.delimiter)
    .map((each) => path.join(each, program))
    .find(existsSync);
}

function install() {
  needPackages();
  mkdirSync(folder, { recursive: true });
  if (!existsSync(path.join(folder, 'package.json'))) writeFileSync(path.join(folder, 'package.json'), '{ "private": true }\n');
  // Its own script fetches a prebuilt program from elsewhere: no scripts, and what has to be built is built here.
  npm(folder, 'install', '--no-audit', '--no-fund', '--ignore-scripts', `code-server@${VERSION}`);
  npm(folder, 'rebuild', 'argon2');
  const vscode = path.join(folder, 'node_modules/code-server/lib/vscode');
  npm(vscode, 'install', '--no-audit', '--no-fund', '--omit=dev', '--ignore-scripts');
  for (const module of ['@vscode/spdlog', 'native-watchdog', 'kerberos']) npm(vscode, 'rebuild', module);
  try {
    npm(vscode, 'rebuild', 'node-pty');
  } catch (problem) {
    // Its last step makes a list for code editors and wants a program for that; what counts is built by then.
    if (!existsSync(path.join(vscode, 'node_modules/node-pty/build/Release/pty.node'))) throw problem;
  }
  const search = path.join(vscode, 'node_modules/@vscode/ripgrep/bin');
  mkdirSync(search, { recursive: true });
  link(onPath('rg'), path.join(search, 'rg'));
  link('node_modules', path.join(vscode, 'node_modules.asar'));
}

function needPackages() {
  const wanted = [];
  if (!chromium()) wanted.push('chromium');
  if (!onPath('rg')) wanted.push('ripgrep');
  if (!existsSync('/usr/include/gssapi/gssapi.h')) wanted.push('libkrb5-dev');
  if (wanted.length === 0) return;
  if (!onPath('apt-get') || process.getuid?.() !== 0) {
    console.error(`First install, as your system does it: ${wanted.join(', ')} (names as in Debian).`);
    process.exit(1);
  }
  execFileSync('apt-get', ['update', '-qq'], { stdio: 'inherit' });
  execFileSync('apt-get', ['install', '-y', '-qq', ...wanted], { stdio: 'inherit' });
}

function npm(cwd, ...words) {
  execFileSync('npm', words, { cwd, stdio: 'inherit' });
}

function link(target, at) {
  rmSync(at, { force: true });
  symlinkSync(target, at);
}

/** Of no interest to a test or a picture, and in the way of both. */
export const QUIET = {
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'security.workspace.trust.enabled': false,
  'telemetry.telemetryLevel': 'off',
  'update.mode': 'none',
  'extensions.autoCheckUpdates': false,
  'extensions.ignoreRecommendations': true,
  'git.enabled': false,
};

/**
 * Serves a folder in a fresh workbench that has the extension, and no other of ours.
 * @param {{ vsix: string, folder: string, settings?: object }} what
 * @returns {Promise<{ url: string, stop: () => Promise<void> }>}
 */
export async function serve({ vsix, folder: opened, settings = {} }) {
  const profile = mkdtempSync(path.join(os.tmpdir(), 'earloom-workbench-'));
  mkdirSync(path.join(profile, 'data/User'), { recursive: true });
  writeFileSync(path.join(profile, 'data/User/settings.json'), JSON.stringify({ ...QUIET, ...settings }));
  const flags = [
    '--user-data-dir',
    path.join(profile, 'data'),
    '--extensions-dir',
    path.join(profile, 'extensions'),
    '--config',
    path.join(profile, 'config.yaml'),
  ];
  execFileSync(process.execPath, [entry, ...flags, '--install-extension', vsix], { stdio: 'pipe' });
  const port = await freePort();
  const server = spawn(
    process.execPath,
    [
      entry,
      ...flags,
      '--auth',
      'none',
      '--bind-addr',
      `127.0.0.1:${port}`,
      '--disable-telemetry',
      '--disable-update-check',
      '--disable-workspace-trust',
      '--disable-getting-started-override',
      opened,
    ],
    { stdio: ['ignore', 'pipe', 'pipe'] },
  );
  let said = '';
  for (const stream of [server.stdout, server.stderr]) stream.on('data', (more) => (said = `${said}${more}`.slice(-4000)));
  const ended = new Promise((resolve) => server.once('exit', resolve));
  const url = `http://127.0.0.1:${port}/?folder=${encodeURIComponent(opened)}`;
  const stop = async () => {
    server.kill();
    await ended;
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  };
  try {
    await answers(`http://127.0.0.1:${port}/healthz`, server, () => said);
  } catch (problem) {
    await stop();
    throw problem;
  }
  return { url, stop };
}

async function freePort() {
  const probe = net.createServer();
  await new Promise((resolve) => probe.listen(0, '127.0.0.1', resolve));
  const { port } = probe.address();
  await new Promise((resolve) => probe.close(resolve));
  return port;
}

/** `said`: what the host has said so far, for whoever has to find out why it does not answer. */
async function answers(url, server, said) {
  for (let tries = 0; tries < 900; tries++) {
    if (server.exitCode !== null) throw new Error(`The editor host ended with ${server.exitCode} before it answered:\n${said()}`);
    const answer = await fetch(url).catch(() => undefined);
    if (answer?.ok) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error(`The editor host did not answer within 90 s:\n${said()}`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  if (process.argv[2] === 'install') install();
  const why = missing();
  console.log(why ? `Not ready: ${why}.` : `Ready: ${folder}`);
  process.exitCode = why ? 1 : 0;
}
