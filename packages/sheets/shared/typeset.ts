/**
 * Words as they are printed: a minus is a minus and apostrophes are curly, whoever wrote them. Straight double quotes stay: they stand
 * around what is to be typed into the rig as it is. Keys and places stay as they are.
 */
import type { Block, Cell, Sheet } from '../sheet';

/** `−4 dB`, `Idris’s pack`. A hyphen inside a word or between figures stays one, and quotes around words stay. */
export function typeset(words: string): string {
  return words.replace(/(?<![\p{L}\p{N}_.…)-])-(?=\d)/gu, '\u2212').replace(/(?<=\p{L})'(?=\p{L})|(?<=s)'(?= \p{L})/gu, '\u2019');
}

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

export function typesetSheet(sheet: Sheet): Sheet {
  return {
    ...fieldsOf(sheet, 'title'),
    facts: sheet.facts.map(typeset),
    ...(sheet.occasion ? { occasion: sheet.occasion.map(typeset) } : {}),
    blocks: sheet.blocks.map(blockSet),
  };
}
