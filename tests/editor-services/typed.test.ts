/** Words are set as in print, and what is typed is not: a rig takes a hyphen for a minus and straight quotes, so no cure writes others. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { message } from '#engine';
import type { Located } from '#language';
import { curesOf, open, uriOf } from './bench';

const pages = join(import.meta.dirname, '../../examples/mistakes');
const isGear = (name: string) => name.includes('/gear/');
const PRINTED = /[^\p{ASCII}]/gu;

describe('what cures type', async () => {
  const bench = await open('# Nothing.');
  const read = (name: string) => readFileSync(join(pages, name), 'utf8');
  const all = readdirSync(pages, { recursive: true, encoding: 'utf8' }).map((entry) => entry.replaceAll('\\', '/'));
  const rigs = all.filter((entry) => entry.endsWith('.rig')).sort();
  for (const name of rigs.filter(isGear)) await bench.add(name, read(name));
  for (const name of all.filter((entry) => entry.endsWith('.csv'))) bench.services.rig.Scans.take(uriOf(name), read(name));

  it('is ASCII on every page, but for what the page itself has', async () => {
    const typed: string[] = [];
    const told: string[] = [];
    let edits = 0;
    for (const name of rigs.filter((each) => !isGear(each))) {
      const text = read(name);
      const strange = (words: string) => [...words.matchAll(PRINTED)].some(([sign]) => !text.includes(sign));
      const document = await bench.add(name, text);
      for (const located of bench.services.rig.Analyser.of(document).located) {
        for (const { title, edit } of await curesOf(bench, document, located))
          for (const { newText } of Object.values(edit?.changes ?? {}).flat()) {
            edits++;
            if (strange(newText)) typed.push(`${name}: "${title}" types ${newText}`);
          }
        // What stands between straight quotes is to be typed as well; three dots in it stand for what is the writer's.
        for (const [quoted] of message(located.finding)
          .replaceAll('\u2026', '')
          .matchAll(/"[^"]*"/g))
          if (strange(quoted)) told.push(`${name}: ${quoted}`);
      }
    }
    expect(typed).toEqual([]);
    expect(told).toEqual([]);
    expect(edits).toBeGreaterThan(200);
  });

  it.each([
    ['4 m, 2', 'Write "2 m"'],
    ['12 ft, 6', 'Write "6 ft"'],
  ])('at %s: %s', async (at, title) => {
    const document = await bench.add(`${at.replace(/\W/g, '')}.rig`, `rig "R"\nperformer ada "Ada" at ${at}\n`);
    const [located] = bench.services.rig.Analyser.of(document).located;
    expect((await curesOf(bench, document, located as Located))[0]?.title).toBe(title);
  });
});
