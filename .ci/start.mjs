/** `npm start`: sets up what is missing and shows on an example what Earloom does. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync } from 'node:fs';
import path from 'node:path';
import { createInterface } from 'node:readline/promises';
import { fail, root, setUp } from './setup.mjs';

const EXAMPLE = 'examples/first.rig';
const PAGE = 'out/first.html';

setUp();
say(`What is wrong with ${EXAMPLE}?  npx earloom check ${EXAMPLE}`);
if (earloom('check', EXAMPLE) > 1) fail('The example could not be checked.');

say(`Its patch list:  npx earloom patch ${EXAMPLE}`);
mkdirSync(path.join(root, 'out'), { recursive: true });
if (earloom('patch', EXAMPLE) !== 0) fail('The patch list could not be made.');

say(`And as a page to print:  npx earloom patch ${EXAMPLE} -o ${PAGE}`);
if (earloom('patch', EXAMPLE, '-o', PAGE) !== 0) fail('The page could not be written.');
console.log(`${path.join(root, PAGE)}\n`);

const code = findOnPath('code');
if (!code) {
  console.log('VS Code\'s "code" is not on the path. To see the example in the editor: npm run package, then install dist/earloom.vsix.');
} else if (await agrees(`Open ${EXAMPLE} in VS Code, with the extension from this folder? [y/N] `)) {
  const words = [`--extensionDevelopmentPath=${root}`, path.join(root, 'examples'), '--goto', path.join(root, EXAMPLE)];
  const { status, error } = spawnSync(code, process.platform === 'win32' ? words.map((word) => `"${word}"`) : words, {
    stdio: 'ignore',
    shell: process.platform === 'win32',
  });
  if (status !== 0) fail(`VS Code did not open${error ? `: ${error.message}` : '.'}`);
}

function earloom(...words) {
  return spawnSync(process.execPath, ['dist/cli.cjs', ...words], { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] }).status ?? 2;
}

function say(text) {
  console.log(`\n${text}\n`);
}

function findOnPath(name) {
  const endings = process.platform === 'win32' ? ['.cmd', '.exe'] : [''];
  const folders = (process.env.PATH ?? '').split(path.delimiter).filter(Boolean);
  return folders.flatMap((folder) => endings.map((ending) => path.join(folder, name + ending))).find((file) => existsSync(file));
}

/** Asks only where somebody can answer; no answer is a no. */
async function agrees(question) {
  if (!process.stdin.isTTY || !process.stdout.isTTY || process.env.CI) return false;
  const asking = createInterface({ input: process.stdin, output: process.stdout });
  const closed = new Promise((resolve) => asking.once('close', () => resolve('')));
  const answer = await Promise.race([asking.question(question), closed]);
  asking.close();
  return /^y(es)?$/i.test(answer.trim());
}
