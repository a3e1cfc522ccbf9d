/** Rigs as they were at a revision: `HEAD~3:club.rig`. */
import { realpath, stat } from 'node:fs/promises';
import path from 'node:path';
import { EmptyFileSystemProvider, URI } from 'langium';
import { type Analysis, RigLoader } from '#language';
import { GitProblem, Revision } from '#server/git';
import { NotText, Unusable } from './exit';
import { textOfBytes } from './read';
import { shownAs } from './wanted';

/** The revision and the path of a word that names both; nothing for the path of a file, a letter of a drive included. */
export function revisionOf(word: string): { readonly revision: string; readonly file: string } | undefined {
  const at = word.indexOf(':');
  if (at < 0 || /^[A-Za-z]:[\\/]/.test(word)) return undefined;
  return { revision: word.slice(0, at), file: word.slice(at + 1) };
}

/** All that a revision has of rigs and what they use, read as if the work tree were so. */
export class Past {
  private readonly loader: RigLoader;

  private constructor(
    private readonly revision: Revision,
    private readonly here: string,
  ) {
    this.loader = new RigLoader(new PastFiles(revision), URI.file(revision.root), {
      reasonOf: (problem) => (problem instanceof NotText ? problem.reason : undefined),
    });
  }

  /** Of the repository that a path leads into, whatever is left of it there. Throws `Unusable`. */
  static async at(written: string, revision: string): Promise<Past> {
    const { folder, file } = await whereIs(written);
    return new Past(await usable(Revision.at(folder, revision)), file);
  }

  /** `club.rig at HEAD~3`. */
  shown(file: string): string {
    return `${shownAs(file)} at ${this.revision.name}`;
  }

  /** Throws `Unusable`. */
  async analyse(file: string): Promise<Analysis> {
    const document = await usable(this.loader.load(URI.file(file)));
    return this.loader.services.rig.Analyser.of(document);
  }

  ease(): void {
    this.loader.services.rig.Trees.ease();
  }

  kindAt(file: string): Promise<'file' | 'link' | 'folder' | undefined> {
    return usable(this.revision.kindAt(file));
  }

  rigsIn(folder: string): Promise<string[]> {
    return usable(this.revision.rigsIn(folder));
  }

  /** What a path means: from the folder one is in, else from the top of the repository, as git itself takes it. */
  async find(written: string): Promise<string> {
    const { here } = this;
    const top = path.resolve(this.revision.root, written);
    const isInside = !path.relative(this.revision.root, here).startsWith('..');
    if (isInside && ((await this.kindAt(here)) !== undefined || here === top)) return here;
    return (await this.kindAt(top)) === undefined && isInside ? here : top;
  }
}

/** A path, and the nearest folder above it that is there now; without links, for git has none in its paths. */
async function whereIs(written: string): Promise<{ readonly folder: string; readonly file: string }> {
  const file = path.resolve(written);
  for (let at = file; ; at = path.dirname(at)) {
    const isFolder = await stat(at).then(
      (stats) => stats.isDirectory(),
      () => false,
    );
    if (!isFolder && at !== path.dirname(at)) continue;
    const folder = await realpath(at).catch(() => at);
    return { folder, file: path.join(folder, path.relative(at, file)) };
  }
}

class PastFiles extends EmptyFileSystemProvider {
  constructor(private readonly revision: Revision) {
    super();
  }

  override async readFile(uri?: URI): Promise<string> {
    const file = uri?.fsPath ?? '';
    return textOfBytes(await this.revision.read(file), `${shownAs(file)} at ${this.revision.name}`);
  }
}

async function usable<T>(asked: Promise<T>): Promise<T> {
  try {
    return await asked;
  } catch (problem) {
    throw problem instanceof GitProblem ? new Unusable(problem.what, problem.cure, problem) : problem;
  }
}
