/** What rigs were at the last commit, with all that they used then. */
import { realpath } from 'node:fs/promises';
import path from 'node:path';
import { EmptyFileSystemProvider, URI } from 'langium';
import { type Analysis, RigLoader } from '#language';
import { Revision } from './git';
import { reasonOf, refuseTooLarge, textOf } from './text';

class PastFiles extends EmptyFileSystemProvider {
  constructor(private readonly revision: Revision) {
    super();
  }

  override async readFile(uri?: URI): Promise<string> {
    const bytes = await this.revision.read(uri?.fsPath ?? '');
    refuseTooLarge(bytes.length);
    return textOf(bytes);
  }
}

/** Rejects with a `GitProblem`, whose message is for the person who asked. */
export async function lastCommit(file: URI): Promise<Analysis> {
  // git knows folders by where links lead.
  const folder = await realpath(path.dirname(file.fsPath)).catch(() => path.dirname(file.fsPath));
  const revision = await Revision.at(folder, 'HEAD');
  const loader = new RigLoader(new PastFiles(revision), URI.file(revision.root), { reasonOf });
  return loader.services.rig.Analyser.of(await loader.load(URI.file(path.join(folder, path.basename(file.fsPath)))));
}
