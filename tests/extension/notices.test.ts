/** The notices name exactly what is in the bundles, each with its licence; what has none stops the build. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, inject, it } from 'vitest';
import { bundled, notices } from '../../.ci/notices.mjs';
import { root } from '../build';
import { Folder } from '../protocol/folder';

const meta = (inputs: Readonly<Record<string, number>>) => ({
  outputs: {
    'dist/x.js': { inputs: Object.fromEntries(Object.entries(inputs).map(([file, bytesInOutput]) => [file, { bytesInOutput }])) },
  },
});

it('counts what is in a bundle, and not what was left out of it', () => {
  const first = meta({ 'packages/rig/index.ts': 9, 'node_modules/a/x/index.js': 1, 'node_modules/unused/index.js': 0 });
  const second = meta({ 'node_modules/@s/b/index.js': 1, 'node_modules/a/node_modules/c/i.js': 2, 'node_modules/a/y.js': 1 });
  expect(bundled([first, second])).toEqual(['node_modules/@s/b', 'node_modules/a', 'node_modules/a/node_modules/c']);
});

it.each<[what: string, manifest: object, files: object, says: RegExp | undefined]>([
  ['a licence with its text', { license: 'MIT' }, { LICENSE: 'the words' }, undefined],
  ['no text', { license: 'MIT' }, {}, /brings no text/],
  ['a licence that may not be mixed', { license: 'GPL-3.0-only' }, { LICENSE: 'the words' }, /may it ship with ours/],
  ['no licence', {}, { LICENSE: 'the words' }, /may it ship with ours/],
  ['another version than is locked', { license: 'MIT', version: '2.0.0' }, { LICENSE: 'the words' }, /run "npm ci"/],
])('%s', (_what, manifest, files, says) => {
  const folder = new Folder({
    'package-lock.json': JSON.stringify({ packages: { 'node_modules/a': { version: '1.0.0' } } }),
    'node_modules/a/package.json': JSON.stringify({ name: 'a', version: '1.0.0', ...manifest }),
  });
  mkdirSync(path.join(folder.path, 'node_modules/a'), { recursive: true });
  for (const [name, text] of Object.entries(files)) writeFileSync(path.join(folder.path, 'node_modules/a', name), String(text));
  const made = () => notices(folder.path, ['node_modules/a']);
  if (says) expect(made).toThrow(says);
  else expect(made()).toContain('a 1.0.0, licence MIT\n\nthe words');
});

it('ships for what is bundled, and names none that only builds or tests', () => {
  expect(inject('buildFailure')).toBe('');
  const text = readFileSync(path.join(root, 'dist/NOTICES.txt'), 'utf8');
  const named = [...text.matchAll(/^={100}\n(\S+) \S+, licence \S+$/gm)].map(([, name]) => name);
  const shipped = [
    'langium',
    'elkjs',
    'pdfmake',
    'preact',
    'commander',
    'vscode-languageclient',
    'vscode-languageserver',
    'dejavu-fonts-ttf',
  ];
  expect(named).toEqual(expect.arrayContaining(shipped));
  for (const name of ['vitest', 'esbuild', 'typescript', 'playwright-core', 'axe-core', 'ajv', 'langium-cli'])
    expect(named).not.toContain(name);
  for (const name of shipped.slice(0, 5)) {
    const licence = ['LICENSE', 'LICENSE.md'].flatMap((file) => {
      try {
        return readFileSync(path.join(root, 'node_modules', name, file), 'utf8').trim();
      } catch {
        return [];
      }
    });
    expect(text).toContain(licence[0]);
  }
});
