/** Small edits that keep a file's layout: its columns, its line breaks, its comments. */
import { type AstNode, AstUtils, type CstNode, GrammarUtils } from 'langium';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import type { TextEdit } from 'vscode-languageserver-types';
import type { RigFile, Statement } from './generated/ast';

export type StatementType = Statement['$type'];

/** Stands for the column of labels. */
export const LABEL = '"';

/** The order that rigs are usually written in: where the first statement of a kind goes. */
const USUAL_ORDER: readonly StatementType[] = ['Header', 'Use', 'Model', 'Performer', 'Source', 'Gear', 'Input', 'House', 'Mix', 'Output'];

export class Layout {
  readonly text: string;
  readonly newline: string;

  constructor(
    private readonly textDocument: TextDocument,
    private readonly file: RigFile,
  ) {
    this.text = textDocument.getText();
    this.newline = /\r\n|\n|\r/.exec(this.text)?.[0] ?? '\n';
  }

  static of(node: AstNode): Layout {
    const document = AstUtils.getDocument<RigFile>(node);
    return new Layout(document.textDocument, document.parseResult.value);
  }

  edit(start: number, end: number, newText: string): TextEdit {
    return { range: { start: this.textDocument.positionAt(start), end: this.textDocument.positionAt(end) }, newText };
  }

  /** Other words in place of some; what is set in columns behind them stays in its column where there is room, and else apart. */
  replace(start: number, end: number, newText: string): TextEdit {
    const gap = /^ {2,}(?=[^\s#])/.exec(this.text.slice(end))?.[0].length ?? 0;
    if (gap === 0) return this.edit(start, end, newText);
    const left = gap - (newText.length - (end - start));
    return this.edit(start, end + gap, newText + ' '.repeat(left < 1 ? 2 : left));
  }

  /** Takes a stretch away, with the gap before it; a line that has nothing else on it goes altogether. */
  remove(start: number, end: number): TextEdit {
    const lineStart = this.lineStart(start);
    const before = /[ \t]*$/.exec(this.text.slice(lineStart, start))?.[0].length ?? 0;
    const after = /^[ \t]*/.exec(this.text.slice(end))?.[0].length ?? 0;
    if (start - before > lineStart) {
      // Between two words a gap has to stay: the one before it, where it stands right before the second.
      return this.edit(/[\p{L}\p{N}_"]/u.test(this.text.charAt(end)) ? start : start - before, end, '');
    }
    const rest = this.text.slice(end + after);
    const lineBreak = /^(?:\r\n|\n|\r)/.exec(rest)?.[0].length ?? 0;
    if (lineBreak > 0) return this.edit(lineStart, end + after + lineBreak, '');
    return this.edit(start, end + after, '');
  }

  /** Something new behind a stretch, under the same word of its neighbours where they have it in a column. */
  append(node: Statement, after: number, word: string, newText: string): TextEdit {
    return this.appendAt(node, after, this.columnOf(node.$type, word, node), newText);
  }

  /** The same for many statements of a kind: goes through the file once. */
  appendAll(nodes: readonly { readonly node: Statement; readonly after: number; readonly newText: string }[], word: string): TextEdit[] {
    const wanted = new Map(nodes.map((each) => [each.node, each]));
    const found: { column: number; index: number }[] = [];
    const waiting: { node: Statement; index: number; above: { column: number; index: number } | undefined }[] = [];
    const edits: TextEdit[] = [];
    const settle = (below: { column: number; index: number } | undefined) => {
      for (const { node, index, above } of waiting.splice(0)) {
        const each = wanted.get(node);
        const nearest = above && (!below || index - above.index <= below.index - index) ? above : below;
        if (each) edits.push(this.appendAt(node, each.after, nearest?.column, each.newText));
      }
    };
    for (const [index, statement] of this.file.statements.entries()) {
      if (wanted.has(statement)) waiting.push({ node: statement, index, above: found.at(-1) });
      else if (statement.$type === nodes[0]?.node.$type) {
        const column = this.columnIn(statement, word);
        if (column === undefined) continue;
        found.push({ column, index });
        settle(found.at(-1));
      }
    }
    settle(undefined);
    return edits;
  }

  private appendAt(node: Statement, after: number, wanted: number | undefined, newText: string): TextEdit {
    const column = after - this.lineStart(after);
    const gap = gapBetween(column, wanted, usualGap(node));
    return this.edit(after, after, `${' '.repeat(gap)}${newText}`);
  }

  /**
   * A new statement after the last of its kind, or after the one that is given, its words in the columns of that one. Each part but
   * the first begins with the word that its column goes by.
   */
  add(type: StatementType, parts: readonly { readonly word: string; readonly text: string }[], beside?: Statement): TextEdit {
    const last = beside ?? this.last([type]);
    const usual = usualGap(last ?? this.file.statements.at(-1));
    const line = parts.reduce((written, { word, text }, index) => {
      if (index === 0) return text;
      return `${written}${' '.repeat(gapBetween(written.length, this.columnOf(type, word, undefined, last), usual))}${text}`;
    }, '');
    if (last) return this.after(last, `${this.newline}${line}`);
    const before = this.last(USUAL_ORDER.slice(0, USUAL_ORDER.indexOf(type)));
    if (before) return this.after(before, `${this.newline}${this.newline}${line}`);
    const first = this.file.statements[0]?.$cstNode?.offset;
    if (first === undefined)
      return this.edit(
        this.text.length,
        this.text.length,
        `${this.text === '' || /[\r\n]$/.test(this.text) ? '' : this.newline}${line}${this.newline}`,
      );
    const start = this.lineStart(first);
    return this.edit(start, start, `${line}${this.newline}${this.newline}`);
  }

  /** Whether there is a statement of a kind already. */
  has(type: StatementType): boolean {
    return this.last([type]) !== undefined;
  }

  private after(node: Statement, newText: string): TextEdit {
    const end = this.lineEnd(node.$cstNode?.end ?? 0);
    return this.edit(end, end, newText);
  }

  private last(types: readonly StatementType[]): Statement | undefined {
    return this.file.statements.findLast((statement) => types.includes(statement.$type) && statement.$cstNode !== undefined);
  }

  /** The column that neighbours of a kind have a word in: that of the nearest to a statement which has it on its first line. */
  private columnOf(type: StatementType, word: string, near?: Statement, above?: Statement): number | undefined {
    const { statements } = this.file;
    const nearest = near ?? above;
    const at = nearest ? statements.indexOf(nearest) : statements.length;
    let best: { column: number; far: number } | undefined;
    for (const [index, statement] of statements.entries()) {
      if (statement.$type !== type || statement === near) continue;
      const far = Math.abs(index - at);
      if (best && best.far <= far) continue;
      const column = this.columnIn(statement, word);
      if (column !== undefined) best = { column, far };
    }
    return best?.column;
  }

  /** The column of a word in a statement's first line. */
  private columnIn(statement: Statement, word: string): number | undefined {
    const offset = wordIn(statement.$cstNode, word);
    if (offset === undefined || this.lineStart(offset) !== this.lineStart(statement.$cstNode?.offset ?? 0)) return undefined;
    return offset - this.lineStart(offset);
  }

  lineStart(offset: number): number {
    return offset === 0 ? 0 : Math.max(this.text.lastIndexOf('\n', offset - 1), this.text.lastIndexOf('\r', offset - 1)) + 1;
  }

  lineEnd(offset: number): number {
    const end = this.text.slice(offset).search(/[\r\n]/);
    return end < 0 ? this.text.length : offset + end;
  }
}

function gapBetween(column: number, wanted: number | undefined, usual: number): number {
  return wanted !== undefined && wanted > column ? wanted - column : usual;
}

/** One space between the parts of a statement, or two, as its writer does it. */
function usualGap(statement: Statement | undefined): number {
  return / {2}/.test(statement?.$cstNode?.text ?? '') ? 2 : 1;
}

/** Where a word of the language stands in a statement. */
function wordIn(cst: CstNode | undefined, word: string): number | undefined {
  if (!cst) return undefined;
  if (word === LABEL) return cst.text.includes(word) ? cst.offset + cst.text.indexOf(word) : undefined;
  const found = GrammarUtils.findNodeForKeyword(cst, word) ?? GrammarUtils.findNodesForKeyword(cst, word)[0];
  if (found) return found.offset;
  // Words inside clauses belong to other nodes.
  const match = new RegExp(`(?<=\\s)${word.replace(/[{}]/g, '\\$&')}(?=\\s)`).exec(cst.text);
  return match ? cst.offset + match.index : undefined;
}
