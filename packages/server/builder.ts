/** Builds documents while somebody types in them. */
import {
  type BuildOptions,
  DocumentState,
  interruptAndCheck,
  isOperationCancelled,
  type LangiumDocument,
  type MaybePromise,
  type URI,
  UriUtils,
} from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import {
  type CancellationToken,
  CancellationTokenSource,
  type Diagnostic,
  DiagnosticSeverity,
  LSPErrorCodes,
  ResponseError,
} from 'vscode-languageserver';
import { RigDocumentBuilder, type RigServices, type UsedFiles } from '#language';

export class ServerDocumentBuilder extends RigDocumentBuilder {
  /** What went wrong with a document, until it is read again. */
  private readonly stumbles = new WeakMap<LangiumDocument, unknown>();
  /** What others could see of a file when they were last checked, where it has changed since. */
  private readonly seen = new Map<string, Seen>();
  /** Files with a name in them that means nothing: any other file may bring it. */
  private readonly lacking = new Set<string>();
  private sorted: { readonly changed: Set<string>; readonly surely: Set<string>; readonly lacking: ReadonlySet<string> } | undefined;

  constructor(
    services: LangiumSharedServices,
    private readonly used: () => UsedFiles,
    private readonly rig: () => RigServices,
  ) {
    super(services);
  }

  override async update(changed: URI[], deleted: URI[], token?: CancellationToken): Promise<void> {
    for (const uri of changed) {
      const document = this.langiumDocuments.getDocument(uri);
      const key = uri.toString();
      // One that nothing was built of has never been seen.
      if (!document || this.seen.has(key) || !this.buildState.has(key)) continue;
      const seen = this.seenOf(document, this.rig().rig.Symbols.usersOf([key]).size > 1);
      if (seen) this.seen.set(key, seen);
    }
    return super.update(changed, deleted, token);
  }

  /** What others can see of a file; nothing where that cannot be told. Where nobody uses it, it lends nothing, whatever it may say. */
  private seenOf(document: LangiumDocument, isUsed: boolean): Seen | undefined {
    try {
      const symbols = this.rig().rig.Symbols.of(document);
      return { lent: isUsed ? symbols.lent : undefined, offered: symbols.offered };
    } catch {
      return undefined;
    }
  }

  /** Of a file that has been read before it is only known what has changed in it once it is read again. */
  protected override shouldRelink(document: LangiumDocument, changed: Set<string>): boolean {
    if (this.sorted?.changed !== changed) {
      const surely = new Set([...changed].filter((each) => !this.seen.has(each)));
      this.sorted = { changed, surely, lacking: this.lackingNames(surely.size > 0) };
    }
    const { surely, lacking } = this.sorted;
    try {
      return surely.size > 0 && (lacking.has(document.uri.toString()) || this.indexManager.isAffected(document, surely));
    } catch {
      // Where it cannot be told, it may well concern the document.
      return true;
    }
  }

  /** Who is told of a name that means nothing, in a file or in one that it uses: where there are `others` now, it may mean something. */
  private lackingNames(others: boolean): ReadonlySet<string> {
    return others ? this.rig().rig.Symbols.usersOf(this.lacking) : new Set();
  }

  /** Those that what has been read again concerns: who uses it, where that looks different now, and who lacks a name, where it has others. */
  private concerned(read: Iterable<LangiumDocument>, others: readonly LangiumDocument[]): LangiumDocument[] {
    const { Symbols, Trees } = this.rig().rig;
    const different = new Set(others.map(({ uri }) => uri.toString()));
    const alike = new Set<string>();
    let names = others.length > 0;
    for (const document of read) {
      const key = document.uri.toString();
      const before = this.seen.get(key);
      if (!before) continue;
      this.seen.delete(key);
      const now = this.seenOf(document, before.lent !== undefined);
      if (now?.lent === before.lent) alike.add(key);
      else different.add(key);
      names ||= now?.offered !== before.offered;
    }
    const users = Symbols.usersOf(different);
    const lacking = this.lackingNames(names);
    const linked = Symbols.usersOf(alike);
    return this.langiumDocuments.all
      .filter((document) => {
        const key = document.uri.toString();
        if (users.has(key) || lacking.has(key)) return true;
        // It looks the same, but its nodes may be others.
        if (linked.has(key) && Trees.isHeld(document)) this.unlink(document);
        return false;
      })
      .toArray();
  }

  /** What its names mean is looked up again when somebody asks. */
  private unlink(document: LangiumDocument): void {
    this.serviceRegistry.getServices(document.uri).references.Linker.unlink(document);
  }

  /** What was built of this document no longer holds. Requests wait for the next build instead of answering from the old one. */
  outdate(uri: URI): void {
    let document = this.langiumDocuments.getDocument(uri);
    if (!document) {
      document = this.langiumDocumentFactory.fromModel({ $type: 'INVALID' }, uri);
      this.langiumDocuments.addDocument(document);
    }
    document.state = DocumentState.Changed;
    this.currentState = DocumentState.Changed;
  }

  /** Reading a file can bring in others and can fail, so it is done first and what hangs on those files is built with it. */
  protected override async buildDocuments(documents: LangiumDocument[], options: BuildOptions, token: CancellationToken): Promise<void> {
    this.prepareBuild(documents, options);
    const lost: LangiumDocument[] = [];
    await this.runCancelable(documents, DocumentState.Parsed, token, async (document) => {
      const isOpen = () => this.textDocuments?.get(document.uri) !== undefined;
      try {
        if (!isOpen() && (await this.used().hasLeft(document.uri)) && !isOpen()) lost.push(document);
        else await this.langiumDocumentFactory.update(document, token);
      } catch (problem) {
        if (isOperationCancelled(problem) || isOpen()) throw problem;
        lost.push(document);
      }
    });
    for (const document of lost) {
      this.langiumDocuments.deleteDocument(document.uri);
      this.cleanUpDeleted(document);
    }
    const building = new Set(documents.filter((document) => !lost.includes(document)));
    const buildToo = (concerned: readonly LangiumDocument[]) => {
      for (const document of concerned) {
        // One that a build broken off has left to this one may have been looked at in that build.
        if (building.has(document)) this.unlink(document);
        else this.resetToState(document, DocumentState.ComputedScopes);
        building.add(document);
      }
    };
    // Whoever uses what is lost looks for it again, and learns why it cannot be read.
    buildToo(this.concerned(building, lost));
    const found = await this.readUsed(building);
    for (const document of found) building.add(document);
    buildToo(this.concerned([], found));
    // What was gathered from the old texts while the new ones were being read is out of date, too.
    await this.emitUpdate(
      found.map((document) => document.uri),
      lost.map((document) => document.uri),
    );
    await super.buildDocuments(this.sortDocuments([...building]), options, token);
    this.rig().rig.Trees.settle();
  }

  protected override cleanUpDeleted(document: LangiumDocument): void {
    super.cleanUpDeleted(document);
    const key = document.uri.toString();
    this.lacking.delete(key);
    this.seen.delete(key);
  }

  /** What these documents use and nobody has read yet. */
  private async readUsed(users: Iterable<LangiumDocument>): Promise<LangiumDocument[]> {
    const found: LangiumDocument[] = [];
    const used = this.used();
    for (const user of users) {
      // Of many files that nobody has read yet it takes a while to learn what they use.
      await interruptAndCheck(GOES_ON);
      try {
        found.push(...(await used.read([user])));
      } catch (problem) {
        this.stumble(user, problem);
      }
    }
    return found;
  }

  /**
   * Names are linked when they are looked at, and no document passes through the states that stand for linking: a request
   * that asks for one of them can be answered once names can be looked at. None is answered sooner: an outline names what it shows, and
   * a name that is looked at before the files it may come from have been read would be taken for unknown, for good.
   */
  protected override async awaitDocumentState(state: DocumentState, uri: URI, token: CancellationToken): Promise<URI> {
    const waiting = new CancellationTokenSource();
    let isGone = false;
    // A document that is deleted passes through no state any more; who waits for one would wait for ever.
    const stops = [
      token.onCancellationRequested(() => waiting.cancel()),
      this.onUpdate((_changed, deleted) => {
        isGone ||= deleted.some((each) => UriUtils.equals(each, uri));
        if (isGone) waiting.cancel();
      }),
    ];
    try {
      return await super.awaitDocumentState(reachable(state), uri, token.isCancellationRequested ? token : waiting.token);
    } catch (problem) {
      throw isGone && !token.isCancellationRequested
        ? new ResponseError(LSPErrorCodes.RequestFailed, `${uri.toString()} has been closed, and is not there any more.`)
        : problem;
    } finally {
      for (const stop of stops) stop.dispose();
    }
  }

  protected override awaitBuilderState(state: DocumentState, token: CancellationToken): Promise<void> {
    return super.awaitBuilderState(reachable(state), token);
  }

  /**
   * A document that is finished is always announced. The default leaves the announcement out, for good, where a change
   * in another document has come in meanwhile.
   */
  protected override async notifyDocumentPhase(document: LangiumDocument, state: DocumentState, token: CancellationToken): Promise<void> {
    for (const listener of this.documentPhaseListeners.get(state).slice()) {
      try {
        await listener(document, token);
      } catch (problem) {
        if (isOperationCancelled(problem)) throw problem;
        console.error(`Could not tell what has become of ${document.uri.toString()}.`, problem);
      }
    }
    if (state === DocumentState.Validated) this.rig().rig.Trees.ease();
  }

  /** One document's failure is told at that document, and the others go on. */
  protected override runCancelable(
    documents: LangiumDocument[],
    state: DocumentState,
    token: CancellationToken,
    callback: (document: LangiumDocument) => MaybePromise<unknown>,
  ): Promise<void> {
    return super.runCancelable(documents, state, token, async (document) => {
      try {
        if (state === DocumentState.Parsed) this.stumbles.delete(document);
        await callback(document);
      } catch (problem) {
        if (isOperationCancelled(problem)) throw problem;
        this.stumble(document, problem);
        if (state === DocumentState.Parsed) this.empty(document);
        if (state === DocumentState.Validated) this.markAsCompleted(document);
      }
      const stumble = this.stumbles.get(document);
      if (state === DocumentState.Validated && stumble !== undefined) document.diagnostics = [stumbled(stumble)];
    });
  }

  private stumble(document: LangiumDocument, problem: unknown): void {
    console.error(`Could not check ${document.uri.toString()}.`, problem);
    this.stumbles.set(document, problem);
  }

  /** The tree of a text that has changed since stands for nothing any more. */
  private empty(document: LangiumDocument): void {
    const parseResult = this.serviceRegistry.getServices(document.uri).parser.LangiumParser.parse('');
    Object.assign(parseResult.value, { $document: document });
    document.parseResult = parseResult;
  }

  protected override async validate(document: LangiumDocument, token: CancellationToken): Promise<void> {
    await super.validate(document, token);
    const key = document.uri.toString();
    if (document.references.some(({ error }) => error !== undefined)) this.lacking.add(key);
    else this.lacking.delete(key);
  }
}

interface Seen {
  /** What those can see who use it; nothing where nobody does. */
  readonly lent: string | undefined;
  /** What those can see who might. */
  readonly offered: string;
}

/** Whoever waits is let in between, and what is under way is finished whatever comes in. */
const GOES_ON = new CancellationTokenSource().token;

function reachable(state: DocumentState): DocumentState {
  const before = state === DocumentState.Parsed || state === DocumentState.IndexedContent;
  return before || state === DocumentState.Linked || state === DocumentState.IndexedReferences ? DocumentState.ComputedScopes : state;
}

function stumbled(problem: unknown): Diagnostic {
  const says = problem instanceof Error ? problem.message : String(problem);
  return {
    range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
    severity: DiagnosticSeverity.Error,
    source: 'earloom',
    message: `Earloom could not check this file: ${says}. That is a fault in Earloom, not in what you wrote; its output panel has the details.`,
  };
}
