/** The words of a sheet as they are printed. Keys and places stay as they are. */
import { typeset } from '#engine';
import type { Block, Cell, Sheet } from '../sheet';

function cell(each: Cell): Cell {
  return typeof each === 'string' ? typeset(each) : each;
}

/** The fields of these names, where they are words. */
function fieldsOf<T extends object>(thing: T, ...names: readonly (keyof T)[]): T {
  const changed = names.flatMap((name) => {
    const words = thing[name];
    return typeof words === 'string' ? [[name, typeset(words)] as const] : [];
  });
  return { ...thing, ...Object.fromEntries(changed) };
}

function blockSet(block: Block): Block {
  const titled = fieldsOf(block, 'title', 'remark');
  switch (titled.kind) {
    case 'table':
      return {
        ...fieldsOf(titled, 'empty'),
        rows: titled.rows.map((row) => ({
          ...fieldsOf(row, 'name'),
          cells: row.cells.map(cell),
          findings: row.findings.map((note) => fieldsOf(note, 'what', 'why', 'cure', 'allowed')),
        })),
      };
    case 'drawing':
      return {
        ...fieldsOf(titled, 'description'),
        drawing: {
          ...titled.drawing,
          shapes: titled.drawing.shapes.map((shape) => (shape.kind === 'words' ? fieldsOf(shape, 'text') : shape)),
        },
      };
    case 'form':
      return { ...titled, fields: titled.fields.map((field) => fieldsOf(field, 'title', 'value')) };
    case 'notes':
      return { ...titled, notes: titled.notes.map((note) => fieldsOf(note, 'what', 'why', 'cure', 'allowed')) };
    case 'cautions':
      return { ...titled, cautions: titled.cautions.map((caution) => fieldsOf(caution, 'subject', 'text')) };
  }
}

/** Words of every sheet, whatever it is made from. */
export function typesetSheet<Id extends string>(sheet: Sheet<Id>): Sheet<Id> {
  return {
    ...fieldsOf(sheet, 'title'),
    facts: sheet.facts.map(typeset),
    ...(sheet.occasion ? { occasion: sheet.occasion.map(typeset) } : {}),
    blocks: sheet.blocks.map(blockSet),
  };
}
