/** The changes to white space that bring a text into its layout. */
import type { Piece } from './pieces';

/** What stands between two offsets of a text is replaced. Nothing but white space is, and by nothing else. */
export interface SpaceEdit {
  readonly start: number;
  readonly end: number;
  readonly newText: string;
}

const MARK = '\uFEFF';

/** One edit for each stretch that changes; at most one blank line stays, and line ends stay as they are. */
export function editsTo(text: string, pieces: readonly Piece[], spaces: readonly number[]): SpaceEdit[] {
  const edits: SpaceEdit[] = [];
  const put = (start: number, end: number, newText: string) => {
    if (text.slice(start, end) !== newText) edits.push({ start, end, newText });
  };
  // A byte order mark is not ours to take away.
  let at = text.startsWith(MARK) ? 1 : 0;
  for (const [index, piece] of pieces.entries()) {
    const before = pieces[index - 1];
    const space = ' '.repeat(spaces[index] ?? 0);
    if (!before) put(at, Math.max(at, piece.start), space);
    else between(text, before, piece, space, put);
    at = piece.end;
  }
  atEnd(text, at, pieces, put);
  return edits;
}

type Put = (start: number, end: number, newText: string) => void;

function between(text: string, before: Piece, piece: Piece, space: string, put: Put): void {
  const breaks = breaksIn(text, before.end, piece.start);
  const [first, second] = breaks;
  const last = breaks.at(-1);
  if (!first || !last) {
    put(before.end, piece.start, space);
    return;
  }
  put(before.end, first.start, '');
  if (second) {
    put(first.end, second.start, '');
    if (last !== second) put(second.end, last.end, '');
  }
  put(last.end, piece.start, space);
}

function atEnd(text: string, at: number, pieces: readonly Piece[], put: Put): void {
  const [first] = breaksIn(text, at, text.length);
  if (pieces.length === 0) put(at, text.length, '');
  else if (first) {
    put(at, first.start, '');
    put(first.end, text.length, '');
  } else put(at, text.length, /\r\n|\n|\r/.exec(text)?.[0] ?? '\n');
}

function breaksIn(text: string, start: number, end: number): { start: number; end: number }[] {
  return [...text.slice(start, end).matchAll(/\r\n|\n|\r/g)].map(({ index, 0: { length } }) => ({
    start: start + index,
    end: start + index + length,
  }));
}
