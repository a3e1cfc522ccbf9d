/** What comes in, as a table: where lines are too many to be followed with a finger. A row for each, a column for each mix. */
import type { Checked } from '#engine';
import { patchList } from '../patch-list/patchList';
import type { Cell, Column, TableBlock, TableRow } from '../sheet';

/** More lines than this, to our inputs and to the house, nobody follows across a page (common practice, no source). */
const MOST_LINES = 20;
/** So many mixes stand beside each other; of more, the names are told in one cell. */
const MOST_MIXES = 10;
const HEARD = '●';

/** Undefined where the lines can be drawn. */
export function matrixOf(checked: Checked): TableBlock | undefined {
  const { rig, network } = checked;
  const lines = network.lines.filter(({ run }) => run.kind === 'input' || (run.kind === 'house' && rig.sources.has(run.takes?.id ?? '')));
  if (lines.length <= MOST_LINES) return undefined;
  const { inputs, house } = patchList(checked, []);
  const mixes = [...rig.mixes.values()];
  const apart = mixes.length <= MOST_MIXES;
  const heard = (about: readonly string[], label: string) =>
    mixes.map(({ sends }) =>
      sends.some(({ source, channel }) => about.includes(source) && (channel === undefined || label.endsWith(` ${channel}`))),
    );
  const mixCells = (about: readonly string[], label: string): Cell[] => {
    const found = heard(about, label);
    if (apart) return found.map((each) => (each ? HEARD : null));
    return [
      mixes
        .filter((_, index) => found[index])
        .map((mix) => mix.label)
        .join(', ') || null,
    ];
  };
  const shown = new Set(inputs.flatMap((row) => row.house.split(', ')));
  const rows: TableRow[] = [
    ...inputs.map(({ key, place, about, unfinished, source, by, taken, port, leads, house: numbers }) => ({
      key,
      place,
      about,
      unfinished,
      findings: [],
      cells: [source, by, taken, port, numbers, leads, ...mixCells(about, source)],
    })),
    ...house
      .filter(({ number, gets }) => gets !== 'own mic' && !shown.has(number))
      .map(({ key, place, about, unfinished, label, from, number, leads }) => ({
        key: `house ${key}`,
        place,
        about,
        unfinished,
        findings: [],
        cells: [label, null, from, null, number, leads, ...mixCells(about, label)],
      })),
  ];
  const columns: Column[] = [
    { title: 'Source', names: true },
    { title: 'By' },
    { title: 'Through' },
    { title: 'Our input' },
    { title: 'House' },
    { title: 'Leads' },
    ...(apart
      ? mixes.map(({ label }, index) => ({
          title: mixes.findIndex((mix) => mix.label === label) === index ? label : `${label} ${index + 1}`,
        }))
      : [{ title: 'In the mixes' }]),
  ];
  return {
    kind: 'table',
    id: 'matrix',
    title: 'What comes in',
    remark: `These are too many to follow in a drawing: a row for each that comes in, with its way to our input, its line at the house and the mixes that it is in (${HEARD}).`,
    columns,
    rows,
    empty: 'Nothing comes in yet.',
  };
}
