/** `earloom check`: what is wrong with a rig. */
import path from 'node:path';
import type { LangiumDocument } from 'langium';
import type { Log } from 'sarif';
import { collectNow } from '#server/collect';
import { CLEAN, FOUND, UNUSABLE, Unusable } from './exit';
import { print, style, tell } from './print';
import { type CheckedFile, countsOf } from './report/checked';
import { azureReport, githubReport, gitlabReport } from './report/hosted';
import { jsonReport } from './report/json';
import { junitReport } from './report/junit';
import { textReport } from './report/text';
import { escaped } from './report/visible';
import { refuseRig } from './rigFile';
import { Session } from './session';
import { shownAs, wantedFiles } from './wanted';
import { writeWhole } from './write';

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

/** What writes SARIF needs the cures of findings, and with them much of what an editor has: it is handed in (`checkSarif.ts`). */
export type SarifReporter = (
  files: readonly CheckedFile[],
  session: Session,
  documents: ReadonlyMap<CheckedFile, LangiumDocument>,
) => Promise<Log>;

/** The exit code: a note by itself is no failure unless it is to be strict. */
export async function check(words: readonly string[], options: CheckOptions, sarif?: SarifReporter): Promise<number> {
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
    const report = await reported(files, session, documents, options, output === undefined, sarif);
    if (output === undefined) await print(report);
    else await writeWhole(path.resolve(output), report, shownAs(path.resolve(output)));
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
  sarif: SarifReporter | undefined,
): Promise<string> {
  const json = (value: unknown) => `${escaped(JSON.stringify(value, null, 2))}\n`;
  switch (format) {
    case 'json':
      return json(jsonReport(files, (uri) => session.pathOf(uri)));
    case 'sarif':
      if (!sarif) throw new Error('There is nobody who writes SARIF.');
      return json(await sarif(files, session, documents));
    case 'junit':
      return junitReport(files, strict);
    case 'github':
      return githubReport(files);
    case 'azure':
      return azureReport(files);
    case 'gitlab':
      return json(await gitlabReport(files));
    case 'text':
      return textReport(files, (uri) => session.nameOf(uri), toTerminal ? style() : { colour: false, width: 80 });
  }
}
