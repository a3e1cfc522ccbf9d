/** What each document declares, and what a document can see: its own, that of the files it uses, and the library. */
import {
  type AstNode,
  AstUtils,
  GrammarUtils,
  type LangiumDocument,
  type LangiumDocuments,
  type LangiumSharedCoreServices,
  type ParseResult,
  type URI,
  UriUtils,
} from 'langium';
import type { Range } from 'vscode-languageserver-types';
import { allows } from './allowances';
import { Declarers } from './declarers';
import type { Gear, Header, Mix, Model, Performer, RigFile, Scan, Source, Use } from './generated/ast';
import { isLibrary, LIBRARY_SIZE } from './library';
import { shelfOf } from './library/shelf';
import { parsedText, revisionOf, treeOf } from './syntax/factory';
import { moreInFeet } from './syntax/feet';
import { DECLARING, type DeclaringWord, type Heads } from './syntax/heads';
import type { Extent } from './syntax/parser';

export type Declaration = Model | Gear | Performer | Source | Mix;
export type Kind = Declaration['$type'];

const KINDS: Readonly<Record<DeclaringWord, Kind>> = { model: 'Model', gear: 'Gear', performer: 'Performer', source: 'Source', mix: 'Mix' };

/** How a text is read. */
export interface Reader {
  parse(text: string): ParseResult<RigFile>;
  /** Undefined where only the whole tree tells. */
  heads(text: string): Heads | undefined;
  /** One statement of a file whose tree need not be there for it. */
  statement(document: LangiumDocument, extent: Extent, index: number): AstNode | undefined;
}

interface Nodes {
  readonly byKind: Readonly<Record<Kind, ReadonlyMap<string, Declaration>>>;
  readonly twins: readonly Declaration[];
  readonly uses: readonly Use[];
}

/** A name that a file declares. */
export interface Named {
  readonly kind: Kind;
  readonly name: string;
  readonly label: string | undefined;
  /** Where it stands; what was learnt from a tree is looked up there. */
  readonly at?: { readonly line: number; readonly character: number; readonly length: number };
  /** The statement, and which of its file's it is, where it can be read by itself. */
  readonly by?: { readonly extent: Extent; readonly index: number };
}

/** What a file says by name, kept without its tree. */
interface Card {
  /** The first of each name. */
  readonly byKind: Readonly<Record<Kind, ReadonlyMap<string, Named>>>;
  readonly twins: readonly Named[];
  /** Of the first `rig` statement. */
  readonly title: { readonly label: string | undefined } | undefined;
  /** What is written after each `use`. */
  readonly paths: readonly (string | undefined)[];
  /** Those that are used whole. */
  readonly whole: readonly string[];
  /** What is written after each `scan`. */
  readonly scans: readonly string[];
}

/** What is known of one text. */
interface Known {
  readonly revision: object;
  whole?: readonly URI[];
  card?: Card;
  used?: readonly URI[];
  scans?: readonly URI[];
  lent?: string;
}

/** Of one state of the workspace. */
interface Standing {
  readonly state: object;
  /** The files that it uses itself, as far as they are there. */
  readonly next: readonly Symbols[];
  /** Whether those who use it get more of it than models. */
  readonly lendsMore: boolean;
  /** The last walk that has come by. */
  walk: number;
}

/** What a document declares. Names are known without its tree; whoever asks for a node has the tree read where it has been let go. */
export class Symbols {
  /** Where it stands among the others; the table keeps it here, where it is found soonest. */
  standing: Standing | undefined;
  private nodes: { readonly tree: ParseResult; readonly nodes: Nodes } | undefined;
  private known: Known | undefined;

  constructor(
    readonly document: LangiumDocument<RigFile>,
    private readonly reader: Reader,
  ) {}

  /** The first of a name; later ones of the same name are in `twins`. */
  get(kind: Kind, name: string): Declaration | undefined {
    const named = this.names(kind).get(name);
    if (!named) return undefined;
    if (named.by && !treeOf(this.document))
      return this.reader.statement(this.document, named.by.extent, named.by.index) as Declaration | undefined;
    return this.read().byKind[kind].get(name);
  }

  /** The first of each name. */
  all(kind: Kind): Iterable<Declaration> {
    return this.names(kind).size > 0 ? this.read().byKind[kind].values() : [];
  }

  get twins(): readonly Declaration[] {
    return this.card.twins.length > 0 ? this.read().twins : [];
  }

  get uses(): readonly Use[] {
    return this.used.length > 0 || treeOf(this.document) ? this.read().uses : [];
  }

  names(kind: Kind): ReadonlyMap<string, Named> {
    return this.card.byKind[kind];
  }

  /** All that it declares, in the order of `declarations`. */
  get declared(): readonly Named[] {
    const { byKind, twins } = this.card;
    return [...Object.values(byKind).flatMap((names) => [...names.values()]), ...twins];
  }

  get declarations(): readonly Declaration[] {
    const { byKind, twins } = this.read();
    return [...Object.values(byKind).flatMap((names) => [...names.values()]), ...twins];
  }

  /** Where one of `declared` has its name. */
  rangeOf(named: Named): Range | undefined {
    const { at } = named;
    if (at) return { start: { line: at.line, character: at.character }, end: { line: at.line, character: at.character + at.length } };
    const node = this.declarations[this.declared.indexOf(named)];
    return GrammarUtils.findNodeForProperty(node?.$cstNode, 'name')?.range;
  }

  /** The names that those who use it can see. */
  get shared(): readonly { readonly kind: Kind; readonly name: string }[] {
    return SHARED_KINDS.flatMap((kind) => [...this.names(kind).values()].map(({ name }) => ({ kind, name })));
  }

  /** Its `rig` statement, if it has one of its own. */
  get title(): { readonly label: string | undefined } | undefined {
    return this.card.title;
  }

  /** Changes with whatever those who use it can see. */
  get lent(): string {
    const known = this.now();
    known.lent ??= lentBy(treeFor(this.document, this.reader));
    return known.lent;
  }

  /** Changes with whatever those can see who do not use it, and might. */
  get offered(): string {
    const { byKind, title } = this.card;
    return [title !== undefined, ...SHARED_KINDS.map((kind) => [...byKind[kind].keys()].join(' '))].join('\n');
  }

  /** Where its `use` lead, whether or not anything is there. */
  get used(): readonly URI[] {
    const known = this.now();
    known.used ??= this.card.paths.flatMap((path) => addressOf(path, this.document.uri) ?? []);
    return known.used;
  }

  /** Of these, those of whose rig it is another night. */
  get whole(): readonly URI[] {
    const known = this.now();
    known.whole ??= this.card.whole.flatMap((path) => addressOf(path, this.document.uri) ?? []);
    return known.whole;
  }

  /** Where its scans are, whether or not anything is there. */
  get scans(): readonly URI[] {
    const known = this.now();
    known.scans ??= this.card.scans.flatMap((path) => addressOf(path, this.document.uri) ?? []);
    return known.scans;
  }

  /** What is known of it by name: the same object as long as its text is the same. */
  get card(): Card {
    const known = this.now();
    known.card ??= cardOf(this.document, this.reader);
    return known.card;
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

  private now(): Known {
    const revision = revisionOf(this.document);
    if (this.known?.revision !== revision) this.known = { revision };
    return this.known;
  }
}

const SHARED_KINDS = ['Model', 'Gear', 'Performer', 'Source'] as const;

/** What `use` brings in. Runs and mixes stay with the rig that they belong to. */
export const SHARED: ReadonlySet<Kind> = new Set<Kind>(SHARED_KINDS);

/** A document and all that it uses, directly or not, nearest first. Cycles are fine. Without the library. */
interface View {
  readonly closure: readonly Symbols[];
  /** The document itself, and those that bring in more than models: all of that is in the rig, whether or not it is named. */
  readonly lending: readonly Symbols[];
}

/** The files of the library, and which of them has a model. */
interface Shelf {
  readonly files: readonly Symbols[];
  readonly models: ReadonlyMap<string, Symbols>;
}

export class SymbolTable {
  private readonly documents: LangiumDocuments;
  private readonly tables = new WeakMap<LangiumDocument, Symbols>();
  private readonly declarers = new Declarers();
  // Of one state of the workspace.
  private readonly views = new Map<LangiumDocument, View>();
  private readonly byAddress = new Map<string, Symbols>();
  private state = {};
  private isGathered = false;
  private walks = 0;
  private shelf: Shelf = { files: [], models: new Map() };

  constructor(
    services: LangiumSharedCoreServices,
    private readonly reader: Reader,
  ) {
    this.documents = services.workspace.LangiumDocuments;
    services.workspace.DocumentBuilder.onUpdate(() => this.refresh());
  }

  /** Documents have been added, changed or removed. */
  refresh(): void {
    this.views.clear();
    this.state = {};
    this.isGathered = false;
  }

  of(document: LangiumDocument): Symbols {
    const known = this.tables.get(document);
    if (known) return known;
    const symbols = new Symbols(document as LangiumDocument<RigFile>, this.reader);
    this.tables.set(document, symbols);
    return symbols;
  }

  /** The tree of a document has been let go. */
  forget(document: LangiumDocument): void {
    this.of(document).forget();
    this.views.delete(document);
  }

  closure(document: LangiumDocument): readonly Symbols[] {
    return this.view(document).closure;
  }

  /** The rigs that a document uses whole, directly or not, nearest first. A file without a `rig` is none. */
  bands(document: LangiumDocument): readonly Symbols[] {
    const found: Symbols[] = [];
    const own = this.of(document);
    for (let at = [own]; at.length > 0; ) {
      const next = at.flatMap((symbols) => (symbols.used.length > 0 ? symbols.whole : []).flatMap((uri) => this.at(uri) ?? []));
      at = [...new Set(next)].filter((symbols) => symbols !== own && symbols.title !== undefined && !found.includes(symbols));
      found.push(...at);
    }
    return found;
  }

  /** Of the closure, what makes part of the rig by being there. */
  lending(document: LangiumDocument): readonly Symbols[] {
    return this.view(document).lending;
  }

  /** The shared names in the closure of a document that more than one file may declare, each with who declares it, nearest first. */
  *clashes(document: LangiumDocument): Iterable<{ readonly symbols: Symbols; readonly kind: Kind; readonly name: string }> {
    const { closure } = this.view(document);
    if (closure.length > 1 && this.declarers.haveClashes)
      for (const symbols of closure) for (const each of this.declarers.clashesOf(symbols)) yield { symbols, ...each };
  }

  private view(document: LangiumDocument): View {
    const known = this.views.get(document);
    if (known) return known;
    const closure = this.reached([document]);
    const view = { closure, lending: closure.filter((symbols, index) => index === 0 || this.standingOf(symbols).lendsMore) };
    this.views.set(document, view);
    return view;
  }

  /** Has all files that can be used among the declarers. */
  private gather(): void {
    if (this.isGathered) return;
    this.isGathered = true;
    this.byAddress.clear();
    for (const document of this.documents.all) if (!isLibrary(document.uri)) this.byAddress.set(document.uri.toString(), this.of(document));
    for (const symbols of this.byAddress.values()) {
      try {
        this.standingOf(symbols);
      } catch {
        // What cannot be read is told at that file, and lends nothing.
      }
    }
    this.declarers.keep(new Set(this.byAddress.values()));
  }

  private standingOf(symbols: Symbols): Standing {
    if (symbols.standing?.state === this.state) return symbols.standing;
    const next = symbols.used.flatMap((uri) => this.at(uri) ?? []);
    this.declarers.enter(symbols);
    // Without a list of them: of a thousand files it is asked at each key.
    const lendsMore = SHARED_KINDS.some((kind) => kind !== 'Model' && symbols.names(kind).size > 0);
    symbols.standing = { state: this.state, next, lendsMore, walk: 0 };
    return symbols.standing;
  }

  private at(uri: URI): Symbols | undefined {
    const known = this.byAddress.get(uri.toString());
    if (known) return known;
    const document = this.documents.getDocument(uri);
    return document && this.of(document);
  }

  /** These documents and all that they use, directly or not. */
  reachable(documents: Iterable<LangiumDocument>): Set<LangiumDocument> {
    return new Set(this.reached(documents).map((symbols) => symbols.document));
  }

  private reached(documents: Iterable<LangiumDocument>): Symbols[] {
    this.gather();
    const walk = ++this.walks;
    const found: Symbols[] = [];
    const come = (symbols: Symbols) => {
      const standing = this.standingOf(symbols);
      if (standing.walk === walk) return;
      standing.walk = walk;
      found.push(symbols);
    };
    for (const document of documents) come(this.of(document));
    for (const symbols of found) for (const next of this.standingOf(symbols).next) come(next);
    return found;
  }

  /** All documents that use one of these, directly or not, and whatever there is at these addresses itself. */
  usersOf(addresses: Iterable<string>): Set<string> {
    const users = new Map<string, string[]>();
    const found = new Set(addresses);
    if (found.size === 0) return found;
    for (const document of this.documents.all) {
      try {
        const { used } = this.of(document);
        for (const uri of used) {
          const key = uri.toString();
          const known = users.get(key);
          if (known) known.push(document.uri.toString());
          else users.set(key, [document.uri.toString()]);
        }
      } catch {
        // Where it cannot be told, it may well be one.
        found.add(document.uri.toString());
      }
    }
    for (const address of found) for (const user of users.get(address) ?? []) found.add(user);
    return found;
  }

  /** What a name means where it may be of several kinds, the likeliest first. */
  meaning(document: LangiumDocument, kinds: readonly Kind[], name: string): Declaration | undefined {
    for (const kind of kinds) {
      const found = this.find(document, kind, name);
      if (found) return found;
    }
    return undefined;
  }

  find(document: LangiumDocument, kind: Kind, name: string): Declaration | undefined {
    const { closure } = this.view(document);
    const own = closure[0]?.get(kind, name);
    if (own) return own;
    if (kind === 'Mix')
      return this.bands(document)
        .map((symbols) => symbols.get(kind, name))
        .find((mix) => mix !== undefined);
    const declarers = SHARED.has(kind) && closure.length > 1 ? this.declarers.of(kind, name) : undefined;
    const nearest = declarers && closure.find((symbols) => declarers.has(symbols));
    return nearest?.get(kind, name) ?? (kind === 'Model' ? this.libraryModel(name) : undefined);
  }

  /** All that a document can see of a kind, nearest first; a nearer one hides a farther one of the same name. */
  all(document: LangiumDocument, kind: Kind): Declaration[] {
    const seen = new Map<string, Declaration>();
    const add = (symbols: Symbols) => {
      for (const declaration of symbols.all(kind)) if (!seen.has(declaration.name)) seen.set(declaration.name, declaration);
    };
    for (const [index, symbols] of this.closure(document).entries()) if (index === 0 || SHARED.has(kind)) add(symbols);
    if (kind === 'Mix') for (const symbols of this.bands(document)) add(symbols);
    if (kind === 'Model') for (const symbols of this.library().files) add(symbols);
    return [...seen.values()];
  }

  /** The path, as a `use` here would write it, of another file that shares this name: of several the nearest, whichever was there first. */
  elsewhere(document: LangiumDocument, name: string, kinds: readonly Kind[], mayLend: (other: Symbols) => boolean): string | undefined {
    const { closure } = this.view(document);
    const declarers = kinds.flatMap((kind) => [...(this.declarers.of(kind, name) ?? [])]);
    const others = declarers.filter((symbols) => !closure.includes(symbols) && mayLend(symbols));
    const folder = UriUtils.dirname(document.uri);
    return others.map((other) => UriUtils.relative(folder, other.document.uri)).sort(byDistance)[0];
  }

  libraryModel(name: string): Declaration | undefined {
    return this.library().models.get(name)?.get('Model', name);
  }

  private library(): Shelf {
    if (this.shelf.files.length < LIBRARY_SIZE) {
      const files = this.documents.all
        .filter((document) => isLibrary(document.uri))
        .map((document) => this.of(document))
        .toArray();
      const models = new Map<string, Symbols>();
      for (const symbols of files) for (const name of symbols.names('Model').keys()) if (!models.has(name)) models.set(name, symbols);
      this.shelf = { files, models };
    }
    return this.shelf;
  }
}

/** Paths from one folder: the nearest first. */
export function byDistance(one: string, other: string): number {
  return one.split('/').length - other.split('/').length || (one < other ? -1 : one > other ? 1 : 0);
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

/** A tree for this alone is not kept. */
function treeFor(document: LangiumDocument, reader: Reader): ParseResult<RigFile> {
  return (treeOf(document) as ParseResult<RigFile> | undefined) ?? reader.parse(parsedText(document));
}

function cardOf(document: LangiumDocument, reader: Reader): Card {
  if (isLibrary(document.uri)) return cardOfLibrary(parsedText(document));
  const heads = treeOf(document) ? undefined : reader.heads(parsedText(document));
  if (!heads) return cardOfTree(treeFor(document, reader));
  const byKind = ofEachKind<Named>();
  const twins: Named[] = [];
  for (const { word, name, label, ...at } of heads.declared) {
    const kind = KINDS[word];
    const named = { kind, name, label, at };
    if (byKind[kind].has(name)) twins.push(named);
    else byKind[kind].set(name, named);
  }
  return { byKind, twins, title: heads.title, paths: heads.used, whole: [], scans: heads.scans };
}

function cardOfLibrary(text: string): Card {
  const byKind = ofEachKind<Named>();
  for (const [index, { head, extent }] of shelfOf(text).entries()) {
    const { name, label, ...at } = head;
    byKind.Model.set(name, { kind: 'Model', name, label, at, by: { extent, index } });
  }
  return { byKind, twins: [], title: undefined, paths: [], whole: [], scans: [] };
}

function cardOfTree({ value }: ParseResult<RigFile>): Card {
  const nodes = nodesOf(value);
  const byKind = ofEachKind<Named>();
  const namedBy = ({ $type: kind, name, label }: Declaration): Named => ({ kind, name, label });
  for (const word of DECLARING) for (const [name, node] of nodes.byKind[KINDS[word]]) byKind[KINDS[word]].set(name, namedBy(node));
  const header = value.statements?.find(({ $type }) => $type === 'Header') as { readonly label?: string } | undefined;
  return {
    byKind,
    twins: nodes.twins.map(namedBy),
    title: header && { label: header.label },
    paths: nodes.uses.map(({ path }) => path),
    whole: nodes.uses.flatMap((use) => (use.whole && use.path !== undefined ? [use.path] : [])),
    scans: (value.statements ?? []).flatMap((each) => (each.$type === 'Header' ? scansOf(each).flatMap(({ path }) => path ?? []) : [])),
  };
}

/** The shared statements, with the places where they stand. */
function lentBy({ value }: ParseResult<RigFile>): string {
  const isWhole = value.statements?.some(({ $type }) => $type === 'Header') ?? false;
  const lent = (value.statements ?? []).flatMap(({ $type, $cstNode }) => {
    // A rig may be used whole.
    if (!$cstNode || ($type !== 'Use' && !SHARED.has($type as Kind) && !isWhole)) return [];
    const { line, character } = $cstNode.range.start;
    return `${line}:${character} ${$cstNode.text}`;
  });
  const text = value.$cstNode?.root.fullText ?? '';
  // In what its lengths are written counts for a night of it, those that belong to no statement included.
  if (isWhole) lent.push(String(moreInFeet(text)));
  // What a comment allows holds for those who use the file as well, and what it is about follows from what stands around it.
  if (allows(text)) lent.push(text);
  return lent.join('\n');
}

function ofEachKind<T>(): Record<Kind, Map<string, T>> {
  return { Model: new Map(), Gear: new Map(), Performer: new Map(), Source: new Map(), Mix: new Map() };
}

export function scansOf(header: Pick<Header, 'clauses'>): Scan[] {
  return header.clauses.filter((clause): clause is Scan => clause.$type === 'Scan');
}

/** Where a `scan` points, whether or not anything is there. Its path starts from the folder of its file. */
export function scanUri(scan: Scan): URI | undefined {
  return addressOf(scan.path, AstUtils.getDocument(scan as AstNode).uri);
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
