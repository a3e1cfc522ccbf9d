/** What each word of a statement is to its layout: where a part begins that has a column of its own, or a line. */
import { type AstNode, type CstNode, GrammarUtils } from 'langium';
import {
  type At,
  type House,
  isAt,
  type Mix,
  type Mode,
  type Model,
  type ModelItem,
  type Port,
  type PortPart,
  type Send,
  type Statement,
} from '../generated/ast';

/** The role of a word that begins a part. All other words follow the one before them as words inside a clause do. */
export interface Role {
  /** Parts of a kind share a column where all that stands before them in their lines is of the same kinds, too. */
  readonly kind: string;
  /** How many spaces stand before it at least. */
  readonly gap: 1 | 2;
  /** A column that is left blank in lines that have no such part. The first part of a line is in column 0. */
  readonly column?: number;
  /** Numbers with room for a sign, or set to the right. */
  readonly align?: 'signed' | 'right';
  /** In no column: it follows what stands before it. */
  readonly loose?: boolean;
  /** What sort of line begins with this word; lines of a sort, one after the other, have their parts in columns. */
  readonly line?: string;
}

/** What of the text the roles hang on. */
export interface Lines {
  /** Whether nothing but white space stands before this place in its line. */
  startsLine(offset: number): boolean;
  /** Whether this place's word is the last of its line, but for a comment. */
  endsLine(offset: number): boolean;
  /** The place of the word after the one at this place. */
  next(offset: number): number | undefined;
}

/** The kind of a statement that begins inside a line. */
export const STATEMENT = 'statement';
const SEND = 'send';
const SEND_ASIDE = 'send to a side';

/** Whether a part is a send of a mix that stands in its statement's own line. */
export function isSend({ kind }: Role): boolean {
  return kind === SEND || kind === SEND_ASIDE;
}

/** The roles of a sound statement's words, by their offset. */
export function rolesOf(statement: Statement, lines: Lines): Map<number, Role> {
  const roles = new Roles(lines);
  roles.statement(statement);
  return roles.byOffset;
}

class Roles {
  readonly byOffset = new Map<number, Role>();

  constructor(private readonly lines: Lines) {}

  private set(at: AstNode | CstNode | number | undefined, role: Role): void {
    const offset = typeof at === 'number' ? at : at && '$type' in at ? at.$cstNode?.offset : (at as CstNode | undefined)?.offset;
    if (offset !== undefined) this.byOffset.set(offset, role);
  }

  statement(statement: Statement): void {
    const { $type } = statement;
    this.set(statement, { kind: STATEMENT, gap: 2, line: lineOf(statement, this.lines) });
    switch ($type) {
      case 'Header':
        this.clauses(statement.clauses);
        return;
      case 'Use':
        return;
      case 'Model':
        this.model(statement);
        return;
      case 'Gear':
      case 'Source':
        this.set(property(statement, 'label'), { kind: 'label', gap: 2, column: 1 });
        this.set(keyword(statement, 'is'), { kind: 'is', gap: 2, column: 2 });
        this.clauses(statement.clauses);
        return;
      case 'Performer':
        this.set(property(statement, 'label'), { kind: 'label', gap: 2, column: 1 });
        this.clauses(statement.clauses);
        return;
      case 'Input':
        this.set(keyword(statement, 'takes'), { kind: 'takes', gap: 2, column: 1 });
        this.clauses(statement.clauses);
        if (statement.clauses[0]?.$type === 'Via') this.set(statement.clauses[0], { kind: 'Via', gap: 2, column: 2 });
        return;
      case 'House':
        this.house(statement);
        return;
      case 'Mix':
        this.mix(statement);
        return;
      case 'Output':
        this.set(keyword(statement, 'carries'), { kind: 'carries', gap: 2, column: 1 });
        this.set(statement.via, { kind: 'Via', gap: 2, column: 2 });
        return;
    }
  }

  private clauses(clauses: readonly AstNode[]): void {
    for (const clause of clauses) {
      this.set(clause, { kind: clause.$type, gap: 2 });
      if (isAt(clause)) this.at(clause);
    }
  }

  private at(at: At): void {
    this.set(at.x, { kind: 'x', gap: 1, align: 'signed' });
    this.set(at.y, { kind: 'y', gap: 1, align: 'signed' });
  }

  private house(house: House): void {
    for (const [index, fact] of house.facts.entries()) {
      this.set(fact, { kind: fact.$type, gap: index === 0 ? 1 : 2 });
      if (isAt(fact)) this.at(fact);
    }
    this.set(property(house, 'label'), { kind: 'label', gap: 2, column: 1 });
    this.set(property(house, 'own') ?? keyword(house, 'takes'), { kind: 'takes', gap: 2, column: 2 });
    this.set(house.via, { kind: 'Via', gap: 2, column: 3 });
  }

  private mix(mix: Mix): void {
    this.set(property(mix, 'label'), { kind: 'label', gap: 2, column: 1 });
    this.set(property(mix, 'width'), { kind: 'width', gap: 2, column: 2 });
    this.set(keyword(mix, 'for'), { kind: 'for', gap: 2, column: 3 });
    const open = keyword(mix, '{')?.offset;
    if (open === undefined) return;
    this.set(open, this.lines.endsLine(open) ? { kind: '{', gap: 1, loose: true } : { kind: '{', gap: 2, column: 4 });
    let inLine = 0;
    // Sends in the statement's own line are whole columns; sends in lines of their own have a column for each of their parts.
    let own = false;
    for (const [index, send] of mix.sends.entries()) {
      const offset = send.$cstNode?.offset ?? 0;
      if (this.lines.startsLine(offset)) {
        own = true;
        inLine = 0;
      }
      if (own) this.send(send, inLine++);
      else this.set(offset, { kind: send.side ? SEND_ASIDE : SEND, gap: index === 0 ? 1 : 2 });
    }
    this.close(mix);
  }

  private send(send: Send, index: number): void {
    const column = index * 4;
    this.set(send, { kind: 'source', gap: 2, column, line: 'send' });
    this.set(send.level, { kind: 'level', gap: 1, column: column + 1, align: 'right' });
    this.set(property(send, 'side'), { kind: 'side', gap: 1, column: column + 2 });
    this.set(send.amount, { kind: 'amount', gap: 1, column: column + 3, align: 'right' });
  }

  private close(block: AstNode): void {
    this.set(keyword(block, '}'), { kind: '}', gap: 1, loose: true });
  }

  private model(model: Model): void {
    this.set(property(model, 'label'), { kind: 'label', gap: 1, column: 1 });
    this.set(keyword(model, 'is'), { kind: 'is', gap: 1, column: 2 });
    const open = keyword(model, '{')?.offset;
    if (open === undefined) return;
    this.set(open, { kind: '{', gap: 1, column: 3 });
    for (const item of model.items) this.item(item, this.lines.next(open) === item.$cstNode?.offset);
    this.close(model);
  }

  private item(item: ModelItem, first: boolean): void {
    const offset = item.$cstNode?.offset ?? 0;
    const startsLine = this.lines.startsLine(offset);
    const gap = first ? 1 : 2;
    if (item.$type === 'Port') {
      this.set(offset, { kind: item.$type, gap, line: 'port' });
      if (startsLine) this.set(item.ids[0], { kind: 'ids', gap: 1, column: 1 });
      this.port(item);
      return;
    }
    const value = this.lines.next(offset);
    const hasValue = value !== undefined && value < (item.$cstNode?.end ?? 0);
    // A word by itself has nothing that the figures of others would stand above.
    this.set(offset, { kind: item.$type, gap, line: 'fact', loose: startsLine && !hasValue });
    if (startsLine && hasValue) this.set(value, { kind: 'value', gap: 1, column: 1 });
  }

  private port(port: Port): void {
    const connector = property(port, 'connector');
    // A connector that a block follows has other neighbours than one whose modes follow in its line.
    const block = port.parts[0]?.$type === 'ModeBlock';
    this.set(connector, { kind: block ? 'connector {' : 'connector', gap: 2 });
    for (const part of port.parts) this.part(part);
  }

  private part(part: PortPart): void {
    if (part.$type === 'ModeBlock') {
      const open = part.$cstNode?.offset ?? 0;
      if (this.lines.endsLine(open)) this.set(open, { kind: '{', gap: 1, loose: true });
      for (const mode of part.modes) this.mode(mode, this.lines.next(open) === mode.$cstNode?.offset ? 1 : 2, 'mode');
      this.close(part);
      return;
    }
    if (part.$type === 'Mode') this.mode(part, 2);
    else this.set(part, { kind: part.$type, gap: 2 });
  }

  private mode(mode: Mode, gap: 1 | 2, line?: string): void {
    this.set(mode, { kind: 'Mode', gap, line });
    for (const figure of mode.figures) this.set(figure, { kind: figure.$type, gap: 2 });
  }
}

/** Statements of a kind have their lines in columns together, except where they look quite different. */
function lineOf(statement: Statement, lines: Lines): string {
  if (statement.$type === 'House') return statement.facts.length > 0 ? 'stage box' : 'House';
  if (statement.$type !== 'Model') return statement.$type;
  const open = keyword(statement, '{')?.offset;
  return open === undefined || lines.endsLine(open) ? BARE_MODEL : 'Model';
}

/** A model's first line where its block does not stand in it: a heading, with nothing to set in columns. */
export const BARE_MODEL = 'bare model';

function property(node: AstNode, name: string): CstNode | undefined {
  return GrammarUtils.findNodeForProperty(node.$cstNode, name);
}

function keyword(node: AstNode, word: string): CstNode | undefined {
  return GrammarUtils.findNodeForKeyword(node.$cstNode, word);
}
