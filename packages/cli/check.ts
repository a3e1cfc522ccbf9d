/** `earloom check`: what is wrong with a rig. */

import path from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import type { LangiumDocument } from 'langium';
import type { Located } from '#language';
import { collectNow } from './collect';
import { CLEAN, FOUND, UNUSABLE, Unusable } from './exit';
import { pagesOfCodes } from './pages';
import { print, style, tell } from './print';
import { type CheckedFile, countsOf } from './report/checked';
import { escaped } from './report/visible';
import { refuseRig } from './rigFile';
import { Session } from './session';
import { shownAs, wantedFiles } from './wanted';

/** What is left of so many files after their check is some 40 MB. */
const FILES_A_COLLECTION = 64;

export type CheckFormat = 'text' | 'json' | 'sarif' | 'junit' | 'github' | 'gitlab' | 'azure';

export interface CheckOptions {
  readonly format: CheckFormat;
  /** Without it, what is found is printed. */
  readonly output?: string;
  /** Notes fail, too. */
  readonly strict: boolean;
}

/** The exit code: a note by itself is no failure unless it is to be strict. */
export async function check(words: readonly string[], options: CheckOptions): Promise<number> {
  const output = options.output === '-' ? undefined : options.output;
  if (output !== undefined) await refuseRig(output, 'Name another file, as in "-o findings.json".');
  const session = new Session();
  const read = [];
  // All are read before any is checked, so that each is checked knowing what is in the others; their trees, one after the other.
  for (const wanted of await wantedFiles(words)) {
    try {
      read.push({ wanted, document: await session.load(wanted) });
    } catch (problem) {
      if (!(problem instanceof Unusable)) throw problem;
      read.push({ wanted, problem });
    }
  }
  const documents = new Map<CheckedFile, LangiumDocument>();
  const files = read.map(({ wanted: { shown, path: known }, document, problem }, index): CheckedFile => {
    if (!document) return { shown, path: known, located: [], allowed: [], text: '', problem };
    const { located, allowed } = session.analyse(document);
    session.ease();
    if (index % FILES_A_COLLECTION === FILES_A_COLLECTION - 1) collectNow();
    const file = { shown, path: known, located, allowed, text: document.textDocument.getText() };
    documents.set(file, document);
    return file;
  });
  // Other formats have it in them.
  if (options.format === 'text' || output !== undefined) for (const { problem } of files) if (problem) tell(problem);
  if (options.format !== 'text' || files.some((file) => !file.problem)) {
    const report = await reported(files, session, documents, options, output === undefined);
    if (output === undefined) await print(report);
    else await (await import('./write')).writeWhole(path.resolve(output), report, shownAs(path.resolve(output)));
  }
  if (files.some((file) => file.problem)) return UNUSABLE;
  const { danger, error, warning, note } = countsOf(files);
  return danger + error + warning + (options.strict ? note : 0) > 0 ? FOUND : CLEAN;
}

async function reported(
  files: readonly CheckedFile[],
  session: Session,
  documents: ReadonlyMap<CheckedFile, LangiumDocument>,
  { format, strict }: CheckOptions,
  toTerminal: boolean,
): Promise<string> {
  const json = (value: unknown) => `${escaped(JSON.stringify(value, null, 2))}\n`;
  const pathOf = (uri: string) => session.pathOf(uri);
  switch (format) {
    case 'json':
      return json((await import('./report/json')).jsonReport(files, pathOf));
    case 'sarif': {
      const { sarifReport } = await import('./report/sarif');
      const cures = (await import('#language/cures')).curesFor(session.services);
      return json(
        sarifReport(files, {
          pathOf,
          pages: await pagesOfCodes(),
          curesOf: (file, located) => {
            const document = documents.get(file);
            const analysis = document && session.analyse(document);
            // A file whose tree was let go has findings of another reading, alike in all that can be seen of them.
            const same = analysis?.located.find((each) => each === located || isAlike(each, located));
            return analysis && same ? cures(analysis, same) : [];
          },
        }),
      );
    }
    case 'junit':
      return (await import('./report/junit')).junitReport(files, strict);
    case 'github':
      return (await import('./report/hosted')).githubReport(files);
    case 'azure':
      return (await import('./report/hosted')).azureReport(files);
    case 'gitlab':
      return json((await import('./report/hosted')).gitlabReport(files));
    case 'text': {
      const { textReport } = await import('./report/text');
      return textReport(files, (uri) => session.nameOf(uri), toTerminal ? style() : { colour: false, width: 80 });
    }
  }
}

function isAlike(a: Located, b: Located): boolean {
  return a.finding.code === b.finding.code && a.finding.place === b.finding.place && isDeepStrictEqual(a.range, b.range);
}
