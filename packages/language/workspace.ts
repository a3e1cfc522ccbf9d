/** The folders that are open, the library that is always there, and what a change in one file means for others. */
import {
  type AstNode,
  AstUtils,
  type BuildOptions,
  CstUtils,
  DefaultDocumentBuilder,
  DefaultIndexManager,
  DefaultWorkspaceManager,
  isReference,
  type LangiumDocument,
  type LangiumSharedCoreServices,
  type ReferenceDescription,
  type Stream,
  stream,
  type URI,
  URI as Uri,
  UriUtils,
} from 'langium';
import { isLibrary, libraryFiles } from './library';
import type { SymbolTable } from './symbols';
import type { RigDocumentFactory } from './syntax/factory';
import { isRig } from './used';

/** The scheme of a text that an editor has not saved as a file. */
const UNSAVED = 'untitled';

/** Which files a rig may use: those in the open folder that it is in, or in its own folder where none is open. */
export class Workspace {
  private folders: string[] = [];
  private readonly linkedOut = new Set<string>();
  private readonly reasons = new Map<string, string>();

  open(folders: readonly string[]): void {
    this.folders = folders.map((folder) => withSlash(Uri.parse(folder).toString()));
  }

  isInside(uri: string, document: URI): boolean {
    return !this.linkedOut.has(uri) && uri.startsWith(this.rootOf(document));
  }

  /** Whether a document that is open here is a file that another may use: a saved one, of the same host, inside its folder. */
  mayUse(uri: URI, user: URI): boolean {
    return uri.scheme !== UNSAVED && isRig(uri) && this.isInside(uri.toString(), user);
  }

  /** The folder, with a slash at its end, that a document may use files of. */
  rootOf(document: URI): string {
    const own = document.toString();
    const folder = this.folders.filter((each) => own.startsWith(each)).sort((a, b) => a.length - b.length)[0];
    return folder ?? withSlash(UriUtils.dirname(document).toString());
  }

  /** A link that leads out of its folder counts as outside. */
  leadsOut(uri: string): void {
    this.linkedOut.add(uri);
  }

  /** Keeps why a file that is there cannot be read: "it is not text in UTF-8". */
  cannotRead(uri: string, reason: string): void {
    this.reasons.set(uri, reason);
  }

  whyUnreadable(uri: string): string | undefined {
    return this.reasons.get(uri);
  }

  /** Something has happened to a file, so that what was found out about it may hold no longer. */
  forget(uri: string): void {
    this.linkedOut.delete(uri);
    this.reasons.delete(uri);
  }
}

function withSlash(folder: string): string {
  return folder.endsWith('/') ? folder : `${folder}/`;
}

export class RigWorkspaceManager extends DefaultWorkspaceManager {
  override initialBuildOptions: BuildOptions = { eagerLinking: false, validation: true };
  private readonly shared: LangiumSharedCoreServices;
  private readonly workspace: Workspace;

  constructor(services: LangiumSharedCoreServices, workspace: Workspace) {
    super(services);
    this.shared = services;
    this.workspace = workspace;
  }

  override async initializeWorkspace(...args: Parameters<DefaultWorkspaceManager['initializeWorkspace']>): Promise<void> {
    this.workspace.open(args[0].map((folder) => folder.uri));
    return super.initializeWorkspace(...args);
  }

  protected override async loadAdditionalDocuments(_folders: unknown, collector: (document: LangiumDocument) => void): Promise<void> {
    for (const { uri, text } of libraryFiles()) {
      if (!this.langiumDocuments.hasDocument(uri))
        collector((this.shared.workspace.LangiumDocumentFactory as RigDocumentFactory).unread(uri, text));
    }
  }
}

/**
 * Which documents a change concerns, and who refers to whom.
 *
 * Names come from the files that a document uses and from nowhere else, so that tells whom a change concerns; and
 * references are looked for when somebody asks, not gathered at every keystroke.
 */
export class RigIndexManager extends DefaultIndexManager {
  private readonly symbols: () => SymbolTable;
  private last: { readonly changed: Set<string>; readonly size: number; readonly affected: Set<string> } | undefined;

  constructor(services: LangiumSharedCoreServices, symbols: () => SymbolTable) {
    super(services);
    this.symbols = symbols;
  }

  /** What is declared is looked up in `symbols.ts`, which does not need the trees for it: once known, nobody who asks waits for it. */
  override async updateContent(document: LangiumDocument): Promise<void> {
    void this.symbols().of(document).card;
  }

  override async updateReferences(): Promise<void> {}

  override findAllReferences(target: AstNode): Stream<ReferenceDescription> {
    const { uri } = AstUtils.getDocument(target);
    const found: ReferenceDescription[] = [];
    const users = isLibrary(uri) ? undefined : this.symbols().usersOf([uri.toString()]);
    for (const document of this.documents.all) {
      if (users && !users.has(document.uri.toString())) continue;
      for (const node of AstUtils.streamAst(document.parseResult.value)) {
        for (const { reference, container } of AstUtils.streamReferences(node)) {
          if (!isReference(reference) || reference.ref !== target || !reference.$refNode) continue;
          found.push({
            sourceUri: document.uri,
            sourcePath: this.pathOf(container),
            targetUri: uri,
            targetPath: this.pathOf(target),
            segment: CstUtils.toDocumentSegment(reference.$refNode),
            local: UriUtils.equals(document.uri, uri),
          });
        }
      }
    }
    return stream(found);
  }

  private pathOf(node: AstNode): string {
    return this.serviceRegistry.getServices(AstUtils.getDocument(node).uri).workspace.AstNodeLocator.getAstNodePath(node);
  }

  override isAffected(document: LangiumDocument, changed: Set<string>): boolean {
    // Whoever asks does so for each document in turn.
    if (this.last?.changed !== changed || this.last.size !== changed.size)
      this.last = { changed, size: changed.size, affected: this.symbols().usersOf(changed) };
    return this.last.affected.has(document.uri.toString());
  }
}

/** Links names when they are looked at: checking a rig looks at all of them, so a pass of its own would be work done twice. */
export class RigDocumentBuilder extends DefaultDocumentBuilder {
  override updateBuildOptions: BuildOptions = { eagerLinking: false, validation: true };

  /** A document is checked whole or not at all: in which parts others would check it is not asked of each file at each key. */
  protected override resultsAreIncomplete({ uri }: LangiumDocument): boolean {
    const state = this.buildState.get(uri.toString());
    return !state?.completed && !state?.result?.validationChecks;
  }
}
