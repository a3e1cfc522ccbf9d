/** What a text is made of besides white space: tokens, comments, and stretches that cannot be read and stay as they are. */
import type { IToken } from 'chevrotain';
import type { RigLexer } from '../syntax/lexer';
import type { ParsedStretch } from '../syntax/parser';

export interface Piece {
  readonly kind: 'token' | 'comment' | 'asWritten';
  readonly start: number;
  /** Behind its last character. */
  readonly end: number;
  /** Empty for what stays as written. */
  readonly text: string;
}

const BLANK_OR_COMMENT = /^\s*(?:#.*)?$/;

/** All pieces of a text in their order. A broken stretch is one piece of whole lines, from its first word to its last. */
export function piecesOf(text: string, stretches: readonly ParsedStretch[], lexer: RigLexer): Piece[] {
  const { tokens, hidden } = lexer.tokenizeAt(text, 0, 0);
  const broken = stretches.flatMap((stretch) => (stretch.sound ? [] : wholeLines(text, stretch)));
  const comments = hidden.filter(({ tokenType }) => tokenType.name === 'COMMENT');
  const pieces = [...inOrder(tokens, comments)].map(({ token, kind }): Piece => {
    const image = kind === 'comment' ? token.image.trimEnd() : token.image;
    return { kind, start: token.startOffset, end: token.startOffset + image.length, text: image };
  });
  if (broken.length === 0) return pieces;
  const all: Piece[] = [];
  let next = 0;
  for (const piece of pieces) {
    while (next < broken.length && (broken[next] as Piece).start <= piece.start) all.push(broken[next++] as Piece);
    const before = all.at(-1);
    if (before?.kind !== 'asWritten' || piece.start >= before.end) all.push(piece);
  }
  return [...all, ...broken.slice(next)];
}

function* inOrder(tokens: readonly IToken[], comments: readonly IToken[]): Generator<{ token: IToken; kind: 'token' | 'comment' }> {
  let next = 0;
  for (const token of tokens) {
    for (; next < comments.length && (comments[next] as IToken).startOffset < token.startOffset; next++) {
      yield { token: comments[next] as IToken, kind: 'comment' };
    }
    yield { token, kind: 'token' };
  }
  for (; next < comments.length; next++) yield { token: comments[next] as IToken, kind: 'comment' };
}

/** The lines of a stretch, without the blank lines and comments before and after it. */
function wholeLines(text: string, { start, end }: ParsedStretch): Piece[] {
  let first: number | undefined;
  let last = start;
  const line = /[^\r\n]*(?:\r\n|\n|\r|$)/y;
  for (let at = start; at < end; ) {
    line.lastIndex = at;
    const found = line.exec(text)?.[0] ?? '';
    const content = found.replace(/[\r\n]+$/, '');
    if (!BLANK_OR_COMMENT.test(content)) {
      first ??= at;
      last = at + content.length;
    }
    at += Math.max(1, found.length);
  }
  return first === undefined ? [] : [{ kind: 'asWritten', start: first, end: last, text: '' }];
}
