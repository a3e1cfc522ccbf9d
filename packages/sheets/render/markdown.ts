/** Markdown with pipe tables. Nothing that somebody wrote can act as markup. */

import { ELSEWHERE } from '../shared/titles';
import { type Block, groupAt, heading, isEmpty, placed, type Sheet, type TableBlock } from '../sheet';
import { inOrder } from './order';
import { allNotes, CAUTION_RULE, headWords, kindOf, NOTHING, noteText, plain, printed, withTicks } from './words';

const LINE_TO_WRITE_ON = '\\_'.repeat(24);

/** Of several sheets of one rig, each is a chapter. */
export function markdown(sheets: readonly Sheet<string>[]): string {
  const [first] = sheets;
  const blocks =
    sheets.length === 1 && first
      ? [`# ${escaped(first.title)}`, ...page(first, '##', true)]
      : [
          `# ${escaped(first?.title ?? '')}`,
          sheets.map((sheet) => `- ${escaped(sheet.name)}`).join('\n'),
          ...sheets.flatMap((sheet) => [`## ${escaped(sheet.name)}`, ...page(sheet, '###', false)]),
        ];
  return `${blocks.filter(Boolean).join('\n\n')}\n`;
}

function page(sheet: Sheet<string>, level: string, kind: boolean): string[] {
  return [
    escaped(headWords(sheet, kind)),
    ...(isEmpty(sheet) ? [NOTHING] : []),
    ...inOrder(sheet).flatMap((part) => (part === 'findings' ? findings(sheet, level) : block(part, level))),
  ];
}

function block(each: Exclude<Block, { kind: 'notes' }>, level: string): string[] {
  const head = [`${level} ${escaped(each.title)}`, ...(each.remark ? [escaped(each.remark)] : [])];
  switch (each.kind) {
    case 'table':
      // Without rows there is nothing to remark on.
      return each.rows.length === 0 ? [head[0] as string, escaped(each.empty)] : [...head, table(withTicks(each, '☐'))];
    case 'drawing':
      return [...head, escaped(each.description)];
    case 'form':
      return [
        ...head,
        each.fields.map(({ title, value }) => `- **${escaped(title)}:** ${value ? escaped(value) : LINE_TO_WRITE_ON}`).join('\n'),
      ];
    case 'cautions':
      return [...head, CAUTION_RULE, each.cautions.map(({ subject, text }) => `- **${escaped(subject)}.** ${escaped(text)}`).join('\n')];
  }
}

function table({ columns, rows }: TableBlock): string {
  const shown = placed(columns)
    .flat()
    .filter(({ index }) => rows.some((row) => printed(row.cells[index]) !== ''));
  return [
    line(shown.map(({ field }) => escaped(heading(field)))),
    line(shown.map(({ number }) => (number ? '---:' : '---'))),
    ...rows.flatMap((row, at) => {
      const group = groupAt(rows, at);
      const cells = line(shown.map(({ index }) => escaped(printed(row.cells[index]))));
      // No row of a pipe table goes across: the heading stands in the first cell that is wide.
      const wide = Math.max(
        0,
        shown.findIndex(({ number, field }) => !number && field.title !== 'Done'),
      );
      return group === undefined ? [cells] : [line(shown.map((_, index) => (index === wide ? `**${escaped(group)}**` : ''))), cells];
    }),
  ].join('\n');
}

function line(cells: readonly string[]): string {
  return `| ${cells.join(' | ')} |`;
}

function findings(sheet: Sheet<string>, level: string): string[] {
  const items = allNotes(sheet).map(
    ({ at, note }) =>
      `- **${kindOf(note)}**, ${escaped(at === ELSEWHERE ? at.toLowerCase() : at)}: ${escaped(noteText(note))} (${escaped(note.code)})`,
  );
  return items.length === 0 ? [] : [`${level} Findings`, items.join('\n')];
}

/** Every character of ASCII that can mean something in Markdown, behind a backslash (CommonMark 2.4); one line, whatever was in it. */
function escaped(text: string): string {
  return (
    plain(text)
      .replace(/[\\`*_{}[\]<>|#~!&$^@]/g, '\\$&')
      // Addresses that some readers make links of.
      .replace(/:(?=\/\/)/g, '\\:')
      .replace(/\bwww\./gi, (found) => `${found.slice(0, -1)}\\.`)
  );
}
