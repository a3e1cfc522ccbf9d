/** Builds documents while somebody types in them. */
import { type BuildOptions, DocumentState, isOperationCancelled, type LangiumDocument, type URI, UriUtils } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import {
  type CancellationToken,
  CancellationTokenSource,
  type Diagnostic,
  DiagnosticSeverity,
  LSPErrorCodes,
  ResponseError,
} from 'vscode-languageserver';
import { RigDocumentBuilder, type UsedFiles } from '#language';

export class ServerDocumentBuilder extends RigDocumentBuilder {
  constructor(
    services: LangiumSharedServices,
    private readonly used: () => UsedFiles,
  ) {
    super(services);
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
      try {
        await this.langiumDocumentFactory.update(document, token);
      } catch (problem) {
        if (isOperationCancelled(problem) || this.textDocuments?.get(document.uri)) throw problem;
        lost.push(document);
      }
    });
    for (const document of lost) {
      this.langiumDocuments.deleteDocument(document.uri);
      this.cleanUpDeleted(document);
    }
    const building = new Set(documents.filter((document) => !lost.includes(document)));
    const found = await this.used().read(building);
    const changed = new Set([...lost, ...found].map((document) => document.uri.toString()));
    for (const document of found) building.add(document);
    if (changed.size > 0) {
      for (const document of this.langiumDocuments.all) {
        if (building.has(document) || !this.shouldRelink(document, changed)) continue;
        this.resetToState(document, DocumentState.ComputedScopes);
        building.add(document);
      }
    }
    // What was gathered from the old texts while the new ones were being read is out of date, too.
    await this.emitUpdate(
      found.map((document) => document.uri),
      lost.map((document) => document.uri),
    );
    await super.buildDocuments([...building], options, token);
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
    for (const listener of this.documentPhaseListeners.get(state).slice()) await listener(document, token);
  }

  /** A check that fails says so in the document and leaves the others their checks. */
  protected override async validate(document: LangiumDocument, token: CancellationToken): Promise<void> {
    try {
      await super.validate(document, token);
    } catch (problem) {
      if (isOperationCancelled(problem)) throw problem;
      console.error(`Could not check ${document.uri.toString()}.`, problem);
      document.diagnostics = [stumbled(problem)];
    }
  }
}

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
