/** What the engine found of a rig is kept while the rig says the same, and only then. */
import { readFileSync } from 'node:fs';
import { EmptyFileSystem, URI } from 'langium';
import { expect, test } from 'vitest';
import { RigLoader } from '#language';

const TEXT = readFileSync(new URL('../../examples/first.rig', import.meta.url), 'utf8');
const URI_OF = URI.parse('memory:///kept/first.rig');

let text = TEXT;
const files = Object.assign(EmptyFileSystem.fileSystemProvider(), { readFile: async () => text });
const loader = new RigLoader(files, URI.parse('memory:///kept/'));
const { LangiumDocuments, DocumentBuilder } = loader.services.shared.workspace;

/** The same document, read again with another text. */
async function analysisOf(changed: string) {
  text = changed;
  await DocumentBuilder.update([URI_OF], []);
  return loader.services.rig.Analyser.of(await LangiumDocuments.getOrCreateDocument(URI_OF));
}

const lines = TEXT.split('\n');
const sources = lines.flatMap((line, index) => (line.startsWith('source ') ? [index] : []));
const swapped = (one: number, other: number) => lines.map((line, at) => (at === one ? lines[other] : at === other ? lines[one] : line));

test.each([
  ['a comment', `# A remark.\n${TEXT}`],
  ['white space', TEXT.replaceAll(/ {2,}/g, ' ')],
  ['empty lines', TEXT.replaceAll('\n', '\n\n')],
])('%s changes nothing of what was found', async (_what, changed) => {
  const before = (await analysisOf(TEXT)).checked;
  const after = (await analysisOf(changed)).checked;
  expect(before).toBeDefined();
  expect(after?.network).toBe(before?.network);
});

test.each([
  ['a gain', TEXT.replace(/^(input iface\.2 .*?)( +#.*)?$/m, '$1 gain 12 dB')],
  ['a name that people read', TEXT.replace('"Voice"', '"The voice"')],
  ['the order of two sources', swapped(sources[0] as number, sources[1] as number).join('\n')],
])('%s is looked at anew', async (_what, changed) => {
  const before = (await analysisOf(TEXT)).checked;
  const after = (await analysisOf(changed)).checked;
  expect(after?.network).not.toBe(before?.network);
});
