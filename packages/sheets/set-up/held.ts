/** Steps that would do harm as the rig is: taken out of the order of work, and kept in one list, so that none is done and none is lost. */
import { type Finding, list, say, statementOf } from '#engine';
import type { Context } from '../shared/context';
import { unique } from '../shared/draft';
import { forbidden, forbids } from '../shared/grave';
import { tableRow } from '../shared/tableRow';
import type { Block, TableBlock, TableRow } from '../sheet';
import { stepTable } from './table';

/** Where a step carries a statement out. Elsewhere steps tell of it themselves, as phantom power does. */
const CARRY_OUT = new Set(['leads', 'house-lines', 'gains', 'line-check', 'house-check', 'mixes']);

export function withoutHarm(context: Context, blocks: readonly Block[]): Block[] {
  const harmful = forbidden(context.checked);
  if (harmful.size === 0) return [...blocks];
  const held = new Map<Finding, Held[]>();
  const left = blocks.map((block): Block => {
    if (block.kind !== 'table' || !CARRY_OUT.has(block.id)) return block;
    const rows = block.rows.filter((row) => {
      const finding = block.id === 'leads' ? forbids(harmful, row.about) : harmful.get(row.place ?? '');
      if (finding) held.set(finding, [...(held.get(finding) ?? []), { block, row }]);
      return !finding;
    });
    return { ...block, rows };
  });
  return held.size > 0 ? [heldTable([...held].map(([finding, steps]) => heldRow(finding, steps))), ...left] : left;
}

interface Held {
  readonly block: TableBlock;
  readonly row: TableRow;
}

function heldRow(finding: Finding, steps: readonly Held[]): TableRow {
  const { what, cure } = say(finding);
  const statement = statementOf(finding.place);
  return tableRow(`${finding.code} ${finding.place}`, [what, list(steps.map(stepWords)), cure], {
    place: statement,
    tells: [statement],
    about: unique(steps.flatMap(({ row }) => row.about)),
  });
}

/** `lead 2 (Cornet → Box in 2)`, `Box 2: Cornet (gains to start from)`. */
function stepWords({ block, row }: Held): string {
  const name = row.name ?? String(row.cells[0]);
  if (block.id === 'leads') return `lead ${row.cells[0]} (${name})`;
  const [title = ''] = block.title.split(/[:,]/, 1);
  return `${name} (${title.toLowerCase()})`;
}

function heldTable(rows: readonly TableRow[]): TableBlock {
  const steps = stepTable({
    id: 'held',
    title: 'Not to be done as the rig is',
    columns: ['What is wrong', 'Left out below', 'Put right first'],
    rows,
    empty: '',
    remark: 'Each of these would do harm. It comes back into its place in the order when the rig is put right and printed again.',
  });
  // Nothing here is to be ticked off.
  return { ...steps, ticks: undefined };
}
