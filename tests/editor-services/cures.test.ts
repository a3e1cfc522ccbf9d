/** Whatever is offered, on every page and on spoilt rigs, takes its finding away and brings nothing graver than what goes. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { LangiumDocument } from 'langium';
import { describe, expect, it } from 'vitest';
import { type Code, message } from '#engine';
import type { Analysis } from '#language';
import { corpus } from '../fuzz/corpus';
import { randomOf, spoilt } from '../fuzz/mutate';
import { brought } from '../fuzz/sound';
import { generateRig } from '../generate';
import { applyTo, type Bench, curesOf, open } from './bench';

const root = join(import.meta.dirname, '../..');
/** Of each kind of finding in a text, so many are cured. */
const MOST_ALIKE = 2;
const SPOILT = 60;
const GENERATED = 4;

/** What is wrong with the cures of a text, by their titles. */
async function bad(bench: Bench, document: LangiumDocument): Promise<string[]> {
  const before = bench.services.rig.Analyser.of(document);
  const uri = document.uri.toString();
  const told: string[] = [];
  const seen = new Map<Code, number>();
  for (const located of before.located) {
    const { code } = located.finding;
    seen.set(code, (seen.get(code) ?? 0) + 1);
    if ((seen.get(code) ?? 0) > MOST_ALIKE) continue;
    const says = message(located.finding);
    const here = ({ located: all }: Analysis) =>
      all.filter(({ finding: { code: other, place } }) => other === code && place === located.finding.place).length;
    const alike = ({ located: all }: Analysis) => all.filter(({ finding }) => finding.code === code && message(finding) === says).length;
    for (const { title, edit } of await curesOf(bench, document, located)) {
      const changes = edit?.changes ?? {};
      if (Object.keys(changes).some((each) => each !== uri)) continue;
      await visited(bench, document.uri.path.replace('/rigs/', ''), applyTo(document.textDocument, changes[uri] ?? []), async (cured) => {
        const after = bench.services.rig.Analyser.of(cured);
        const graver = brought(before, after);
        if (graver.length > 0) told.push(`${code}: "${title}" brings ${graver.join(', ')}`);
        // What stands at the same place is cured by one light bulb.
        if (alike(after) >= alike(before) && here(after) >= here(before)) told.push(`${code}: "${title}" leaves it`);
      });
    }
  }
  return told;
}

/** Looks at a text under a name that is free, and lets go of it. */
async function visited<T>(bench: Bench, name: string, text: string, look: (document: LangiumDocument) => Promise<T>): Promise<T> {
  const document = await bench.add(name.replace(/(~\d+)?\.rig$/, `~${++visits}.rig`), text);
  try {
    return await look(document);
  } finally {
    bench.services.shared.workspace.LangiumDocuments.deleteDocument(document.uri);
  }
}
let visits = 0;

const rigs = ['examples/mistakes', 'tests/checks'].flatMap((folder) =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((entry) => entry.endsWith('.rig'))
    .sort()
    .map((entry) => `${folder}/${entry.replaceAll('\\', '/')}`),
);
const read = (rig: string) => readFileSync(join(root, rig), 'utf8');

describe('cures', async () => {
  const bench = await open('# Nothing.');
  for (const rig of rigs) if (/\/gear\//.test(rig)) await bench.add(rig, read(rig));

  it.each(rigs.filter((rig) => !/\/gear\//.test(rig)))('%s: each takes its finding away and brings nothing graver', async (rig) => {
    expect(await visited(bench, rig, read(rig), (document) => bad(bench, document))).toEqual([]);
  });

  it('so it is on rigs of a generator', async () => {
    for (let seed = 1; seed <= GENERATED; seed++)
      expect(await visited(bench, 'made.rig', generateRig(60, seed), (document) => bad(bench, document)), `seed ${seed}`).toEqual([]);
  });

  it('and on spoilt rigs', { timeout: 120_000 }, async () => {
    const { texts } = corpus(root);
    for (let index = 0; index < SPOILT; index++) {
      const text = spoilt(texts, randomOf(31, index));
      expect(await visited(bench, 'spoilt.rig', text, (document) => bad(bench, document)), `case ${index}`).toEqual([]);
    }
  });
});
