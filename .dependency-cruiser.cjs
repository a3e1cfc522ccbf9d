/**
 * Which part may know of which: the arrows of the architecture page, kept by a check.
 *
 *   extension, cli -> server -> language -> sheets -> plan, compare -> engine -> rig, and preview, pdf -> sheets
 */

/** What each part may import of the others; all of it by way of its entries in package.json ("#…"). */
const ARROWS = {
  rig: [],
  engine: ['rig'],
  plan: ['rig', 'engine'],
  compare: ['rig', 'engine'],
  sheets: ['rig', 'engine', 'plan', 'compare'],
  preview: ['rig', 'engine', 'plan', 'compare', 'sheets'],
  pdf: ['rig', 'engine', 'plan', 'compare', 'sheets'],
  language: ['rig', 'engine', 'plan', 'compare', 'sheets'],
  server: ['rig', 'engine', 'plan', 'compare', 'sheets', 'pdf', 'language'],
  cli: ['rig', 'engine', 'plan', 'compare', 'sheets', 'pdf', 'language', 'server'],
  extension: ['rig', 'engine', 'plan', 'compare', 'sheets', 'pdf', 'language', 'server', 'preview'],
};

/** The floors of the engine, and which of the others each may import. What is beside them (check.ts, index.ts) may import all. */
const FLOORS = {
  solve: [],
  words: ['solve'],
  cure: ['solve'],
  find: ['solve', 'words', 'cure'],
};

/** The entries, as package.json has them. */
const ENTRIES = Object.values(require('./package.json').imports).map((file) => file.replace(/^\.\//, ''));

const EDITOR_AND_MACHINE = '^(node_modules/(langium|chevrotain|vscode-)|vscode$)';

const arrows = Object.entries(ARROWS).map(([part, known]) => ({
  name: `arrows-of-${part}`,
  comment: `packages/${part} may know ${known.join(', ') || 'no other part'}.`,
  severity: 'error',
  from: { path: `^packages/${part}/` },
  to: { path: '^packages/', pathNot: `^packages/(${[part, ...known].join('|')})/` },
}));

const floors = Object.entries(FLOORS).map(([floor, below]) => ({
  name: `floors-of-the-engine-${floor}`,
  comment: `packages/engine/${floor} may know ${below.join(', ') || 'no other floor'}.`,
  severity: 'error',
  from: { path: `^packages/engine/${floor}/` },
  to: { path: '^packages/engine/', pathNot: `^packages/engine/(${[floor, ...below].join('|')})/` },
}));

module.exports = {
  forbidden: [
    ...arrows,
    ...floors,
    {
      name: 'by-the-entry',
      comment: 'Another part is imported by its entry ("#engine"), never by a file inside it.',
      severity: 'error',
      from: { path: '^packages/([^/]+)/' },
      to: { path: '^packages/', pathNot: ['^packages/$1/', ...ENTRIES.map((file) => `^${file.replaceAll('.', '\\.')}$`)] },
    },
    {
      name: 'by-its-name',
      comment: 'Another part is imported by its name ("#engine"), not by a path.',
      severity: 'error',
      from: { path: '^packages/([^/]+)/' },
      to: { path: '^packages/', pathNot: '^packages/$1/', dependencyTypesNot: ['aliased-subpath-import'] },
    },
    {
      name: 'pure-below-language',
      comment: 'rig, engine, plan, compare and sheets know no editor, no syntax tree, no file system and no network.',
      severity: 'error',
      from: { path: '^packages/(rig|engine|plan|compare|sheets)/' },
      to: { path: EDITOR_AND_MACHINE },
    },
    {
      name: 'no-machine-below-language',
      comment: 'They run in a browser, too.',
      severity: 'error',
      from: { path: '^packages/(rig|engine|plan|compare|sheets|language|preview)/' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'no-editor-at-the-command-line',
      comment:
        'Editor services are much to load, and the command line has to start at once. How files are read, now and at a revision, is the same for both, and so is when memory is given back; cures are loaded where SARIF is asked for.',
      severity: 'error',
      from: { path: '^packages/(cli|language/(?!editor/))' },
      to: {
        path: '^(node_modules/(vscode-languageserver/|langium/lib/lsp/)|packages/(server|language/editor)/)',
        pathNot: '^packages/(server/(collect|git|regular|text)|language/editor/cures)\\.ts$',
      },
    },
    {
      name: 'editor-only-in-the-extension',
      comment: 'The editor itself is known to the extension alone.',
      severity: 'error',
      from: { path: '^packages/', pathNot: '^packages/extension/' },
      to: { path: '^(vscode|node_modules/@types/vscode/.*)$' },
    },
    {
      name: 'no-circles',
      comment: 'Files that need each other in a circle, be it for a type, cannot be read one by one.',
      severity: 'error',
      from: { pathNot: '^packages/language/' },
      to: { circular: true },
    },
    {
      name: 'no-circles-in-the-language',
      comment: 'The type of all its services names each of them, and each is handed all: by types alone.',
      severity: 'error',
      from: { path: '^packages/language/' },
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'all-found',
      comment: 'Every import leads somewhere.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true, pathNot: '^vscode$' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'require', 'node', 'default', 'types'] },
  },
};
