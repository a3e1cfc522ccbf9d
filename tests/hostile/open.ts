/** Opens texts that were never meant to be rigs, from files in memory that remember who read them. */
import { EmptyFileSystemProvider, URI } from 'langium';
import { expect } from 'vitest';
import { type Analysis, RigLoader } from '#language';
import { complaints } from '../fuzz/sound';

export const FOLDER = 'memory:/band/';

export class MemoryFiles extends EmptyFileSystemProvider {
  readonly read: string[] = [];

  constructor(private readonly files: Readonly<Record<string, string>> = {}) {
    super();
  }

  override async readFile(uri?: URI): Promise<string> {
    const address = decodeURIComponent(String(uri));
    this.read.push(address);
    const text = this.files[address];
    if (text === undefined) throw new Error(`There is no ${address}.`);
    return text;
  }
}

/** A workbench for several texts, one after the other. */
export class Bench {
  readonly files: MemoryFiles;
  private readonly loader: RigLoader;
  private count = 0;

  constructor(files: Readonly<Record<string, string>> = {}) {
    this.files = new MemoryFiles(files);
    this.loader = new RigLoader(this.files, URI.parse(FOLDER));
  }

  async analyse(text: string): Promise<Analysis> {
    const uri = URI.parse(`${FOLDER}hostile-${this.count++}.rig`);
    const document = await this.loader.loadText(text, uri);
    const analysis = this.loader.services.rig.Analyser.of(document);
    this.loader.services.shared.workspace.LangiumDocuments.deleteDocument(uri);
    return analysis;
  }
}

export async function analyse(text: string, files: Readonly<Record<string, string>> = {}): Promise<Analysis> {
  return new Bench(files).analyse(text);
}

/** Whatever a text says, its findings have words and finite figures, and lie inside it. */
export function expectSound(analysis: Analysis): void {
  expect(complaints(analysis)).toEqual([]);
}
