/** Where somebody asks for a refactoring: the statements that the cursor or the selection touches. */
import { type AstNode, AstUtils, type LangiumDocument } from 'langium';
import type { Range, WorkspaceEdit } from 'vscode-languageserver';
import type { Analysis } from '../../analysis';
import type * as ast from '../../generated/ast';
import { Layout } from '../../layout';
import { runIds } from '../../lowering/identity';
import { stretchesOf } from '../../syntax/parser';
import type { RigEditorServices } from '../services';

export interface Refactoring {
  readonly title: string;
  readonly kind: string;
  readonly edit: WorkspaceEdit;
}

export class Here {
  readonly document: LangiumDocument<ast.RigFile>;
  readonly file: ast.RigFile;
  readonly layout: Layout;
  /** The stretch that is selected, as offsets; both are the cursor where nothing is. */
  readonly start: number;
  readonly end: number;
  /** What can be read of the lines that the selection touches; nothing where a part of them cannot be. */
  readonly statements: readonly ast.Statement[];
  /** Stretches that something is wrong with; the whole text where that cannot be told. */
  private readonly unsound: readonly { readonly start: number; readonly end: number }[];

  private ids: ReadonlyMap<ast.Statement, string> | undefined;

  constructor(
    readonly services: RigEditorServices,
    readonly analysis: Analysis,
    range: Range,
  ) {
    this.document = analysis.document;
    this.file = this.document.parseResult.value;
    this.layout = Layout.of(this.file);
    this.start = this.document.textDocument.offsetAt(range.start);
    this.end = Math.max(this.start, this.document.textDocument.offsetAt(range.end));
    const stretches = stretchesOf(this.document.parseResult) ?? [{ start: 0, end: this.layout.text.length, sound: false }];
    this.unsound = stretches.filter(({ sound }) => !sound);
    const from = this.layout.lineStart(this.start);
    // A selection of whole lines ends at the start of the line behind them, which is none of them.
    const to = this.end > this.start && this.layout.lineStart(this.end) === this.end ? this.end - 1 : this.layout.lineEnd(this.end);
    const touched = this.file.statements.filter(({ $cstNode: cst }) => cst && cst.offset <= to && cst.end > from);
    this.statements = touched.every((statement) => this.isSound(statement)) ? touched : [];
  }

  /** The statement of the cursor's line, where there is but one. */
  get statement(): ast.Statement | undefined {
    return this.statements.length === 1 ? this.statements[0] : undefined;
  }

  /** Whether nothing is wrong with how a statement is written. */
  isSound(statement: ast.Statement): boolean {
    const at = statement.$cstNode?.offset ?? -1;
    return this.unsound.every(({ start, end }) => start > at || end <= at);
  }

  /** Whether a whole file can be read. */
  isReadable(document: LangiumDocument = this.document): boolean {
    return stretchesOf(document.parseResult)?.every(({ sound }) => sound) ?? false;
  }

  /** The place of a line; a part of none where it is no line. */
  placeOf(statement: ast.Statement): string {
    this.ids ??= runIds(this.file.statements);
    return this.ids.get(statement) ?? '';
  }

  /** The lines of a statement from the start of its first to the end of its last, where nothing else but a comment stands on them. */
  linesOf(statement: ast.Statement): { start: number; end: number } | undefined {
    const cst = statement.$cstNode;
    if (!cst) return undefined;
    const start = this.layout.lineStart(cst.offset);
    const end = this.layout.lineEnd(cst.end);
    const alone = this.layout.text.slice(start, cst.offset).trim() === '' && /^\s*(#.*)?$/.test(this.layout.text.slice(cst.end, end));
    return alone ? { start, end } : undefined;
  }

  /** Whether something is wrong within a statement. */
  hasFinding(statement: ast.Statement): boolean {
    const { range } = statement.$cstNode ?? {};
    return (
      range !== undefined &&
      this.analysis.located.some(({ range: at }) => at.start.line <= range.end.line && at.end.line >= range.start.line)
    );
  }
}

/** The statement that a node is a part of, or is. */
export function statementOf(node: AstNode): ast.Statement | undefined {
  const found = AstUtils.getContainerOfType(node, (each): each is ast.Statement => each.$container?.$type === 'RigFile');
  return found;
}

export function viaOf(statement: ast.Statement): ast.Via | undefined {
  if (statement.$type === 'Input') {
    const all = statement.clauses.filter((clause): clause is ast.Via => clause.$type === 'Via');
    // Said twice, the last counts; which is meant is not for us to say.
    return all.length === 1 ? all[0] : undefined;
  }
  return statement.$type === 'House' || statement.$type === 'Output' ? statement.via : undefined;
}
