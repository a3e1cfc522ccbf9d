/** What of ours runs on batteries: how many of each model, and how long they last. */
import { onBatteries, tidy } from '#engine';
import type { Model } from '#rig';
import type { TableBlock, TableRow } from '../sheet';
import type { Context } from './context';
import { byModel, type Item } from './holdings';
import { tableRow } from './tableRow';

/** Things of one model together, however they are held. What is the house's is for the house. */
export function batteryTable(
  context: Context,
  items: readonly Item[],
  title: string,
  remark: string,
  { lasts }: { readonly lasts: boolean },
): TableBlock {
  const ours = items.filter(({ how, model }) => how !== 'theirs' && onBatteries(model));
  return {
    kind: 'table',
    id: 'batteries',
    title,
    columns: [
      { title: 'Count', number: true },
      { title: 'What', names: true },
      { title: 'Which or for what' },
      ...(lasts ? [{ title: 'Lasts', unit: 'h', number: true }] : []),
      { title: 'Cells', ...(lasts ? { under: { title: 'With a set to spare' } } : {}) },
    ],
    rows: byModel(context, ours).map((item) => batteryRow(item, lasts)),
    empty: 'Nothing runs on batteries.',
    remark,
    ticks: 'boxes',
  };
}

function batteryRow({ model, pieces, which, places }: Item, lasts: boolean): TableRow {
  const lifeS = model.power?.lifeS;
  const hours = lifeS === undefined ? undefined : Number(tidy(lifeS / 3600, 1));
  return tableRow(
    model.id,
    [
      pieces.length,
      model.label,
      which.join(', '),
      ...(lasts ? [hours] : []),
      cellsText(model, pieces.length),
      ...(lasts ? [cellsText(model, 2 * pieces.length)] : []),
    ],
    { place: places[0], about: places },
  );
}

/** `4 AA`, where its model says what it takes. */
function cellsText(model: Model, pieces: number): string | undefined {
  const cells = model.power?.cells;
  return cells && `${cells.count * pieces} ${cells.kind}`;
}
