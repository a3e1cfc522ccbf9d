/** What a person meant where the parser stopped: a finding for each statement that could not be read whole. */
import type { IRecognitionException, IToken } from 'chevrotain';
import type { LangiumDocument, ParseResult } from 'langium';
import { type Code, type FiguresOf, type Finding, finding, type Fix } from '#engine';
import type { RigFile } from '../generated/ast';
import { nearest } from '../near';
import type { RigLexingReport } from './lexer';
import { EXAMPLES, isStatementWord, STATEMENT_WORDS, type StatementWord } from './words';

/** A finding about a stretch of text that is not a node of the tree. */
export interface TextFinding {
  readonly finding: Finding;
  readonly start: number;
  readonly end: number;
}

export function mistakes(document: LangiumDocument<RigFile>): TextFinding[] {
  return new Mistakes(document.textDocument.getText(), document.parseResult).all();
}

/** What each rule of the grammar is for, in words, where it is what is missing. */
const MISSING: Readonly<Record<string, string>> = {
  GearPort: 'the port, as in iface.1',
  Taken: 'what it takes',
  Step: 'what it goes through',
  Via: 'what it goes through',
  Connector: 'a connector',
  SignalKind: 'the kind of signal (mic, instrument, line, phones, speaker, digital, radio)',
  Quantity: 'a number with its unit',
  Range: 'a range with its unit, as in 0..55 dB',
  Ratio: 'a ratio, as in 12:1',
  Send: 'the level of a send, as in voice -3 dB',
  Percent: 'a share, as in 20 %',
  PortRange: 'the number or name of a port',
  At: 'two distances, as in at -1 m, 2 m',
  Tie: 'how it comes from the input (parallel, transformer, active or switch)',
};

const RULE_OF: Readonly<Record<string, StatementWord>> = {
  Header: 'rig', Use: 'use', Model: 'model', Gear: 'gear', Performer: 'performer', Source: 'source', Input: 'input', House: 'house', Mix: 'mix', Output: 'output',
};

class Mistakes {
  private readonly found: TextFinding[] = [];

  constructor(
    private readonly text: string,
    private readonly result: ParseResult<RigFile>,
  ) {}

  all(): TextFinding[] {
    const report = this.result.lexerReport as RigLexingReport | undefined;
    if (/[\0\uFFFD]/.test(this.text)) {
      const at = this.text.search(/[\0\uFFFD]/);
      this.add('text/not-readable', at, at + 1, { path: 'This file', reason: 'it is not text in UTF-8' });
      // What is not text makes no other sense either.
      return this.found;
    }
    for (const quote of report?.openQuotes ?? []) {
      this.addAt('text/unclosed-quote', quote, { text: shorten(quote.image.slice(1)) }, [`${quote.image.trimEnd()}"`]);
    }
    for (const brace of report?.unclosed ?? []) this.add('text/unclosed-brace', brace.offset, brace.offset + 1, { of: brace.of });
    for (const { before, after } of report?.spacedDots ?? []) {
      const instead = `${before.image}.${after.image}`;
      this.add('text/spaced-dot', before.startOffset, endOf(after), { instead }, [instead]);
    }
    for (const error of this.result.lexerErrors) {
      const { offset, length } = error;
      this.add('text/stray-character', offset, offset + length, { text: shorten(this.text.slice(offset, offset + length)) });
    }
    const told = new Set<number>();
    for (const error of this.result.parserErrors) {
      const start = this.statementStart(error);
      // One mistake often makes several errors; the first tells what it is.
      if (told.has(start)) continue;
      told.add(start);
      this.parserError(error);
    }
    return this.found;
  }

  private parserError(error: IRecognitionException): void {
    const { token } = error;
    const previous = (error as { previousToken?: IToken }).previousToken;
    const rules = error.context.ruleStack.map((rule) => rule.replace(/\u200B$/, ''));
    const rule = rules.at(-1) ?? '';
    const statement = rules.map((each) => RULE_OF[each]).find((word) => word !== undefined);
    const ended = isEnd(token) || (isStatementWord(token.image) && startsLine(token, previous));

    if (previous && /^[+\-\u2212]?\d/.test(previous.image) && /^[-\u2212]\d/.test(token.image) && touching(previous, token)) {
      const instead = `${previous.image}..${token.image.slice(1)}`;
      return this.add('text/dash-range', previous.startOffset, endOf(token), { written: previous.image + token.image, instead }, [instead]);
    }
    if (previous && isNumber(previous) && (rule === 'Quantity' || rule === 'Unit' || rule === 'Range' || rule === 'Percent' || rule === 'Send')) {
      const units = rule === 'Percent' ? ['%'] : rule === 'Send' ? ['dB'] : [];
      return this.addAt('text/missing-unit', previous, { number: previous.image, units }, units.map((unit) => `${previous.image} ${unit}`));
    }
    if (statement === undefined) return this.notAStatement(token, previous);
    if (isStatementWord(token.image) && !ended && previous && isStatementWord(previous.image)) {
      return this.addAt('text/reserved-word', token, { word: token.image }, [`my-${token.image}`]);
    }
    if (isStatementWord(token.image) && !ended) {
      return this.addAt('text/reserved-word', token, { word: token.image }, []);
    }
    const missing = this.missing(rules, statement, previous);
    if (ended) {
      const at = previous ?? token;
      return this.addAt('text/unfinished', at, { statement, missing, example: EXAMPLES[statement] });
    }
    const after = previous ? `After ${shorten(previous.image)} comes ${missing}. ` : '';
    this.addAt('text/unexpected', token, { found: shorten(token.image), expected: `${after}For example: ${EXAMPLES[statement]}`, statement });
  }

  /** Something between statements that none of them goes on with. */
  private notAStatement(token: IToken, previous: IToken | undefined): void {
    if (isEnd(token)) {
      if (previous) this.addAt('text/unexpected', previous, { found: shorten(previous.image), expected: 'Finish the statement, or delete it.', statement: undefined });
      return;
    }
    const near = startsLine(token, previous) ? nearest(token.image, [...STATEMENT_WORDS])[0] : undefined;
    const lastOfLine = startsLine(token, previous);
    if (!lastOfLine) {
      const inside = this.statementBefore(token.startOffset);
      const example = inside ? `A "${inside}" looks like this: ${EXAMPLES[inside]}` : 'Delete it, or start a new statement on a line of its own.';
      return this.addAt('text/unexpected', token, { found: shorten(token.image), expected: example, statement: inside });
    }
    this.addAt('text/no-statement', token, { found: shorten(token.image), near, words: STATEMENT_WORDS }, near ? [near] : []);
  }

  private missing(rules: readonly string[], statement: StatementWord, previous: IToken | undefined): string {
    const last = previous?.image ?? '';
    if (last === statement) return statement === 'rig' ? 'a title in quotes' : statement === 'use' ? 'a path in quotes' : statement === 'house' ? 'the number of its line' : statement === 'input' || statement === 'output' ? 'a port, as in iface.1' : 'a name';
    const after: Readonly<Record<string, string>> = {
      is: 'the name of a model', by: 'the name of a performer', for: 'the name of a performer, or "house"', takes: 'the name of a source or mix', carries: 'the name of a mix',
      via: 'what it goes through', hears: 'a transmitter and its side, as in tx.left', '.': 'a port', from: 'an input of this model', own: '"mic"', ',': 'one more', at: 'a distance, as in 2 m',
    };
    if (after[last]) return after[last];
    for (const rule of [...rules].reverse()) if (MISSING[rule] && rule !== 'Send') return MISSING[rule];
    const next: Readonly<Record<StatementWord, string>> = {
      rig: 'a clause such as "rate 48 kHz"', use: 'a path in quotes', model: 'what it is, or its ports in { }', gear: '"is" and the name of a model', performer: 'a place such as "at 0 m, 2 m"', source: '"is" and the name of a model',
      input: '"takes" and a source', house: '"own mic", or "takes" and a source', mix: 'who it is for, and its sends in { }', output: '"carries" and a mix',
    };
    return next[statement];
  }

  private statementStart(error: IRecognitionException): number {
    const at = error.token.startOffset;
    const until = Number.isNaN(at) ? this.text.length : at;
    const lineStart = this.text.lastIndexOf('\n', until - 1) + 1;
    return lineStart;
  }

  /** The statement that the text before an offset belongs to. */
  private statementBefore(offset: number): StatementWord | undefined {
    const statements = this.result.value.statements ?? [];
    let found: StatementWord | undefined;
    for (const statement of statements) {
      if ((statement.$cstNode?.offset ?? 0) > offset) break;
      found = RULE_OF[statement.$type];
    }
    return found;
  }

  private addAt<C extends Code>(code: C, token: IToken, figures: FiguresOf<C>, fixes: readonly string[] = []): void {
    const start = Number.isNaN(token.startOffset) ? this.text.trimEnd().length : token.startOffset;
    this.add(code, start, Number.isNaN(token.startOffset) ? start : endOf(token), figures, fixes);
  }

  private add<C extends Code>(code: C, start: number, end: number, figures: FiguresOf<C>, fixes: readonly string[] = []): void {
    const place = `text@${start}..${end}`;
    const edits: Fix[] = fixes.map((text) => ({ kind: 'rewrite', place, with: text }));
    this.found.push({ finding: finding(code, place, figures, { fixes: edits }), start, end });
  }
}

function endOf(token: IToken): number {
  return (token.endOffset ?? token.startOffset) + 1;
}

function isEnd(token: IToken): boolean {
  return token.tokenType.name === 'EOF';
}

function isNumber(token: IToken): boolean {
  return /^[+\-\u2212]?\d/.test(token.image);
}

function startsLine(token: IToken, previous: IToken | undefined): boolean {
  return previous === undefined || (token.startLine ?? 0) > (previous.endLine ?? 0);
}

function touching(before: IToken, after: IToken): boolean {
  return endOf(before) === after.startOffset;
}

/** Text as it is quoted in a message. */
function shorten(text: string): string {
  const clean = text.replace(/\s+/g, ' ').trim();
  const letters = [...clean];
  return letters.length > 40 ? `${letters.slice(0, 40).join('')}…` : clean;
}
