/**
 * Documents whose syntax tree is read when somebody asks for it, and can be let go and read again: it is a hundred times as large
 * as the text. What changes under an editor's hands is parsed from what it was.
 */
import {
  type AstNode,
  type Cancellation,
  DefaultLangiumDocumentFactory,
  DocumentState,
  type LangiumDocument,
  type LangiumSharedCoreServices,
  type ParseResult,
  type URI,
} from 'langium';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import type { RigParser } from './parser';

/** What is kept of a document: its tree, or the text that it is read from. */
interface Kept {
  text: string;
  tree: ParseResult | undefined;
  /** Another for each text, the same for the same one. */
  revision: object;
}

const kept = new WeakMap<LangiumDocument, Kept>();

/** Stands for the text that a document has now, whether its tree is there or not. */
export function revisionOf(document: LangiumDocument): object {
  return kept.get(document)?.revision ?? document.parseResult;
}

/** The tree of a document where it has one. */
export function treeOf(document: LangiumDocument): ParseResult | undefined {
  const own = kept.get(document);
  return own ? own.tree : document.parseResult;
}

/** The text of the tree that a document has or would have. That of an open one may be newer. */
export function parsedText(document: LangiumDocument): string {
  const own = kept.get(document);
  return own?.tree?.value.$cstNode?.root.fullText ?? own?.text ?? document.textDocument.getText();
}

/** Lets the tree of a document go; whoever asks for it has it read again. Nodes of the tree are not those of the next one. */
export function letTreeGo(document: LangiumDocument): void {
  const own = kept.get(document);
  const text = own?.tree?.value.$cstNode?.root.fullText;
  // What was never read from a text cannot be read again.
  if (!own || text === undefined) return;
  own.text = text;
  own.tree = undefined;
  document.references = [];
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

export class RigDocumentFactory extends DefaultLangiumDocumentFactory {
  private readonly previous = new Map<string, ParseResult>();

  /** `read` is told of each document that gets a tree. */
  constructor(
    services: LangiumSharedCoreServices,
    private readonly parser: () => RigParser,
    private readonly read: (document: LangiumDocument) => void,
  ) {
    super(services);
  }

  override async update<T extends AstNode>(
    document: LangiumDocument<T>,
    cancellation: Cancellation.CancellationToken,
  ): Promise<LangiumDocument<T>> {
    const open = this.textDocuments?.get(document.uri.toString());
    if (!open) return this.updateClosed(document);
    const key = document.uri.toString();
    this.previous.set(key, document.parseResult);
    try {
      return await super.update(document, cancellation);
    } finally {
      this.previous.delete(key);
    }
  }

  /** Nobody may ever ask for the tree of a file that is not open. */
  private async updateClosed<T extends AstNode>(document: LangiumDocument<T>): Promise<LangiumDocument<T>> {
    const text = await this.fileSystemProvider.readFile(document.uri);
    Object.defineProperty(document, 'textDocument', { get: this.createTextDocumentGetter(document.uri, text), configurable: true });
    const own = kept.get(document);
    if (own && (own.tree === undefined ? own.text : own.tree.value.$cstNode?.root.fullText) !== text) {
      own.text = text;
      own.tree = undefined;
      own.revision = {};
      document.references = [];
    }
    document.state = DocumentState.Parsed;
    return document;
  }

  protected override async parseAsync<T extends AstNode>(uri: URI, text: string): Promise<ParseResult<T>> {
    return this.parser().parseAgain(text, this.previous.get(uri.toString())) as unknown as ParseResult<T>;
  }

  protected override async createAsync<T extends AstNode>(
    uri: URI,
    content: string | TextDocument,
    cancellation: Cancellation.CancellationToken,
  ): Promise<LangiumDocument<T>> {
    return typeof content === 'string' ? this.unread(uri, content) : super.createAsync(uri, content, cancellation);
  }

  private unread<T extends AstNode>(uri: URI, text: string): LangiumDocument<T> {
    const nothing = { value: { $type: 'INVALID' } as AstNode as T, parserErrors: [], lexerErrors: [] };
    const document = super.createLangiumDocument<T>(nothing, uri, undefined, text);
    this.keep(document, { text, tree: undefined, revision: {} });
    return document;
  }

  protected override createLangiumDocument<T extends AstNode>(
    parseResult: ParseResult<T>,
    uri: URI,
    textDocument?: TextDocument,
    text?: string,
  ): LangiumDocument<T> {
    const document = super.createLangiumDocument(parseResult, uri, textDocument, text);
    this.keep(document, { text: text ?? '', tree: parseResult, revision: {} });
    return document;
  }

  private keep(document: LangiumDocument, own: Kept): void {
    kept.set(document, own);
    if (own.tree) this.read(document);
    Object.defineProperty(document, 'parseResult', {
      configurable: true,
      enumerable: true,
      get: () => {
        if (!own.tree) {
          own.tree = this.parser().parseAgain(own.text);
          (own.tree.value as Mutable<AstNode>).$document = document;
          this.read(document);
        }
        return own.tree;
      },
      set: (tree: ParseResult) => {
        own.tree = tree;
        own.revision = {};
        this.read(document);
      },
    });
  }
}
