/** A table of steps: numbered, each with a box to tick. */
import { distinctKeys } from '../shared/draft';
import type { Column, TableBlock, TableRow } from '../sheet';

interface Steps {
  readonly id: string;
  readonly title: string;
  /** The first names the step. */
  readonly columns: readonly (string | Column)[];
  readonly rows: readonly TableRow[];
  readonly empty: string;
  readonly remark?: string;
}

export function stepTable({ columns, rows, remark, ...rest }: Steps): TableBlock {
  return {
    kind: 'table',
    ...rest,
    columns: columns.map((column, index) => ({
      ...(typeof column === 'string' ? { title: column } : column),
      ...(index === 0 ? { names: true } : {}),
    })),
    rows: distinctKeys(rows),
    ...(remark ? { remark } : {}),
    ticks: 'numbers',
  };
}
