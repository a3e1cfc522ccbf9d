/** Findings for people, on a terminal or in a log. */
import { styleText } from 'node:util';
import { message, type Severity, say } from '#engine';
import type { Located } from '#language';
import { type CheckedFile, countsOf, inOrder } from './checked';
import { columnsOf, prepareFor } from './columns';
import { linesOf, quote } from './quote';
import { visible } from './visible';

export interface Style {
  readonly colour: boolean;
  /** Columns there are. */
  readonly width: number;
}

type Paint = Parameters<typeof styleText>[0];

const COLOURS: Readonly<Record<Severity, Paint>> = {
  danger: ['bold', 'inverse', 'red'],
  error: ['bold', 'red'],
  warning: ['bold', 'yellow'],
  note: ['bold', 'cyan'],
};

const INDENT = '  ';

/** Wider than this a sentence is hard to read. */
const WIDEST = 100;

/** `nameOf` says how a file is called by its address. */
export async function textReport(files: readonly CheckedFile[], nameOf: (uri: string) => string, style: Style): Promise<string> {
  const told = files.filter(({ located }) => located.length > 0);
  await prepareFor(told.flatMap(({ text, located }) => [text, ...located.map(({ finding }) => message(finding))]));
  const parts = told.flatMap((file) => {
    const lines = linesOf(file.text);
    return inOrder(file.located).map((each) => paragraphs(file.shown, lines, each, nameOf, style));
  });
  return [...parts, summary(files)].map((part) => `${part}\n`).join('\n');
}

function paragraphs(
  shown: string,
  lines: readonly string[],
  { finding, range, related }: Located,
  nameOf: (uri: string) => string,
  style: Style,
): string {
  const paint = (how: Paint, text: string) => (style.colour ? styleText(how, text, { validateStream: false }) : text);
  const width = Math.min(style.width, WIDEST) - INDENT.length;
  const { what, why, cure } = say(finding);
  const out = [
    `${paint('bold', `${visible(shown)}:${position(range.start)}`)}  ${paint(COLOURS[finding.severity], finding.severity)}  ${paint('dim', finding.code)}`,
  ];
  const number = String(range.start.line + 1);
  const quoted = quote(lines, range, style.width - INDENT.length - number.length - 3);
  if (quoted) {
    out.push(`${INDENT}${paint('dim', `${number} |`)} ${quoted.line}`.trimEnd());
    out.push(`${INDENT}${' '.repeat(number.length)} ${paint('dim', '|')} ${paint(COLOURS[finding.severity], quoted.mark)}`);
  }
  out.push(...wrap(what, width).map((line) => INDENT + paint('bold', line)));
  out.push(...wrap(why, width).map((line) => INDENT + line));
  out.push(...wrap(cure && `Cure: ${cure}`, width).map((line) => INDENT + line));
  for (const { uri, range: where, says } of related) {
    const at = uri.startsWith('file:') ? `${visible(nameOf(uri))}:${position(where.start)}` : 'the gear library';
    out.push(...wrap(`See ${at}: ${says}`, width).map((line, index) => INDENT + (index > 0 ? INDENT : '') + paint('dim', line)));
  }
  return out.join('\n');
}

function position({ line, character }: Located['range']['start']): string {
  return `${line + 1}:${character + 1}`;
}

/** Lines of at most so many columns, broken at spaces; a longer word stands by itself. */
function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of visible(text).split(/\s+/)) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && columnsOf(longer) > width) {
      lines.push(line);
      line = word;
    } else {
      line = longer;
    }
  }
  if (line !== '') lines.push(line);
  return lines;
}

const PLURALS: Readonly<Record<Severity, string>> = { danger: 'dangers', error: 'errors', warning: 'warnings', note: 'notes' };

function summary(files: readonly CheckedFile[]): string {
  const read = files.filter((file) => !file.problem).length;
  const unread = files.length - read;
  const counts = countsOf(files);
  const found = (['danger', 'error', 'warning', 'note'] as const).filter((severity) => counts[severity] > 0);
  const says = found.map((severity) => `${counts[severity]} ${counts[severity] === 1 ? severity : PLURALS[severity]}`);
  const could = unread > 0 ? ` ${unread} could not be read.` : '';
  const allowed = counts.allowed > 0 ? ` ${counts.allowed} allowed.` : '';
  return `${read} ${read === 1 ? 'file' : 'files'} checked: ${says.join(', ') || 'nothing found'}.${allowed}${could}`;
}
