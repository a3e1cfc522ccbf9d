/** Markdown for hovers and completion. What a user wrote is shown as it is, whatever is in it. */

/** User text: nothing in it is a mark, a tag, an entity or a link. */
export function plain(text: string): string {
  return text
    .replace(/\s+/g, ' ')
    .replace(/[\\`*_{}[\]#~|!$@]/g, '\\$&')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/\b(https?|ftp|mailto|file|command|vscode):/gi, '$1\\:')
    .replace(/\bwww\./gi, 'www\\.');
}

/** A name or a line of a rig, in the type that code is set in. */
export function code(text: string): string {
  const clean = text.replace(/\s+/g, ' ').trim();
  const fence = '`'.repeat(Math.max(0, ...[...clean.matchAll(/`+/g)].map((run) => run[0].length)) + 1);
  const gap = clean.startsWith('`') || clean.endsWith('`') ? ' ' : '';
  return `${fence}${gap}${clean}${gap}${fence}`;
}

export interface Column {
  readonly head: string;
  readonly align?: 'right';
}

/** A table, aligned in its source too, so that it also reads well where Markdown is not rendered. */
export function table(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  // A column that says nothing anywhere is left out.
  const kept = columns.flatMap((column, index) => (rows.some((row) => (row[index] ?? '') !== '') ? [{ ...column, index }] : []));
  const widths = kept.map(({ head, index }) => Math.max(3, head.length, ...rows.map((row) => (row[index] ?? '').length)));
  const line = (cells: readonly string[]) =>
    `| ${cells.map((cell, at) => (kept[at]?.align === 'right' ? cell.padStart(widths[at] ?? 0) : cell.padEnd(widths[at] ?? 0))).join(' | ')} |`;
  const rule = `|${kept.map(({ align }, at) => (align === 'right' ? `${'-'.repeat((widths[at] ?? 0) + 1)}:` : '-'.repeat((widths[at] ?? 0) + 2))).join('|')}|`;
  return [line(kept.map(({ head }) => head)), rule, ...rows.map((row) => line(kept.map(({ index }) => row[index] ?? '')))].join('\n');
}

/** Parts with an empty line between them; parts that are empty are left out. */
export function paragraphs(...parts: readonly (string | undefined)[]): string {
  return parts.filter((part) => part !== undefined && part !== '').join('\n\n');
}

/** A point each; one alone is a plain sentence. Empty ones are left out. */
export function bullets(...points: readonly string[]): string {
  const said = points.filter((point) => point !== '');
  return said.length === 1 ? (said[0] ?? '') : said.map((point) => `- ${point}`).join('\n');
}
