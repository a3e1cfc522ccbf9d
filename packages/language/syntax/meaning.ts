/**
 * A rig's text as far as it means something: a statement a line, in an order of its own, without comments and white space. Two texts that
 * differ in those alone have the same; it knows no other file. For programs that compare line by line.
 */
import type { IToken } from 'chevrotain';
import type { LangiumCoreServices } from 'langium';
import { cut } from './chunks';
import type { RigLexer } from './lexer';
import { hasMergeMarks } from './merge';
import { STATEMENT_WORDS } from './words';

/** What a `#` comment says that means something: that a finding may stand. */
const ALLOWS = /^#+[ \t]*allow[ \t]/;
const SIDES: ReadonlySet<string> = new Set(['left', 'right']);
const PARTS: ReadonlySet<string> = new Set(
  `input output phantom mixes latency power owned borrowed theirs spare hire buy typical peak lowest highest tunes carrier side-select mono-switch
  private public origin`.split(/\s+/),
);
const KINDS: ReadonlySet<string> = new Set(['mic', 'instrument', 'line', 'phones', 'speaker', 'digital', 'radio']);

/** Nothing where a part cannot be read: of that nobody knows whether it means something. */
export function meaningOf(services: LangiumCoreServices, text: string): string | undefined {
  const lexer = services.parser.Lexer as RigLexer;
  if (hasMergeMarks(text)) return undefined;
  const { tokens, hidden, errors } = lexer.tokenizeAt(text, 0, 0);
  if (errors.length > 0) return undefined;
  const stretches = cut(tokens);
  if (stretches.reduce((sum, stretch) => sum + stretch.tokens.length, 0) < tokens.length) return undefined;
  const allowing = hidden.filter(({ image }) => ALLOWS.test(image));
  const statements = stretches.map(({ tokens: own }) => {
    const [first, last] = [own[0] as IToken, own.at(-1) as IToken];
    // Behind the line, or above the statement.
    const allowed = allowing.filter(({ startLine = 0 }) => startLine >= (first.startLine ?? 0) && startLine <= (last.endLine ?? 0));
    for (const each of allowed) allowing.splice(allowing.indexOf(each), 1);
    while (allowing[0] && (allowing[0].startLine ?? 0) < (first.startLine ?? 0)) allowed.push(allowing.shift() as IToken);
    return { rank: rankOf(first), lines: [...linesOf(own), ...allowed.map(({ image }) => `  ${image.trim()}`)].join('\n') };
  });
  statements.push(...allowing.map(({ image }) => ({ rank: STATEMENT_WORDS.length, lines: image.trim() })));
  return statements
    .toSorted((a, b) => a.rank - b.rank || (a.lines < b.lines ? -1 : a.lines > b.lines ? 1 : 0))
    .map(({ lines }) => `${lines}\n`)
    .join('');
}

function rankOf({ image }: IToken): number {
  const rank = (STATEMENT_WORDS as readonly string[]).indexOf(image);
  return rank < 0 ? STATEMENT_WORDS.length : rank;
}

/** The statement on a line; of a model each socket, and each kind of signal on it, on one of its own, and of a mix each send, by name. */
function linesOf(tokens: readonly IToken[]): string[] {
  const isMix = tokens[0]?.image === 'mix';
  const lines: { depth: number; tokens: IToken[] }[] = [{ depth: 0, tokens: [] }];
  let depth = 0;
  for (const [index, token] of tokens.entries()) {
    const { image } = token;
    if (image === '}') depth = Math.max(0, depth - 1);
    const starts = depth > 0 && image !== '{' && image !== '}' && (isMix ? startsSend(tokens, index) : startsPart(tokens, index, depth));
    if (starts) lines.push({ depth, tokens: [] });
    // What is inside says by being set in that it is.
    if (image === '{') depth++;
    else if (image !== '}') lines.at(-1)?.tokens.push(token);
  }
  const [head, ...rest] = lines.map(({ depth: deep, tokens: own }) => '  '.repeat(deep) + joined(own));
  return [head ?? '', ...(isMix ? rest.sort() : rest)];
}

/** Behind a level, or a side with how far. */
function startsSend(tokens: readonly IToken[], index: number): boolean {
  const [token, before, earlier] = [tokens[index], tokens[index - 1], tokens[index - 2]];
  if (!token || SIDES.has(token.image)) return false;
  return before?.image === '{' || before?.image === '%' || isNumber(earlier);
}

function startsPart(tokens: readonly IToken[], index: number, depth: number): boolean {
  const [token, before] = [tokens[index], tokens[index - 1]];
  if (before?.image === '{') return true;
  if (depth > 1) return KINDS.has(token?.image ?? '');
  if (!PARTS.has(token?.image ?? '') || before?.image === 'from' || before?.image === ',') return false;
  // On a socket it says that it gives or needs it, and not how much there is.
  return token?.image !== 'phantom' || isNumber(tokens[index + 1]);
}

function isNumber(token: IToken | undefined): boolean {
  return token?.tokenType.name === 'NUMBER';
}

function joined(tokens: readonly IToken[]): string {
  return tokens
    .map(({ image, startOffset }, index) => {
      const before = tokens[index - 1];
      const tight = before === undefined || ((before.endOffset ?? 0) + 1 === startOffset && !/^[{}]$/.test(before.image)) || image === ',';
      return tight ? image : ` ${image}`;
    })
    .join('');
}
