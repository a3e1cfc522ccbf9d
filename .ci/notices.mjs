/**
 * What others have written and we ship: each package that is in the bundles, with its licence. It is made from what the bundler says
 * is in them and from the lock file, so that it names neither more nor less. Fails where a licence is not known to allow it.
 */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';

/** Licences that let their code ship with ours, which is MIT, where their text comes along. */
const ALLOWED = new Set(['MIT', 'ISC', '0BSD', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', 'BlueOak-1.0.0', 'EPL-2.0']);

/** What a package's manifest does not say as it should: looked up in its licence text. */
const CORRECTED = {
  'png-js': 'MIT',
  // One of the two may be chosen.
  elkjs: 'EPL-2.0',
  // Bitstream Vera's licence, and the public domain for what was added: fonts may ship with any program.
  'dejavu-fonts-ttf': 'Bitstream-Vera',
};

/** Packages that name the MIT licence and bring no text: they get that licence's own words. */
const WITHOUT_TEXT = new Set(['brotli', 'dfa', 'fontkit']);

const MIT = `Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files (the
"Software"), to deal in the Software without restriction, including without limitation the rights to use, copy, modify, merge, publish,
distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the Software is furnished to do so, subject to
the following conditions:

The above copyright notice and this permission notice shall be included in all copies or substantial portions of the Software.

THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED TO THE WARRANTIES OF
MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR
ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING FROM, OUT OF OR IN CONNECTION WITH
THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.`;

const LICENCE_FILE = /^(licen[cs]e|copying|notice|third-?party-?notices)/i;

/** The folders of the packages, as the lock file names them, of which anything at all is in these bundles. */
export function bundled(metafiles) {
  const inputs = metafiles.flatMap(({ outputs }) => Object.values(outputs).flatMap((output) => Object.entries(output.inputs)));
  const found = inputs.flatMap(([file, { bytesInOutput }]) =>
    bytesInOutput > 0 ? (/^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file)?.[0] ?? []) : [],
  );
  return [...new Set(found)].sort();
}

/** The text of the notices. Throws for a package whose licence or text is not known. */
export function notices(root, folders) {
  const { packages } = JSON.parse(readFileSync(path.join(root, 'package-lock.json'), 'utf8'));
  const parts = folders.map((folder) => notice(root, folder, packages[folder]));
  return `Earloom is made with the work of others. What is in its bundles, each with its licence:\n\n${parts.join('\n')}`;
}

function notice(root, folder, locked) {
  const manifest = JSON.parse(readFileSync(path.join(root, folder, 'package.json'), 'utf8'));
  const { name, version } = manifest;
  if (locked?.version !== version) throw new Error(`${folder} is ${version}, and ${locked?.version} in the lock file: run "npm ci".`);
  const licence = CORRECTED[name] ?? locked.license ?? manifest.license;
  if (licence !== 'Bitstream-Vera' && !ALLOWED.has(licence)) throw new Error(`${name} has the licence ${licence}: may it ship with ours?`);
  const files = readdirSync(path.join(root, folder))
    .filter((file) => LICENCE_FILE.test(file))
    .sort();
  const texts = files.map((file) => readFileSync(path.join(root, folder, file), 'utf8').trim());
  if (texts.length === 0) {
    if (!WITHOUT_TEXT.has(name) || licence !== 'MIT') throw new Error(`${name} brings no text of its licence.`);
    const author = typeof manifest.author === 'string' ? manifest.author : (manifest.author?.name ?? `the authors of ${name}`);
    texts.push(`Copyright (c) ${author}\n\n${MIT}`);
  }
  const repository = typeof manifest.repository === 'string' ? manifest.repository : manifest.repository?.url;
  const source = repository ? `\nIts source: ${repository.replace(/^git\+/, '')}` : '';
  return `${'='.repeat(100)}\n${name} ${version}, licence ${licence}${source}\n\n${texts.join('\n\n')}\n`;
}
