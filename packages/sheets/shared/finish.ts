/** What every sheet gets last: the evening, the mark of its rig, and its words as they are printed. */
import { tidy } from '#engine';
import { fromBase, type Rig } from '#rig';
import type { Block, Sheet } from '../sheet';
import { occasionOf } from './facts';
import { fingerprintOf } from './fingerprint';
import type { Note } from './model';
import { typesetSheet } from './typeset';

export function finished<Id extends string>(sheet: Sheet<Id>, rig: Rig): Sheet<Id> {
  const whole: Sheet<Id> = { ...sheet, ...occasionOf(rig), fingerprint: fingerprintOf(rig) };
  return typesetSheet(rig.settings.inFeet ? { ...whole, blocks: whole.blocks.map(notesInFeet) } : whole);
}

/** Findings are told in metres, whatever the rig is written in. */
function notesInFeet(block: Block): Block {
  if (block.kind === 'notes') return { ...block, notes: block.notes.map(noteInFeet) };
  if (block.kind !== 'table') return block;
  return { ...block, rows: block.rows.map((row) => (row.findings.length > 0 ? { ...row, findings: row.findings.map(noteInFeet) } : row)) };
}

function noteInFeet({ what, why, cure, ...note }: Note): Note {
  return { ...note, what: inFeet(what), why: inFeet(why), cure: inFeet(cure) };
}

/** What is to be typed stands in straight quotes, and stays as it is. */
export function inFeet(words: string): string {
  return words.replace(/"[^"]*"|(\d+(?:\.\d+)?) m\b/g, (all, metres?: string) =>
    metres === undefined ? all : `${tidy(fromBase(Number(metres), 'ft'), 0)} ft`,
  );
}
