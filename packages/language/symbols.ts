/** What each document declares, and what a document can see: its own, that of the files it uses, and the library. */
import {
  type AstNode,
  AstUtils,
  type LangiumDocument,
  type LangiumDocuments,
  type LangiumSharedCoreServices,
  type URI,
  UriUtils,
  WorkspaceCache,
} from 'langium';
import type { Gear, Mix, Model, Performer, RigFile, Source, Use } from './generated/ast';
import { isLibrary, LIBRARY_SIZE } from './library';

export type Declaration = Model | Gear | Performer | Source | Mix;
export type Kind = Declaration['$type'];

export interface Symbols {
  readonly document: LangiumDocument<RigFile>;
  /** The first of each name; later ones of the same name are in `twins`. */
  readonly byKind: Readonly<Record<Kind, ReadonlyMap<string, Declaration>>>;
  readonly twins: readonly Declaration[];
  readonly uses: readonly Use[];
  /** Whether it has a `rig` statement of its own. */
  readonly title: boolean;
}

/** What `use` brings in. Runs and mixes stay with the rig that they belong to. */
export const SHARED: ReadonlySet<Kind> = new Set<Kind>(['Model', 'Gear', 'Performer', 'Source']);

export class SymbolTable {
  private readonly documents: LangiumDocuments;
  private readonly perDocument: WorkspaceCache<string, Symbols>;
  private readonly perClosure: WorkspaceCache<string, readonly Symbols[]>;
  private readonly fixed = new Map<string, Symbols>();
  private shelf: readonly Symbols[] = [];

  constructor(services: LangiumSharedCoreServices) {
    this.documents = services.workspace.LangiumDocuments;
    this.perDocument = new WorkspaceCache(services);
    this.perClosure = new WorkspaceCache(services);
  }

  of(document: LangiumDocument): Symbols {
    const key = document.uri.toString();
    // The library never changes.
    if (isLibrary(document.uri)) {
      const symbols = this.fixed.get(key) ?? collect(document as LangiumDocument<RigFile>);
      this.fixed.set(key, symbols);
      return symbols;
    }
    return this.perDocument.get(key, () => collect(document as LangiumDocument<RigFile>));
  }

  /** A document and all that it uses, directly or not, nearest first. Cycles are fine. Without the library. */
  closure(document: LangiumDocument): readonly Symbols[] {
    return this.perClosure.get(document.uri.toString(), () => {
      const found = new Map([[document.uri.toString(), this.of(document)]]);
      for (const symbols of found.values()) {
        for (const use of symbols.uses) {
          const uri = usedUri(use);
          const used = uri && this.documents.getDocument(uri);
          if (used && !found.has(used.uri.toString())) found.set(used.uri.toString(), this.of(used));
        }
      }
      return [...found.values()];
    });
  }

  find(document: LangiumDocument, kind: Kind, name: string): Declaration | undefined {
    for (const [index, symbols] of this.closure(document).entries()) {
      if (index > 0 && !SHARED.has(kind)) break;
      const found = symbols.byKind[kind].get(name);
      if (found) return found;
    }
    return kind === 'Model' ? this.libraryModel(name) : undefined;
  }

  /** All that a document can see of a kind, nearest first; a nearer one hides a farther one of the same name. */
  all(document: LangiumDocument, kind: Kind): Declaration[] {
    const seen = new Map<string, Declaration>();
    const add = (symbols: Symbols) => {
      for (const [name, declaration] of symbols.byKind[kind]) if (!seen.has(name)) seen.set(name, declaration);
    };
    for (const [index, symbols] of this.closure(document).entries()) if (index === 0 || SHARED.has(kind)) add(symbols);
    if (kind === 'Model') for (const symbols of this.library()) add(symbols);
    return [...seen.values()];
  }

  /** The path, as a `use` here would write it, of another file that shares this name. */
  elsewhere(document: LangiumDocument, name: string, kinds: readonly Kind[], mayLend: (other: Symbols) => boolean): string | undefined {
    const seen = new Set(this.closure(document).map((symbols) => symbols.document.uri.toString()));
    for (const other of this.documents.all) {
      if (seen.has(other.uri.toString()) || isLibrary(other.uri)) continue;
      const symbols = this.of(other);
      if (!kinds.some((kind) => SHARED.has(kind) && symbols.byKind[kind].has(name)) || !mayLend(symbols)) continue;
      return UriUtils.relative(UriUtils.dirname(document.uri), other.uri);
    }
    return undefined;
  }

  libraryModel(name: string): Declaration | undefined {
    for (const symbols of this.library()) {
      const found = symbols.byKind.Model.get(name);
      if (found) return found;
    }
    return undefined;
  }

  private library(): readonly Symbols[] {
    if (this.shelf.length < LIBRARY_SIZE) {
      this.shelf = this.documents.all
        .filter((document) => isLibrary(document.uri))
        .map((document) => this.of(document))
        .toArray();
    }
    return this.shelf;
  }
}

function collect(document: LangiumDocument<RigFile>): Symbols {
  const byKind: Record<Kind, Map<string, Declaration>> = {
    Model: new Map(),
    Gear: new Map(),
    Performer: new Map(),
    Source: new Map(),
    Mix: new Map(),
  };
  const twins: Declaration[] = [];
  const uses: Use[] = [];
  let title = false;
  for (const statement of document.parseResult.value.statements ?? []) {
    if (statement.$type === 'Use') uses.push(statement);
    if (statement.$type === 'Header') title = true;
    const table = byKind[statement.$type as Kind];
    const declaration = statement as Declaration;
    if (!table || typeof declaration.name !== 'string') continue;
    if (table.has(declaration.name)) twins.push(declaration);
    else table.set(declaration.name, declaration);
  }
  return { document, byKind, twins, uses, title };
}

/** Where a `use` points, whether or not anything is there. Its path starts from the folder of its file. */
export function usedUri(use: Use): URI | undefined {
  // Half a surrogate is no character, has no address, and is saved as what stands for a lost one.
  const path = use.path?.trim().replace(/\p{Surrogate}/gu, '\uFFFD');
  if (!path) return undefined;
  const base = AstUtils.getDocument(use as AstNode).uri;
  return UriUtils.joinPath(UriUtils.dirname(base), ...path.split(/[\\/]/));
}
