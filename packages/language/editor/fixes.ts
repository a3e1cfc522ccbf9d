/** Quick fixes: the cures of a finding, and a few that only the text and the workspace know of. */
import { type LangiumDocument, UriUtils } from 'langium';
import type { CodeActionProvider } from 'langium/lsp';
import { type CodeAction, CodeActionKind, type CodeActionParams, type Diagnostic, type Range, type TextEdit } from 'vscode-languageserver';
import type { FiguresOf, Fix } from '#engine';
import { unitsFor } from '#rig';
import type { Located } from '../analysis';
import type * as ast from '../generated/ast';
import { isLibrary } from '../library';
import { nearest } from '../near';
import { contextAt } from './context';
import { dimensionsOf } from './dimensions';
import { type Cure, Curing } from './edits';
import { Expecting } from './expect';
import { Layout } from './layout';
import type { RigEditorServices } from './services';

/** A list that nobody would read to its end is no help. */
const MOST = 6;

export class RigFixProvider implements CodeActionProvider {
  private readonly expecting: Expecting;

  constructor(private readonly services: RigEditorServices) {
    this.expecting = new Expecting(services.Grammar);
  }

  getCodeActions(document: LangiumDocument, params: CodeActionParams): CodeAction[] {
    const { only, diagnostics } = params.context;
    if (isLibrary(document.uri) || (only && !only.some((kind) => kind === '' || kind === CodeActionKind.QuickFix))) return [];
    const analysis = this.services.rig.Analyser.of(document);
    const curing = new Curing(this.services, analysis);
    return diagnostics.flatMap((diagnostic) => {
      const actions = analysis.located
        .filter((located) => located.finding.code === diagnostic.code && sameRange(located.range, diagnostic.range))
        .flatMap((located) => this.actionsFor(document, located, curing, diagnostic));
      return actions.filter(({ title }, index) => actions.findIndex((other) => other.title === title) === index).slice(0, MOST);
    });
  }

  private actionsFor(document: LangiumDocument, located: Located, curing: Curing, diagnostic: Diagnostic): CodeAction[] {
    const { fixes } = located.finding;
    const textual = this.textual(document, located);
    const cures = [...textual, ...fixes.map((fix) => ({ fix, cure: curing.cure(fix) }))];
    const seen = new Set<string>();
    const [first] = cures;
    return cures.flatMap(({ fix, cure }) => {
      if (!cure || seen.has(cure.title)) return [];
      seen.add(cure.title);
      const best = first?.cure === cure && (cures.length === 1 || (fix ? isClear(fix) : textual.length === 1));
      const changes = Object.fromEntries(Object.entries(cure.changes).map(([uri, edits]) => [uri, [...edits]]));
      return [
        { title: cure.title, kind: CodeActionKind.QuickFix, diagnostics: [diagnostic], isPreferred: best || undefined, edit: { changes } },
      ];
    });
  }

  // ---- cures that only the text knows ------------------------------------------------------------

  private textual(document: LangiumDocument, located: Located): { fix?: Fix; cure: Cure }[] {
    const { finding, range } = located;
    const offset = document.textDocument.offsetAt(range.start);
    const end = document.textDocument.offsetAt(range.end);
    const file = document.parseResult.value as ast.RigFile;
    const layout = new Layout(document.textDocument, file);
    const cure = (title: string, edit: TextEdit | undefined) =>
      edit ? [{ cure: { title, changes: { [document.uri.toString()]: [edit] } } }] : [];
    switch (finding.code) {
      case 'names/unknown': {
        const { file: path } = finding.figures as FiguresOf<'names/unknown'>;
        return path === undefined ? [] : cure(`Use ${path}, which has it`, layout.add('Use', [{ word: '', text: `use "${path}"` }]));
      }
      case 'text/unclosed-brace':
        return cure('Close the brace', this.closing(file, offset, layout));
      case 'text/missing-unit':
        return this.unitsAt(document, end).flatMap((unit) =>
          cure(`Write "${layout.text.slice(offset, end)} ${unit}"`, layout.edit(end, end, ` ${unit}`)),
        );
      case 'use/missing':
        return this.pathsLike(document, (finding.figures as FiguresOf<'use/missing'>).path).flatMap((path) =>
          cure(`Use ${path}`, layout.replace(offset, end, `"${path}"`)),
        );
      case 'use/itself': {
        const use = file.statements.find(
          (statement) => statement.$cstNode && statement.$cstNode.offset <= offset && statement.$cstNode.end >= end,
        )?.$cstNode;
        return use ? cure('Delete this line', layout.remove(use.offset, use.end)) : [];
      }
      default:
        return [];
    }
  }

  /** As many closing braces as are missing, behind the last word of the statement. */
  private closing(file: ast.RigFile, brace: number, layout: Layout): TextEdit | undefined {
    const statement = file.statements.find(({ $cstNode }) => $cstNode && $cstNode.offset <= brace && $cstNode.end > brace)?.$cstNode;
    if (!statement) return undefined;
    const { tokens } = this.services.parser.Lexer.tokenize(statement.text);
    const missing = tokens.reduce((count, { image }) => count + (image === '{' ? 1 : image === '}' ? -1 : 0), 0);
    if (missing < 1) return undefined;
    const oneLine = statement.range.start.line === statement.range.end.line;
    if (oneLine) return layout.edit(statement.end, statement.end, ' }'.repeat(missing));
    const end = layout.lineEnd(statement.end);
    const indent = (index: number) => '  '.repeat(missing - 1 - index);
    return layout.edit(end, end, Array.from({ length: missing }, (_, index) => `${layout.newline}${indent(index)}}`).join(''));
  }

  private unitsAt(document: LangiumDocument, offset: number): string[] {
    const context = contextAt(document.textDocument.getText(), offset, this.services.parser.Lexer, this.expecting);
    // Behind a side comes a share, though `left` could also be a source.
    if (context?.expected.all.some(({ rule }) => rule === 'Percent')) return ['%'];
    const dimensions = context?.expected.all.flatMap(({ rule, figure }) => {
      const [owner, keyword] = figure?.split('/') ?? [];
      return rule === 'Unit' ? dimensionsOf(owner ?? '', keyword ?? '') : [];
    });
    return [...new Set(dimensions)].flatMap(unitsFor);
  }

  /** Files of the workspace that a mistaken path may have meant: of the same name elsewhere, or of nearly the same path. */
  private pathsLike(document: LangiumDocument, path: string): string[] {
    const folder = UriUtils.dirname(document.uri);
    const known = this.services.shared.workspace.LangiumDocuments.all
      .filter(
        ({ uri }) =>
          !isLibrary(uri) && !UriUtils.equals(uri, document.uri) && this.services.rig.Workspace.isInside(uri.toString(), document.uri),
      )
      .map(({ uri }) => UriUtils.relative(folder, uri))
      .toArray();
    const base = path.split(/[\\/]/).at(-1);
    return [...new Set([...known.filter((each) => each.split('/').at(-1) === base), ...nearest(path, known)])];
  }
}

/** A cure that puts things right by itself; what takes something away, or is one of many names, is for the user to choose. */
function isClear({ kind }: Fix): boolean {
  return kind !== 'rewrite' && kind !== 'remove' && kind !== 'remove-send';
}

function sameRange(a: Range, b: Range): boolean {
  return (
    a.start.line === b.start.line &&
    a.start.character === b.start.character &&
    a.end.line === b.end.line &&
    a.end.character === b.end.character
  );
}
