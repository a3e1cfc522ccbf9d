/** Lets a document that changes be parsed from what it was. */
import {
  type AstNode,
  type Cancellation,
  DefaultLangiumDocumentFactory,
  type LangiumDocument,
  type LangiumSharedCoreServices,
  type ParseResult,
  type URI,
} from 'langium';
import type { RigParser } from './parser';

export class RigDocumentFactory extends DefaultLangiumDocumentFactory {
  private readonly parser: () => RigParser;
  private readonly previous = new Map<string, ParseResult>();

  constructor(services: LangiumSharedCoreServices, parser: () => RigParser) {
    super(services);
    this.parser = parser;
  }

  override async update<T extends AstNode>(
    document: LangiumDocument<T>,
    cancellation: Cancellation.CancellationToken,
  ): Promise<LangiumDocument<T>> {
    const key = document.uri.toString();
    this.previous.set(key, document.parseResult);
    try {
      return await super.update(document, cancellation);
    } finally {
      this.previous.delete(key);
    }
  }

  protected override async parseAsync<T extends AstNode>(uri: URI, text: string): Promise<ParseResult<T>> {
    return this.parser().parseAgain(text, this.previous.get(uri.toString())) as unknown as ParseResult<T>;
  }
}
