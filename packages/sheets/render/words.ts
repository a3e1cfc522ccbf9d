/** Words that every rendering uses. */
import type { Severity } from '#engine';
import type { Note } from '../shared/model';
import { ELSEWHERE } from '../shared/titles';
import { type Cell, type Sheet, stepOf, type TableBlock, type TableRow } from '../sheet';

const SEVERITY_WORDS: Readonly<Record<Severity, string>> = { danger: 'Danger', error: 'Error', warning: 'Warning', note: 'Note' };
const PLURALS: Readonly<Record<(typeof COUNTED)[number], string>> = {
  danger: 'dangers',
  error: 'errors',
  warning: 'warnings',
  note: 'notes',
  allowed: 'allowed',
};
const COUNTED = ['danger', 'error', 'warning', 'note', 'allowed'] as const;

/** How bad a finding is, in a word; of one that may stand, that. */
export function kindOf({ allowed, severity }: Note): string {
  return allowed === undefined ? SEVERITY_WORDS[severity] : 'Allowed';
}

export const NOTHING = 'Nothing of a rig is written yet.';
/** Says what the sheet does not do. */
export const CAUTION_RULE = 'These are the usual cautions. Local rules, and people who are qualified, come before anything on this sheet.';

/** `1 danger, 2 errors and 3 notes`. A note is worth knowing and nothing wrong: `Nothing found wrong`, `Nothing found wrong, 1 note, 1 allowed`. */
export function countWords(counts: NonNullable<Sheet['counts']>): string {
  const parts = COUNTED.filter((severity) => counts[severity] > 0).map((severity) => {
    const number = counts[severity];
    return `${number} ${number === 1 ? severity : PLURALS[severity]}`;
  });
  if (counts.danger + counts.error + counts.warning === 0) return ['Nothing found wrong', ...parts].join(', ');
  return parts.length === 1 ? (parts[0] as string) : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

/** `1 danger and 2 errors`. */
function graveWords({ danger, error }: NonNullable<Sheet['draft']>): string {
  return [
    danger > 0 ? `${danger} ${danger === 1 ? 'danger' : 'dangers'}` : '',
    error > 0 ? `${error} ${error === 1 ? 'error' : 'errors'}` : '',
  ]
    .filter(Boolean)
    .join(' and ');
}

/** The band on each page of a sheet that must not be worked from yet; nothing where it may be. */
export function draftWords({ draft }: Sheet<string>): string | undefined {
  return draft && `DRAFT: ${graveWords(draft)} in the rig. Do not set up from this page: put them right and print it again`;
}

/** What tells this paper from another of the same rig: `rig K3F7 9QXM`. */
export function fingerprintWords({ fingerprint }: Pick<Sheet<string>, 'fingerprint'>): string {
  return fingerprint === undefined ? '' : `rig ${fingerprint}`;
}

/** Of the evening, of the whole rig, and which rig it is. */
export function headFacts(sheet: Pick<Sheet<string>, 'occasion' | 'facts' | 'fingerprint'>): string[] {
  return [...(sheet.occasion ?? []), ...sheet.facts, fingerprintWords(sheet)].filter(Boolean);
}

/** What stands under the title, as sentences: what kind of sheet, what holds for the whole, what was found. */
export function headWords(sheet: Sheet<string>, kind = true): string {
  return [draftWords(sheet), kind ? sheet.name : '', headFacts(sheet).join(', '), sheet.counts ? countWords(sheet.counts) : '']
    .filter(Boolean)
    .map((part) => `${part}.`)
    .join(' ');
}

/** One line, without characters that a terminal would act on. */
export function plain(written: string): string {
  return written.replace(/[\p{Cc}\p{Zl}\p{Zp}\s]+/gu, ' ').trim();
}

/** As it is written where figures are read by other programs, too. */
export function written(cell: Cell): string {
  return String(cell ?? '');
}

/** As it is written for people: numbers with a minus sign as it is printed. */
export function printed(cell: Cell): string {
  return typeof cell === 'number' ? String(cell).replace('-', '\u2212') : (cell ?? '');
}

/** What a figure is told in: of units of money, the three capitals of ISO 4217. */
const UNIT =
  /(?<=\d) (?=(?:[kMG]?Hz|[mk]?V|[mk]?W|m?A|[kM]?ohm|dB(?:u|V|FS)?|[µm]?s|min|h|[mck]?m|ft|in|[pn]F|%|AA|AAA|samples|[A-Z]{3})(?![\p{L}\d]))/gu;

/** With no-break spaces between figures and their units, round a times sign, and behind a box to tick. */
export function unbroken(words: string): string {
  return words
    .replace(UNIT, '\u00a0')
    .replace(/(?<=☐) /g, '\u00a0')
    .replace(/(?<=\d) × (?=\S)/g, '\u00a0×\u00a0');
}

/** The whole message. */
export function noteText(note: Note): string {
  return [note.what, note.why, note.cure].filter(Boolean).join(' ');
}

/** All findings of the sheet, each once, with the row they bite at. */
export function allNotes(sheet: Sheet<string>): { readonly at: string; readonly note: Note }[] {
  return sheet.blocks.flatMap((block) => {
    if (block.kind === 'notes') return block.notes.map((note) => ({ at: ELSEWHERE, note }));
    if (block.kind !== 'table') return [];
    return block.rows.flatMap((row) => row.findings.filter(({ see }) => !see).map((note) => ({ at: nameOf(row, block), note })));
  });
}

/** What to call a row away from its table. */
export function nameOf(row: TableRow, { title, columns }: TableBlock): string {
  if (row.name !== undefined) return row.name;
  let index = 0;
  for (const column of columns) {
    if (column.names && written(row.cells[index])) return `${title}: ${row.cells[index]}`;
    index += column.under ? 2 : 1;
  }
  return title;
}

/** The table with what is to be ticked as columns of its own; `box` is an empty box. */
export function withTicks(block: TableBlock, box: string): TableBlock {
  if (!block.ticks) return block;
  const numbered = block.ticks === 'numbers';
  return {
    ...block,
    ticks: undefined,
    columns: [{ title: 'Done' }, ...(numbered ? [{ title: 'Step', number: true }] : []), ...block.columns],
    rows: block.rows.map((row, index) => ({ ...row, cells: [box, ...(numbered ? [stepOf(block, index)] : []), ...row.cells] })),
  };
}
