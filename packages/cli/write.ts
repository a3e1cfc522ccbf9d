/** Files are written whole or not at all, and one that was there keeps whose it is and who may do what with it. */
import type { Stats } from 'node:fs';
import { access, chmod, chown, constants, type FileHandle, open, readFile, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { Unusable } from './exit';

export interface Writing {
  readonly file: string;
  /** Made when it is its turn, where it is much. */
  readonly text: string | Uint8Array | (() => Promise<Uint8Array>);
  /** How messages call it. */
  readonly shown: string;
}

/** Throws `Unusable`. `shown` is how messages call it. */
export function writeWhole(file: string, text: string | Uint8Array, shown: string): Promise<void> {
  return writeAllWhole([{ file, text, shown }]);
}

/**
 * All of them, or as a rule none: each is written beside its place first, so that a full disk or a pulled plug leaves what was there,
 * and takes its place when all are written. Throws `Unusable`, which says truly what has been written where something went wrong later.
 */
export async function writeAllWhole(writings: readonly Writing[]): Promise<void> {
  const drafts: Draft[] = [];
  const done: string[] = [];
  let shown = '';
  try {
    for (const each of writings) {
      shown = each.shown;
      drafts.push(await drafted(each));
    }
    for (const draft of drafts) {
      shown = draft.shown;
      await draft.take();
      done.push(shown);
    }
  } catch (problem) {
    throw unwritable(problem, shown, done, drafts.length === writings.length ? writings.slice(done.length + 1) : []);
  } finally {
    for (const { beside } of drafts) if (beside !== undefined) await rm(beside, { force: true });
  }
}

interface Draft {
  readonly shown: string;
  /** Written beside its place. */
  readonly beside?: string;
  /** Lets it take its place. */
  readonly take: () => Promise<void>;
}

async function drafted({ file, text, shown }: Writing): Promise<Draft> {
  // A link keeps leading to the file that it leads to.
  const target = await realpath(file).catch(() => file);
  const old = await stat(target).catch(() => undefined);
  if (old?.isDirectory()) throw new Unusable(`${shown} is a folder.`, 'Name a file to write.');
  const bytes = typeof text === 'function' ? await text() : text;
  // The end of a pipe, or a device: there is nothing to take the place of, and what has gone in does not come back.
  if (old && !old.isFile()) return { shown, take: () => send(target, bytes, shown) };
  if (old) await refuseReadOnly(target, old, shown);
  const beside = besideOf(target);
  try {
    const like = await writeNew(beside, bytes, old);
    const take = like ? () => rename(beside, target) : () => overwrite(target, bytes, shown);
    return { shown, beside, take };
  } catch (problem) {
    await rm(beside, { force: true });
    throw problem;
  }
}

async function send(target: string, bytes: string | Uint8Array, shown: string): Promise<void> {
  await writeFile(target, bytes).catch((problem: unknown) => {
    const [reason, cure] = reasonOf(problem);
    throw new Unusable(`${shown} cannot be written: ${reason}. What has gone into it is not whole.`, cure, problem);
  });
}

function besideOf(target: string): string {
  const random = Buffer.from(crypto.getRandomValues(new Uint8Array(6))).toString('hex');
  return path.join(path.dirname(target), `.${path.basename(target).slice(0, 100)}.${random}`);
}

/** Whoever may do everything is asked by the file's own word: where nobody may write, nobody is to. */
async function refuseReadOnly(target: string, { mode }: Stats, shown: string): Promise<void> {
  const may =
    (mode & 0o222) !== 0 &&
    (await access(target, constants.W_OK).then(
      () => true,
      () => false,
    ));
  if (!may)
    throw new Unusable(
      `${shown} may only be read, and stays as it is.`,
      'Allow writing to it if it is yours to change, or name another file.',
    );
}

/** Gives whether the new file can stand for the old one: of the same owner and mode, and the only name of it. */
async function writeNew(file: string, bytes: string | Uint8Array, old: Stats | undefined): Promise<boolean> {
  const handle = await open(file, 'wx', old ? old.mode & 0o777 : undefined);
  try {
    await writeThrough(handle, bytes);
    if (!old) return true;
    const { uid, gid } = await handle.stat();
    if (uid !== old.uid || gid !== old.gid) {
      const given = await chown(file, old.uid, old.gid).then(
        () => true,
        () => false,
      );
      if (!given) return false;
    }
    await chmod(file, old.mode & 0o7777);
    return old.nlink === 1;
  } finally {
    await handle.close();
  }
}

async function writeThrough(handle: FileHandle, bytes: string | Uint8Array): Promise<void> {
  await handle.writeFile(bytes);
  await handle.sync();
}

/** In its place, where another file cannot stand for it. The old text is kept beside it until the new one is there, and put back else. */
async function overwrite(target: string, bytes: string | Uint8Array, shown: string): Promise<void> {
  const kept = besideOf(target);
  const before = await readFile(target);
  try {
    await writeNew(kept, before, undefined);
    await pour(target, bytes);
  } catch (problem) {
    const back = await pour(target, before).then(
      () => true,
      () => false,
    );
    if (!back)
      throw new Unusable(
        `${shown} could not be written whole, and what was in it is now in ${kept}.`,
        'Make room, and copy it back.',
        problem,
      );
    await rm(kept, { force: true });
    throw problem;
  }
  await rm(kept, { force: true });
}

async function pour(target: string, bytes: string | Uint8Array): Promise<void> {
  const handle = await open(target, 'r+');
  try {
    await writeThrough(handle, bytes);
    await handle.truncate(Buffer.byteLength(bytes));
  } finally {
    await handle.close();
  }
}

const NOT_YOURS: readonly [string, string] = ['you may not write there', 'Name a file in a folder of your own.'];
const NO_ROOM = 'Make room, or name a file on another disk.';

const REASONS: Readonly<Record<string, readonly [reason: string, cure: string]>> = {
  ENOENT: ['its folder does not exist', 'Make it, or name another file.'],
  ENOTDIR: ['a part of its path is a file and not a folder', 'Name another file.'],
  EACCES: NOT_YOURS,
  EPERM: NOT_YOURS,
  EROFS: ['nothing can be written there', 'Name a file on another disk.'],
  ENOSPC: ['the disk is full', NO_ROOM],
  EDQUOT: ['there is no room left for you', NO_ROOM],
  EFBIG: ['it is larger than a file may be there', NO_ROOM],
  EISDIR: ['it is a folder', 'Name another file.'],
  ENAMETOOLONG: ['its name is longer than a file can have', 'Name another file.'],
};

/** Whatever the file system says, as something a person can act on, and what has been written before it and what has not. */
export function unwritable(problem: unknown, shown: string, done: readonly string[] = [], left: readonly Writing[] = []): Unusable {
  const rest = done.length + left.length === 0 ? '' : ` ${besides(done, left)}`;
  if (problem instanceof Unusable) return rest === '' ? problem : new Unusable(problem.what + rest, problem.cure, problem);
  const [reason, cure] = reasonOf(problem);
  const state = rest === '' ? ' Nothing was changed.' : rest;
  return new Unusable(`${shown} cannot be written: ${reason}.${state}`, cure, problem);
}

function reasonOf(problem: unknown): readonly [reason: string, cure: string] {
  const code = (problem as NodeJS.ErrnoException).code ?? '';
  return REASONS[code] ?? [code || String(problem), 'Name another file.'];
}

function besides(done: readonly string[], left: readonly Writing[]): string {
  const list = (names: readonly string[]) => (names.length === 0 ? 'none' : names.join(', '));
  return `Written: ${list(done)}. Not written: ${list(left.map(({ shown }) => shown))}.`;
}
