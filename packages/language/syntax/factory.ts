/**
 * Documents whose syntax tree is read when somebody asks for it, and can be let go and read again: it is a hundred times as large
 * as the text. What changes under an editor's hands is parsed from what it was.
 */
import {
  type AstNode,
  type Cancellation,
  type CstNode,
  DefaultLangiumDocumentFactory,
  DocumentState,
  type LangiumDocument,
  type LangiumSharedCoreServices,
  type ParseResult,
  RootCstNodeImpl,
  type URI,
} from 'langium';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import type { RigFile, Statement } from '../generated/ast';
import type { Chunk, Extent, RigParser } from './parser';

/** What is kept of a document: its tree, or the text that it is read from. */
interface Kept {
  text: string;
  tree: ParseResult | undefined;
  /** Another for each text, the same for the same one. */
  revision: object;
  /** What has been read of it statement by statement, while nobody has asked for the tree. */
  parts?: Parts;
}

interface Parts {
  /** Stands for the whole file above its statements; whoever looks at more than those that have been read has the rest read. */
  readonly file: RigFile;
  readonly chunks: Map<number, Chunk>;
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

function fileAbove(document: LangiumDocument<RigFile>, text: string): RigFile {
  const root = new RootCstNodeImpl(text);
  Object.defineProperty(root, 'content', { get: () => (document.parseResult.value.$cstNode as RootCstNodeImpl).content });
  const file = {
    $type: 'RigFile',
    $document: document,
    $cstNode: root,
    get statements() {
      return document.parseResult.value.statements;
    },
  } as RigFile;
  root.astNode = file;
  return file;
}

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
      own.parts = undefined;
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

  /** One statement of a document, read by itself where the tree has not been read: the same node as the tree will have. */
  statement(document: LangiumDocument, extent: Extent, index: number): Statement | undefined {
    const own = kept.get(document);
    if (!own || own.tree) return (document.parseResult as ParseResult<RigFile>).value.statements[index];
    own.parts ??= { file: fileAbove(document as LangiumDocument<RigFile>, own.text), chunks: new Map() };
    const { file, chunks } = own.parts;
    let chunk = chunks.get(extent.start);
    if (!chunk) {
      chunk = this.parser().parsePart(own.text, extent);
      chunks.set(extent.start, chunk);
      for (const node of chunk.nodes) (node as Mutable<CstNode>).container = file.$cstNode as RootCstNodeImpl;
      for (const statement of chunk.statements as Mutable<Statement>[]) {
        statement.$container = file;
        statement.$containerProperty = 'statements';
        statement.$containerIndex = index;
      }
    }
    return chunk.statements[0];
  }

  /** A document whose text is read when somebody asks for it. */
  unread<T extends AstNode>(uri: URI, text: string): LangiumDocument<T> {
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
          own.tree = own.parts ? this.parser().parseRest(own.text, own.parts.chunks) : this.parser().parseAgain(own.text);
          own.parts = undefined;
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
