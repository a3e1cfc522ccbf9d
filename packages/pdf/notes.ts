/** Findings in words: how bad by a word and a shape, then what, why and what to do. */
import type { Content, ContentNode } from 'pdfmake';
import { kindOf, type Note, SEVERITY_SHAPES } from '#sheets/print';
import { INK, type Look, MUTED } from './look';
import type { Tag } from './tags';
import type { Type } from './type';

/** No finding is longer than this many lines; one of ours is three or four. */
const MOST_LINES = 24;

export function noteContent(note: Note, type: Type, { text, small }: Look, width: number, tag: Tag): ContentNode {
  const room = width - text * 1.5;
  const set = (part: string) => type.fitted(type.settable(part), text, room, MOST_LINES).replaceAll('\n', ' ');
  const parts: Content[] = [
    { text: kindOf(note), bold: true },
    ` ${set(note.what)} `,
    { text: `${set(note.why)} `, color: MUTED },
    `${set(note.cure)} `,
    { text: note.code, fontSize: small, color: MUTED },
  ];
  return {
    columns: [
      { width: text, svg: shape(SEVERITY_SHAPES[note.severity]), fit: [text, text], margin: [0, text * 0.15, 0, 0] },
      { width: '*', text: parts, fontSize: text, tag },
    ],
    columnGap: text * 0.5,
    margin: [0, 0, 0, text * 0.35],
  };
}

/** As many lines as it takes, to know how high it is. */
export function noteLines(note: Note, type: Type, { text }: Look, width: number): number {
  const words = [kindOf(note), note.what, note.why, note.cure, note.code].join(' ');
  return Math.min(3 * MOST_LINES, type.lines(type.settable(words), text, width - text * 1.5).length);
}

function shape(path: string): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 16 16" width="16" height="16"><path fill="${INK}" fill-rule="evenodd" d="${path}"/></svg>`;
}
