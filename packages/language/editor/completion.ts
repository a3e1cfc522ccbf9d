/** Completion: the words and names that fit where the cursor is, the likeliest first. */
import type { LangiumDocument } from 'langium';
import type { CompletionProvider } from 'langium/lsp';
import {
  type CompletionItem,
  CompletionItemKind,
  type CompletionList,
  type CompletionParams,
  InsertTextFormat,
  MarkupKind,
  Range,
  TextEdit,
} from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { proposedCodes } from './allowing';
import { Candidates, type Proposal } from './candidates';
import { type CursorContext, contextAt } from './context';
import { Expecting } from './expect';
import type { RigEditorServices } from './services';

const KINDS: Readonly<Record<Proposal['kind'], CompletionItemKind>> = {
  statement: CompletionItemKind.Snippet,
  keyword: CompletionItemKind.Keyword,
  model: CompletionItemKind.Class,
  gear: CompletionItemKind.Variable,
  port: CompletionItemKind.Field,
  source: CompletionItemKind.Event,
  performer: CompletionItemKind.Constant,
  mix: CompletionItemKind.Function,
  unit: CompletionItemKind.Unit,
  value: CompletionItemKind.Value,
  file: CompletionItemKind.File,
};

/** Brought up as if it had been typed for: nothing in it is chosen. */
const NEXT = { title: 'What comes next', command: 'editor.action.triggerSuggest', arguments: [{ auto: true }] };

const NOTHING: CompletionList = { isIncomplete: false, items: [] };

export class RigCompletionProvider implements CompletionProvider {
  readonly completionOptions = { triggerCharacters: ['.', ' ', '"', '/'] };
  private readonly expecting: Expecting;
  /** Whether the editor can put the caret inside what it inserts; one that does not say so is taken at its word. */
  private snippets = true;

  constructor(private readonly services: RigEditorServices) {
    this.expecting = new Expecting(services.Grammar);
    services.shared.lsp.LanguageServer.onInitialize(({ capabilities }) => {
      this.snippets = capabilities.textDocument?.completion?.completionItem?.snippetSupport ?? false;
    });
  }

  getCompletion(document: LangiumDocument, params: CompletionParams): CompletionList {
    const text = document.textDocument.getText();
    const offset = document.textDocument.offsetAt(params.position);
    const codes = proposedCodes(this.services.rig.Analyser, document, offset);
    if (codes) return { isIncomplete: false, items: this.items(document, codes.proposals, { ...codes, end: offset, gap: '' }) };
    const context = contextAt(text, offset, this.services.parser.Lexer, this.expecting);
    if (!context) return NOTHING;
    const candidates = new Candidates(this.services, document, context);
    if (!isWanted(params.context?.triggerCharacter, context, candidates)) return NOTHING;
    const proposals = candidates.all();
    // Many editors put the first that is offered there when Enter is pressed: a line that is whole has to end then.
    if (candidates.isWhole(text.slice(context.start, offset), proposals)) return { ...NOTHING, isIncomplete: true };
    const items = this.items(document, proposals, context, setIn(document.textDocument, context));
    // With each letter a word may become whole.
    return { isIncomplete: items.length > 0, items };
  }

  private items(
    { textDocument }: LangiumDocument,
    proposals: readonly Proposal[],
    { start, end, gap }: Pick<CursorContext, 'start' | 'end' | 'gap'>,
    blank?: Range,
  ): CompletionItem[] {
    const range = { start: textDocument.positionAt(start), end: textDocument.positionAt(end) };
    const withBlank = { start: range.start, end: { line: range.end.line, character: range.end.character + 1 } };
    const isBlankThere = textDocument.getText(withBlank).endsWith(' ');
    return proposals.map((proposal, index): CompletionItem => {
      const snippet = proposal.snippet !== undefined && this.snippets;
      const newText = `${gap}${snippet ? proposal.snippet : (proposal.insert ?? proposal.label)}`;
      return {
        label: proposal.label,
        kind: KINDS[proposal.kind],
        detail: proposal.detail,
        labelDetails: proposal.detail === undefined ? undefined : { description: proposal.detail },
        documentation: proposal.documentation === undefined ? undefined : { kind: MarkupKind.Markdown, value: proposal.documentation },
        // The order is ours, not that of the alphabet.
        sortText: String(index).padStart(4, '0'),
        // What is put before a proposal has not been typed.
        filterText: proposal.filter ?? (gap === '' ? undefined : proposal.label),
        insertTextFormat: snippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
        // A blank that is there already is gone behind, not doubled.
        textEdit: { range: isBlankThere && newText.endsWith(' ') ? withBlank : range, newText },
        additionalTextEdits: blank && proposal.kind === 'statement' ? [TextEdit.del(blank)] : undefined,
        // The ports are what is wanted next.
        command: proposal.goesOn ? NEXT : undefined,
      };
    });
  }
}

/** The white space before the first word of a line that is in no block: a statement has none, and editors set in what follows a title's clauses. */
function setIn(document: TextDocument, { start, firstOnLine, indented, depth }: CursorContext): Range | undefined {
  if (!firstOnLine || !indented || depth > 0) return undefined;
  const end = document.positionAt(start);
  return Range.create({ line: end.line, character: 0 }, end);
}

/**
 * Typed in passing, a space only brings the list up where the sentence cannot end, and a quote only where it starts the path of a file.
 * Nor does a figure that is whole.
 */
function isWanted(typed: string | undefined, context: CursorContext, candidates: Candidates): boolean {
  if (typed === '"') return context.path !== undefined;
  if (context.gap !== '') return !candidates.mayEnd();
  return typed !== ' ' || (!context.firstOnLine && !candidates.mayEnd());
}
