/**
 * What may come next in a statement, read off the grammar itself: its rules are followed along the words that are there, in
 * all ways at once, and what they would go on with at the end is what is expected. Nothing is built, so half a statement
 * is as good as a whole one.
 */
import type { IToken } from 'chevrotain';
import { GrammarAST } from 'langium';
import { isStatementWord } from '../syntax/words';

export interface Expectation {
  /** A word of the language, or the kind of token: `Name`, `PortName`, `NUMBER`, `STRING`, `ID`. */
  readonly keyword?: string;
  readonly token?: string;
  /** The rule of the grammar that it stands in, not counting rules that only say how something is written. */
  readonly rule: string;
  /** What it is assigned to, if anything. */
  readonly property?: string;
  /** The rule that rule was called from. */
  readonly within?: string;
  /** The rule and the first keyword around a figure: `Peak/peak`. */
  readonly figure?: string;
}

export interface Expected {
  readonly all: readonly Expectation[];
  /** Whether what is there is whole as it is. */
  readonly complete: boolean;
}

/** Rules that say how a word is written, with what they are made of. */
const WORD_RULES: ReadonlySet<string> = new Set(['Name', 'PortName', 'OutputName', 'Connector']);
const MAY_BE_NUMBERS: ReadonlySet<string> = new Set(['PortName', 'OutputName']);
const FIGURE_RULES: ReadonlySet<string> = new Set(['Quantity', 'Range', 'Percent', 'Unit', 'Ratio']);

interface Where {
  readonly rule: string;
  readonly property?: string;
  /** The first keyword of the group that we are in. */
  readonly lead?: string;
  readonly within?: string;
  readonly figure?: string;
}

type Positions = ReadonlySet<number>;

export class Expecting {
  private readonly rules: ReadonlyMap<string, GrammarAST.ParserRule>;

  constructor(grammar: GrammarAST.Grammar) {
    this.rules = new Map(grammar.rules.filter(GrammarAST.isParserRule).map((rule) => [rule.name, rule]));
  }

  /** What may follow these tokens, read as one `rule`, or as any number of them. Empty where they cannot be read so. */
  after(tokens: readonly IToken[], rule: string, many = false): Expected {
    const definition = this.rules.get(rule)?.definition;
    if (!definition) return { all: [], complete: false };
    const reader = new Reader(tokens);
    const where = { rule };
    const start = new Set([0]);
    const ends = many ? reader.repeat((from) => reader.element(definition, from, where), start) : reader.element(definition, start, where);
    return { all: reader.found(), complete: ends.has(tokens.length) };
  }
}

class Reader {
  private readonly expected = new Map<string, Expectation>();

  constructor(private readonly tokens: readonly IToken[]) {}

  found(): Expectation[] {
    return [...this.expected.values()];
  }

  element(element: GrammarAST.AbstractElement, from: Positions, where: Where): Positions {
    const { cardinality } = element;
    if (from.size === 0) return from;
    if (cardinality === '*' || cardinality === '+') {
      const all = this.repeat((positions) => this.once(element, positions, where), from);
      if (cardinality === '*') return all;
      return this.once(element, all, where);
    }
    const to = this.once(element, from, where);
    return cardinality === '?' ? new Set([...from, ...to]) : to;
  }

  repeat(step: (from: Positions) => Positions, start: Positions): Positions {
    const all = new Set(start);
    for (let frontier: Positions = start; frontier.size > 0; ) {
      const next = new Set([...step(frontier)].filter((position) => !all.has(position)));
      for (const position of next) all.add(position);
      frontier = next;
    }
    return all;
  }

  private once(element: GrammarAST.AbstractElement, from: Positions, where: Where): Positions {
    if (GrammarAST.isGroup(element)) {
      const first = element.elements.find(GrammarAST.isKeyword) ?? firstKeyword(element.elements[0]);
      // A comma goes on with what the word before it has begun.
      const inside = first === undefined || first.value === ',' ? where : { ...where, lead: first.value };
      return element.elements.reduce<Positions>((positions, each) => this.element(each, positions, inside), from);
    }
    if (GrammarAST.isAlternatives(element)) return new Set(element.elements.flatMap((each) => [...this.element(each, from, where)]));
    if (GrammarAST.isAssignment(element)) return this.element(element.terminal, from, { ...where, property: element.feature });
    if (GrammarAST.isCrossReference(element)) return element.terminal ? this.element(element.terminal, from, where) : new Set();
    if (GrammarAST.isKeyword(element))
      return this.leaf(from, { keyword: element.value, ...placed(where) }, (token) => token.image === element.value);
    if (GrammarAST.isRuleCall(element)) return this.rule(element.rule.ref, from, where);
    // An action builds the tree and reads nothing.
    return from;
  }

  private rule(rule: GrammarAST.AbstractRule | undefined, from: Positions, where: Where): Positions {
    if (!rule) return new Set();
    const { name } = rule;
    if (GrammarAST.isTerminalRule(rule))
      return this.leaf(from, { token: name, ...placed(where) }, (token) => token.tokenType.name === name);
    if (!GrammarAST.isParserRule(rule)) return new Set();
    if (WORD_RULES.has(name))
      return this.leaf(
        from,
        { token: name, ...placed(where) },
        (token) => isWord(token) || (MAY_BE_NUMBERS.has(name) && token.tokenType.name === 'NUMBER'),
      );
    if (FIGURE_RULES.has(name)) {
      const figure = where.figure ?? `${where.rule}/${where.lead ?? ''}`;
      return this.element(rule.definition, from, { ...where, rule: name, figure });
    }
    return this.element(rule.definition, from, { rule: name, within: where.rule });
  }

  private leaf(from: Positions, expectation: Expectation, matches: (token: IToken) => boolean): Positions {
    const to = new Set<number>();
    for (const position of from) {
      const token = this.tokens[position];
      if (!token) {
        const { keyword, token: kind, rule, within, property, figure } = expectation;
        this.expected.set([keyword, kind, rule, within, property, figure].join(' '), expectation);
      } else if (matches(token)) to.add(position + 1);
    }
    return to;
  }
}

/** Where a group starts with a choice of words, its first tells them apart well enough. */
function firstKeyword(element: GrammarAST.AbstractElement | undefined): GrammarAST.Keyword | undefined {
  return GrammarAST.isKeyword(element) ? element : undefined;
}

function placed({ rule, within, property, figure }: Where): Omit<Expectation, 'keyword' | 'token'> {
  return { rule, within, property, figure };
}

/** Any word but those that start a statement can be a name. */
function isWord(token: IToken): boolean {
  return /^[^"\u201C\d+\-\u2212\u2013{}.,:/%]/.test(token.image) && !isStatementWord(token.image);
}
