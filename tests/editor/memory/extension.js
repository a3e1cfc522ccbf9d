/** A file system in memory, for the browser edition of the workbench: `memory:/rigs` with the files of files.json. */
const vscode = require('vscode');

/** Texts as bytes by their paths; folders are what stands before a slash. */
const files = new Map();
const changes = new vscode.EventEmitter();
const startedAt = Date.now();

function inside(path) {
  const folder = path.endsWith('/') ? path : `${path}/`;
  return [...files.keys()].filter((each) => each.startsWith(folder)).map((each) => each.slice(folder.length));
}

function told(type, uri) {
  changes.fire([{ type, uri }]);
}

const provider = {
  onDidChangeFile: changes.event,
  watch: () => new vscode.Disposable(() => {}),
  stat({ path }) {
    const bytes = files.get(path);
    if (bytes) return { type: vscode.FileType.File, ctime: startedAt, mtime: startedAt, size: bytes.length };
    if (inside(path).length > 0) return { type: vscode.FileType.Directory, ctime: startedAt, mtime: startedAt, size: 0 };
    throw vscode.FileSystemError.FileNotFound(path);
  },
  readDirectory({ path }) {
    const kinds = new Map();
    for (const each of inside(path)) {
      const [name, ...more] = each.split('/');
      kinds.set(name, more.length > 0 ? vscode.FileType.Directory : vscode.FileType.File);
    }
    return [...kinds];
  },
  readFile({ path }) {
    const bytes = files.get(path);
    if (!bytes) throw vscode.FileSystemError.FileNotFound(path);
    return bytes;
  },
  writeFile(uri, bytes) {
    const isNew = !files.has(uri.path);
    files.set(uri.path, bytes);
    told(isNew ? vscode.FileChangeType.Created : vscode.FileChangeType.Changed, uri);
  },
  delete(uri) {
    for (const path of [...files.keys()]) if (path === uri.path || path.startsWith(`${uri.path}/`)) files.delete(path);
    told(vscode.FileChangeType.Deleted, uri);
  },
  rename(from, to) {
    for (const [path, bytes] of [...files]) {
      if (path !== from.path && !path.startsWith(`${from.path}/`)) continue;
      files.delete(path);
      files.set(to.path + path.slice(from.path.length), bytes);
    }
    told(vscode.FileChangeType.Deleted, from);
    told(vscode.FileChangeType.Created, to);
  },
  createDirectory() {},
};

exports.activate = async ({ extensionUri, subscriptions }) => {
  const given = await fetch(vscode.Uri.joinPath(extensionUri, 'files.json').toString(true));
  for (const [name, text] of Object.entries(await given.json())) files.set(`/rigs/${name}`, new TextEncoder().encode(text));
  subscriptions.push(vscode.workspace.registerFileSystemProvider('memory', provider, { isCaseSensitive: true }));
};
