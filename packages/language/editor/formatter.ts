/** Formatting of a document, of some of its lines, and of the line that is being typed. */
import type { LangiumDocument } from 'langium';
import type { Formatter } from 'langium/lsp';
import type {
  DocumentFormattingParams,
  DocumentOnTypeFormattingOptions,
  DocumentOnTypeFormattingParams,
  DocumentRangeFormattingParams,
  TextEdit,
} from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { braceEdits, formatEdits, indentEdit, type Part, type SpaceEdit } from '../format';
import type { RigEditorServices } from './services';

/** The look of a rig does not hang on who opens it: the client's own tab size and the like are not asked. */
export class RigFormatter implements Formatter {
  constructor(private readonly services: RigEditorServices) {}

  readonly formatOnTypeOptions: DocumentOnTypeFormattingOptions = { firstTriggerCharacter: '\n', moreTriggerCharacter: ['}'] };

  formatDocument(document: LangiumDocument, _params: DocumentFormattingParams): TextEdit[] {
    return this.edits(document).map((edit) => inLines(document.textDocument, edit));
  }

  /** Whole lines, from the first to the last that the range touches. */
  formatDocumentRange(document: LangiumDocument, { range: { start, end } }: DocumentRangeFormattingParams): TextEdit[] {
    const { textDocument } = document;
    // A selection of whole lines ends at the start of the next, which is not meant.
    const lastLine = end.character === 0 && end.line > start.line ? end.line - 1 : end.line;
    const from = textDocument.offsetAt({ line: start.line, character: 0 });
    const to = textDocument.offsetAt({ line: lastLine + 1, character: 0 });
    return this.edits(document, { from, to: lastLine + 1 < textDocument.lineCount ? to : Number.POSITIVE_INFINITY })
      .filter((edit) => edit.start >= from && edit.end <= to && !(edit.start === to && lastLine + 1 < textDocument.lineCount))
      .map((edit) => inLines(textDocument, edit));
  }

  /** Only how far the line is set in: what is being typed in it is not pushed about. */
  formatDocumentOnType(document: LangiumDocument, { position, ch }: DocumentOnTypeFormattingParams): TextEdit[] {
    const { textDocument } = document;
    const text = textDocument.getText();
    const lineStart = textDocument.offsetAt({ line: position.line, character: 0 });
    const before = text.slice(lineStart, textDocument.offsetAt(position));
    // A brace at the end of a line that has other words closes nothing but itself.
    if (before.trim() !== '' && before.trim() !== '}') return [];
    const above = ch === '\n' && before.trim() === '' ? braceEdits(this.services, text, lineStart) : [];
    if (above.length > 0) return above.map((each) => inLines(textDocument, each));
    const edit = indentEdit(this.services, text, lineStart);
    return edit ? [inLines(textDocument, edit)] : [];
  }

  private edits(document: LangiumDocument, part?: Part): SpaceEdit[] {
    return formatEdits(this.services, document.textDocument.getText(), document.parseResult, part);
  }
}

function inLines(textDocument: TextDocument, { start, end, newText }: SpaceEdit): TextEdit {
  return { range: { start: textDocument.positionAt(start), end: textDocument.positionAt(end) }, newText };
}
