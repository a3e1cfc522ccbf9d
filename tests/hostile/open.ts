/** Opens texts that were never meant to be rigs, from files in memory that remember who read them. */
import { EmptyFileSystemProvider, URI } from 'langium';
import { expect } from 'vitest';
import { message } from '#engine';
import { type Analysis, diagnosticOf, RigLoader } from '#language';

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

/** Whatever a text says, its findings have words and lie inside it. */
export function expectSound({ document, located }: Analysis): void {
  const { textDocument } = document;
  const end = textDocument.positionAt(textDocument.getText().length);
  for (const each of located) {
    const { range } = diagnosticOf(each);
    const inOrder = isBefore(range.start, range.end) && isBefore(range.end, end) && range.start.line >= 0 && range.start.character >= 0;
    // A place that the text does not have is moved to one that it has.
    const asIs = [range.start, range.end].every((at) => isSame(textDocument.positionAt(textDocument.offsetAt(at)), at));
    if (!inOrder || !asIs) expect({ code: each.finding.code, range }).toBe('inside the text');
    const words = message(each.finding);
    if (words.length < 10 || /undefined|NaN|\[object/.test(words)) expect({ code: each.finding.code, words }).toBe('whole sentences');
  }
}

interface Position {
  readonly line: number;
  readonly character: number;
}

function isBefore(a: Position, b: Position): boolean {
  return a.line < b.line || (a.line === b.line && a.character <= b.character);
}

function isSame(a: Position, b: Position): boolean {
  return a.line === b.line && a.character === b.character;
}
