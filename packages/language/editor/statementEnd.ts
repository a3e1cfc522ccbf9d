/** Where something can be shown behind a statement. */
import type { LangiumDocument } from 'langium';
import type { Position, Range } from 'vscode-languageserver-types';

/** Behind the statement, or behind the comment on its last line, so that comments which stand in a column stay there. */
export function behind(document: LangiumDocument, statement: Range): Position {
  const { line, character } = statement.end;
  const rest = document.textDocument
    .getText({ start: statement.end, end: { line: line + 1, character: 0 } })
    .replace(/[\r\n]+$/, '')
    .trimEnd();
  return { line, character: /^\s*#/.test(rest) ? character + rest.length : character };
}
