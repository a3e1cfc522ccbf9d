/**
 * Bundles everything that ships into dist/: the extension, the language server, the command line and what the webview shows.
 *
 *   node esbuild.mjs            as it ships: small
 *   node esbuild.mjs --dev      readable, with source maps
 *   node esbuild.mjs --watch    as --dev, and again after each change
 *   node esbuild.mjs --sizes    as it ships, and tells what each file is made of
 *   node esbuild.mjs server     one of them only (extension, server, extension.web, server.web, cli, check, commands, layout, layoutThread, planThread, pdf, junit, highs, preview, mistakes)
 */
import { copyFileSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import esbuild from 'esbuild';
import { bundled, notices } from './.ci/notices.mjs';
import { pageScripts } from './.ci/pageScript.mjs';

const root = path.dirname(fileURLToPath(import.meta.url));
const watch = process.argv.includes('--watch');
const dev = watch || process.argv.includes('--dev');
const sizes = process.argv.includes('--sizes');

/**
 * The protocol's packages can be installed in more than one version, and what one of them throws another does not know for an
 * error. Each bundle takes the one that its connection is made with.
 */
const oneProtocol = (owner) => ({
  name: 'one-protocol',
  setup(build) {
    const resolveDir = path.join(root, 'node_modules', owner);
    const filter = /^vscode-(languageserver-protocol|languageserver-types|languageserver-textdocument|jsonrpc)(\/|$)/;
    build.onResolve({ filter }, ({ path: name, kind, pluginData }) => {
      if (pluginData === 'resolved') return undefined;
      return build.resolve(name, { kind, resolveDir, pluginData: 'resolved' });
    });
  },
});

/** What lays graphs out is large and seldom needed: it is a file of its own, read when it is first asked for. */
const LAYOUT = 'elkjs/lib/elk.bundled.js';
const LAYOUT_FILTER = /^elkjs\/lib\/elk\.bundled\.js$/;
const layoutApart = {
  name: 'layout-apart',
  setup(build) {
    build.onResolve({ filter: LAYOUT_FILTER }, ({ kind }) =>
      kind === 'entry-point' ? undefined : { path: './layout.cjs', external: true },
    );
  },
};

/** So is what makes PDF, with the fonts it sets them in beside it. */
const pdfApart = {
  name: 'pdf-apart',
  setup(build) {
    build.onResolve({ filter: /^#pdf$/ }, () => ({ path: './pdf.cjs', external: true }));
  },
};

/** So is what solves plans: a file of its own, with its WebAssembly beside it. Elsewhere its entry for modules would look for that by an address. */
const SOLVER = 'node_modules/highs/build/highs.js';
const solverApart = {
  name: 'solver-apart',
  setup(build) {
    build.onResolve({ filter: /^highs$/ }, () => ({ path: './highs.cjs', external: true }));
  },
};

/** So is what writes JUnit's XML, which few ask for. */
const junitApart = {
  name: 'junit-apart',
  setup(build) {
    build.onResolve({ filter: /^junit-report-builder$/ }, () => ({ path: './junit.cjs', external: true }));
  },
};

/** What a command line does not ask for need not be read: the check, and all other commands, are files of their own. */
const commandsApart = {
  name: 'commands-apart',
  setup(build) {
    build.onResolve({ filter: /^\.\/(check|commands)$/ }, ({ path: name }) => ({ path: `${name}.cjs`, external: true }));
  },
};

/** Of the protocol the command line needs its types' few helpers and what Langium has of it, and no connection. */
const inJsonRpc = (file) => JSON.stringify(path.join(root, 'node_modules/vscode-jsonrpc/lib/common', file));
const WITHOUT_CONNECTION = `
  export { CancellationToken, CancellationTokenSource } from ${inJsonRpc('cancellation.js')};
  export { Emitter } from ${inJsonRpc('events.js')};
  export { ResponseError } from ${inJsonRpc('messages.js')};
  // As the Language Server Protocol 3.17 has them.
  export const LSPErrorCodes = { RequestFailed: -32803, ServerCancelled: -32802 };
`;
const protocolTypesOnly = {
  name: 'protocol-types-only',
  setup(build) {
    build.onResolve({ filter: /^vscode-languageserver-protocol$/ }, ({ path: name }) => ({ path: name, namespace: 'without-connection' }));
    build.onLoad({ filter: /./, namespace: 'without-connection' }, () => ({ contents: WITHOUT_CONNECTION, resolveDir: root }));
    build.onResolve({ filter: /^vscode-languageserver(-types)?$/ }, ({ kind, pluginData }) =>
      pluginData === 'resolved'
        ? undefined
        : build.resolve('vscode-languageserver-types', { kind, resolveDir: root, pluginData: 'resolved' }),
    );
  },
};

/** What tells letters apart takes as long to make as a rig to be read: it is made when there is one that is not plain. */
const SEGMENTER = 'const segmenter = new Intl.Segmenter();';
const segmenterWhenNeeded = {
  name: 'segmenter-when-needed',
  setup(build) {
    build.onLoad({ filter: /[\\/]string-width[\\/]index\.js$/ }, ({ path: file }) => {
      const source = readFileSync(file, 'utf8');
      if (!source.includes(SEGMENTER)) throw new Error(`${file} has another segmenter than this build knows.`);
      const own = 'let own; const segmenter = { segment: (text) => (own ??= new Intl.Segmenter()).segment(text) };';
      return { contents: source.replace(SEGMENTER, own), loader: 'js' };
    });
  },
};

/**
 * One letter that is not of Latin 1 makes an engine keep the whole program in two bytes a letter, and read it in half the speed. Where the
 * bundler leaves such letters, in regular expressions, they are written by their numbers, which says the same.
 */
const inPlainLetters = {
  name: 'in-plain-letters',
  setup(build) {
    build.initialOptions.write = false;
    build.onEnd(({ outputFiles = [] }) => {
      for (const { path: file, contents, text } of outputFiles) {
        mkdirSync(path.dirname(file), { recursive: true });
        const plain = (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`;
        writeFileSync(file, /\.c?js$/.test(file) ? text.replace(/[^\0-\x7f]/g, plain) : contents);
      }
    });
  },
};

/** In a browser, with the server: its entry for Node, which finds its WebAssembly where it is told, is right there, too. */
const solverInPlace = {
  name: 'solver-in-place',
  setup(build) {
    build.onResolve({ filter: /^highs$/ }, () => ({ path: path.join(root, SOLVER) }));
    // What it asks of Node it asks on Node alone.
    build.onResolve({ filter: /^node:/ }, ({ importer }) =>
      importer.endsWith(SOLVER) ? { path: 'nothing', namespace: 'nothing' } : undefined,
    );
    build.onLoad({ filter: /./, namespace: 'nothing' }, () => ({ contents: '' }));
  },
};

/**
 * In a browser it is the same file as on Node, read when it is first asked for. In a worker it would take the worker for its own and hear what
 * is meant for the server: without `self` it does its work in place.
 */
const LAYOUT_BESIDE = `
  async function load() {
    const answer = await fetch(new URL('layout.cjs', self.beside));
    if (!answer.ok) throw new Error('What lays out the signal flow could not be read: ' + answer.status);
    const module = { exports: {} };
    new Function('module', 'exports', 'self', 'window', await answer.text())(module, module.exports, undefined, globalThis);
    return new module.exports();
  }
  export default class {
    layout(graph) {
      this.engine ??= load().catch((problem) => {
        this.engine = undefined;
        throw problem;
      });
      return this.engine.then((engine) => engine.layout(graph));
    }
  }
`;
const layoutBeside = {
  name: 'layout-beside',
  setup(build) {
    build.onResolve({ filter: LAYOUT_FILTER }, ({ path: name }) => ({ path: name, namespace: 'layout-beside' }));
    build.onLoad({ filter: /./, namespace: 'layout-beside' }, () => ({ contents: LAYOUT_BESIDE }));
  },
};

const common = {
  absWorkingDir: root,
  bundle: true,
  minify: !dev,
  sourcemap: dev,
  legalComments: 'none',
  metafile: true,
  logLevel: 'warning',
};

/** Scripts take rigs and style sheets in as text. */
const script = { ...common, loader: { '.rig': 'text', '.css': 'text' }, jsx: 'automatic', jsxImportSource: 'preact' };
const onNode = {
  ...script,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  mainFields: ['module', 'main'],
  // What is a file of its own is required: to import one that is no module, Node first looks through all of it for what it exports.
  supported: { 'dynamic-import': false },
};
const inWebview = { platform: 'browser', target: 'chrome120' };
const inWorker = { ...script, platform: 'browser', target: 'es2022', conditions: ['browser'] };

const bundles = [
  {
    ...onNode,
    entryPoints: ['packages/extension/main.ts'],
    outfile: 'dist/extension.cjs',
    external: ['vscode'],
    plugins: [oneProtocol('vscode-languageclient')],
  },
  {
    ...onNode,
    entryPoints: ['packages/server/main.ts'],
    outfile: 'dist/server.cjs',
    plugins: [oneProtocol('vscode-languageserver'), layoutApart, pdfApart],
  },
  {
    ...inWorker,
    entryPoints: ['packages/extension/browser.ts'],
    outfile: 'dist/extension.web.js',
    format: 'cjs',
    external: ['vscode'],
    plugins: [oneProtocol('vscode-languageclient')],
  },
  {
    ...inWorker,
    entryPoints: ['packages/server/worker.ts'],
    outfile: 'dist/server.web.js',
    format: 'iife',
    plugins: [oneProtocol('vscode-languageserver'), layoutBeside, solverInPlace],
  },
  {
    ...onNode,
    entryPoints: ['packages/cli/main.ts'],
    outfile: 'dist/cli.cjs',
    banner: { js: '#!/usr/bin/env node' },
    plugins: [commandsApart],
  },
  ...['check', 'commands'].map((name) => ({
    ...onNode,
    entryPoints: [`packages/cli/${name}.ts`],
    outfile: `dist/${name}.cjs`,
    plugins: [layoutApart, pdfApart, solverApart, junitApart, protocolTypesOnly],
  })),
  { ...onNode, entryPoints: ['node_modules/junit-report-builder/dist/index.js'], outfile: 'dist/junit.cjs' },
  { ...onNode, entryPoints: [LAYOUT], outfile: 'dist/layout.cjs', banner: { js: 'var self;' } },
  { ...onNode, entryPoints: ['packages/server/layoutThread.ts'], outfile: 'dist/layoutThread.cjs', plugins: [layoutApart] },
  { ...onNode, entryPoints: ['packages/server/planThread.ts'], outfile: 'dist/planThread.cjs', plugins: [layoutApart, solverApart] },
  { ...onNode, entryPoints: ['packages/pdf/index.ts'], outfile: 'dist/pdf.cjs' },
  { ...onNode, entryPoints: [SOLVER], outfile: 'dist/highs.cjs' },
  { ...script, ...inWebview, entryPoints: ['packages/preview/main.tsx'], outfile: 'dist/preview.js', format: 'iife' },
  { ...common, ...inWebview, entryPoints: ['packages/preview/preview.css'], outfile: 'dist/preview.css' },
];

/** The page of each code, by its code, to be read one at a time when somebody asks. */
function gatherMistakes() {
  const folder = path.join(root, 'examples/mistakes');
  const files = readdirSync(folder, { recursive: true }).map((file) => file.split(path.sep).join('/'));
  const pages = files.filter((file) => /^[a-z-]+\/[a-z-]+\.rig$/.test(file)).sort();
  const texts = pages.map((file) => [file.replace(/\.rig$/, ''), readFileSync(path.join(folder, file), 'utf8')]);
  mkdirSync(path.join(root, 'dist'), { recursive: true });
  writeFileSync(path.join(root, 'dist/mistakes.json'), JSON.stringify(Object.fromEntries(texts)));
}

/** The two faces that PDF is set in, as they are, with their licence. */
function gatherFonts() {
  const from = path.join(root, 'node_modules/dejavu-fonts-ttf');
  const to = path.join(root, 'dist/fonts');
  mkdirSync(to, { recursive: true });
  for (const file of ['ttf/DejaVuSansCondensed.ttf', 'ttf/DejaVuSansCondensed-Bold.ttf', 'LICENSE'])
    copyFileSync(path.join(from, file), path.join(to, path.basename(file)));
}

/** The solver's WebAssembly, as it is. */
function gatherSolver() {
  mkdirSync(path.join(root, 'dist'), { recursive: true });
  copyFileSync(path.join(root, SOLVER.replace(/js$/, 'wasm')), path.join(root, 'dist/highs.wasm'));
}

const names = process.argv.slice(2).filter((argument) => !argument.startsWith('--'));
const wanted = bundles
  .filter(({ outfile }) => names.length === 0 || names.includes(path.parse(outfile).name))
  .map(({ plugins = [], ...bundle }) => ({ ...bundle, plugins: [pageScripts, segmenterWhenNeeded, ...plugins, inPlainLetters] }));
if (names.length === 0 || names.includes('mistakes')) gatherMistakes();
if (names.length === 0 || names.includes('pdf')) gatherFonts();
if (names.length === 0 || names.includes('highs')) gatherSolver();
if (watch) {
  const contexts = await Promise.all(wanted.map((bundle) => esbuild.context({ ...bundle, logLevel: 'info' })));
  await Promise.all(contexts.map((context) => context.watch()));
} else {
  const results = await Promise.all(wanted.map((bundle) => esbuild.build(bundle)));
  // Only of all of them together is it known what ships.
  if (names.length === 0) {
    const folders = [...bundled(results.map(({ metafile }) => metafile)), 'node_modules/dejavu-fonts-ttf'].sort();
    writeFileSync(path.join(root, 'dist/NOTICES.txt'), notices(root, folders));
  }
  if (sizes) for (const { metafile } of results) console.log(esbuild.analyzeMetafileSync(metafile, { color: process.stdout.isTTY }));
}
