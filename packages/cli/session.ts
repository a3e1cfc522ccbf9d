/** The language, opened for one command. Loaded only by commands that read rigs. */
import { realpath } from 'node:fs/promises';
import path from 'node:path';
import { type LangiumDocument, URI } from 'langium';
import { NodeFileSystemProvider } from 'langium/node';
import { type Analysis, RigLoader, type RigServices } from '#language';
import { reasonOf } from '#server/text';
import { NotText, Unusable } from './exit';
import { readText, textOf } from './read';
import { STANDARD_INPUT, shownAs, type Wanted } from './wanted';

/** Standard input counts as a file in the folder one is in, by a name that no file has. */
const STDIN_URI = URI.file(path.join(process.cwd(), '<standard input>.rig')).toString();

class Files extends NodeFileSystemProvider {
  override async readFile(uri: URI): Promise<string> {
    return readText(uri.fsPath, shownAs(uri.fsPath));
  }
}

export class Session {
  private readonly loader: RigLoader;

  constructor() {
    // A file below the folder one is in may use what is in that folder; any other file what is in its own.
    this.loader = new RigLoader(new Files(), URI.file(process.cwd()), {
      realPath: async (uri) => URI.file(await realpath(uri.fsPath)),
      reasonOf: (problem) => {
        if (problem instanceof NotText) return problem.reason;
        return reasonOf(problem instanceof Unusable ? problem.cause : problem);
      },
    });
  }

  /** Reads a file and all that it uses. Throws `Unusable`. */
  async load({ file, shown, problem }: Wanted): Promise<LangiumDocument> {
    if (problem) throw problem;
    if (file !== undefined) return this.loader.load(URI.file(file));
    return this.loader.loadText(await textOf(process.stdin, shown), URI.parse(STDIN_URI));
  }

  get services(): RigServices {
    return this.loader.services;
  }

  analyse(document: LangiumDocument): Analysis {
    return this.loader.services.rig.Analyser.of(document);
  }

  /** What was read for the files so far is let go where it becomes much. */
  ease(): void {
    this.loader.services.rig.Trees.ease();
  }

  /** How messages call a file: a path from here, or the address of a part of the library. */
  nameOf(uri: string): string {
    return uri === STDIN_URI ? STANDARD_INPUT.shown : this.pathOf(uri);
  }

  /** How other programs know it. */
  pathOf(uri: string): string {
    if (uri === STDIN_URI) return STANDARD_INPUT.path;
    const parsed = URI.parse(uri);
    return parsed.scheme === 'file' ? shownAs(parsed.fsPath) : uri;
  }
}
