/** The folders that are open, the library that is always there, and what a change in one file means for others. */
import {
  DefaultIndexManager,
  DefaultWorkspaceManager,
  type LangiumDocument,
  type LangiumSharedCoreServices,
  type URI,
  URI as Uri,
  UriUtils,
} from 'langium';
import { libraryFiles } from './library';
import type { SymbolTable } from './symbols';
import { usedUri } from './symbols';

/** Which files a rig may use: those in the open folder that it is in, or in its own folder where none is open. */
export class Workspace {
  private folders: string[] = [];

  open(folders: readonly string[]): void {
    this.folders = folders.map((folder) => withSlash(Uri.parse(folder).toString()));
  }

  isInside(uri: string, document: URI): boolean {
    const own = document.toString();
    const folder = this.folders.filter((each) => own.startsWith(each)).sort((a, b) => a.length - b.length)[0];
    return uri.startsWith(folder ?? withSlash(UriUtils.dirname(document).toString()));
  }
}

function withSlash(folder: string): string {
  return folder.endsWith('/') ? folder : `${folder}/`;
}

export class RigWorkspaceManager extends DefaultWorkspaceManager {
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
      if (!this.langiumDocuments.hasDocument(uri)) collector(this.shared.workspace.LangiumDocumentFactory.fromString(text, uri));
    }
  }
}

/** A document is also affected by a change in a file that it only reaches by way of another. */
export class RigIndexManager extends DefaultIndexManager {
  private readonly shared: LangiumSharedCoreServices;
  private readonly symbols: () => SymbolTable;

  constructor(services: LangiumSharedCoreServices, symbols: () => SymbolTable) {
    super(services);
    this.shared = services;
    this.symbols = symbols;
  }

  override isAffected(document: LangiumDocument, changed: Set<string>): boolean {
    const seen = new Set<string>();
    const queue = [document];
    for (const each of queue) {
      for (const use of this.symbols().of(each).uses) {
        const uri = usedUri(use);
        const key = uri?.toString();
        if (!uri || !key || seen.has(key)) continue;
        if (changed.has(key)) return true;
        seen.add(key);
        const used = this.shared.workspace.LangiumDocuments.getDocument(uri);
        if (used) queue.push(used);
      }
    }
    return super.isAffected(document, changed);
  }
}
