/** What can be folded: braces, comments, runs of statements of one kind, long statements, and regions marked in comments. */
import { CstUtils, type LangiumDocument } from 'langium';
import type { FoldingRangeProvider } from 'langium/lsp';
import { type FoldingRange, FoldingRangeKind } from 'vscode-languageserver';
import type { RigFile } from '../generated/ast';

export class RigFoldingProvider implements FoldingRangeProvider {
  getFoldingRanges(document: LangiumDocument): FoldingRange[] {
    const byStart = new Map<number, FoldingRange>();
    // An editor takes one fold for each line it starts at: the first that is found here.
    for (const fold of [...regions(document), ...braces(document), ...comments(document), ...runs(document), ...longStatements(document)]) {
      if (fold.endLine > fold.startLine && !byStart.has(fold.startLine)) byStart.set(fold.startLine, fold);
    }
    return [...byStart.values()].sort((a, b) => a.startLine - b.startLine);
  }
}

function braces(document: LangiumDocument): FoldingRange[] {
  const root = document.parseResult.value.$cstNode;
  if (!root) return [];
  const open: number[] = [];
  const folds: FoldingRange[] = [];
  for (const leaf of CstUtils.flattenCst(root)) {
    if (leaf.text === '{') open.push(leaf.range.start.line);
    else if (leaf.text === '}') {
      const start = open.pop();
      // The line of the closing brace stays in sight.
      if (start !== undefined) folds.push({ startLine: start, endLine: leaf.range.end.line - 1 });
    }
  }
  return folds;
}

function linesOf(document: LangiumDocument): string[] {
  return document.textDocument.getText().split(/\r\n|\r|\n/);
}

/** Lines that are nothing but comment, two or more together. */
function comments(document: LangiumDocument): FoldingRange[] {
  const folds: FoldingRange[] = [];
  let start: number | undefined;
  const lines = [...linesOf(document), ''];
  for (const [line, text] of lines.entries()) {
    const comment = /^\s*#(?!\s*(?:end)?region\b)/.test(text);
    if (comment) start ??= line;
    else if (start !== undefined) {
      if (line - start > 1) folds.push({ startLine: start, endLine: line - 1, kind: FoldingRangeKind.Comment });
      start = undefined;
    }
  }
  return folds;
}

/** `#region` to `#endregion`, which may be nested. */
function regions(document: LangiumDocument): FoldingRange[] {
  const open: number[] = [];
  const folds: FoldingRange[] = [];
  for (const [line, text] of linesOf(document).entries()) {
    if (/^\s*#\s*region\b/.test(text)) open.push(line);
    else if (/^\s*#\s*endregion\b/.test(text)) {
      const start = open.pop();
      if (start !== undefined) folds.push({ startLine: start, endLine: line, kind: FoldingRangeKind.Region });
    }
  }
  return folds;
}

/** Statements of one kind on lines one after the other. */
function runs(document: LangiumDocument): FoldingRange[] {
  const folds: FoldingRange[] = [];
  let run: { type: string; start: number; end: number } | undefined;
  const finish = () => {
    if (run) folds.push({ startLine: run.start, endLine: run.end });
  };
  for (const statement of (document.parseResult.value as RigFile).statements ?? []) {
    const range = statement.$cstNode?.range;
    if (!range) continue;
    if (run && run.type === statement.$type && range.start.line - run.end <= 1) {
      run.end = range.end.line;
      continue;
    }
    finish();
    run = { type: statement.$type, start: range.start.line, end: range.end.line };
  }
  finish();
  return folds;
}

function longStatements(document: LangiumDocument): FoldingRange[] {
  return ((document.parseResult.value as RigFile).statements ?? []).flatMap((statement) => {
    const range = statement.$cstNode?.range;
    return range ? [{ startLine: range.start.line, endLine: range.end.line }] : [];
  });
}
