/** What a page that is exported runs: a program as text, bundled, with the hash by which the page's policy knows it (CSP 3, `hash-source`). */
import { createHash } from 'node:crypto';
import path from 'node:path';
import esbuild from 'esbuild';

/** How such a program is imported: `import * as script from './keepTicks.ts?script'`. */
export const PAGE_SCRIPT = /\?script$/;

/** The module that the import stands for. */
export function pageScript(file) {
  const built = esbuild.buildSync({ entryPoints: [file], bundle: true, write: false, minify: true, format: 'iife', target: 'es2020' });
  const text = built.outputFiles[0].text.trim();
  if (/<\/script|<!--/i.test(text)) throw new Error(`${file} would end the element that it stands in.`);
  const hash = `sha256-${createHash('sha256').update(text).digest('base64')}`;
  return `export const text = ${JSON.stringify(text)}, hash = ${JSON.stringify(hash)};`;
}

/** For esbuild. */
export const pageScripts = {
  name: 'page-scripts',
  setup(build) {
    build.onResolve({ filter: PAGE_SCRIPT }, ({ path: name, resolveDir }) => ({
      path: path.resolve(resolveDir, name.replace(PAGE_SCRIPT, '')),
      namespace: 'page-script',
    }));
    build.onLoad({ filter: /./, namespace: 'page-script' }, ({ path: file }) => ({ contents: pageScript(file), watchFiles: [file] }));
  },
};
