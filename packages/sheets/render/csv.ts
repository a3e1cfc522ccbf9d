/**
 * CSV for a spreadsheet: one table after the other, each under its own heading, every record with the section it belongs to
 * in front and all records of one length (RFC 4180 asks for that). A cell of somebody's text that a spreadsheet would take
 * for a formula gets an apostrophe in front; numbers are numbers, with their unit in the heading, and stay as they are.
 */
// The edition for browsers runs in Node as well; the other one needs a global of Node's.
import { stringify } from 'csv-stringify/browser/esm/sync';
import type { PatchList } from '../model';
import { fields, heading, houseSection, inputSection, leadSection, outputSection, packingSection, type Section } from './sections';
import { allNotes, CAUTIONS, ELSEWHERE, SEVERITY_WORDS } from './words';

type Cell = string | number | undefined;

export function csv(list: PatchList): string {
  const notes = allNotes(list).map(({ at, note }) => [
    at || ELSEWHERE,
    SEVERITY_WORDS[note.severity],
    note.code,
    note.what,
    note.why,
    note.cure,
  ]);
  const records: Cell[][] = [
    ...block('Sheet', ['Title', 'Facts'], [[list.title, list.facts.join('; ')]]),
    ...table(inputSection(list)),
    ...table(outputSection(list)),
    ...table(houseSection(list)),
    ...table(leadSection(list)),
    ...table(packingSection(list)),
    ...block('Findings', ['Where', 'Kind', 'Code', 'What', 'Why', 'Cure'], notes),
    ...block(
      CAUTIONS,
      ['Subject', 'Caution'],
      list.cautions.map((caution) => [caution.subject, caution.text]),
    ),
  ];
  const width = records.reduce((most, record) => Math.max(most, record.length), 0);
  const even = records.map((record) => [...record, ...Array<Cell>(width - record.length).fill('')]);
  return stringify(even, { bom: true, record_delimiter: 'windows', escape_formulas: true });
}

function table<R>(section: Section<R>): Cell[][] {
  const all = fields(section);
  return block(
    section.title,
    all.map(heading),
    section.rows.map((row) => all.map((field) => field.of(row))),
  );
}

/** A heading that begins with the word Section, and records that begin with the section's name. Nothing where there are none. */
function block(name: string, titles: readonly string[], rows: readonly (readonly Cell[])[]): Cell[][] {
  return rows.length === 0 ? [] : [['Section', ...titles], ...rows.map((row) => [name, ...row])];
}
