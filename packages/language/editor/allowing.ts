/** Comments that let a finding stand, while they are written and read. */
import type { LangiumDocument } from 'langium';
import { type CodeAction, CodeActionKind, type Diagnostic, type Range } from 'vscode-languageserver';
import { message, say, whyNotAllowed } from '#engine';
import { type Allowance, allowanceBegun, allowancesIn, isAbout, NO_REASON } from '../allowances';
import type { Analysis, RigAnalyser } from '../analysis';
import { Layout } from '../layout';
import { findingsOf } from './fix/quickFixes';
import { paragraphs } from './markdown';
import type { Proposal } from './proposals';

/** For each kind of finding that may stand: the comment, with a place for the reason. It cures nothing, so it is never the one to take. */
export function allowingActions(analysis: Analysis, diagnostics: readonly Diagnostic[]): CodeAction[] {
  const { document } = analysis;
  const layout = new Layout(document.textDocument, document.parseResult.value);
  const open = diagnostics.filter((each) => findingsOf(analysis, each).some(({ finding: { code } }) => !whyNotAllowed(code)));
  const several = new Set(open.map(({ code }) => code)).size > 1;
  // One comment lets all of its kind stand that are found in its line.
  const isAlike = (one: Diagnostic) => (other: Diagnostic) => one.code === other.code && one.range.start.line === other.range.start.line;
  const firsts = open.filter((each, index) => open.findIndex(isAlike(each)) === index);
  return firsts.map((diagnostic): CodeAction => {
    const start = document.textDocument.offsetAt({ line: diagnostic.range.start.line, character: 0 });
    const indent = /^[ \t]*/.exec(layout.text.slice(start))?.[0] ?? '';
    const edit = layout.edit(start, start, `${indent}# allow ${diagnostic.code}: ${NO_REASON}${layout.newline}`);
    return {
      title: `Allow this here, with a reason${NO_REASON}${several ? ` (${diagnostic.code})` : ''}`,
      kind: CodeActionKind.QuickFix,
      diagnostics: open.filter(isAlike(diagnostic)),
      edit: { changes: { [document.uri.toString()]: [edit] } },
    };
  });
}

/** The codes that are found where such a comment is begun, and where what is begun starts. Undefined where none is. */
export function proposedCodes(
  analyser: RigAnalyser,
  document: LangiumDocument,
  offset: number,
): { start: number; proposals: Proposal[] } | undefined {
  const begun = allowanceBegun(document, offset);
  if (!begun) return undefined;
  const found = analyser.of(document).located.filter(({ finding: { code }, range }) => isAbout(begun, range) && !whyNotAllowed(code));
  const proposals = found.map(
    ({ finding }): Proposal => ({
      kind: 'value',
      label: finding.code,
      detail: finding.severity,
      documentation: message(finding),
      insert: `${finding.code}: `,
    }),
  );
  return {
    start: begun.start,
    proposals: proposals.filter(({ label }, index) => proposals.findIndex((each) => each.label === label) === index),
  };
}

/** What the code stands for, in a comment that allows it. */
export function allowedThere(analyser: RigAnalyser, document: LangiumDocument, offset: number): { says: string; range: Range } | undefined {
  const here = allowancesIn(document).find(({ codeStart, codeEnd }) => codeStart <= offset && offset <= codeEnd);
  if (!here) return undefined;
  const range = { start: document.textDocument.positionAt(here.codeStart), end: document.textDocument.positionAt(here.codeEnd) };
  return { says: saidOf(analyser.of(document), here), range };
}

function saidOf({ allowed, located }: Analysis, allowance: Allowance): string {
  const of = (all: Analysis['located']) => all.filter(({ finding, range }) => finding.code === allowance.code && isAbout(allowance, range));
  const stands = of(allowed).map(({ finding }) => paragraphs(say(finding).what, say(finding).why, `Allowed: ${finding.allowed}`));
  const told = of(located).map(({ finding }) => message(finding));
  return paragraphs(...stands, ...told) || 'Nothing of this kind is found here.';
}
