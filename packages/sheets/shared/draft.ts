/** Rows before their findings are put to them. */
import type { Piece, Place } from '#rig';
import type { Row } from './model';

export type Draft<R extends Row> = Omit<R, 'findings'>;

/** Makes the keys of a section’s rows unique. */
export function distinct<R extends Row>(rows: readonly Draft<R>[]): Draft<R>[] {
  return distinctKeys(rows);
}

/** Makes the keys of rows unique: a second row of the same name gets `#2`. */
export function distinctKeys<T extends { readonly key: string }>(rows: readonly T[]): T[] {
  const seen = new Map<string, number>();
  return rows.map((row) => {
    const count = (seen.get(row.key) ?? 0) + 1;
    seen.set(row.key, count);
    return count === 1 ? row : { ...row, key: `${row.key}#${count}` };
  });
}

export function unique<T>(items: readonly T[]): T[] {
  return [...new Set(items)];
}

/** The statements that have a part in a row, each once, the row's own first. */
export function about(...places: readonly (Place | undefined)[]): Place[] {
  return unique(places.filter((place) => place !== undefined));
}

/** The statements of gear with a name; fresh pieces have none of their own. */
export function named(pieces: readonly Piece[]): Place[] {
  return pieces.filter((piece) => piece.kind === 'gear').map((piece) => piece.id);
}
