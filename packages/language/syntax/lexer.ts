/** Tokens of a stretch of text, at their places in the whole file, and what can be seen to be wrong in them alone. */
import type { ILexingError, IToken } from 'chevrotain';
import { DefaultLexer, type LexerResult, type LexingReport, type TokenizeOptions } from 'langium';

/** A brace that is never closed. */
export interface Unclosed {
  readonly offset: number;
  /** The statement it belongs to: `model our-interface`. */
  readonly of: string;
}

/** What can be seen in the tokens alone. */
export interface RigLexingReport extends LexingReport {
  readonly unclosed: readonly Unclosed[];
  /** Strings without their closing quote. */
  readonly openQuotes: readonly IToken[];
  /** Dots with a gap before or after them, with their neighbours. */
  readonly spacedDots: readonly { readonly before: IToken; readonly after: IToken }[];
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
    const { tokens, hidden, errors } = super.tokenize(text);
    for (const list of [tokens, hidden]) for (const token of list) place(token, offset, line);
    for (const error of errors) error.offset += offset;
    return { tokens, hidden, errors };
  }

  /** Closing braces that were forgotten, to be read after `last` as if they were there. */
  closing(count: number, last: IToken): IToken[] {
    const type = this.definition['}'] as IToken['tokenType'];
    const offset = (last.endOffset ?? last.startOffset) + 1;
    return Array.from({ length: count }, () => ({
      image: '}',
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
    }));
  }
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

export function spacedDots(tokens: readonly IToken[]): { before: IToken; after: IToken }[] {
  return tokens.flatMap((token, index) => {
    if (token.image !== '.') return [];
    const before = tokens[index - 1];
    const after = tokens[index + 1];
    if (!before || !after) return [];
    const tight = before.endOffset === token.startOffset - 1 && after.startOffset === token.startOffset + 1;
    return tight ? [] : [{ before, after }];
  });
}
