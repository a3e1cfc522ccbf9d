/** Puts lines in the order of their ports: inputs and outputs as the device has them, the house's lines by number. */
import type * as ast from '../../generated/ast';
import { groupOf, type Row, rowsOf } from './group';
import type { Here, Refactoring } from './here';

const CALLED: Partial<Record<ast.Statement['$type'], string>> = { Input: 'inputs', Output: 'outputs', House: 'house lines' };

export function sortLines(here: Here): Refactoring[] {
  const [first, second] = here.statements;
  if (!first) return [];
  const chosen = second !== undefined;
  const rows = chosen ? rowsOf(here, here.statements) : groupOf(here, first);
  const called = CALLED[first.$type];
  if (!called || rows.length < 2 || rows.some(({ statement }) => !here.isSound(statement))) return [];
  const keys = keysOf(here, rows);
  if (!keys) return [];
  const sorted = rows.map((row, index) => ({ row, index })).sort((a, b) => compare(keys[a.index], keys[b.index]) || a.index - b.index);
  const moved = sorted.some(({ index }, at) => index !== at);
  if (
    !moved ||
    sorted.some(({ row, index }, at) => sorted.slice(0, at).some((other) => other.index > index && hangTogether(row, other.row)))
  )
    return [];
  const { text } = here.layout;
  const edits = rows.flatMap((row, at) => {
    const there = sorted[at]?.row;
    return there === undefined || there === row ? [] : [here.layout.edit(row.start, row.end, text.slice(there.start, there.end))];
  });
  return [
    {
      title: `Sort ${chosen ? 'the selected' : 'these'} ${called} by ${first.$type === 'House' ? 'number' : 'port'}`,
      kind: 'refactor.rewrite.sort',
      edit: { changes: { [here.document.uri.toString()]: edits } },
    },
  ];
}

type Key = readonly number[];

function compare(a: Key = [], b: Key = []): number {
  return a.map((each, index) => each - (b[index] ?? 0)).find((difference) => difference !== 0) ?? 0;
}

/** What each row is sorted by: devices in the order in which they come first, then their ports. */
function keysOf(here: Here, rows: readonly Row[]): Key[] | undefined {
  const devices: ast.Gear[] = [];
  const keys = rows.map(({ statement }): Key | undefined => {
    if (statement.$type === 'House') {
      const number = Number(statement.number);
      return Number.isFinite(number) ? [number] : undefined;
    }
    if (statement.$type !== 'Input' && statement.$type !== 'Output') return undefined;
    const gear = statement.port?.gear?.ref;
    if (!gear) return undefined;
    if (!devices.includes(gear)) devices.push(gear);
    const port = portIndex(gear, statement.port.first, statement.$type === 'Input' ? 'input' : 'output');
    return port === undefined ? undefined : [devices.indexOf(gear), port];
  });
  return keys.every((key) => key !== undefined) ? keys : undefined;

  function portIndex(gear: ast.Gear, id: string, direction: 'input' | 'output'): number | undefined {
    const piece = here.analysis.lowered.rig.pieces.get(`gear:${gear.name}`);
    const ports = piece?.model.ports.filter((port) => port.direction === direction).map((port) => port.id) ?? [];
    // A model that makes an inherited port its own puts it where it is written; numbers count as numbers all the same.
    const order = ports.toSorted((a, b) => byNumber(a) - byNumber(b));
    const at = order.indexOf(id);
    return at < 0 ? undefined : at;
  }
}

function byNumber(id: string): number {
  return /^\d+$/.test(id) ? Number(id) : Number.POSITIVE_INFINITY;
}

/** Of two lines that come together in a box or a source the first has the first choice, unless each names its side. */
function hangTogether(a: Row, b: Row): boolean {
  const [one, other] = [endsOf(a.statement), endsOf(b.statement)];
  return one.some((end) => other.some((another) => end.target === another.target && !(end.port && another.port)));
}

function endsOf(statement: ast.Statement): { target: unknown; port: string | undefined }[] {
  if (statement.$type !== 'Input' && statement.$type !== 'House' && statement.$type !== 'Output') return [];
  const via =
    statement.$type === 'Input'
      ? statement.clauses.flatMap((clause) => (clause.$type === 'Via' ? clause.steps : []))
      : (statement.via?.steps ?? []);
  const named = via.filter((step) => step.target?.ref?.$type === 'Gear').map((step) => ({ target: step.target?.ref, port: step.port }));
  const start =
    statement.$type === 'Output'
      ? { target: statement.mix?.ref, port: undefined }
      : { target: statement.taken?.target?.ref, port: statement.taken?.port };
  // Lines that need nothing of each other: what cannot be found is no tie.
  return [start, ...named].filter(({ target }) => target !== undefined);
}
