/**
 * The parser. It reads a file statement by statement (see `chunks.ts`), and after an edit it reads again only what was
 * edited: what stands before is kept as it is, what stands after is moved.
 */
import type { ILexingError, ILookaheadStrategy, IRecognitionException, IToken } from 'chevrotain';
import {
  type AstNode,
  type CompositeCstNode,
  type CstNode,
  createParser,
  type LangiumCoreServices,
  LangiumParser,
  type LeafCstNode,
  type ParseResult,
  type ParserOptions,
  RootCstNodeImpl,
} from 'langium';
import type { RigFile, Statement } from '../generated/ast';
import { cut, cutAgain, type Stretch, startsForSure } from './chunks';
import { dashRanges, isOpenQuote, type RigLexer, type RigLexingReport, socketsLeftOut, spacedDots } from './lexer';
import { whenAsked } from './lookahead';
import { hasMergeMarks } from './merge';

/** A stretch of a file that was read by itself, with what came of it. */
export interface Chunk {
  /** From the start of the line of its first word to the start of the next chunk. */
  start: number;
  end: number;
  /** The line it starts at, from 0. */
  line: number;
  readonly statements: readonly Statement[];
  readonly nodes: readonly CstNode[];
  readonly startsForSure: boolean;
  /** It is the first of its stretch: what is cut again is more than one chunk, and read again all together. */
  readonly first: boolean;
  readonly mistakes?: Mistakes;
}

interface Mistakes {
  readonly parserErrors: readonly IRecognitionException[];
  readonly lexerErrors: readonly ILexingError[];
  readonly unclosed: RigLexingReport['unclosed'];
  readonly openQuotes: readonly IToken[];
  readonly spacedDots: RigLexingReport['spacedDots'];
  readonly socketsLeftOut: RigLexingReport['socketsLeftOut'];
  readonly dashRanges: RigLexingReport['dashRanges'];
}

/** A stretch of a text as the parser cut it, and whether nothing is wrong with how it is written. */
export interface ParsedStretch {
  readonly start: number;
  readonly end: number;
  readonly sound: boolean;
}

/** Where a statement stands in its text, up to the start of the next one. `line` is counted from 0. */
export interface Extent {
  readonly start: number;
  readonly end: number;
  readonly line: number;
}

/** How a syntax tree was put together, kept for the next time. Its nodes then belong to the new tree. */
const chunksOf = new WeakMap<ParseResult, { readonly text: string; readonly chunks: Chunk[] }>();

/** The stretches of a text, in its order and without gaps; nothing where its tree has been taken over by a newer one. */
export function stretchesOf(result: ParseResult): readonly ParsedStretch[] | undefined {
  return chunksOf.get(result)?.chunks.map(({ start, end, mistakes }) => ({ start, end, sound: mistakes === undefined }));
}

export class RigParser extends LangiumParser {
  private readonly rigLexer: RigLexer;

  constructor(services: LangiumCoreServices) {
    super(services);
    this.rigLexer = services.parser.Lexer as RigLexer;
    const own = this.wrapper as unknown as { lookaheadStrategy: ILookaheadStrategy };
    own.lookaheadStrategy = whenAsked(own.lookaheadStrategy);
  }

  override parse<T extends AstNode = AstNode>(text: string, options: ParserOptions = {}): ParseResult<T> {
    return options.rule === undefined ? (this.parseAgain(text) as unknown as ParseResult<T>) : super.parse<T>(text, options);
  }

  /** Reads a text, taking over from its previous state what has not changed. The previous tree is not to be used afterwards. */
  parseAgain(text: string, previous?: ParseResult): ParseResult<RigFile> {
    const before = previous && chunksOf.get(previous);
    if (previous) chunksOf.delete(previous);
    // What is skipped of a merge that is not settled may begin in one chunk and end in another.
    const whole = before === undefined || hasMergeMarks(text) || hasMergeMarks(before.text);
    return this.keep(text, before && !whole ? this.update(text, before) : this.read(text, 0, text.length, 0));
  }

  /** Reads one statement of a text by itself. `extent` has to be where reading the whole would cut it off. */
  parsePart(text: string, { start, end, line }: Extent): Chunk {
    return this.read(text, start, end, line)[0] as Chunk;
  }

  /** Reads a text of which some statements, by where they start, have been read already: their nodes then belong to the whole. */
  parseRest(text: string, parts: ReadonlyMap<number, Chunk>): ParseResult<RigFile> {
    return this.keep(text, this.read(text, 0, text.length, 0, parts));
  }

  private keep(text: string, chunks: Chunk[]): ParseResult<RigFile> {
    const result = assemble(text, chunks);
    chunksOf.set(result, { text, chunks });
    return result;
  }

  private update(text: string, before: { text: string; chunks: Chunk[] }): Chunk[] {
    const same = commonEnds(before.text, text);
    // The last chunk before the one that was edited may go on into it. What ends with the text is edited by what is typed behind it.
    const isBefore = (chunk: Chunk) => chunk.end <= same.start && chunk.end < before.text.length;
    let kept = Math.max(0, countWhile(before.chunks, isBefore) - 1);
    while (kept > 0 && !before.chunks[kept]?.first) kept--;
    const shift = text.length - before.text.length;
    const tail = before.text.length - same.end;
    // A chunk at the end is the same where the line break before it is, and where nothing before it can swallow it.
    let from = before.chunks.length;
    while (from > kept && (before.chunks[from - 1] as Chunk).start - 1 >= tail) from--;
    while (from < before.chunks.length && !before.chunks[from]?.startsForSure) from++;
    const head = before.chunks.slice(0, kept);
    const start = head.at(-1)?.end ?? 0;
    const line = before.chunks[kept]?.line ?? 0;
    const firstMoved = before.chunks[from];
    const end = firstMoved ? firstMoved.start + shift : text.length;
    const middle = this.read(text, start, end, line);
    const lines = firstMoved ? line + countLines(text, start, end) - firstMoved.line : 0;
    const moved = stretchesIn(before.chunks.slice(from)).flatMap((stretch) => {
      const [first, last] = [stretch[0] as Chunk, stretch.at(-1) as Chunk];
      // The places of mistakes are in many objects; reading them again is simpler than moving them.
      if (stretch.some(({ mistakes }) => mistakes)) return this.read(text, first.start + shift, last.end + shift, first.line + lines);
      // As their nodes, they belong to the new tree.
      for (const chunk of shift !== 0 || lines !== 0 ? stretch : []) {
        for (const node of chunk.nodes) move(node, shift, lines);
        chunk.start += shift;
        chunk.end += shift;
        chunk.line += lines;
      }
      return stretch;
    });
    return [...head, ...middle, ...moved];
  }

  private read(text: string, start: number, end: number, line: number, parts?: ReadonlyMap<number, Chunk>): Chunk[] {
    const { tokens, hidden, errors } = this.rigLexer.tokenizeAt(text.slice(start, end), start, line);
    const stretches = cut(tokens);
    if (stretches.length === 0) stretches.push({ tokens: [], open: [] });
    const chunks: Chunk[] = [];
    let nextHidden = 0;
    let nextError = 0;
    let from = start;
    let fromLine = line;
    const readTo = (stretch: Stretch, to: number, first: boolean): Chunk => {
      const firstHidden = nextHidden;
      while (nextHidden < hidden.length && (hidden[nextHidden] as IToken).startOffset < to) nextHidden++;
      const firstError = nextError;
      while (nextError < errors.length && (errors[nextError] as ILexingError).offset < to) nextError++;
      const ready = parts?.get(from);
      if (ready?.end === to && !ready.mistakes) return ready;
      const at = { start: from, end: to, line: fromLine, first };
      return this.readStretch(text, stretch, hidden.slice(firstHidden, nextHidden), errors.slice(firstError, nextError), at);
    };
    for (const [index, stretch] of stretches.entries()) {
      const next = stretches[index + 1]?.tokens[0];
      const [hiddenBefore, errorsBefore] = [nextHidden, nextError];
      const whole = readTo(stretch, next ? lineOf(next) : end, true);
      const pieces = whole.mistakes && whole.mistakes.parserErrors.length > 0 ? cutAgain(stretch) : [stretch];
      if (pieces.length > 1) [nextHidden, nextError] = [hiddenBefore, errorsBefore];
      for (const [at, piece] of pieces.entries()) {
        const after = pieces[at + 1]?.tokens[0] ?? next;
        const to = after ? lineOf(after) : end;
        chunks.push(pieces.length > 1 ? readTo(piece, to, at === 0) : whole);
        from = to;
        fromLine = (after?.startLine ?? 1) - 1;
      }
    }
    return chunks;
  }

  private readStretch(
    text: string,
    stretch: Stretch,
    hidden: IToken[],
    lexerErrors: ILexingError[],
    at: Pick<Chunk, 'start' | 'end' | 'line' | 'first'>,
  ): Chunk {
    const { tokens, open } = stretch;
    const last = tokens.at(-1);
    const leftOut = socketsLeftOut(tokens);
    const closed = last ? [...this.rigLexer.withSockets(tokens, leftOut), ...this.rigLexer.closing(open.length, last)] : [];
    this.rigLexer.prepare(closed, hidden);
    const { value, parserErrors } = super.parse<RigFile>(text);
    const root = value.$cstNode as CompositeCstNode | undefined;
    const mistakes: Mistakes = {
      parserErrors: [...parserErrors],
      lexerErrors,
      // Inner braces are open because the outer one is.
      unclosed: open.slice(0, 1),
      openQuotes: tokens.filter(isOpenQuote),
      spacedDots: spacedDots(tokens, leftOut),
      socketsLeftOut: leftOut,
      dashRanges: dashRanges(tokens),
    };
    const sound = Object.values(mistakes).every((list) => list.length === 0);
    return {
      ...at,
      statements: value.statements,
      nodes: root?.content ?? [],
      startsForSure: startsForSure(tokens),
      mistakes: sound ? undefined : mistakes,
    };
  }
}

export function createRigParser(services: LangiumCoreServices): RigParser {
  const parser = new RigParser(services);
  createParser(services.Grammar, parser, services.parser.Lexer.definition);
  parser.finalize();
  return parser;
}

function stretchesIn(chunks: readonly Chunk[]): Chunk[][] {
  const stretches: Chunk[][] = [];
  for (const chunk of chunks) {
    if (chunk.first || stretches.length === 0) stretches.push([]);
    stretches.at(-1)?.push(chunk);
  }
  return stretches;
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/** Where the line of a token that starts one begins. */
function lineOf(token: IToken): number {
  return token.startOffset - ((token.startColumn ?? 1) - 1);
}

/** One tree from many. */
function assemble(text: string, chunks: readonly Chunk[]): ParseResult<RigFile> {
  const root = new RootCstNodeImpl(text);
  const file = { $type: 'RigFile', statements: [], $cstNode: root } as Mutable<RigFile>;
  root.astNode = file;
  const parserErrors: IRecognitionException[] = [];
  const lexerErrors: ILexingError[] = [];
  const report = { diagnostics: [], unclosed: [], openQuotes: [], spacedDots: [], socketsLeftOut: [], dashRanges: [] } as {
    [K in keyof RigLexingReport]: RigLexingReport[K][number][];
  };
  for (const { statements, nodes, mistakes } of chunks) {
    for (const node of nodes) {
      (node as Mutable<CstNode>).container = root;
      root.content.push(node);
    }
    for (const statement of statements as Mutable<Statement>[]) {
      statement.$container = file;
      statement.$containerProperty = 'statements';
      statement.$containerIndex = file.statements.length;
      file.statements.push(statement as Statement);
    }
    if (!mistakes) continue;
    // One by one: there can be more than a call takes arguments.
    for (const error of mistakes.parserErrors) parserErrors.push(error);
    for (const error of mistakes.lexerErrors) lexerErrors.push(error);
    report.unclosed.push(...mistakes.unclosed);
    for (const quote of mistakes.openQuotes) report.openQuotes.push(quote);
    for (const dot of mistakes.spacedDots) report.spacedDots.push(dot);
    report.socketsLeftOut.push(...mistakes.socketsLeftOut);
    for (const range of mistakes.dashRanges) report.dashRanges.push(range);
  }
  return { value: file, parserErrors, lexerErrors, lexerReport: report };
}

/** The fields of a leaf that say where it stands; Langium sets them once and has no way to move a node. */
interface LeafPlace {
  _offset: number;
  _startLine: number;
  _endLine: number;
}

function move(node: CstNode, offset: number, lines: number): void {
  const { content } = node as CompositeCstNode;
  if (content) {
    (node as unknown as { _rangeCache: undefined })._rangeCache = undefined;
    for (const child of content) move(child, offset, lines);
    return;
  }
  const leaf = node as LeafCstNode as unknown as LeafPlace;
  leaf._offset += offset;
  leaf._startLine += lines;
  leaf._endLine += lines;
}

/** How many characters two texts have in common at their start, and, not counting those again, at their end. */
function commonEnds(a: string, b: string): { start: number; end: number } {
  const most = Math.min(a.length, b.length);
  let start = 0;
  while (start < most && a.charCodeAt(start) === b.charCodeAt(start)) start++;
  let end = 0;
  while (end < most - start && a.charCodeAt(a.length - 1 - end) === b.charCodeAt(b.length - 1 - end)) end++;
  return { start, end };
}

/** How many of the first hold, where none does behind one that does not. */
function countWhile<T>(items: readonly T[], holds: (item: T) => boolean): number {
  let [least, most] = [0, items.length];
  while (least < most) {
    const middle = (least + most) >> 1;
    if (holds(items[middle] as T)) least = middle + 1;
    else most = middle;
  }
  return least;
}

function countLines(text: string, start: number, end: number): number {
  let lines = 0;
  for (let at = start; at < end; at++) {
    const code = text.charCodeAt(at);
    if (code === 10 || (code === 13 && text.charCodeAt(at + 1) !== 10)) lines++;
  }
  return lines;
}
