import { readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { defineConfig } from 'vitest/config';
import { PAGE_SCRIPT, pageScript } from './.ci/pageScript.mjs';

/** A style sheet that is taken in as text gets a name of its own: the test runner empties what ends in .css. */
const STYLE_TEXT = '\0style-text:';
const SCRIPT_TEXT = '\0script-text:';

export default defineConfig(({ mode }) => ({
  plugins: [
    {
      name: 'text-modules',
      enforce: 'pre',
      resolveId(source, importer) {
        if (!importer) return undefined;
        if (PAGE_SCRIPT.test(source)) return `${SCRIPT_TEXT}${resolve(dirname(importer), source.replace(PAGE_SCRIPT, ''))}:`;
        return source.endsWith('.css') ? `${STYLE_TEXT}${resolve(dirname(importer), source)}:` : undefined;
      },
      load(id) {
        if (id.startsWith(SCRIPT_TEXT)) return pageScript(id.slice(SCRIPT_TEXT.length, -1));
        return id.startsWith(STYLE_TEXT)
          ? `export default ${JSON.stringify(readFileSync(id.slice(STYLE_TEXT.length, -1), 'utf8'))}`
          : undefined;
      },
      transform: (code, id) => (id.endsWith('.rig') ? { code: `export default ${JSON.stringify(code)}`, map: null } : undefined),
    },
  ],
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    // `npm run test:all` is all of it: the real editor, and of the slowest tests each (tests/thorough.ts).
    exclude: mode === 'all' ? [] : ['tests/editor/**'],
    env: { EARLOOM_TESTS: mode },
    // What is loaded is loaded once for all files.
    isolate: false,
    // Two editors at once are more than two cores bear. One process for all files needs room.
    maxWorkers: mode === 'all' ? 1 : '100%',
    execArgv: ['--max-old-space-size=8192'],
    globalSetup: ['tests/build.ts'],
    setupFiles: ['tests/setup.ts'],
    testTimeout: 30_000,
  },
}));
