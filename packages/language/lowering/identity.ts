/**
 * What runs are known by: the socket or the line of the house's that they are about, never where they stand in the text, so that a line put
 * in above renames nothing. Of several for one socket the second is `input:iface.3~2`.
 */
import type * as ast from '../generated/ast';

export type RunStatement = ast.Input | ast.House | ast.Output;

/** By statement; what is no run has none. */
export function runIds(statements: readonly ast.Statement[]): ReadonlyMap<ast.Statement, string> {
  const name = ordinals();
  const ids = new Map<ast.Statement, string>();
  for (const statement of statements) if (isRun(statement)) ids.set(statement, name(contentOf(statement)));
  return ids;
}

/** Gives each thing its own name: the second that is called the same gets `~2`, which no name in a rig has in it. */
export function ordinals(): (content: string) => string {
  const seen = new Map<string, number>();
  return (content) => {
    const count = (seen.get(content) ?? 0) + 1;
    seen.set(content, count);
    return count === 1 ? content : `${content}~${count}`;
  };
}

export function isRun(statement: ast.Statement): statement is RunStatement {
  return statement.$type === 'Input' || statement.$type === 'Output' || (statement.$type === 'House' && statement.number !== undefined);
}

/** What a line is about: those of the same are known apart by which they are. */
export function contentOf(statement: RunStatement): string {
  if (statement.$type === 'House') return `house:${houseNumber(statement.number ?? '')}`;
  const { port } = statement;
  const ports = [port?.first, port?.last].filter((each) => each !== undefined).join('..');
  // The same letters can be written in two ways in Unicode.
  return `${statement.$type.toLowerCase()}:${port?.gear?.$refText ?? ''}.${ports}`.normalize('NFC');
}

export function houseNumber(written: string): string {
  return written.replace(/^\+/, '');
}
