/** Markdown with pipe tables. Nothing that somebody wrote can act as markup. */
import type { PatchList } from '../model';
import {
  type Field,
  fields,
  heading,
  houseSection,
  inputSection,
  isEmpty,
  leadSection,
  outputSection,
  packingSection,
  type Section,
} from './sections';
import { allNotes, CAUTION_RULE, CAUTIONS, countWords, ELSEWHERE, noteText, plain, SEVERITY_WORDS, SHEET_NAME } from './words';

export function markdown(list: PatchList): string {
  const blocks = [
    `# ${escaped(list.title)}`,
    `${SHEET_NAME}. ${escaped(list.facts.join(', '))}. ${countWords(list.counts)}.`,
    ...(isEmpty(list)
      ? ['Nothing of a rig is written yet.']
      : [
          ...table(inputSection(list)),
          ...table(outputSection(list)),
          ...table(houseSection(list)),
          ...table(leadSection(list)),
          ...table(packingSection(list)),
        ]),
    ...findings(list),
    ...cautions(list),
  ];
  return `${blocks.join('\n\n')}\n`;
}

function table<R>(section: Section<R>): string[] {
  const title = `## ${section.title}`;
  if (section.rows.length === 0) return [title, escaped(section.empty)];
  const all = fields(section).filter((field) => section.rows.some((row) => text(field, row) !== ''));
  const numeric = new Set<Field<R>>(
    section.columns.flatMap((column) => (column.number ? [column, ...(column.under ? [column.under] : [])] : [])),
  );
  const lines = [
    line(all.map((field) => escaped(heading(field)))),
    line(all.map((field) => (numeric.has(field) ? '---:' : '---'))),
    ...section.rows.map((row) => line(all.map((field) => escaped(text(field, row))))),
  ];
  return [title, ...(section.remark ? [escaped(section.remark)] : []), lines.join('\n')];
}

function line(cells: readonly string[]): string {
  return `| ${cells.join(' | ')} |`;
}

function text<R>(field: Field<R>, row: R): string {
  return String(field.of(row) ?? '');
}

function findings(list: PatchList): string[] {
  const items = allNotes(list).map(
    ({ at, note }) =>
      `- **${SEVERITY_WORDS[note.severity]}**, ${escaped(at || ELSEWHERE.toLowerCase())}: ${escaped(noteText(note))} (${escaped(note.code)})`,
  );
  return items.length === 0 ? [] : ['## Findings', items.join('\n')];
}

function cautions(list: PatchList): string[] {
  if (list.cautions.length === 0) return [];
  return [
    `## ${CAUTIONS}`,
    CAUTION_RULE,
    list.cautions.map(({ subject, text: says }) => `- **${escaped(subject)}.** ${escaped(says)}`).join('\n'),
  ];
}

/** Every character of ASCII that can mean something in Markdown, behind a backslash (CommonMark 2.4); one line, whatever was in it. */
function escaped(written: string): string {
  return (
    plain(written)
      .replace(/[\\`*_{}[\]<>|#~!&$^@]/g, '\\$&')
      // Addresses that some readers make links of.
      .replace(/:(?=\/\/)/g, '\\:')
      .replace(/\bwww\./gi, (found) => `${found.slice(0, -1)}\\.`)
  );
}
