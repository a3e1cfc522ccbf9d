/**
 * Closes what was left open.
 *
 * An unclosed brace would swallow the statements after it. A statement word at the start of a line cannot stand inside
 * braces (but for a model's own ports), so a closing brace is put in before it, and the opening one is reported.
 */
import type { IToken } from 'chevrotain';
import { DefaultLexer, type LexerResult, type LexingReport, type TokenizeOptions } from 'langium';
import { isStatementWord } from './words';

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
  override tokenize(text: string, options?: TokenizeOptions): LexerResult {
    const result = super.tokenize(text, options);
    // Completion looks at half a text on purpose.
    if (options?.mode === 'partial') return result;
    const { tokens, unclosed } = closeBraces(result.tokens, this.definition);
    const report: RigLexingReport = {
      diagnostics: result.report?.diagnostics ?? [],
      unclosed,
      openQuotes: result.tokens.filter(isOpenQuote),
      spacedDots: spacedDots(result.tokens),
    };
    return { ...result, tokens, report };
  }
}

function isOpenQuote({ image, tokenType }: IToken): boolean {
  return tokenType.name === 'STRING' && (image.length < 2 || !/["\u201D]$/.test(image));
}

function spacedDots(tokens: readonly IToken[]): { before: IToken; after: IToken }[] {
  return tokens.flatMap((token, index) => {
    const before = tokens[index - 1];
    const after = tokens[index + 1];
    if (token.image !== '.' || !before || !after) return [];
    const tight = before.endOffset === token.startOffset - 1 && after.startOffset === token.startOffset + 1;
    return tight ? [] : [{ before, after }];
  });
}

function closeBraces(tokens: IToken[], types: Record<string, IToken['tokenType']>): { tokens: IToken[]; unclosed: Unclosed[] } {
  const unclosed: Unclosed[] = [];
  const open: { offset: number; of: string; model: boolean }[] = [];
  let closed: IToken[] | undefined;
  let statement = '';
  let inModel = false;
  let previous: IToken | undefined;
  const close = (index: number) => {
    closed ??= tokens.slice(0, index);
    const type = types['}'] as IToken['tokenType'];
    const at = previous as IToken;
    const offset = (at.endOffset ?? at.startOffset) + 1;
    for (const brace of open.splice(0)) {
      // One message for each statement: its inner braces are open because the outer one is.
      if (unclosed.at(-1)?.of !== brace.of) unclosed.push({ offset: brace.offset, of: brace.of });
      closed.push({
        image: '}',
        startOffset: offset,
        endOffset: offset - 1,
        startLine: at.endLine,
        endLine: at.endLine,
        startColumn: at.endColumn,
        endColumn: at.endColumn,
        tokenType: type,
        tokenTypeIdx: type.tokenTypeIdx as number,
        isInsertedInRecovery: true,
      } as IToken);
    }
  };
  for (const [index, token] of tokens.entries()) {
    const { image } = token;
    const startsLine = previous === undefined || (token.startLine ?? 0) > (previous.endLine ?? 0);
    if (open.length > 0 && startsLine && isStatementWord(image)) {
      const port = open[0]?.model && (image === 'input' || image === 'output') && tokens[index + 2]?.image !== '.';
      if (!port) close(index);
    }
    if (open.length === 0 && isStatementWord(image)) {
      inModel = image === 'model';
      statement = `${image} ${tokens[index + 1]?.image ?? ''}`.trim();
    }
    if (image === '{') open.push({ offset: token.startOffset, of: statement, model: inModel });
    else if (image === '}') open.pop();
    closed?.push(token);
    previous = token;
  }
  if (open.length > 0 && previous) close(tokens.length);
  return { tokens: closed ?? tokens, unclosed };
}
