/** What the engine found of a rig is kept while the rig says the same, and only then. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { EmptyFileSystem, URI } from 'langium';
import { expect, test } from 'vitest';
import { message } from '#engine';
import { RigLoader } from '#language';
import { patchList } from '#sheets';
import { cases } from '../thorough';

const TEXT = readFileSync(new URL('../../examples/first.rig', import.meta.url), 'utf8');
const URI_OF = URI.parse('memory:///kept/first.rig');

let text = TEXT;
let loaded = 0;
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

test('after any edits a rig that was edited is told of as one that was read afresh', { timeout: 300_000 }, async () => {
  const pieces = ['', ' ', '\n', '# so\n', 'x', '1', '2', ' pad', ' gain 3 dB', ' should', '}', '"', ' via passive-di'];
  const edit = fc.record({ at: fc.nat(TEXT.length), taken: fc.nat(3), put: fc.constantFrom(...pieces) });
  await fc.assert(
    fc.asyncProperty(fc.array(edit, { minLength: 1, maxLength: 6 }), async (edits) => {
      let changed = TEXT;
      await analysisOf(changed);
      for (const { at, taken, put } of edits) {
        changed = changed.slice(0, at) + put + changed.slice(at + taken);
        const kept = picture(await analysisOf(changed));
        const uri = URI.parse(`memory:///kept/${++loaded}.rig`);
        const fresh = loader.services.rig.Analyser.of(await loader.loadText(changed, uri));
        LangiumDocuments.deleteDocument(uri);
        expect(picture(fresh).replaceAll(uri.toString(), URI_OF.toString())).toBe(kept);
      }
    }),
    { numRuns: cases(120, 12) },
  );
});

function picture({ located, allowed, checked }: Awaited<ReturnType<typeof analysisOf>>): string {
  const told = [...located, ...allowed].map(({ finding, ...where }) => ({ ...where, finding, says: message(finding) }));
  return JSON.stringify({ told, sheet: checked && patchList(checked) }, undefined, 1);
}
