/** Names, labels and columns of a rig that is written for somebody. */
import { RigTerminals } from '../generated/ast';
import { isStatementWord } from '../syntax/words';

const NAME = new RegExp(`^(?:${RigTerminals.ID.source})$`);

/** Letters, digits and dashes; a letter first. Nothing where no name can be made of it. */
export function idOf(words: string): string {
  const id = words
    .normalize('NFC')
    .toLowerCase()
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
    .replace(/^[^\p{L}]+|-+$/gu, '');
  return NAME.test(id) ? id : '';
}

export function quoted(text: string): string {
  return `"${inLine(text)}"`;
}

/** Text that can stand in a label, or behind a #. */
export function inLine(text: string): string {
  return text.replace(/["\\\p{Cc}\p{Cs}\uFFFD]/gu, (sign) => (sign === '"' ? '”' : sign === '\\' ? '/' : ' '));
}

/** Gives names that no other has, and that are no statement word. `taken` are in use already. */
export function names(taken: Iterable<string> = []): (wanted: string, orElse: string) => string {
  const used = new Set(taken);
  // Where counting goes on: thousands may be called the same.
  const next = new Map<string, number>();
  return (wanted, orElse) => {
    const base = wanted === '' || isStatementWord(wanted) ? orElse : wanted;
    let id = base;
    let count = next.get(base) ?? 2;
    for (; used.has(id); count++) id = `${base}-${count}`;
    next.set(base, count);
    used.add(id);
    return id;
  };
}

/** Lines, and rows whose cells stand under one another. */
export class Columns {
  private readonly lines: string[] = [];

  line(text: string): void {
    this.lines.push(text);
  }

  rows(rows: readonly (readonly string[])[]): void {
    const widths = rows.reduce<number[]>((most, row) => row.map((cell, index) => Math.max(most[index] ?? 0, [...cell].length)), []);
    for (const row of rows)
      this.line(
        row
          .map((cell, index) => cell + ' '.repeat((widths[index] ?? 0) - [...cell].length))
          .join('  ')
          .trimEnd(),
      );
  }

  text(): string {
    return `${this.lines.join('\n')}\n`;
  }
}
