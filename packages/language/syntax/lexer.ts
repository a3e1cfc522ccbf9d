/** Tokens of a stretch of text, at their places in the whole file, and what can be seen to be wrong in them alone. */
import type { ILexingError, IToken } from 'chevrotain';
import { DefaultLexer, type LexerResult, type LexingReport, type TokenizeOptions } from 'langium';
import { goesOn } from './meant';
import { mergeMarks } from './merge';
import { isStatementWord, type StatementWord } from './words';

/** A brace that is never closed. */
export interface Unclosed {
  readonly offset: number;
  /** The statement it belongs to: `model our-interface`. */
  readonly of: string;
}

/** A name and a dot, or two behind a socket, and then what goes on behind it: `input iface. takes voice`, `input iface.1.. takes keys`. */
export interface SocketLeftOut {
  readonly before: IToken;
  readonly dot: IToken;
  readonly statement: StatementWord;
  /** It is the end of the line itself that is not said, and not something on the way. */
  readonly first: boolean;
}

/** What can be seen in the tokens alone. */
export interface RigLexingReport extends LexingReport {
  readonly unclosed: readonly Unclosed[];
  /** Strings without their closing quote. */
  readonly openQuotes: readonly IToken[];
  /** Dots with a gap before or after them, with their neighbours. */
  readonly spacedDots: readonly { readonly before: IToken; readonly after: IToken }[];
  /** Dots with no socket behind them, single or those of a range. */
  readonly socketsLeftOut: readonly SocketLeftOut[];
  /** Ranges written with a dash, with their two ends. */
  readonly dashRanges: readonly { readonly before: IToken; readonly after: IToken }[];
}

export class RigLexer extends DefaultLexer {
  private prepared: LexerResult | undefined;

  /** Lets the parser's next run read these tokens, whatever text it is given. */
  prepare(tokens: IToken[], hidden: IToken[]): void {
    this.prepared = { tokens, hidden, errors: [] };
  }

  override tokenize(text: string, options?: TokenizeOptions): LexerResult {
    const { prepared } = this;
    this.prepared = undefined;
    return prepared ?? super.tokenize(text, options);
  }

  /** The tokens of a stretch that starts a line, placed where it stands in its file. */
  tokenizeAt(text: string, offset: number, line: number): { tokens: IToken[]; hidden: IToken[]; errors: ILexingError[] } {
    const { tokens: asWritten, hidden, errors: strange } = super.tokenize(text);
    const { tokens, errors } = this.withRanges(text, ...withoutForeignComments(text, ...withoutOtherStates(text, asWritten, strange)));
    for (const list of [tokens, hidden]) for (const token of list) place(token, offset, line);
    for (const error of errors) error.offset += offset;
    return { tokens, hidden, errors };
  }

  /** Two numbers joined by a dash or a comma, `3-4`, `0–55`, `iface.3,4`, are read as the range they are meant to be, `3..4`; it is reported. */
  private withRanges(text: string, tokens: IToken[], errors: ILexingError[]): { tokens: IToken[]; errors: ILexingError[] } {
    const dashes = new Set<number>();
    const mended = tokens.flatMap((token, index) => {
      const before = tokens[index - 1];
      const comma = before?.image === '.' && before.endOffset === token.startOffset - 1 ? /^(\d+),(\d+)$/.exec(token.image) : null;
      if (comma?.[1] && comma[2]) {
        const first = {
          ...token,
          image: comma[1],
          endOffset: token.startOffset + comma[1].length - 1,
          endColumn: (token.startColumn ?? 1) + comma[1].length - 1,
        };
        return [
          first,
          ...this.rangeFrom(
            text,
            first,
            { ...token, image: comma[2], startOffset: first.endOffset + 2, startColumn: first.endColumn + 2 },
            dashes,
          ),
        ];
      }
      if (token.tokenType.name !== 'NUMBER' || before?.tokenType.name !== 'NUMBER') return [token];
      const end = before.endOffset ?? before.startOffset;
      const minus = token.startOffset === end + 1 && /^[-\u2212\u2013]/.test(token.image);
      // A longer dash is no part of a number, so the lexer stumbles over it.
      const dash = token.startOffset === end + 2 && /[\u2010-\u2015]/.test(text.charAt(end + 1));
      if (!minus && !dash) return [token];
      return this.rangeFrom(
        text,
        before,
        dash ? token : { ...token, image: token.image.slice(1), startOffset: end + 2, startColumn: (token.startColumn ?? 1) + 1 },
        dashes,
      );
    });
    if (dashes.size === 0) return { tokens, errors };
    return { tokens: mended, errors: errors.filter((error) => !(error.length === 1 && dashes.has(error.offset))) };
  }

  private rangeFrom(text: string, before: IToken, after: IToken, dashes: Set<number>): IToken[] {
    const type = this.definition['..'] as IToken['tokenType'];
    const at = (before.endOffset ?? before.startOffset) + 1;
    const column = (before.endColumn ?? 0) + 1;
    dashes.add(at);
    return [
      {
        ...before,
        image: text.charAt(at),
        startOffset: at,
        endOffset: at,
        startColumn: column,
        endColumn: column,
        tokenType: type,
        tokenTypeIdx: type.tokenTypeIdx as number,
      },
      after,
    ];
  }

  /** Closing braces that were forgotten, to be read after `last` as if they were there. */
  closing(count: number, last: IToken): IToken[] {
    return Array.from({ length: count }, () => this.missing('}', '}', last));
  }

  /** Tokens to read as if a socket stood behind each of these dots: what is behind it can be understood as ever. */
  withSockets(tokens: readonly IToken[], leftOut: readonly SocketLeftOut[]): IToken[] {
    const dots = new Set(leftOut.map(({ dot }) => dot));
    return tokens.flatMap((token) => (dots.has(token) ? [token, this.missing('ID', '', token)] : [token]));
  }

  /** What is not in the text, right behind what is. */
  private missing(name: string, image: string, last: IToken): IToken {
    const type = this.definition[name] as IToken['tokenType'];
    const offset = (last.endOffset ?? last.startOffset) + 1;
    return {
      image,
      startOffset: offset,
      endOffset: offset - 1,
      startLine: last.endLine,
      endLine: last.endLine,
      startColumn: last.endColumn,
      endColumn: last.endColumn,
      tokenType: type,
      tokenTypeIdx: type.tokenTypeIdx as number,
      // Keeps it out of the syntax tree: it is not in the text.
      isInsertedInRecovery: true,
    };
  }
}

/** Comments in the manner of other languages: what follows `//` at the start of a line is no part of the rig. */
function withoutForeignComments(text: string, tokens: IToken[], errors: ILexingError[]): [IToken[], ILexingError[]] {
  const comments = tokens.flatMap((token, index) => {
    const next = tokens[index + 1];
    const lineStart = token.startOffset - (token.startColumn ?? 1) + 1;
    if (
      token.image !== '/' ||
      next?.image !== '/' ||
      next.startOffset !== token.startOffset + 1 ||
      text.slice(lineStart, token.startOffset).trim() !== ''
    )
      return [];
    const length = /^[^\r\n]*/.exec(text.slice(token.startOffset))?.[0].trimEnd().length ?? 2;
    return [{ offset: token.startOffset, length, line: token.startLine, column: token.startColumn, message: '' }];
  });
  if (comments.length === 0) return [tokens, errors];
  const outside = (offset: number) => !comments.some((comment) => offset >= comment.offset && offset < comment.offset + comment.length);
  return [
    tokens.filter((token) => outside(token.startOffset)),
    [...errors.filter((error) => outside(error.offset)), ...comments].sort((a, b) => a.offset - b.offset),
  ];
}

/** Of a merge that is not settled the first state is read; what is skipped is reported, so that nothing of it is written over. */
function withoutOtherStates(text: string, tokens: IToken[], errors: ILexingError[]): [IToken[], ILexingError[]] {
  const skipped = mergeMarks(text);
  if (skipped.length === 0) return [tokens, errors];
  const outside = (offset: number) => !skipped.some(({ start, end }) => offset >= start && offset < end);
  const marks = skipped.map(({ start, end }) => ({ offset: start, length: end - start, line: undefined, column: undefined, message: '' }));
  return [
    tokens.filter((token) => outside(token.startOffset)),
    [...errors.filter((error) => outside(error.offset)), ...marks].sort((a, b) => a.offset - b.offset),
  ];
}

function place(token: IToken, offset: number, line: number): void {
  token.startOffset += offset;
  token.endOffset = (token.endOffset ?? token.startOffset) + offset;
  token.startLine = (token.startLine ?? 1) + line;
  token.endLine = (token.endLine ?? 1) + line;
}

export function isOpenQuote({ image, tokenType }: IToken): boolean {
  return tokenType.name === 'STRING' && (image.length < 2 || !/["\u201D]$/.test(image));
}

/** Ranges written with a dash. */
export function dashRanges(tokens: readonly IToken[]): { before: IToken; after: IToken }[] {
  return tokens.flatMap((token, index) => {
    const before = tokens[index - 1];
    const after = tokens[index + 1];
    return token.tokenType.name === '..' && token.image !== '..' && before && after ? [{ before, after }] : [];
  });
}

/** Where lines are plugged. In others what stands behind a dot is a side, and no clause comes after it. */
const PLUGGING: ReadonlySet<string> = new Set<StatementWord>(['gear', 'input', 'house', 'output']);

export function socketsLeftOut(tokens: readonly IToken[]): SocketLeftOut[] {
  let statement: StatementWord | undefined;
  let start = -1;
  return tokens.flatMap((dot, index) => {
    const before = tokens[index - 1];
    const after = tokens[index + 1];
    if (isStatementWord(dot.image) && (!before || (dot.startLine ?? 0) > (before.endLine ?? 0))) [statement, start] = [dot.image, index];
    if (!before || !after || !statement || !PLUGGING.has(statement) || !goesOn(after.image, statement)) return [];
    // Right behind the dot it is a name like any other.
    if (dot.image === '.' && (before.endOffset !== dot.startOffset - 1 || after.startOffset === dot.startOffset + 1)) return [];
    // Only the line's own end can be a range.
    if (dot.image === '..' ? statement === 'house' || statement === 'gear' || index !== start + 4 : dot.image !== '.') return [];
    return [{ before, dot, statement, first: index === start + 2 }];
  });
}

export function spacedDots(tokens: readonly IToken[], leftOut: readonly SocketLeftOut[] = []): { before: IToken; after: IToken }[] {
  const bare = new Set(leftOut.map(({ dot }) => dot));
  return tokens.flatMap((token, index) => {
    if (token.image !== '.' || bare.has(token)) return [];
    const before = tokens[index - 1];
    const after = tokens[index + 1];
    // Between a name and a socket, that is; elsewhere a dot is a mistake of another kind.
    if (!before || !after || /^[^\p{L}\p{N}_]$/u.test(before.image) || /^[^\p{L}\p{N}_]/u.test(after.image)) return [];
    const tight = before.endOffset === token.startOffset - 1 && after.startOffset === token.startOffset + 1;
    return tight ? [] : [{ before, after }];
  });
}
