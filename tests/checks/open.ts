/** Opens rigs from disk as the command line does, with their cures carried out or not. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { type FileSystemNode, type FileSystemProvider, type LangiumDocument, URI } from 'langium';
import { NodeFileSystem } from 'langium/node';
import { message } from '#engine';
import { type Analysis, isLibrary, RigLoader } from '#language';
import { cured, type Found } from './marks';

const disk = NodeFileSystem.fileSystemProvider();

/** The disk, with every file read as it would be once its cures are carried out. */
const curedDisk: FileSystemProvider = {
  stat: (uri) => disk.stat(uri),
  statSync: (uri) => disk.statSync(uri),
  exists: (uri) => disk.exists(uri),
  existsSync: (uri) => disk.existsSync(uri),
  readBinary: (uri) => disk.readBinary(uri),
  readBinarySync: (uri) => disk.readBinarySync(uri),
  readFile: async (uri) => cured(await disk.readFile(uri)),
  readFileSync: (uri) => cured(disk.readFileSync(uri)),
  readDirectory: (uri): Promise<FileSystemNode[]> => disk.readDirectory(uri),
  readDirectorySync: (uri) => disk.readDirectorySync(uri),
};

const root = URI.file(join(import.meta.dirname, '../..'));
/** Reading the library takes longer than reading a rig, so each kind of loader is made once. */
const asWritten = new RigLoader(disk, root);
const asCured = new RigLoader(curedDisk, root);
let texts = 0;

/** The services of a loader with nothing open but the library. */
export const libraryServices = asWritten.services;

export async function analyse(path: string, withCures = false): Promise<Analysis> {
  const loader = withCures ? asCured : asWritten;
  return analysed(loader, await loader.load(URI.file(path)));
}

/** A text that is not on disk. */
export async function analyseText(text: string): Promise<Analysis> {
  return analysed(asWritten, await asWritten.loadText(text, URI.file(join(root.fsPath, `text-${texts++}.rig`))));
}

/** The analysis of a document; afterwards no rig is left open that the next one could be told of. */
function analysed({ services }: RigLoader, document: LangiumDocument): Analysis {
  const analysis = services.rig.Analyser.of(document);
  const { LangiumDocuments } = services.shared.workspace;
  for (const { uri } of LangiumDocuments.all.toArray()) if (!isLibrary(uri)) LangiumDocuments.deleteDocument(uri);
  return analysis;
}

/**
 * Told of every rig whose split stands in a line of the house's, or that has a radio set and is about something else, so that it says nothing
 * about the rest: only who asks for it gets it.
 */
const INFORMATION: readonly string[] = ['house/replugged', 'radio/no-frequency', 'radio/where-not-said'];

/** What is wrong, in the order of the text. A finding over several lines ends with its first. */
export function foundIn(analysis: Analysis): Found[] {
  const text = analysis.document.textDocument.getText();
  const lines = text.split(/\r?\n/);
  const unasked = INFORMATION.filter((code) => !text.includes(`^ ${code}`));
  return analysis.located
    .filter(({ finding }) => !unasked.includes(finding.code))
    .map(({ finding, range: { start, end } }) => ({
      code: finding.code,
      line: start.line,
      start: start.character,
      end: end.line === start.line ? end.character : (lines[start.line] ?? '').length,
      message: message(finding),
    }))
    .sort((a, b) => a.line - b.line || a.start - b.start);
}

/** Every rig below a folder, in the order of their paths. */
export function rigsIn(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.rig'))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
}
