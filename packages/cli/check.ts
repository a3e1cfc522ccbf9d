/** `earloom check`: what is wrong with a rig. */

import { collectNow } from './collect';
import { CLEAN, FOUND, UNUSABLE, Unusable } from './exit';
import { print, style, tell } from './print';
import { type CheckedFile, countsOf } from './report/checked';
import { escaped } from './report/visible';
import { Session } from './session';
import { wantedFiles } from './wanted';

/** What is left of so many files after their check is some 40 MB. */
const FILES_A_COLLECTION = 64;

export interface CheckOptions {
  readonly format: 'text' | 'json';
  /** Notes fail, too. */
  readonly strict: boolean;
}

/** The exit code: a note by itself is no failure unless it is to be strict. */
export async function check(words: readonly string[], options: CheckOptions): Promise<number> {
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
  const files = read.map(({ wanted: { shown, path }, document, problem }, index): CheckedFile => {
    if (!document) return { shown, path, located: [], allowed: [], text: '', problem };
    const { located, allowed } = session.analyse(document);
    session.ease();
    if (index % FILES_A_COLLECTION === FILES_A_COLLECTION - 1) collectNow();
    return { shown, path, located, allowed, text: document.textDocument.getText() };
  });
  if (options.format === 'json') {
    const { jsonReport } = await import('./report/json');
    await print(
      `${escaped(
        JSON.stringify(
          jsonReport(files, (uri) => session.pathOf(uri)),
          null,
          2,
        ),
      )}\n`,
    );
  } else {
    for (const { problem } of files) if (problem) tell(problem);
    const { textReport } = await import('./report/text');
    if (files.some((file) => !file.problem)) await print(await textReport(files, (uri) => session.nameOf(uri), style()));
  }
  if (files.some((file) => file.problem)) return UNUSABLE;
  const { danger, error, warning, note } = countsOf(files);
  return danger + error + warning + (options.strict ? note : 0) > 0 ? FOUND : CLEAN;
}
