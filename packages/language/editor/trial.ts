/** What a text would be found to be, before anybody has written it. */
import { DocumentState, type LangiumDocument } from 'langium';
import type { TextEdit } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { Code, Finding } from '#engine';
import type { Analysis } from '../analysis';
import type * as ast from '../generated/ast';
import type { RigEditorServices } from './services';

/** In a file longer than this, in characters, a guess costs too long to be made while somebody moves the cursor. */
const MOST_CHARACTERS = 60_000;

/** Whether a few guesses can be tried before anybody waits. */
export function canTry({ textDocument }: LangiumDocument): boolean {
  return textDocument.getText().length <= MOST_CHARACTERS;
}

let count = 0;

/**
 * The analysis of a document as it would be with these edits in it. It is worked out under an address of its own in the same folder,
 * and nothing else ever sees that. Costs about as much as a keystroke.
 */
export function analyseWith(services: RigEditorServices, document: LangiumDocument, edits: readonly TextEdit[]): Analysis {
  const text = TextDocument.applyEdits(document.textDocument as TextDocument, [...edits]);
  const uri = document.uri.with({ path: document.uri.path.replace(/(\.rig)?$/, `~${++count}.rig`) });
  const trial = services.shared.workspace.LangiumDocumentFactory.fromString<ast.RigFile>(text, uri);
  // Names are linked when they are looked at, which is allowed from here on.
  trial.state = DocumentState.ComputedScopes;
  return services.rig.Analyser.of(trial);
}

/** How many there are of each kind of finding, of those that count. */
export function tally({ located }: Analysis, counts: (finding: Finding) => boolean = () => true): Map<Code, number> {
  const found = new Map<Code, number>();
  for (const { finding } of located) if (counts(finding)) found.set(finding.code, (found.get(finding.code) ?? 0) + 1);
  return found;
}

/** Whether there is more of any kind of finding than there was, of those that count. */
export function isWorse(after: Analysis, before: Analysis, counts?: (finding: Finding) => boolean): boolean {
  const was = tally(before, counts);
  return [...tally(after, counts)].some(([code, many]) => many > (was.get(code) ?? 0));
}
