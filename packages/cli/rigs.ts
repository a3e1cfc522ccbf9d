/** A rig, or a folder of them, as it is or as it was at a revision. */
import { stat } from 'node:fs/promises';
import path from 'node:path';
import type { Analysis } from '#language';
import { Unusable } from './exit';
import { Past, revisionOf } from './revision';
import { Session } from './session';
import { shownAs, wantedFiles } from './wanted';

/** By the path of each rig from where it is looked at. */
export interface Rigs {
  /** As it is called: `HEAD~3:rigs`. */
  readonly shown: string;
  readonly isFolder: boolean;
  readonly files: ReadonlyMap<string, { readonly shown: string; analyse(): Promise<Analysis> }>;
}

/** Throws `Unusable` where there is none in it. */
export async function rigOf({ shown, analyse }: { readonly shown: string; analyse(): Promise<Analysis> }): Promise<Analysis> {
  const analysis = await analyse();
  if (!analysis.checked)
    throw new Unusable(
      `${shown} has no rig in it: it is empty, or only lends its models and gear to others.`,
      'Compare the rigs that use it.',
    );
  return analysis;
}

export async function rigsOf(word: string): Promise<Rigs> {
  const there = await stat(path.resolve(word)).then(
    () => true,
    () => false,
  );
  const at = there || word === '-' ? undefined : revisionOf(word);
  return at ? pastRigs(at.revision, at.file) : filesNow(word);
}

async function pastRigs(revision: string, written: string): Promise<Rigs> {
  const wanted = written === '' ? '.' : written;
  const past = await Past.at(wanted, revision);
  const file = await past.find(wanted);
  const analyse = (each: string) => ({
    shown: past.shown(each),
    analyse: async () => {
      const analysis = await past.analyse(each);
      past.ease();
      return analysis;
    },
  });
  if ((await past.kindAt(file)) !== 'folder')
    return { shown: past.shown(file), isFolder: false, files: new Map([[shownAs(file), analyse(file)]]) };
  const files = await past.rigsIn(file);
  if (files.length === 0) throw new Unusable(`There was no .rig file in ${past.shown(file)}.`, 'Name the folder that the rigs are in.');
  return {
    shown: past.shown(file),
    isFolder: true,
    files: new Map(files.map((each) => [slashed(path.relative(file, each)), analyse(each)])),
  };
}

async function filesNow(word: string): Promise<Rigs> {
  const session = new Session();
  const folder = path.resolve(word);
  const wanted = await wantedFiles([word]);
  const isFolder = word !== '-' && wanted[0]?.file !== folder;
  const files = wanted.map((each) => {
    const key = each.file === undefined ? '-' : isFolder ? slashed(path.relative(folder, each.file)) : each.path;
    const analyse = async () => {
      const document = await session.load(each);
      refuseUnsettled(document.textDocument.getText(), each.shown);
      const analysis = session.analyse(document);
      session.ease();
      return analysis;
    };
    return [key, { shown: each.shown, analyse }] as const;
  });
  return { shown: word === '-' ? 'standard input' : shownAs(folder), isFolder, files: new Map(files) };
}

/** In the middle of a merge a file has both in it, and is neither. */
function refuseUnsettled(text: string, shown: string): void {
  if (![/^<{7} /m, /^={7}\r?$/m, /^>{7} /m].every((mark) => mark.test(text))) return;
  throw new Unusable(
    `${shown} is in the middle of a merge: both states of it stand in it, between marks such as <<<<<<<.`,
    `Settle it first; or look at what the two sides made of it: "earloom compare HEAD:${shown} MERGE_HEAD:${shown}".`,
  );
}

function slashed(file: string): string {
  return file.split(path.sep).join('/');
}
