/** Which files the words of a command line mean. */
import { readdir, stat } from 'node:fs/promises';
import path from 'node:path';
import { notAFile } from '#server/regular';
import { Unusable } from './exit';
import { cannotBeRead, unreadable } from './read';

export interface Wanted {
  /** How messages call it. */
  readonly shown: string;
  /** As short a path as leads there from the folder one is in. */
  readonly path: string;
  /** The path of the file; nothing for standard input. */
  readonly file?: string;
  /** Why it cannot be used, where that is clear already. */
  readonly problem?: Unusable;
}

/** `-` on the command line. */
export const STANDARD_INPUT: Wanted = { shown: 'standard input', path: '-' };

/** The files that are named, and all rigs in the folders that are named; each once, folders in the order of their names. */
export async function wantedFiles(words: readonly string[]): Promise<Wanted[]> {
  const wanted = new Map<string, Wanted>();
  for (const word of words) {
    for (const each of word === STANDARD_INPUT.path ? [STANDARD_INPUT] : await under(word)) {
      const key = each.file ?? '';
      if (!wanted.has(key)) wanted.set(key, each);
    }
  }
  return [...wanted.values()];
}

async function under(word: string): Promise<Wanted[]> {
  const file = path.resolve(word);
  const shown = shownAs(file);
  try {
    const stats = await stat(file);
    if (!stats.isDirectory()) {
      const other = notAFile(stats);
      if (other !== undefined) return [wantedFile(file, cannotBeRead(shown, other))];
      return [wantedFile(file, file.endsWith('.rig') ? undefined : notARig(shown))];
    }
  } catch (problem) {
    return [wantedFile(file, unreadable(problem, shown))];
  }
  const found = await rigsIn(file);
  if (found.length > 0) return found;
  return [wantedFile(file, new Unusable(`${shown} is a folder without a .rig file in it.`, 'Name the file or folder that you meant.'))];
}

function notARig(shown: string): Unusable {
  return new Unusable(`${shown} is not called a rig: such a file ends in ".rig".`, 'Rename it, or hand it over on standard input, as "-".');
}

async function rigsIn(folder: string): Promise<Wanted[]> {
  const found: Wanted[] = [];
  const queue = [folder];
  for (let next = queue.pop(); next !== undefined; next = queue.pop()) {
    const at = next;
    try {
      const entries = (await readdir(at, { withFileTypes: true })).sort((a, b) => (a.name < b.name ? -1 : 1));
      const folders: string[] = [];
      for (const entry of entries) {
        const file = path.join(at, entry.name);
        // Folders behind links are left out: they may lead round in a circle.
        if (entry.isDirectory()) {
          if (entry.name !== 'node_modules' && !entry.name.startsWith('.')) folders.push(file);
        } else if (entry.name.endsWith('.rig')) found.push(...(entry.isFile() ? [wantedFile(file)] : await behind(file)));
      }
      queue.push(...folders.reverse());
    } catch (problem) {
      found.push(wantedFile(at, unreadable(problem, shownAs(at))));
    }
  }
  return found;
}

function wantedFile(file: string, problem?: Unusable): Wanted {
  const shown = shownAs(file);
  return { shown, path: shown, file, problem };
}

/** What is no file by itself: a link to one, or what only looks like one. */
async function behind(file: string): Promise<Wanted[]> {
  try {
    const stats = await stat(file);
    if (stats.isDirectory()) return [];
    const other = notAFile(stats);
    return [wantedFile(file, other === undefined ? undefined : cannotBeRead(shownAs(file), other))];
  } catch {
    // A link that leads nowhere is a file that cannot be read, and is told as such.
    return [wantedFile(file)];
  }
}

/** A path from the folder one is in; in full where it is not below that. Slashes as in the rig's own `use`. */
export function shownAs(file: string): string {
  const relative = path.relative(process.cwd(), file);
  const short = relative === '' ? '.' : relative.startsWith('..') || path.isAbsolute(relative) ? file : relative;
  return short.replaceAll(path.sep, '/');
}
