/** Rows of tables before their findings are put to them. */
import { type Finding, statementOf } from '#engine';
import type { TableRow } from '../sheet';
import type { Note } from './model';
import { bySeverity, noteOf } from './notes';

export type RowDraft = Omit<TableRow, 'findings'>;

/**
 * Puts each finding to the first row that is made of its statement, else to the first that is about it, in the order of the
 * tables; `elsewhere` are those that no row stands for.
 */
export function withFindings<T extends Readonly<Record<string, readonly RowDraft[]>>>(
  tables: T,
  findings: readonly Finding[],
): { tables: { readonly [K in keyof T]: TableRow[] }; elsewhere: Note[] } {
  const rows = Object.values(tables).flat();
  const own = firsts(rows, (row) => (row.place === undefined ? [] : [row.place]));
  const concerned = firsts(rows, (row) => row.about);
  const notes = new Map<RowDraft, Note[]>();
  const elsewhere: Note[] = [];
  for (const finding of findings) {
    const statement = statementOf(finding.place);
    const row = own.get(statement) ?? concerned.get(statement);
    const told = row ? (notes.get(row) ?? []) : elsewhere;
    told.push(noteOf(finding));
    if (row) notes.set(row, told);
  }
  const told = (drafts: readonly RowDraft[]) => drafts.map((row): TableRow => ({ ...row, findings: bySeverity(notes.get(row) ?? []) }));
  const done = Object.fromEntries(Object.entries(tables).map(([name, drafts]) => [name, told(drafts)]));
  return { tables: done as { readonly [K in keyof T]: TableRow[] }, elsewhere: bySeverity(elsewhere) };
}

function firsts(rows: readonly RowDraft[], places: (row: RowDraft) => readonly string[]): ReadonlyMap<string, RowDraft> {
  const found = new Map<string, RowDraft>();
  for (const row of rows) for (const place of places(row)) if (!found.has(place)) found.set(place, row);
  return found;
}
