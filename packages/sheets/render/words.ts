/** Words that every rendering uses. */
import type { Severity } from '#engine';
import type { Note, PatchList, Row } from '../model';

export const SEVERITY_WORDS: Readonly<Record<Severity, string>> = { danger: 'Danger', error: 'Error', warning: 'Warning', note: 'Note' };
const PLURALS: Readonly<Record<Severity, string>> = { danger: 'dangers', error: 'errors', warning: 'warnings', note: 'notes' };
const SEVERITIES = ['danger', 'error', 'warning', 'note'] as const;

export const SHEET_NAME = 'Patch list';
export const ELSEWHERE = 'Also found';
export const CAUTIONS = 'Take care';
/** Says what the sheet does not do. */
export const CAUTION_RULE = 'These are the usual cautions. Local rules, and people who are qualified, come before anything on this sheet.';

/** `1 danger, 2 errors and 3 notes`. A note is worth knowing and nothing wrong: `Nothing found wrong`, `Nothing found wrong, 1 note`. */
export function countWords(counts: PatchList['counts']): string {
  const parts = SEVERITIES.filter((severity) => counts[severity] > 0).map((severity) => {
    const number = counts[severity];
    return `${number} ${number === 1 ? severity : PLURALS[severity]}`;
  });
  if (counts.danger + counts.error + counts.warning === 0) return ['Nothing found wrong', ...parts].join(', ');
  return parts.length === 1 ? (parts[0] as string) : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

/** One line, without characters that a terminal would act on. */
export function plain(written: string): string {
  return written.replace(/[\p{Cc}\p{Zl}\p{Zp}\s]+/gu, ' ').trim();
}

/** The whole message. */
export function noteText(note: Note): string {
  return [note.what, note.why, note.cure].filter(Boolean).join(' ');
}

/** All findings of the sheet, with the row they bite at. */
export function allNotes(list: PatchList): { readonly at: string; readonly note: Note }[] {
  const from = <R extends Row>(rows: readonly R[], name: (row: R) => string) =>
    rows.flatMap((row) => row.findings.map((note) => ({ at: name(row), note })));
  return [
    ...from(list.inputs, (row) => `${row.port}: ${row.source}`),
    ...from(list.outputs, (row) => `${row.port}: ${row.mix}`),
    ...from(list.house, (row) => `house ${row.number}`),
    ...from(list.leads, (row) => `${row.from} to ${row.to}`),
    ...list.elsewhere.map((note) => ({ at: '', note })),
  ];
}
