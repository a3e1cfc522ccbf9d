/** What makes one state of a sheet the next, to be sent instead of the whole: of a long sheet a letter changes a row or two. */
import type { Block, Sheet, TableBlock, TableRow } from './sheet';

export interface SheetUpdate<Id extends string> extends Omit<Sheet<Id>, 'blocks'> {
  readonly blocks: readonly BlockUpdate[];
}

/** A block by its id is the one of before. */
type BlockUpdate = string | Exclude<Block, TableBlock> | TableUpdate;

interface TableUpdate extends Omit<TableBlock, 'rows'> {
  readonly rows: readonly (TableRow | Run)[];
}

/** So many of the rows of before, from this one on. */
type Run = readonly [from: number, count: number];

/** Of two states of which the later has the very rows of the one before wherever it says the same (`sharing`). */
export function updateOf<Id extends string>(before: Sheet<Id>, now: Sheet<Id>): SheetUpdate<Id> {
  const known = new Map(before.blocks.map((block) => [block.id, block]));
  return { ...now, blocks: now.blocks.map((block) => blockUpdate(known.get(block.id), block)) };
}

function blockUpdate(before: Block | undefined, now: Block): BlockUpdate {
  if (before === now) return now.id;
  if (before?.kind !== 'table' || now.kind !== 'table') return now;
  const at = new Map(before.rows.map((row, index) => [row, index]));
  const rows: (TableRow | [from: number, count: number])[] = [];
  for (const row of now.rows) {
    const index = at.get(row);
    const last = rows.at(-1);
    if (index === undefined) rows.push(row);
    else if (Array.isArray(last) && last[0] + last[1] === index) last[1] += 1;
    else rows.push([index, 1]);
  }
  return { ...now, rows };
}

/** The later state, with the very blocks and rows of the one before. */
export function updated<Id extends string>(before: Sheet<Id>, update: SheetUpdate<Id>): Sheet<Id> {
  const known = new Map(before.blocks.map((block) => [block.id, block]));
  return { ...update, blocks: update.blocks.flatMap((each) => blockUpdated(known, each) ?? []) };
}

function blockUpdated(known: ReadonlyMap<string, Block>, update: BlockUpdate): Block | undefined {
  if (typeof update === 'string') return known.get(update);
  if (update.kind !== 'table') return update;
  const before = known.get(update.id);
  const there = before?.kind === 'table' ? before.rows : [];
  return { ...update, rows: update.rows.flatMap((row) => (isRun(row) ? there.slice(row[0], row[0] + row[1]) : row)) };
}

function isRun(row: TableRow | Run): row is Run {
  return Array.isArray(row);
}
