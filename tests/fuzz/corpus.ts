/** What is spoilt: every rig of the checkout, short pages about one mistake most of all, and rigs from the generator. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { libraryFiles } from '#language';
import { generateRig } from '../generate';

const FOLDERS = ['examples', 'tests/checks', 'tests/house', 'tests/sheets'];
const GENERATED = 12;
/** Longer ones take their time and find no more. */
const MOST_LINES = 160;

export interface Corpus {
  readonly texts: readonly string[];
  /** Files that some of the texts use, by their paths. */
  readonly used: Readonly<Record<string, string>>;
}

export function corpus(root: string): Corpus {
  const texts: string[] = [];
  const used: Record<string, string> = {};
  for (const folder of FOLDERS) {
    for (const entry of readdirSync(path.join(root, folder), { recursive: true, encoding: 'utf8' }).sort()) {
      if (!entry.endsWith('.rig')) continue;
      const text = readFileSync(path.join(root, folder, entry), 'utf8');
      if (entry.startsWith(`gear${path.sep}`)) used[entry.replaceAll(path.sep, '/')] = text;
      texts.push(text);
    }
  }
  for (const { text } of libraryFiles()) texts.push(text);
  for (let seed = 1; seed <= GENERATED; seed++) texts.push(generateRig(55 + (seed % 3) * 45, seed));
  return { texts: texts.filter((text) => text.split('\n').length <= MOST_LINES), used };
}
