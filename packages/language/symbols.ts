/** What each document declares, and what a document can see: its own, that of the files it uses, and the library. */
import {
  type AstNode,
  AstUtils,
  type LangiumDocument,
  type LangiumDocuments,
  type LangiumSharedCoreServices,
  type ParseResult,
  type URI,
  UriUtils,
  WorkspaceCache,
} from 'langium';
import { allows } from './allowances';
import type { Gear, Mix, Model, Performer, RigFile, Source, Use } from './generated/ast';
import { isLibrary, LIBRARY_SIZE } from './library';
import { parsedText, revisionOf, treeOf } from './syntax/factory';
import { pathsIn, pathsUsed } from './syntax/uses';

export type Declaration = Model | Gear | Performer | Source | Mix;
export type Kind = Declaration['$type'];

interface Nodes {
  readonly byKind: Readonly<Record<Kind, ReadonlyMap<string, Declaration>>>;
  readonly twins: readonly Declaration[];
  readonly uses: readonly Use[];
}

/** What a file says by name, kept without its tree. */
interface Names {
  /** The first of each name with its label. */
  readonly byKind: Readonly<Record<Kind, ReadonlyMap<string, string | undefined>>>;
  readonly twins: readonly { readonly name: string; readonly label: string | undefined }[];
  readonly title: boolean;
  /** All that those who use it can see, with the places where it stands. */
  readonly lent: string;
}

/** What a document declares. Names are known without its tree; whoever asks for a node has the tree read where it has been let go. */
export class Symbols {
  private nodes: { readonly tree: ParseResult; readonly nodes: Nodes } | undefined;
  private known: { readonly revision: object; names?: Names; used?: readonly URI[] } | undefined;

  constructor(
    readonly document: LangiumDocument<RigFile>,
    private readonly parse: (text: string) => ParseResult<RigFile>,
  ) {}

  /** The first of a name; later ones of the same name are in `twins`. */
  get(kind: Kind, name: string): Declaration | undefined {
    return this.names(kind).has(name) ? this.read().byKind[kind].get(name) : undefined;
  }

  /** The first of each name. */
  all(kind: Kind): Iterable<Declaration> {
    return this.names(kind).size > 0 ? this.read().byKind[kind].values() : [];
  }

  get twins(): readonly Declaration[] {
    return this.card().twins.length > 0 ? this.read().twins : [];
  }

  get uses(): readonly Use[] {
    return this.used.length > 0 || treeOf(this.document) ? this.read().uses : [];
  }

  names(kind: Kind): ReadonlyMap<string, string | undefined> {
    return this.card().byKind[kind];
  }

  /** Names and labels of all that it declares, in the order of `declarations`. */
  get declared(): readonly { readonly name: string; readonly label: string | undefined }[] {
    const { byKind, twins } = this.card();
    return [...Object.values(byKind).flatMap((names) => [...names].map(([name, label]) => ({ name, label }))), ...twins];
  }

  get declarations(): readonly Declaration[] {
    const { byKind, twins } = this.read();
    return [...Object.values(byKind).flatMap((names) => [...names.values()]), ...twins];
  }

  /** Whether it has a `rig` statement of its own. */
  get title(): boolean {
    return this.card().title;
  }

  /** Changes with whatever those who use it can see. */
  get lent(): string {
    return this.card().lent;
  }

  /** Changes with whatever those can see who do not use it, and might. */
  get offered(): string {
    const { byKind, title } = this.card();
    return [title, ...[...SHARED].map((kind) => [...byKind[kind].keys()].join(' '))].join('\n');
  }

  /** Where its `use` lead, whether or not anything is there. */
  get used(): readonly URI[] {
    const known = this.now();
    known.used ??= usedBy(this.document, this.parse);
    return known.used;
  }

  private read(): Nodes {
    const tree = this.document.parseResult;
    if (this.nodes?.tree !== tree) this.nodes = { tree, nodes: nodesOf(tree.value) };
    return this.nodes.nodes;
  }

  /** The tree has been let go. */
  forget(): void {
    this.nodes = undefined;
  }

  private card(): Names {
    const known = this.now();
    // A tree for this alone is not kept.
    known.names ??= namesOf((treeOf(this.document) as ParseResult<RigFile> | undefined) ?? this.parse(parsedText(this.document)));
    return known.names;
  }

  private now() {
    const revision = revisionOf(this.document);
    if (this.known?.revision !== revision) this.known = { revision };
    return this.known;
  }
}

/** What `use` brings in. Runs and mixes stay with the rig that they belong to. */
export const SHARED: ReadonlySet<Kind> = new Set<Kind>(['Model', 'Gear', 'Performer', 'Source']);

export class SymbolTable {
  private readonly documents: LangiumDocuments;
  private readonly tables = new WeakMap<LangiumDocument, Symbols>();
  private readonly perClosure: WorkspaceCache<string, readonly Symbols[]>;
  private readonly perAddress: WorkspaceCache<string, Symbols>;
  private shelf: readonly Symbols[] = [];

  constructor(
    services: LangiumSharedCoreServices,
    private readonly parse: (text: string) => ParseResult<RigFile>,
  ) {
    this.documents = services.workspace.LangiumDocuments;
    this.perClosure = new WorkspaceCache(services);
    this.perAddress = new WorkspaceCache(services);
  }

  of(document: LangiumDocument): Symbols {
    const known = this.tables.get(document);
    if (known) return known;
    const symbols = new Symbols(document as LangiumDocument<RigFile>, this.parse);
    this.tables.set(document, symbols);
    return symbols;
  }

  /** The tree of a document has been let go. */
  forget(document: LangiumDocument): void {
    this.of(document).forget();
    this.perClosure.delete(document.uri.toString());
  }

  /** A document and all that it uses, directly or not, nearest first. Cycles are fine. Without the library. */
  closure(document: LangiumDocument): readonly Symbols[] {
    return this.perClosure.get(document.uri.toString(), () => [...this.reached([document])]);
  }

  /** These documents and all that they use, directly or not. */
  reachable(documents: Iterable<LangiumDocument>): Set<LangiumDocument> {
    return new Set([...this.reached(documents)].map((symbols) => symbols.document));
  }

  private reached(documents: Iterable<LangiumDocument>): Set<Symbols> {
    const found = new Set([...documents].map((document) => this.of(document)));
    for (const symbols of found) {
      for (const uri of symbols.used) {
        const used = this.at(uri);
        if (used) found.add(used);
      }
    }
    return found;
  }

  private at(uri: URI): Symbols | undefined {
    const key = uri.toString();
    const known = this.perAddress.get(key);
    if (known) return known;
    const document = this.documents.getDocument(uri);
    const symbols = document && this.of(document);
    if (symbols) this.perAddress.set(key, symbols);
    return symbols;
  }

  /** All documents that use one of these, directly or not, and whatever there is at these addresses itself. */
  usersOf(addresses: Iterable<string>): Set<string> {
    const users = new Map<string, string[]>();
    const found = new Set(addresses);
    for (const document of this.documents.all) {
      const user = document.uri.toString();
      try {
        for (const key of this.of(document).used.map((uri) => uri.toString())) {
          const known = users.get(key);
          if (known) known.push(user);
          else users.set(key, [user]);
        }
      } catch {
        // Where it cannot be told, it may well be one.
        found.add(user);
      }
    }
    for (const address of found) for (const user of users.get(address) ?? []) found.add(user);
    return found;
  }

  find(document: LangiumDocument, kind: Kind, name: string): Declaration | undefined {
    for (const [index, symbols] of this.closure(document).entries()) {
      if (index > 0 && !SHARED.has(kind)) break;
      const found = symbols.get(kind, name);
      if (found) return found;
    }
    return kind === 'Model' ? this.libraryModel(name) : undefined;
  }

  /** All that a document can see of a kind, nearest first; a nearer one hides a farther one of the same name. */
  all(document: LangiumDocument, kind: Kind): Declaration[] {
    const seen = new Map<string, Declaration>();
    const add = (symbols: Symbols) => {
      for (const declaration of symbols.all(kind)) if (!seen.has(declaration.name)) seen.set(declaration.name, declaration);
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
      if (!kinds.some((kind) => SHARED.has(kind) && symbols.names(kind).has(name)) || !mayLend(symbols)) continue;
      return UriUtils.relative(UriUtils.dirname(document.uri), other.uri);
    }
    return undefined;
  }

  libraryModel(name: string): Declaration | undefined {
    for (const symbols of this.library()) {
      const found = symbols.get('Model', name);
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

function nodesOf(file: RigFile): Nodes {
  const byKind = ofEachKind<Declaration>();
  const twins: Declaration[] = [];
  const uses: Use[] = [];
  for (const statement of file.statements ?? []) {
    if (statement.$type === 'Use') uses.push(statement);
    const table = byKind[statement.$type as Kind];
    const declaration = statement as Declaration;
    if (!table || typeof declaration.name !== 'string') continue;
    if (table.has(declaration.name)) twins.push(declaration);
    else table.set(declaration.name, declaration);
  }
  return { byKind, twins, uses };
}

function namesOf({ value }: ParseResult<RigFile>): Names {
  const nodes = nodesOf(value);
  const byKind = ofEachKind<string | undefined>();
  for (const kind of Object.keys(byKind) as Kind[]) for (const [name, { label }] of nodes.byKind[kind]) byKind[kind].set(name, label);
  const lent = (value.statements ?? []).flatMap(({ $type, $cstNode }) => {
    if (!$cstNode || ($type !== 'Use' && !SHARED.has($type as Kind))) return [];
    const { line, character } = $cstNode.range.start;
    return `${line}:${character} ${$cstNode.text}`;
  });
  // What a comment allows holds for those who use the file as well, and what it is about follows from what stands around it.
  const text = value.$cstNode?.root.fullText ?? '';
  if (allows(text)) lent.push(text);
  return {
    byKind,
    twins: nodes.twins.map(({ name, label }) => ({ name, label })),
    title: (value.statements ?? []).some(({ $type }) => $type === 'Header'),
    lent: lent.join('\n'),
  };
}

function ofEachKind<T>(): Record<Kind, Map<string, T>> {
  return { Model: new Map(), Gear: new Map(), Performer: new Map(), Source: new Map(), Mix: new Map() };
}

/** Most files use none, and that is seen without reading them. */
function usedBy(document: LangiumDocument<RigFile>, parse: (text: string) => ParseResult<RigFile>): URI[] {
  const tree = treeOf(document) as ParseResult<RigFile> | undefined;
  const paths = tree ? pathsIn(tree) : pathsUsed(parsedText(document), parse);
  return paths.flatMap((path) => addressOf(path, document.uri) ?? []);
}

/** Where a `use` points, whether or not anything is there. Its path starts from the folder of its file. */
export function usedUri(use: Use): URI | undefined {
  return addressOf(use.path, AstUtils.getDocument(use as AstNode).uri);
}

function addressOf(written: string | undefined, from: URI): URI | undefined {
  // Half a surrogate is no character, has no address, and is saved as what stands for a lost one.
  const path = written?.trim().replace(/\p{Surrogate}/gu, '\uFFFD');
  if (!path) return undefined;
  return UriUtils.joinPath(UriUtils.dirname(from), ...path.split(/[\\/]/));
}
