/** Lines of a kind that stand together, without a blank line or anything else between them, each with the comments above it. */
import type * as ast from '../../generated/ast';
import type { Here } from './here';

export interface Row {
  readonly statement: ast.Statement;
  /** From the first of the comment lines above it, or its own first line, to the end of its last line. */
  readonly start: number;
  readonly end: number;
}

/** The group that a statement is in, in its order. The comments above the first of a group are about the group and stay out of it. */
export function groupOf(here: Here, statement: ast.Statement): Row[] {
  const { statements } = here.file;
  const at = statements.indexOf(statement);
  const own = here.linesOf(statement);
  if (at < 0 || !own) return [];
  let first = at;
  while (joined(here, statements[first - 1], statements[first])) first--;
  let last = at;
  while (joined(here, statements[last], statements[last + 1])) last++;
  return rowsOf(here, statements.slice(first, last + 1));
}

/** Statements that follow each other, as rows. Nothing where they do not stand on lines of their own, close together. */
export function rowsOf(here: Here, statements: readonly ast.Statement[]): Row[] {
  const rows = statements.flatMap((statement, index) => {
    const lines = here.linesOf(statement);
    const before = statements[index - 1];
    const above = before && here.linesOf(before);
    if (!lines || (before && !joined(here, before, statement))) return [];
    return [{ statement, start: above ? nextLine(here, above.end) : lines.start, end: lines.end }];
  });
  return rows.length === statements.length ? rows : [];
}

function joined(here: Here, above: ast.Statement | undefined, below: ast.Statement | undefined): boolean {
  if (!above || !below || above.$type !== below.$type) return false;
  const [one, other] = [here.linesOf(above), here.linesOf(below)];
  if (!one || !other || one.end >= other.start) return false;
  const between = here.layout.text.slice(nextLine(here, one.end), other.start);
  return between
    .split(/\r\n|\n|\r/)
    .slice(0, -1)
    .every((line) => /^\s*#/.test(line));
}

function nextLine(here: Here, lineEnd: number): number {
  return lineEnd + (/^(\r\n|\n|\r)/.exec(here.layout.text.slice(lineEnd))?.[0].length ?? 0);
}
