/** What a text would be found to be, before anybody has written it. */
import { DocumentState, type LangiumDocument, URI, UriUtils } from 'langium';
import type { TextEdit } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { type Code, type Finding, message, PROBLEMS, SEVERITIES } from '#engine';
import type { Analysis } from '../analysis';
import type * as ast from '../generated/ast';
import { isLibrary } from '../library';
import { usedUri } from '../symbols';
import type { RigEditorServices } from './services';

/** In a file longer than this, in characters, a guess costs too long to be made while somebody moves the cursor. */
const MOST_CHARACTERS = 60_000;

/** Whether a few guesses can be tried before anybody waits. */
export function canTry({ textDocument }: LangiumDocument): boolean {
  return textDocument.getText().length <= MOST_CHARACTERS;
}

/** Characters that may be read for all the guesses about one finding. One guess is always made. */
const MOST_READ = 600_000;
const MOST_TRIES = 12;

/** How many guesses can be made about one finding: fewer in a long file. */
export function triesIn({ textDocument }: LangiumDocument): number {
  return Math.max(1, Math.min(MOST_TRIES, Math.floor(MOST_READ / Math.max(1, textDocument.getText().length))));
}

let count = 0;

/**
 * The analysis of a document as it would be with these edits in it. It is worked out under an address of its own in the same folder,
 * and nothing else ever sees that. Costs about as much as a keystroke.
 */
export function analyseWith(services: RigEditorServices, document: LangiumDocument, edits: readonly TextEdit[]): Analysis {
  return services.rig.Analyser.of(asIf(services, document, edits));
}

/** What stands at another address for as long as it is tried, with these edits in it. */
function asIf(services: RigEditorServices, document: LangiumDocument, edits: readonly TextEdit[]): LangiumDocument<ast.RigFile> {
  const text = TextDocument.applyEdits(document.textDocument as TextDocument, [...edits]);
  const uri = document.uri.with({ path: document.uri.path.replace(/(\.rig)?$/, `~${++count}.rig`) });
  const trial = services.shared.workspace.LangiumDocumentFactory.fromString<ast.RigFile>(text, uri);
  // Names are linked when they are looked at, which is allowed from here on.
  trial.state = DocumentState.ComputedScopes;
  return trial;
}

/**
 * The same where other files are edited too. Undefined where that cannot be tried: in the library, in a file that is not open in the
 * editor, so that its text here may not be the one that is edited, and in one that the document uses only by way of another.
 */
export function analyseWithAll(
  services: RigEditorServices,
  document: LangiumDocument<ast.RigFile>,
  changes: Readonly<Record<string, readonly TextEdit[]>>,
): Analysis | undefined {
  const { LangiumDocuments, TextDocuments } = services.shared.workspace;
  const own = document.uri.toString();
  const used = new Set(services.rig.Symbols.closure(document).map((symbols) => symbols.document.uri.toString()));
  const edits = [...(changes[own] ?? [])];
  const trials: LangiumDocument[] = [];
  for (const [address, theirs] of Object.entries(changes)) {
    if (address === own) continue;
    const uri = URI.parse(address);
    const other = LangiumDocuments.getDocument(uri);
    if (!other || isLibrary(uri) || !TextDocuments?.get(uri)) return undefined;
    // What the document does not see makes no difference to it.
    if (!used.has(address)) continue;
    const uses = document.parseResult.value.statements.filter(
      (each): each is ast.Use => each.$type === 'Use' && usedUri(each)?.toString() === address,
    );
    const trial = asIf(services, other, theirs);
    const path = UriUtils.relative(UriUtils.dirname(document.uri), trial.uri);
    for (const { $cstNode: cst } of uses) if (cst) edits.push({ range: cst.range, newText: `use "${path}"` });
    if (uses.length === 0) return undefined;
    trials.push(trial);
  }
  for (const trial of trials) LangiumDocuments.addDocument(trial);
  try {
    return analyseWith(services, document, edits);
  } finally {
    for (const { uri } of trials) LangiumDocuments.deleteDocument(uri);
  }
}

/** How many there are of each kind of finding, of those that count. */
export function tally({ located }: Analysis, counts: (finding: Finding) => boolean = () => true): Map<Code, number> {
  return counted(located.flatMap(({ finding }) => (counts(finding) ? [finding.code] : [])));
}

/** Whether there is more of any kind of finding than there was, of those that count. */
export function isWorse(after: Analysis, before: Analysis, counts?: (finding: Finding) => boolean): boolean {
  return more(tally(after, counts), tally(before, counts)).length > 0;
}

/** Whether a finding has gone, and nothing that has come is graver than what has gone. */
export function isCured(after: Analysis, before: Analysis, cured: Finding): boolean {
  const { code } = cured;
  const said = message(cured);
  const [was, is] = [tally(before), tally(after)];
  const fewer = more(was, is);
  // Of a line that could not be read one slip is told at a time: the next may be of the same kind.
  const told = (analysis: Analysis) => analysis.located.filter(({ finding }) => message(finding) === said).length;
  const gone = fewer.includes(code) || (code.startsWith('text/') && told(after) < told(before));
  return gone && gravest(more(is, was)) >= Math.min(gravest(fewer), gravest([code]));
}

/** Those of which there is more here than there. */
function more(here: ReadonlyMap<Code, number>, there: ReadonlyMap<Code, number>): Code[] {
  return [...here].flatMap(([code, many]) => (many > (there.get(code) ?? 0) ? [code] : []));
}

/** The place of the gravest among all severities: the lower, the graver. */
function gravest(codes: readonly Code[]): number {
  return Math.min(SEVERITIES.length, ...codes.map((code) => SEVERITIES.indexOf(PROBLEMS[code].severity)));
}

function counted<T>(all: readonly T[]): Map<T, number> {
  const found = new Map<T, number>();
  for (const each of all) found.set(each, (found.get(each) ?? 0) + 1);
  return found;
}
