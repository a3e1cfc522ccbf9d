/** Where the cursor is in a text that is being written: the statement, the words around, and what may come here. */
import type { IToken } from 'chevrotain';
import type { Lexer } from 'langium';
import { RigTerminals } from '../generated/ast';
import { cut } from '../syntax/chunks';
import { isOpenQuote } from '../syntax/lexer';
import { isStatementWord, type StatementWord } from '../syntax/words';
import type { Expected, Expecting } from './expect';
import { lineStartAt } from './lineStart';

export interface CursorContext {
  /** The stretch that a proposal replaces. */
  readonly start: number;
  readonly end: number;
  /** To be put before a proposal, where it would run into the word before it. */
  readonly gap: string;
  readonly statement?: StatementWord;
  /** Where the statement starts. */
  readonly statementAt: number;
  /** The words of the statement before the cursor and behind it, without the one at the cursor. */
  readonly before: readonly IToken[];
  readonly after: readonly IToken[];
  /** How many braces are open here. */
  readonly depth: number;
  readonly firstOnLine: boolean;
  readonly indented: boolean;
  readonly expected: Expected;
  /** Set inside the quotes of a `use`: the path so far. */
  readonly path?: string;
  /** What closes those quotes; nothing where they are closed. */
  readonly close?: string;
}

const RULES: Readonly<Record<StatementWord, { readonly whole: string; readonly clause?: string }>> = {
  rig: { whole: 'Header', clause: 'HeaderClause' },
  use: { whole: 'Use' },
  model: { whole: 'Model' },
  gear: { whole: 'Gear', clause: 'GearClause' },
  performer: { whole: 'Performer', clause: 'PerformerClause' },
  source: { whole: 'Source', clause: 'SourceClause' },
  input: { whole: 'Input', clause: 'InputClause' },
  house: { whole: 'House', clause: 'Via' },
  mix: { whole: 'Mix' },
  output: { whole: 'Output', clause: 'Via' },
};

const NOTHING: Expected = { all: [], complete: true };
/** What a name goes on with after its first letter, as the grammar has it; and the other minus, which a number may begin with. */
const NAME_PART = new RegExp(`${RigTerminals.ID.source.replace(/^\[[^\]]*\]/, '').replace(/\*$/, '')}|[\u2212\u2013]`);
/** How far behind the cursor the rest of a statement is looked for. */
const MOST_BEHIND = 4000;

/** Undefined inside comments and labels, where nothing can be proposed. */
export function contextAt(text: string, offset: number, lexer: Lexer, expecting: Expecting): CursorContext | undefined {
  let start = offset;
  while (start > 0 && NAME_PART.test(text[start - 1] as string)) start--;
  let end = offset;
  while (end < text.length && NAME_PART.test(text[end] as string)) end++;
  const lineStart = lineStartAt(text, start);
  const base = sureStart(text, lineStart);
  const read = (to: number) => lexer.tokenize(text.slice(base, to));
  let { tokens, hidden } = read(start);
  const lastHidden = hidden.at(-1);
  if (lastHidden?.tokenType.name === 'COMMENT' && endOf(lastHidden) === start - base) return undefined;
  const last = tokens.at(-1);
  if (last && isOpenQuote(last) && endOf(last) === start - base) return inQuotes(text, base, tokens, offset);

  let gap = '';
  let { before, statement, depth } = current(tokens);
  if (isHalfNumber(tokens, start - base) && !/\d/.test(text.charAt(start))) return undefined;
  let expected = expectedAfter(before, statement, depth, expecting);
  // A number may be the name of a port; else what is to come stands behind it.
  const number = /^[-+\u2212\u2013]?\d+(?:[.,]\d+)?/.exec(text.slice(start, offset))?.[0];
  if (number !== undefined && !expected.all.some(({ token }) => token === 'PortName' || token === 'OutputName')) {
    // Inside a number nothing can be put; behind it, what is to come stands apart from it.
    if (start + number.length === offset && /[\d.,]/.test(text[offset] ?? '')) return undefined;
    start += number.length;
    gap = ' ';
    ({ tokens, hidden } = read(start));
    ({ before, statement, depth } = current(tokens));
    expected = expectedAfter(before, statement, depth, expecting);
  }
  // A unit can have a slash in it, and a space: all of it is replaced.
  const unit = unitStart(before, text.slice(start, offset));
  // A unit that has a stroke in it is written in one line.
  if (unit !== undefined && base + (before[unit]?.startOffset ?? 0) >= lineStart) {
    start = base + (before[unit] as IToken).startOffset;
    before = before.slice(0, unit);
    expected = expectedAfter(before, statement, depth, expecting);
  }
  return {
    start,
    end,
    gap,
    statement,
    statementAt: base + (before[0]?.startOffset ?? 0),
    before,
    after: behind(text, end, lexer),
    depth,
    firstOnLine: /^\s*$/.test(text.slice(lineStart, start)),
    indented: start > lineStart,
    expected,
  };
}

/** The start of the last line up to `lineStart` at which a statement starts whatever stands before it. */
function sureStart(text: string, lineStart: number): number {
  for (let at = lineStart; at > 0; at = lineStartAt(text, at - 1)) {
    if (isSureStart(text, at)) return at;
  }
  return 0;
}

function isSureStart(text: string, lineStart: number): boolean {
  const lineEnd = text.indexOf('\n', lineStart);
  const line = text.slice(lineStart, lineEnd < 0 ? undefined : lineEnd);
  return /^[ \t]*(?:(?:rig|use|model|gear|performer|source|house|mix)(?=[\s"]|$)|(?:input|output)[ \t]+[^\s.#"]+[ \t]*\.(?!\.))/.test(line);
}

function inQuotes(text: string, base: number, tokens: readonly IToken[], offset: number): CursorContext | undefined {
  const quote = tokens.at(-1) as IToken;
  const word = tokens.at(-2);
  if (word?.image !== 'use') return undefined;
  const start = base + quote.startOffset + 1;
  const line = /^[^"\u201D\r\n]*/.exec(text.slice(offset))?.[0] ?? '';
  return {
    start,
    end: offset + line.trimEnd().length,
    gap: '',
    statement: 'use',
    statementAt: base + word.startOffset,
    before: [],
    after: [],
    depth: 0,
    firstOnLine: false,
    indented: false,
    expected: NOTHING,
    path: text.slice(start, offset),
    close: /["\u201D]/.test(text[offset + line.length] ?? '') ? '' : quote.image.startsWith('"') ? '"' : '\u201D',
  };
}

/** The statement that the last of these tokens belongs to. */
function current(tokens: readonly IToken[]): { before: readonly IToken[]; statement?: StatementWord; depth: number } {
  const stretch = cut(tokens).at(-1)?.tokens ?? [];
  let start = -1;
  let depth = 0;
  for (const [index, token] of stretch.entries()) {
    if (token.image === '{') depth++;
    else if (token.image === '}') depth = Math.max(0, depth - 1);
    else if (depth === 0 && isStatementWord(token.image) && stretch[index - 1]?.image !== 'for') start = index;
  }
  const before = stretch.slice(Math.max(0, start));
  const first = start < 0 ? undefined : before[0]?.image;
  return { before, statement: first !== undefined && isStatementWord(first) ? first : undefined, depth };
}

function expectedAfter(tokens: readonly IToken[], statement: StatementWord | undefined, depth: number, expecting: Expecting): Expected {
  if (!statement) return NOTHING;
  const rules = RULES[statement];
  const whole = expecting.after(tokens, rules.whole);
  if (whole.all.length > 0 || whole.complete) return whole;
  // Something before is wrong: the longest stretch up to here that can be read tells what comes.
  const open = tokens.findLastIndex((token) => token.image === '{');
  const rule = depth === 0 ? rules.clause : statement === 'mix' ? 'Send' : depth > 1 ? 'Mode' : 'ModelItem';
  if (!rule) return NOTHING;
  for (let from = (depth > 0 ? open : 0) + 1; from <= tokens.length; from++) {
    const part = expecting.after(tokens.slice(from), rule, true);
    if (part.all.length > 0) return part;
  }
  return NOTHING;
}

/** Whether a number and a dot stand right before a place: only more figures can come there. Of a socket's number, as in `iface.1..2`, a second dot. */
function isHalfNumber(tokens: readonly IToken[], place: number): boolean {
  const [number, dot] = tokens.slice(-2);
  return number?.tokenType.name === 'NUMBER' && dot?.image === '.' && endOf(number) === dot.startOffset && endOf(dot) === place;
}

/** The first word of a unit of which more than one word is there already: `mV/P`, `dB S`. */
function unitStart(before: readonly IToken[], word: string): number | undefined {
  const number = before.findLastIndex((token) => token.tokenType.name === 'NUMBER');
  const written = before.slice(number + 1).map((token) => token.image);
  const goesOn = written.at(-1) === '/' || (written.length === 1 && written[0] === 'dB' && word !== '' && 'SPL'.startsWith(word));
  return number >= 0 && goesOn && written.length <= 3 ? number + 1 : undefined;
}

/** The rest of the statement behind the cursor. */
function behind(text: string, from: number, lexer: Lexer): IToken[] {
  let to = text.indexOf('\n', from);
  while (to >= 0 && to < from + MOST_BEHIND && !isSureStart(text, to + 1)) to = text.indexOf('\n', to + 1);
  const tokens = lexer.tokenize(text.slice(from, to < 0 ? undefined : to)).tokens;
  const first = tokens[0];
  if (!first || isStatementWord(first.image)) return [];
  return cut(tokens)[0]?.tokens ?? [];
}

function endOf(token: IToken): number {
  return (token.endOffset ?? token.startOffset) + 1;
}
