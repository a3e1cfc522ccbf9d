/** What a person meant where the parser stopped: a finding for each statement that could not be read whole. */
import type { IRecognitionException, IToken } from 'chevrotain';
import type { LangiumDocument, ParseResult } from 'langium';
import { type Code, capital, type FiguresOf, type Finding, type Fix, finding, list } from '#engine';
import type { RigFile } from '../generated/ast';
import { nearest } from '../near';
import { takesBraces } from './chunks';
import { isInFeet } from './feet';
import type { RigLexingReport } from './lexer';
import { AFTER, CALLED, clauseMeant, FIRST, isClause, isUnit, MISSING, NEXT, ownersOf, statementMeant, UNITS_AFTER } from './meant';
import { mergeMarks } from './merge';
import { exampleWith, isStatementWord, STATEMENT_WORDS, type StatementWord } from './words';

/** A finding about a stretch of text that is not a node of the tree. */
export interface TextFinding {
  readonly finding: Finding;
  readonly start: number;
  readonly end: number;
}

/** `models` gives the names of all models that the document can see. */
export function mistakes(document: LangiumDocument<RigFile>, models: () => readonly string[]): TextFinding[] {
  return new Mistakes(document.textDocument.getText(), document.parseResult, models).all();
}

const RULE_OF: Readonly<Record<string, StatementWord>> = {
  Header: 'rig',
  Use: 'use',
  Model: 'model',
  Gear: 'gear',
  Performer: 'performer',
  Source: 'source',
  Input: 'input',
  House: 'house',
  Mix: 'mix',
  Output: 'output',
};

/** Quotation marks that are not read as such, and currency signs with their codes (ISO 4217). */
const OTHER_QUOTES = /['\u2018-\u201F\u00AB\u00BB\u2039\u203A]/;
const CURRENCY_SIGNS: Readonly<Record<string, string>> = { '\u20AC': 'EUR', $: 'USD', '\u00A3': 'GBP' };

/** Where one thing is taken and somebody writes two. */
const ONE_ONLY: Readonly<Partial<Record<StatementWord, { after: RegExp; says: (other: string) => string }>>> = {
  input: { after: /\btakes\s+\S+\s*$/, says: (other) => `One input takes one source: write a second line for ${other}.` },
  house: { after: /\btakes\s+\S+\s*$/, says: (other) => `One line of the house takes one source: write a second line for ${other}.` },
  output: { after: /\bcarries\s+\S+\s*$/, says: (other) => `One output carries one mix: write a second line for ${other}.` },
  source: { after: /\bby\s+\S+\s*$/, says: (other) => `A source is by one performer: leave ${other} out.` },
};

/** What joins the first name of a statement to what it is, takes or carries. */
const VERB: Readonly<Partial<Record<StatementWord, string>>> = { input: 'takes', output: 'carries', gear: 'is', source: 'is' };

/** A label that runs on into a clause. */
const CLAUSE_IN_LABEL = /^(.\S.*?)\s+(?:is|by|at|ears|takes|carries|via|for|own|hears|mono|stereo|region|mains|rate|stage|\{)(?:\s|$)/;

/** `1e9 dB`, up to where it is noticed. */
const POWER_OF_TEN = /(?<![\p{L}\p{N}_-])([+\-\u2212\u2013]?\d+(?:[.,]\d+)?e[+-]?\d+)(?:\s+[\p{L}%][^\s{}]*)?\s*$/iu;

/** What comes before how far to one side a send is. */
const ASIDE = /\d\s*dB\s+(?:left|right)\s+$/i;

const PHANTOM_OF_A_MODEL =
  '"each" or "shared" for an input, "needed" or "harmful" for an output, or the current that a unit has, as in 20 mA';

/** What is said of a kind of signal, behind it. */
const FIGURES: ReadonlySet<string> = new Set(
  'impedance capacitance inductance max limiter level sensitivity gain noise self-noise dynamic-range pad draws channels balanced unbalanced floating'.split(
    ' ',
  ),
);

/** A socket in a model, up to where something does not fit. */
const SOCKET = /(?:^|[{}])\s*(?:input|output)\s[^{}]*$/;

/** What stands before the number of a line of the house's. */
const HOUSE_LINE = /^[ \t]*house[ \t]+$/;

/** What stands behind `house 5..`, up to the end of the statement's line: the last number, a label, what is taken, the way. */
const UP_TO = /^[ \t]*(\d+)(?:[ \t]+"([^"\r\n]*)")?[ \t]+takes[ \t]+([\p{L}\p{N}_-]+)((?:[ \t]+[^\s#]+)*)(?![^\r\n#]*[^\s#]|\s+via\b)/u;

const LAST_SOCKET = 'the last socket, as in iface.1..2';

/** What may have a label; of a rig it is its title. */
const LABELLED: ReadonlySet<StatementWord> = new Set(['rig', 'model', 'gear', 'performer', 'source', 'house', 'mix']);

/** A statement on one line, up to where something does not fit: up to its name or number, and what stands behind. */
const NAMED = /(^[ \t]*(?:rig|[a-z]+[ \t]+[^\s"\u201C]+))[ \t]+(\S.*?)[ \t]*$/;

/** The same of a mix, up to its label where it has one. */
const WIDE = /(^[ \t]*mix[ \t]+[^\s"\u201C]+(?:[ \t]+(?:"[^"]*"|\u201C[^\u201D]*\u201D))?)[ \t]+(\S.*?)[ \t]*$/;

/** More names than these are no help. */
const MOST_NAMED = 3;

/** How much of a line before a mistake is looked at. */
const MOST_LOOKED_AT = 400;

/** What to do about what does not fit. */
interface Hint {
  readonly hint: string;
  /** What may be written instead of all from there to there; of the token alone where that is not said. */
  readonly fixes: readonly string[];
  readonly from?: number;
  readonly to?: number;
  /** What it is, where that is not all that is written anew. */
  readonly found?: string;
  /** How it is written, where that is not a line of this statement's; empty where the hint says it. */
  readonly example?: string;
}

interface Word {
  readonly start: number;
  readonly end: number;
  readonly image: string;
}

class Mistakes {
  private readonly found: TextFinding[] = [];
  /** Where lines start; worked out when the first mistake asks. */
  private lineStarts: readonly number[] | undefined;
  private named: ReadonlySet<string> | undefined;
  private inFeet: boolean | undefined;

  constructor(
    private readonly text: string,
    private readonly result: ParseResult<RigFile>,
    private readonly models: () => readonly string[],
  ) {}

  all(): TextFinding[] {
    const report = this.result.lexerReport as RigLexingReport | undefined;
    if (/[\0\uFFFD]/.test(this.text)) {
      const at = this.text.search(/[\0\uFFFD]/);
      this.add('text/not-readable', at, at + 1, { path: undefined, reason: 'the file is not text in UTF-8' });
      // What is not text makes no other sense either.
      return this.found;
    }
    /** Lines about which enough is said: one mistake often makes several errors, and the first tells what it is. */
    const said = new Set<number>();
    const unsettled = mergeMarks(this.text);
    const [first] = unsettled;
    if (first) {
      const count = unsettled.filter(({ start }) => this.text.startsWith('<', start)).length;
      this.add('text/merge-marks', first.start, first.end, { count });
    }
    const strange = this.result.lexerErrors
      .map(({ offset, length }) => ({ start: offset, end: offset + length }))
      .filter(({ start }) => !unsettled.some((mark) => mark.start === start));
    for (const { start, end } of strange)
      if (OTHER_QUOTES.test(this.text.slice(start, end)) || this.currencyAt(start)) this.strange(start, end, said);
    for (const quote of report?.openQuotes ?? []) {
      if (said.has(this.lineStart(quote.startOffset))) continue;
      said.add(this.lineStart(quote.startOffset));
      const written = quote.image.trimEnd();
      // `"Voice is dynamic-mic`: the label ends before the first word of a clause, more likely than at the end of the line.
      const clause = CLAUSE_IN_LABEL.exec(written);
      const closed = clause?.[1] === undefined ? [] : [`${clause[1]}"${written.slice(clause[1].length)}`];
      this.addAt('text/unclosed-quote', quote, { text: shorten(quote.image.slice(1)) }, [...closed, `${written}"`]);
    }
    for (const brace of report?.unclosed ?? []) this.add('text/unclosed-brace', brace.offset, brace.offset + 1, { of: brace.of });
    const spaced = new Set<number>();
    for (const { before, after } of report?.spacedDots ?? []) {
      // Where the piece or the socket is left out, the words beside it are others, and the parser has stopped there.
      if (isStatementWord(before.image) || isVerb(before.image) || isVerb(after.image)) continue;
      const instead = `${before.image}.${after.image}`;
      spaced.add(this.lineStart(before.startOffset));
      this.add('text/spaced-dot', before.startOffset, endOf(after), { instead }, [instead]);
    }
    for (const { before, dot, statement, first } of report?.socketsLeftOut ?? []) {
      // Which ones are free, where a line ends or starts, is known where it is known what is plugged in.
      if (first) continue;
      const missing = dot.image === '..' ? LAST_SOCKET : (AFTER['.'] as string);
      const figures = { statement, after: `"${before.image}${dot.image}"`, missing, example: exampleWith(statement, []) };
      this.add('text/unfinished', before.startOffset, endOf(dot), figures);
    }
    for (const { before, after } of report?.dashRanges ?? []) {
      // Two of the house's lines are no range, however it is written: the parser has stopped there.
      if (HOUSE_LINE.test(this.text.slice(this.lineStart(before.startOffset), before.startOffset))) continue;
      const written = this.text.slice(before.startOffset, endOf(after));
      const instead = `${before.image}..${after.image}`;
      this.add('text/dash-range', before.startOffset, endOf(after), { written, instead }, [instead]);
    }
    for (const error of this.result.parserErrors) {
      // A dot with a gap beside it is told already, wherever the parser stops at it.
      if (error.token.image === '.' && spaced.has(this.lineStart(error.token.startOffset))) continue;
      // Where a statement has ended too early, the mistake is at its end, and not where the next one starts.
      const last = (error as { previousToken?: IToken }).previousToken;
      const line = this.lineStart(this.offsetOf(last && this.startsLine(error.token) ? last : error.token));
      if (said.has(line)) continue;
      said.add(line);
      // What stands in a model behind a line that breaks off was read as its end, and may be as good as ever.
      const inModel = error.context.ruleStack.some((rule) => RULE_OF[rule.replace(/\u200B$/, '')] === 'model');
      if (inModel && last && this.startsLine(error.token) && !isEnd(error.token)) said.add(this.lineStart(error.token.startOffset));
      const explained = this.explain(error);
      if (explained) this.found.push(explained);
    }
    for (const { start, end } of strange) this.strange(start, end, said);
    return this.found;
  }

  /** A character that the language has no use for. */
  private strange(start: number, end: number, said: Set<number>): void {
    const line = this.lineStart(start);
    if (said.has(line)) return;
    said.add(line);
    const text = shorten(this.text.slice(start, end));
    const currency = this.currencyAt(start);
    const kind = currency ? 'currency' : /^(\/\/|--|\/\*)/.test(text) ? 'comment' : OTHER_QUOTES.test(text) ? 'quote' : 'other';
    this.add('text/stray-character', start, end, { text, kind, currency }, this.insteadOf(start, kind, currency));
  }

  private insteadOf(start: number, kind: 'currency' | 'comment' | 'quote' | 'other', currency: string | undefined): string[] {
    if (kind === 'other') return [''];
    if (kind === 'comment') return ['#'];
    const gap = /\d( ?)$/.exec(this.text.slice(0, start));
    return kind === 'currency' && currency && gap ? [`${gap[1] === '' ? ' ' : ''}${currency}`] : [];
  }

  private currencyAt(offset: number): string | undefined {
    return CURRENCY_SIGNS[this.text.charAt(offset)];
  }

  /** What a person meant where the parser stopped; nothing where that is told already. */
  private explain(error: IRecognitionException): TextFinding | undefined {
    const { token } = error;
    // A brace that was put in because it is missing: that is told by itself.
    if (token.isInsertedInRecovery) return undefined;
    const rules = error.context.ruleStack.map((rule) => rule.replace(/\u200B$/, ''));
    const rule = rules.at(-1) ?? '';
    const inside = rules.map((each) => RULE_OF[each]).find((word) => word !== undefined);
    const ended = isEnd(token) || (isStatementWord(token.image) && this.startsLine(token));
    const last = (error as { previousToken?: IToken }).previousToken;
    // A statement is read by itself, so its end is where its last token ends, and not the end of the file.
    const at = isEnd(token) && last ? endOf(last) : this.offsetOf(token);
    const lineStart = this.lineStart(at);
    // On the same line, up to here. Where that is nothing, the parser knows what came last.
    const from = Math.max(lineStart, at - MOST_LOOKED_AT);
    const before = this.readable(from, at);
    const word = lastWord(before, from);
    // A number with a decimal point is one word to the lexer alone.
    const previous = word && last && endOf(last) !== word.end ? word : (wordOf(last) ?? word);

    const number = this.numberWithoutUnit(previous, rule, before);
    if (number) {
      const units = this.unitsFor(number, rules);
      return told(
        'text/missing-unit',
        number.start,
        number.end,
        { number: number.image, units },
        units.map((unit) => `${number.image} ${unit}`),
      );
    }
    const meantAsStatement = this.startsLine(token) && (inside === undefined || (token.tokenType.name === 'ID' && token.startColumn === 1));
    if (meantAsStatement && !isEnd(token)) return this.isInSwallowedBraces(token) ? undefined : this.notAStatement(token);
    const statement = inside ?? this.statementBefore(at);
    if (statement === undefined) {
      return told('text/unexpected', token.startOffset, endOf(token), {
        found: quoted(shorten(token.image)),
        hint: 'Start a new statement on a line of its own, or delete it.',
        example: undefined,
        statement,
      });
    }
    if (statement === 'mix' && token.image === 'house' && /\bfor\s[^{]*$/.test(before)) {
      const hint = 'A mix is for performers or for the house, not for both: write one of its own for the house.';
      return told('text/unexpected', token.startOffset, endOf(token), {
        found: '"house"',
        hint,
        example: exampleWith('mix', []),
        statement,
      });
    }
    if (isStatementWord(token.image) && !ended) {
      return told(
        'text/reserved-word',
        token.startOffset,
        endOf(token),
        { word: token.image },
        previous && isStatementWord(previous.image) ? [`my-${token.image}`] : [],
      );
    }
    if (token.image === '{' && !takesBraces(statement)) return this.braces(token, statement);
    const port = this.portWithoutDot(rule, previous, token);
    if (port) return told('text/spaced-dot', port.start, port.end, { instead: port.instead }, [port.instead]);
    const power = POWER_OF_TEN.exec(before);
    if (power?.[1]) {
      const start = from + power.index;
      const whole = String(Number(power[1].replace(',', '.').replace(/[\u2212\u2013]/, '-')));
      const fixes = /e|Infinity/.test(whole) ? [] : [whole];
      const hint = fixes.length > 0 ? `Write the number out: ${whole}.` : 'Write the number out.';
      return told('text/unexpected', start, start + power[1].length, { found: power[1], hint, example: undefined, statement }, fixes);
    }
    // `squeeze-3 dB`: the name says so itself, with the cure.
    if (previous && /-\d+$/.test(previous.image) && isUnit(token.image) && rules.includes('Send')) return undefined;

    const lines = statement === 'house' && token.tokenType.name === '..' ? this.houseLines(token, lineStart) : undefined;
    if (lines) {
      const { start, end, found, hint, fixes } = lines;
      return told('text/unexpected', start, end, { found: quoted(found), hint, example: undefined, statement }, fixes);
    }

    const missing = this.missing(rules, statement, previous?.image ?? '');
    const words = [previous?.image ?? '', ...[...rules].reverse().map((each) => each.toLowerCase())];
    const example = exampleWith(statement, words);
    if (ended) {
      const after = previous ? this.wordBefore(previous) : quoted(statement);
      return told('text/unfinished', previous?.start ?? at, previous?.end ?? at, { statement, after, missing, example });
    }
    // A word that starts a clause where a name belongs: the name is what is missing.
    const nameless = /\b(takes|carries|is|by|for|via|hears)\s+\S+\s*$/.exec(before)?.[1];
    if (previous && nameless && isClause(previous.image, statement)) {
      return told('text/unexpected', previous.start, previous.end, {
        found: quoted(previous.image),
        hint: `After "${nameless}" comes ${AFTER[nameless]}.`,
        example,
        statement,
      });
    }
    if (previous && /^(the|a|an)$/i.test(previous.image) && !this.names().has(previous.image)) {
      return told(
        'text/unexpected',
        previous.start,
        previous.end,
        { found: quoted(previous.image), hint: 'Leave it out.', example, statement },
        [''],
      );
    }
    const known = previous && this.nameOfTwo(previous, token);
    if (known !== undefined && previous) {
      const found = quoted(shorten(this.text.slice(previous.start, endOf(token))));
      const hint = `A name is one word. Did you mean ${known}?`;
      return told('text/unexpected', previous.start, endOf(token), { found, hint, example, statement }, [known]);
    }
    const split = previous && this.nameOfSeveralWords(previous, token, statement, before);
    if (split) {
      const hint = `A name is one word. Did you mean ${list(split.names, 'or')}?`;
      const found = quoted(shorten(this.text.slice(previous.start, split.end)));
      return told('text/unexpected', previous.start, split.end, { found, hint, example, statement }, split.names);
    }
    const second = this.secondOfOne(token, statement, before);
    if (second) {
      const found = quoted(shorten(this.text.slice(token.startOffset, second.end)));
      const fixes = statement === 'source' ? [''] : [];
      return told('text/unexpected', token.startOffset, second.end, { found, hint: second.hint, example, statement }, fixes);
    }
    const [strangeBefore] = previous ? this.strangeBetween(previous.end, token.startOffset) : [];
    const said = this.hint(token, previous, statement, inside === undefined ? undefined : missing, before);
    const { hint, fixes, to = endOf(token) } = said;
    const start = strangeBefore?.offset ?? said.from ?? token.startOffset;
    // `= voice` for `takes voice`.
    const verb = inside && missing === NEXT[statement] && token.tokenType.name === 'ID' ? VERB[statement] : undefined;
    return told(
      'text/unexpected',
      start,
      to,
      {
        found: quoted(shorten(said.found ?? this.text.slice(start, to)).replace(/ \.\. ?/, '..')),
        hint,
        example: (said.example ?? example) || undefined,
        statement,
      },
      verb && (strangeBefore || fixes.length === 0) ? [`${verb} ${token.image}`] : strangeBefore ? [] : fixes,
    );
  }

  /** Braces behind what takes none, with what is in them. */
  private braces({ startOffset: start }: IToken, statement: StatementWord): TextFinding {
    let depth = 0;
    let end = start + 1;
    for (const { 0: mark, index } of this.text.slice(start).matchAll(/#.*|"[^"\n]*"|[{}]|\n(?=(?:rig|use|mix|performer|house)\b)/g)) {
      if (mark === '{') depth++;
      if (mark === '}' && --depth === 0) end = start + index + 1;
      if (mark === '\n' || depth === 0) break;
    }
    return told('text/no-braces', start, end, { statement, sockets: statement === 'source' || statement === 'gear' });
  }

  /** What to do about a token that does not fit. `missing`: what should stand here, where something has to. */
  private hint(token: IToken, previous: Word | undefined, statement: StatementWord, missing: string | undefined, before: string): Hint {
    const just = (hint: string): Hint => ({ hint, fixes: [] });
    /** With these words instead of all from there to the end of the token. */
    const write = (words: string, from: number | undefined, hint: string, to?: number): Hint => ({ hint, fixes: [words], from, to });
    if (statement === 'model' && previous && FIGURES.has(token.image) && SOCKET.test(before)) {
      const hint = `Before ${quoted(token.image)} comes ${MISSING.SignalKind}, as in "${previous.image} line ${token.image}".`;
      return { hint, fixes: [], example: '' };
    }
    const end = endOf(token);
    const behind = this.text.slice(end, end + MOST_LOOKED_AT);
    const range = token.image === '.' ? /(\S+\.\S+?)\s*\.\.\s*\S+\s*$/.exec(before) : null;
    if (range?.[1]) {
      const last = /^[ \t]*([\p{L}\p{N}_-]+)/u.exec(behind);
      if (!last?.[1]) return just(`A range names the piece once: ${range[1]}..4.`);
      const whole = `${range[1]}..${last[1]}`;
      return write(whole, token.startOffset - before.length + range.index, `A range names the piece once: ${whole}.`, end + last[0].length);
    }
    const socket = statement === 'output' && previous && token.image === '.' ? this.socketForMix(previous, before, end, behind) : undefined;
    if (socket) return socket;
    const part = token.image === '.' && /\S$/.test(before) ? /^[\p{L}\p{N}_][\p{L}\p{N}_-]*/u.exec(behind)?.[0] : undefined;
    if (part) return write('', token.startOffset, 'Leave it out.', end + part.length);
    if (/^[,:.]$/.test(token.image)) return { hint: 'Leave it out.', fixes: [''] };
    if ((statement === 'input' || statement === 'output') && !before.includes('.'))
      return just('The socket comes first, with its gear and a dot, as in iface.1.');
    const word = clauseMeant(token.image, statement);
    if (word && word !== token.image && !isUnit(token.image)) return { hint: `Did you mean "${word}"?`, fixes: [word] };
    if (statement === 'rig' && previous?.image === 'rig') {
      const title = `${token.image}${/^[^"\u201C#\r\n]*/.exec(behind)?.[0] ?? ''}`.trimEnd();
      return write(`"${title}"`, undefined, 'A title stands in quotes.', token.startOffset + title.length);
    }
    const name = new RegExp(`^\\s*${statement}\\s+(\\S+)\\s+$`).exec(before)?.[1];
    if (statement === 'mix' && (name === 'mono' || name === 'stereo'))
      return write(`${token.image} ${name}`, previous?.start, `The name comes first: "mix ${token.image} ${name}".`);
    // `gear box interface-4`: the name is whole, and what it is comes next.
    const model = /^(gear|source)$/.test(statement) && this.models().includes(token.image);
    if (name && !model && token.tokenType.name === 'ID' && /^(gear|model|performer|source|mix)$/.test(statement)) {
      const alike = name.toLowerCase() === token.image.toLowerCase();
      if (alike) return write(`"${token.image}"`, undefined, 'A label stands in quotes.');
      const joined = `${name}-${token.image}`;
      return write(joined, previous?.start, `A name is one word, such as ${joined}. A label stands in quotes.`);
    }
    const level = /^\s*[+\-\u2212\u2013]?\d/.test(behind);
    if (statement === 'mix' && level && !before.includes('{')) return just('The sends stand in braces: { voice 0 dB }.');
    if (/\bfor\s[^{]*$/.test(before) && token.tokenType.name === 'ID' && (statement === 'mix' || statement === 'gear'))
      return write(token.image === 'and' ? ',' : `, ${token.image}`, previous?.end, 'Put commas between several names: "for ada, bo".');
    if (/\bvia\s[^{]*$/.test(before) && (this.models().includes(token.image) || this.isGear(token.image)))
      return write(`, ${token.image}`, previous?.end, 'Put commas between the steps of a way: "via pad-20, y-lead".');
    if (missing === MISSING.At && isNumber(token))
      return write(`, ${token.image}`, previous?.end, `After ${this.wordBefore(previous as Word)} comes ${missing}.`);
    if (token.tokenType.name === 'STRING' && missing === NEXT[statement] && !LABELLED.has(statement))
      return this.label(token, statement, before);
    if (missing !== undefined) return just(previous ? `After ${this.wordBefore(previous)} comes ${missing}.` : `Here comes ${missing}.`);
    if (token.tokenType.name === 'STRING') return this.label(token, statement, before);
    if (statement === 'mix' && /^(mono|stereo)$/.test(token.image)) return this.width(token, before);
    if (statement === 'house' && /\bown\s+mic\s*$/.test(before))
      return { ...just('What their microphone is for stands in the label, as in house 8 "Lead vocal" own mic.'), example: '' };
    const owners = ownersOf(token.image, statement);
    const [owner] = owners;
    if (!owner) return just('Leave it out, or put it on a line of its own.');
    const whose = list(
      owners.map(([, called]) => called),
      'or',
    );
    const shown = exampleWith(owner[0], [token.image]);
    return { ...just(`${quoted(token.image)} belongs to ${whose}.`), example: shown.split(/\s/).includes(token.image) ? shown : '' };
  }

  /** One that stands behind a clause, or where there is none. */
  private label(token: IToken, statement: StatementWord, before: string): Hint {
    const [what, behind] = statement === 'rig' ? ['title', '"rig"'] : ['label', `the ${statement === 'house' ? 'number' : 'name'}`];
    if (!LABELLED.has(statement)) return { hint: `${capital(CALLED[statement])} has no label. Leave it out.`, fixes: [''] };
    const match = NAMED.exec(before);
    const [, head = '', clauses = ''] = match ?? [];
    if (statement === 'house' && match && !/\d$/.test(head))
      return { hint: 'Only a line of the house’s with a number has a label. Leave it out.', fixes: [''] };
    if (!match) return { hint: `A ${what} stands behind ${behind}.`, fixes: [] };
    if (/^["\u201C]/.test(clauses)) return { hint: `It has a ${what} already. Leave this one out.`, fixes: [''] };
    return movedUp(token, match, `A ${what} stands behind ${behind}`);
  }

  /** Whether a mix is mono or stereo, said behind whom it is for. */
  private width(token: IToken, before: string): Hint {
    const match = WIDE.exec(before);
    const [, head = '', clauses = ''] = match ?? [];
    if (!match) return { hint: `"${token.image}" stands right behind the name of a mix.`, fixes: [] };
    if (/^(mono|stereo)\b/.test(clauses)) return { hint: 'It is said already. Leave this one out.', fixes: [''] };
    return movedUp(token, match, `"${token.image}" stands behind ${/["\u201D]$/.test(head) ? 'the label' : 'the name'}`);
  }

  /** `carries pa.left`: a socket where a mix belongs. Those that may be meant are the ones that nothing carries. */
  private socketForMix(gear: Word, before: string, end: number, behind: string): Hint | undefined {
    const [rest, port, more = ''] = /^([\p{L}\p{N}_-]+)([ \t]+via\b)?/u.exec(behind) ?? [];
    const from = /^\s*output\s+([^\s.]+)\S*\s+carries\s+\S+$/.exec(before)?.[1];
    if (rest === undefined || port === undefined || from === undefined) return undefined;
    const statements = this.result.value.statements ?? [];
    const kinds = new Set(statements.flatMap((each) => ('name' in each && each.name === gear.image ? each.$type : [])));
    const dotted = { from: gear.start, to: end + port.length };
    if (!kinds.has('Gear') && kinds.has('Mix'))
      return { hint: `An output carries all of a mix: "carries ${gear.image}".`, fixes: [gear.image], ...dotted };
    // What leaves by a piece is not what goes into it, and a source goes nowhere but in.
    if (from === gear.image || (!kinds.has('Gear') && kinds.has('Source')))
      return { hint: `After "carries" comes ${AFTER.carries}.`, fixes: [], ...dotted };
    const carried = new Set(statements.flatMap((each) => (each.$type === 'Output' ? (each.mix?.$refText ?? []) : [])));
    const left = statements.flatMap((each) => (each.$type === 'Mix' && each.name && !carried.has(each.name) ? each.name : []));
    const written = (mix = '…') => `${mix} via ${gear.image}.${port}`;
    const range = behind.startsWith('..', port.length);
    return {
      hint: `After "carries" comes the mix, and what it goes through behind "via": "carries ${written(left.length === 1 ? left[0] : undefined)}".`,
      fixes: range ? [] : left.slice(0, MOST_NAMED).map((mix) => `${written(mix)}${more && ','}`),
      from: gear.start,
      to: end + rest.length,
    };
  }

  /** `lead vocal`, where something in this file is called lead-vocal. */
  private nameOfTwo(previous: Word, token: IToken): string | undefined {
    if (!/^[ \t]+$/.test(this.text.slice(previous.end, token.startOffset))) return undefined;
    return ['-', '_', ''].map((joint) => `${previous.image}${joint}${token.image}`).find((name) => this.names().has(name));
  }

  private isGear(name: string): boolean {
    return (this.result.value.statements ?? []).some((each) => each.$type === 'Gear' && each.name === name);
  }

  /** What this file has given a name. */
  private names(): ReadonlySet<string> {
    this.named ??= new Set((this.result.value.statements ?? []).flatMap((each) => ('name' in each && each.name ? [each.name] : [])));
    return this.named;
  }

  /** `interface 8`, where a model is called interface-8: the models that may be meant, and where the words for it end. */
  private nameOfSeveralWords(
    previous: Word,
    token: IToken,
    statement: StatementWord,
    before: string,
  ): { names: string[]; end: number } | undefined {
    if (!/\b(is|via|ears)\s[^{}]*$/.test(before) || /[^\s,]/.test(this.text.slice(previous.end, token.startOffset))) return undefined;
    if (!/^[\p{L}\p{N}_-]+$/u.test(token.image) || isNumber(previous)) return undefined;
    const models = this.models();
    const end = endOf(token);
    const [more, next] = /^ +([\p{L}\p{N}_-]+)/u.exec(this.text.slice(end, end + MOST_LOOKED_AT)) ?? [];
    const whole = next && `${previous.image}-${token.image}-${next}`;
    if (more && whole && models.includes(whole)) return { names: [whole], end: end + more.length };
    const joined = `${previous.image}-${token.image}`;
    const begun = models.filter((name) => name === joined || name.startsWith(`${joined}-`)).sort();
    if (begun.length > 0) return { names: begun.slice(0, MOST_NAMED), end };
    if (isClause(token.image, statement) || models.includes(token.image)) return undefined;
    // A number counts what one has, so only its own kind is near; anything else is a word too many where the first is known.
    const kin = isNumber(token) ? models.filter((name) => name.startsWith(`${previous.image}-`)) : [];
    const near = nearest(joined, kin.length > 0 ? kin : models.includes(previous.image) ? [] : models);
    return near.length > 0 ? { names: near, end } : undefined;
  }

  /** `takes flute, bass`: a second name where one belongs. */
  private secondOfOne(token: IToken, statement: StatementWord, before: string): { hint: string; end: number } | undefined {
    const one = ONE_ONLY[statement];
    const [, name] =
      /^(?:,|and|&|\+)\s*([\p{L}_][\p{L}\p{N}_-]*)/u.exec(this.text.slice(token.startOffset, token.startOffset + MOST_LOOKED_AT)) ?? [];
    if (!one || !name || !one.after.test(before) || isClause(name, statement)) return undefined;
    return { hint: one.says(name), end: this.text.indexOf(name, endOf(token)) + name.length };
  }

  /** `house 5..6 takes band`: each line of the house's stands by itself. Two of them are the two sides of a mix in stereo. */
  private houseLines(
    token: IToken,
    lineStart: number,
  ): { start: number; end: number; found: string; hint: string; fixes: string[] } | undefined {
    const [head = '', indent = '', low = ''] = /^([ \t]*)house[ \t]+(\d+)[ \t]*$/.exec(this.text.slice(lineStart, token.startOffset)) ?? [];
    const behind = this.text.slice(endOf(token), endOf(token) + MOST_LOOKED_AT);
    const high = /^[ \t]*(\d+)/.exec(behind)?.[0];
    if (head === '' || high === undefined) return undefined;
    const start = lineStart + indent.length;
    const found = `${low}${token.image}${high.trim()}`;
    const [rest, , label, taken, way = ''] = UP_TO.exec(behind) ?? [];
    if (rest === undefined || Number(high) !== Number(low) + 1)
      return { start, end: endOf(token) + high.length, found, hint: 'Write a line for each number.', fixes: [] };
    const newline = /\r?\n/.exec(this.text)?.[0] ?? '\n';
    const lines = [
      [low, 'left'],
      [high.trim(), 'right'],
    ].map(([number, side]) => `house ${number}${label === undefined ? '' : ` "${label}, ${side}"`} takes ${taken}.${side}${way}`);
    const hint = `Write a line for each number. Of what is in stereo each takes one side: ${taken}.left and ${taken}.right.`;
    const inStereo = this.result.value.statements.some((each) => each.$type === 'Mix' && each.name === taken && each.width === 'stereo');
    return { start, end: endOf(token) + rest.length, found, hint, fixes: inStereo ? [lines.join(`${newline}${indent}`)] : [] };
  }

  /** A number with something after it that is no unit. */
  private numberWithoutUnit(previous: Word | undefined, rule: string, before: string): Word | undefined {
    if (!previous) return undefined;
    if (isNumber(previous) && /^(Quantity|Unit|Range|Percent|Send)$/.test(rule)) return previous;
    // `voice 0 keys -6`: the next name was taken for the unit.
    const [, image, gap, name] = /([+\-\u2212\u2013]?\d+(?:[.,]\d+)?)(\s+)([^\s{}]+)\s*$/.exec(before) ?? [];
    if (image === undefined || gap === undefined || name !== previous.image || isNumber(previous) || isUnit(name) || /^dB$/i.test(name))
      return undefined;
    const end = previous.start - gap.length;
    return rule === 'Mix' || rule === 'Send' ? { start: end - image.length, end, image } : undefined;
  }

  /** The units to offer for a number without one. */
  private unitsFor({ start, image }: Word, rules: readonly string[]): readonly string[] {
    // `voice 0 dB left 40`: to the parser, that is a send of a source called left.
    if (ASIDE.test(this.text.slice(Math.max(0, start - MOST_LOOKED_AT), start))) return ['%'];
    const found = [...new Set([...rules].reverse().flatMap((each) => UNITS_AFTER[each] ?? []))].slice(0, 2);
    const units = found.includes('m') && this.isInFeet() ? found.map((unit) => unit.replace(/^m$/, 'ft')) : found;
    // 48000 is in hertz, as 48 is in kilohertz.
    return Number(image) >= 1000 ? units.map((unit) => unit.replace(/^kHz$/, 'Hz')) : units;
  }

  private isInFeet(): boolean {
    this.inFeet ??= isInFeet(this.text);
    return this.inFeet;
  }

  /** `iface 1` and `iface-1` where `iface.1` is meant. */
  private portWithoutDot(
    rule: string,
    previous: Word | undefined,
    token: IToken,
  ): { start: number; end: number; instead: string } | undefined {
    if (!previous || rule !== 'GearPort' || isStatementWord(previous.image)) return undefined;
    if (/^\d/.test(token.image)) return { start: previous.start, end: endOf(token), instead: `${previous.image}.${token.image}` };
    const glued = /^(.+)[-_]((?:usb|phones)?\d+)$/.exec(previous.image);
    return glued ? { start: previous.start, end: previous.end, instead: `${glued[1]}.${glued[2]}` } : undefined;
  }

  /** Whether the brace around a line is in a label without an end, which is told already. */
  private isInSwallowedBraces({ startOffset }: IToken): boolean {
    const quotes = (this.result.lexerReport as RigLexingReport | undefined)?.openQuotes ?? [];
    const quote = quotes.findLast((each) => each.startOffset < startOffset);
    if (!quote?.image.includes('{')) return false;
    const between = this.text.slice(endOf(quote), startOffset).split('\n');
    return !between.some((line) => isStatementWord(/^\s*(\S+)/.exec(line)?.[1] ?? ''));
  }

  private notAStatement(token: IToken): TextFinding {
    const near = statementMeant(token.image);
    const small = near !== undefined && near === token.image.toLowerCase();
    const figures = { found: quoted(shorten(token.image)), near, small, words: STATEMENT_WORDS };
    return told('text/no-statement', token.startOffset, endOf(token), figures, near ? [near] : []);
  }

  private missing(rules: readonly string[], statement: StatementWord, last: string): string {
    if (last === statement) return FIRST[statement];
    if (statement === 'mix' && (last === 'left' || last === 'right')) return MISSING.Percent as string;
    if (statement === 'mix' && last === ',') return 'one more name';
    // Of a stage it is how deep it is.
    if (statement === 'rig' && last === 'by') return AFTER.at as string;
    // Of a model it is what its sockets give or need, and of an input line whether it is on.
    if (statement === 'model' && last === 'phantom') return PHANTOM_OF_A_MODEL;
    if (last.endsWith('..') && rules.includes('GearPort')) return LAST_SOCKET;
    // A name may be one that every object of JavaScript knows.
    if (Object.hasOwn(AFTER, last)) return AFTER[last] as string;
    for (const rule of [...rules].reverse()) if (MISSING[rule]) return MISSING[rule];
    return NEXT[statement];
  }

  /** A stretch of text with spaces for the characters that were skipped. */
  private readable(start: number, end: number): string {
    let text = this.text.slice(start, end);
    for (const { offset, length } of this.strangeBetween(start, end)) {
      text = text.slice(0, offset - start) + ' '.repeat(length) + text.slice(offset - start + length);
    }
    return text;
  }

  /** The characters that were skipped between two offsets. There can be very many in all, in the order of the text. */
  private strangeBetween(start: number, end: number): { offset: number; length: number }[] {
    const all = this.result.lexerErrors;
    let low = 0;
    for (let high = all.length; low < high; ) {
      const middle = (low + high) >> 1;
      if ((all[middle]?.offset ?? 0) < start) low = middle + 1;
      else high = middle;
    }
    const found: { offset: number; length: number }[] = [];
    for (let at = low; at < all.length; at++) {
      const { offset, length } = all[at] as { offset: number; length: number };
      if (offset + length > end) break;
      found.push({ offset, length });
    }
    return found;
  }

  /** A word as it is quoted in a message, with the piece of gear before its dot: `iface.1`. */
  private wordBefore({ start, end, image }: Word): string {
    const dotted = image.startsWith('"')
      ? undefined
      : /[^\s,{}]+$/.exec(this.text.slice(Math.max(this.lineStart(start), start - MOST_LOOKED_AT), end))?.[0];
    return quoted(shorten(dotted ?? image));
  }

  private startsLine(token: IToken): boolean {
    return isEnd(token) || this.text.slice(this.lineStart(token.startOffset), token.startOffset).trim() === '';
  }

  private lineStart(offset: number): number {
    this.lineStarts ??= [0, ...Array.from(this.text.matchAll(/[\r\n]/g), ({ index }) => index + 1)];
    let low = 0;
    for (let high = this.lineStarts.length; low + 1 < high; ) {
      const middle = (low + high) >> 1;
      if ((this.lineStarts[middle] ?? 0) <= offset) low = middle;
      else high = middle;
    }
    return this.lineStarts[low] ?? 0;
  }

  private offsetOf(token: IToken): number {
    return isEnd(token) ? this.text.trimEnd().length : token.startOffset;
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
    const start = this.offsetOf(token);
    this.add(code, start, isEnd(token) ? start : endOf(token), figures, fixes);
  }

  private add<C extends Code>(code: C, start: number, end: number, figures: FiguresOf<C>, fixes: readonly string[] = []): void {
    this.found.push(told(code, start, end, figures, fixes));
  }
}

function told<C extends Code>(code: C, start: number, end: number, figures: FiguresOf<C>, fixes: readonly string[] = []): TextFinding {
  const place = `text@${start}..${end}`;
  const edits: Fix[] = fixes.map((text) => ({ kind: 'rewrite', place, with: text }));
  return { finding: finding(code, place, figures, { fixes: edits }), start, end };
}

/** What stands behind the clauses of a statement and belongs behind its head, by the `match` of both up to there. */
function movedUp({ image, startOffset }: IToken, match: RegExpExecArray, rule: string): Hint {
  const [whole, head = '', clauses = ''] = match;
  const last = /(?:"[^"]*"|\u201C[^\u201D]*\u201D|\S+)$/.exec(head)?.[0] ?? '';
  return {
    hint: `${rule}: ${last} ${image}.`,
    fixes: [`${last} ${image} ${clauses}`],
    from: startOffset - whole.length + head.length - last.length,
    found: image,
  };
}

function endOf(token: IToken): number {
  return (token.endOffset ?? token.startOffset) + 1;
}

/** What stands after a socket, or before one. */
function isVerb(word: string): boolean {
  return /^(takes|carries|via|hears)$/.test(word);
}

function isEnd(token: IToken): boolean {
  return token.tokenType.name === 'EOF';
}

function isNumber({ image }: { readonly image: string }): boolean {
  return /^[+\-\u2212\u2013]?\d/.test(image);
}

function wordOf(token: IToken | undefined): Word | undefined {
  return token && !isEnd(token) && token.startOffset >= 0 ? { start: token.startOffset, end: endOf(token), image: token.image } : undefined;
}

/** Text as it is quoted in a message. */
function shorten(text: string): string {
  const clean = text.replace(/\s+/g, ' ').trim();
  const letters = [...clean];
  return letters.length > 40 ? `${letters.slice(0, 40).join('')}…` : clean;
}

/** The last word of what stands before a token on its line, or the last label. */
function lastWord(before: string, lineStart: number): Word | undefined {
  const match = /("[^"]*"|\u201C[^\u201D]*\u201D|[^\s.,:{}]+|[.,:{}])\s*$/.exec(before.replace(/#.*/, ''));
  if (!match?.[1]) return undefined;
  const start = lineStart + match.index;
  return { start, end: start + match[1].length, image: match[1] };
}

function quoted(text: string): string {
  return /["\u201C]/.test(text) ? text : `"${text}"`;
}
