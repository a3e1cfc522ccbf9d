/**
 * What files were at a revision, by the program `git` as it is on the path. It is given its words one by one and no shell reads them; nothing
 * is written, fetched or asked for.
 */
import { spawn } from 'node:child_process';
import path from 'node:path';

/** Something that cannot be had of git, in words for the person who asked. */
export class GitProblem extends Error {
  constructor(
    readonly what: string,
    readonly cure: string,
  ) {
    super(`${what} ${cure}`);
  }
}

/** More than any rig, and any list of files that somebody compares. */
const MOST_BYTES = 64 * 1024 * 1024;

const QUIET = {
  LC_ALL: 'C',
  GIT_OPTIONAL_LOCKS: '0',
  GIT_TERMINAL_PROMPT: '0',
  GIT_NO_LAZY_FETCH: '1',
  GIT_PAGER: '',
  GIT_LITERAL_PATHSPECS: '1',
};

/** In a hook git says where the repository is, from the folder that the hook stands in; it is asked from others here. */
function whereabouts(): NodeJS.ProcessEnv {
  const { GIT_DIR, GIT_WORK_TREE = '.' } = process.env;
  return GIT_DIR === undefined ? {} : { GIT_DIR: path.resolve(GIT_DIR), GIT_WORK_TREE: path.resolve(GIT_WORK_TREE) };
}

interface Said {
  readonly code: number | null;
  readonly out: Buffer;
  readonly error: string;
}

async function git(folder: string, words: readonly string[]): Promise<Said> {
  return new Promise((resolve, reject) => {
    const child = spawn('git', ['--no-pager', ...words], {
      cwd: folder,
      env: { ...process.env, ...whereabouts(), ...QUIET },
      stdio: ['ignore', 'pipe', 'pipe'],
      windowsHide: true,
    });
    const out: Buffer[] = [];
    let [size, error] = [0, ''];
    child.stdout.on('data', (chunk: Buffer) => {
      size += chunk.length;
      if (size > MOST_BYTES) child.kill();
      else out.push(chunk);
    });
    child.stderr.on('data', (chunk: Buffer) => {
      if (error.length < 10_000) error += chunk.toString('utf8');
    });
    child.on('error', (problem: NodeJS.ErrnoException) => {
      reject(
        problem.code === 'ENOENT'
          ? new GitProblem(
              'The program git is not on this machine, or not on its path.',
              'Install it, or compare two files: without it there are no revisions to look at.',
            )
          : new GitProblem(`git could not be started (${problem.code}).`, 'Compare two files instead.'),
      );
    });
    child.on('close', (code) => {
      if (size > MOST_BYTES) reject(new GitProblem('That is larger than any rig.', 'Name a rig, or a folder of rigs.'));
      else resolve({ code, out: Buffer.concat(out), error });
    });
  });
}

/** A commit of the repository that a folder is in. */
export class Revision {
  private constructor(
    /** The repository's top folder. */
    readonly root: string,
    /** As it was asked for: `HEAD~3`. */
    readonly name: string,
    private readonly commit: string,
  ) {}

  /** Throws `GitProblem`. */
  static async at(folder: string, name: string): Promise<Revision> {
    const root = await rootOf(folder);
    if (name === '' || name.startsWith('-') || /[\0\n]/.test(name))
      throw new GitProblem(`"${name}" is no revision.`, 'Write one before the colon, as in HEAD~3:club.rig.');
    const { code, out } = await git(root, ['rev-parse', '--verify', '--quiet', '--end-of-options', `${name}^{commit}`]);
    if (code === 0) return new Revision(root, name, out.toString('utf8').trim());
    const { out: shallow } = await git(root, ['rev-parse', '--is-shallow-repository']);
    const { code: any } = await git(root, ['rev-parse', '--verify', '--quiet', 'HEAD^{commit}']);
    if (any !== 0) throw new GitProblem('Nothing has been committed in this repository yet.', 'Commit the rig first.');
    const cure = shallow.toString('utf8').startsWith('true')
      ? 'This copy has only the last commits: "git fetch --unshallow" gets the others.'
      : '"git log --oneline" shows those there are.';
    throw new GitProblem(`There is no revision ${name} here.`, cure);
  }

  /** The bytes of a file, by its full path in the work tree. Throws `GitProblem` where it was not there, or was no file. */
  async read(file: string): Promise<Buffer> {
    const inside = this.pathOf(file);
    const kind = await this.kindOf(inside);
    if (kind === 'file') {
      const { code, out, error } = await git(this.root, ['cat-file', 'blob', `${this.commit}:${inside}`]);
      if (code === 0) return out;
      throw new GitProblem(`git cannot read ${inside} at ${this.name}: ${error.trim()}`, 'Compare two files instead.');
    }
    if (kind === 'link') throw new GitProblem(`At ${this.name}, ${inside} was a link to another file.`, 'Name the file that it leads to.');
    if (kind === 'folder') throw new GitProblem(`At ${this.name}, ${inside} was a folder.`, 'Compare it with a folder.');
    throw new GitProblem(`There was no ${inside} at ${this.name}.`, await this.firstCommitOf(inside));
  }

  /** What was at a path of the work tree. */
  kindAt(file: string): Promise<'file' | 'link' | 'folder' | undefined> {
    return this.kindOf(this.pathOf(file));
  }

  /** All rigs in a folder and below, as full paths in the work tree, in the order of their names. */
  async rigsIn(folder: string): Promise<string[]> {
    const inside = this.pathOf(folder);
    const words = ['ls-tree', '-r', '-z', '--full-tree', this.commit, ...(inside === '' ? [] : ['--', inside])];
    const { code, out, error } = await git(this.root, words);
    if (code !== 0) throw new GitProblem(`git cannot list ${inside || 'the repository'} at ${this.name}: ${error.trim()}`, '');
    return entriesOf(out).flatMap(({ mode, name }) => {
      const hidden = name.split('/').some((part) => part.startsWith('.') || part === 'node_modules');
      return mode.startsWith('100') && name.endsWith('.rig') && !hidden ? [path.join(this.root, name)] : [];
    });
  }

  private async kindOf(inside: string): Promise<'file' | 'link' | 'folder' | undefined> {
    if (inside === '') return 'folder';
    const { out } = await git(this.root, ['ls-tree', '-z', '--full-tree', this.commit, '--', inside]);
    const mode = entriesOf(out).find(({ name }) => name === inside)?.mode;
    if (mode === undefined) return undefined;
    if (mode.startsWith('100')) return 'file';
    return mode === '120000' ? 'link' : mode === '040000' ? 'folder' : undefined;
  }

  private async firstCommitOf(inside: string): Promise<string> {
    // A repository may ask for signatures to be looked at, by a program that it names: none of that is run.
    const words = ['log', '--no-show-signature', '--no-renames', '--diff-filter=A', '--format=%h', '-1', 'HEAD', '--', inside];
    const { out } = await git(this.root, words);
    const first = out.toString('utf8').trim();
    return first === '' ? 'Correct the path: it starts from the folder that you are in.' : `It came with ${first}: compare with that.`;
  }

  private pathOf(file: string): string {
    const inside = path.relative(this.root, file);
    if (inside.startsWith('..') || path.isAbsolute(inside))
      throw new GitProblem(`${file} is not in the repository ${this.root}.`, 'Name a file that is.');
    return inside.split(path.sep).join('/');
  }
}

/** The top folder of the repository that a folder is in. Throws `GitProblem` where it is in none. */
export async function rootOf(folder: string): Promise<string> {
  const { code, out, error } = await git(folder, ['rev-parse', '--show-toplevel']);
  const root = out.toString('utf8').replace(/\r?\n$/, '');
  if (code === 0 && root !== '') return path.resolve(root);
  if (error.includes('dubious ownership'))
    throw new GitProblem('git does not trust this folder: it belongs to somebody else.', 'Ask whoever looks after the machine.');
  if (error.includes('must be run in a work tree'))
    throw new GitProblem('This repository is bare: it has commits, and no files to start from.', 'Go to a clone of it.');
  throw new GitProblem('This folder is in no git repository.', 'Go to the one that the rig is kept in, or compare two files.');
}

function entriesOf(out: Buffer): { readonly mode: string; readonly name: string }[] {
  return out
    .toString('utf8')
    .split('\0')
    .flatMap((line) => {
      const match = /^(\d+) \S+ \S+\t(.+)$/s.exec(line);
      return match?.[1] && match[2] ? [{ mode: match[1], name: match[2] }] : [];
    });
}
