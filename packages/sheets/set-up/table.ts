/** A table of steps: numbered, each with a box to tick. */
import { distinctKeys } from '../shared/draft';
import type { Block, Column, TableBlock, TableRow } from '../sheet';

interface Steps {
  readonly id: string;
  readonly title: string;
  /** The first names the step, where no other does. */
  readonly columns: readonly (string | Column)[];
  readonly rows: readonly TableRow[];
  readonly empty: string;
  readonly remark?: string;
  readonly groups?: string;
}

/** One run of numbers through all tables of steps. */
export function numberedOn(blocks: readonly Block[]): Block[] {
  let next = 1;
  return blocks.map((block) => {
    if (block.kind !== 'table' || block.ticks !== 'numbers') return block;
    const firstStep = next;
    next += block.rows.length;
    return { ...block, firstStep };
  });
}

export function stepTable({ columns, rows, remark, ...rest }: Steps): TableBlock {
  const named = columns.some((column) => typeof column !== 'string' && column.names);
  return {
    kind: 'table',
    ...rest,
    columns: columns.map((column, index) => ({
      ...(typeof column === 'string' ? { title: column } : column),
      ...(index === 0 && !named ? { names: true } : {}),
    })),
    rows: distinctKeys(rows),
    ...(remark ? { remark } : {}),
    ticks: 'numbers',
  };
}
