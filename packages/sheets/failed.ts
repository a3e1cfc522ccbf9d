/** What stands in the place of a sheet that could not be made, and of what is too much for one. */
import type { Block, Sheet } from './sheet';

/** `says` is the problem's own message. */
export function failedSheet<Id extends string>({ id, name, title }: Pick<Sheet<Id>, 'id' | 'name' | 'title'>, problem: unknown): Sheet<Id> {
  const says = problem instanceof Error ? problem.message : String(problem);
  return {
    id,
    name,
    title,
    facts: [],
    blocks: [notice('failed', 'This sheet could not be made', `${WHAT_TO_DO} ${says}`)],
  };
}

/** The sheets, each for which `attempt` throws as one that says so. */
export function withoutFailing<Id extends string>(sheets: readonly Sheet<Id>[], attempt: (sheet: Sheet<Id>) => void): Sheet<Id>[] {
  return sheets.map((sheet) => {
    try {
      attempt(sheet);
      return sheet;
    } catch (problem) {
      return failedSheet(sheet, problem);
    }
  });
}

const WHAT_TO_DO =
  'Something in the rig is more than this sheet can cope with; your text is safe, and the other sheets are as they should be. Undo what you wrote last, or take lines out until the sheet is back: the last line taken out is the one. That it fails is a fault of Earloom: please tell its makers, with that line and this message:';

function notice(id: string, title: string, empty: string): Block {
  return { kind: 'table', id, title, columns: [], rows: [], empty };
}

/** More rows than anybody reads, in one sheet; of drawn things, more than a screen can move. */
const MOST_ROWS = 20_000;
const MOST_SHAPES = 100_000;

/** The sheet with no more in it than can be shown; what is left out is said in its place. */
export function bounded(sheet: Sheet): Sheet {
  let rows = MOST_ROWS;
  let shapes = MOST_SHAPES;
  const blocks = sheet.blocks.map((block): Block => {
    if (block.kind === 'drawing') {
      shapes -= block.drawing.shapes.length;
      return shapes >= 0
        ? block
        : notice(block.id, block.title, 'There is too much to draw here. Make the rig smaller, or split it into two.');
    }
    if (block.kind !== 'table') return block;
    const here = block.rows.slice(0, rows);
    rows -= here.length;
    if (here.length === block.rows.length) return block;
    const left = `Only ${here.length} of ${block.rows.length} rows are here: one sheet has no more than ${MOST_ROWS}. Make the rig smaller, or split it into two.`;
    return { ...block, rows: here, remark: [left, block.remark].filter(Boolean).join(' '), empty: left };
  });
  return { ...sheet, blocks };
}
