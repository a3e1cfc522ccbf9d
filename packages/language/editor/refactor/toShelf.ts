/** Moves gear or a model into a file that several rigs can use, with what it is made of. */
import { AstUtils, type LangiumDocument, type URI, UriUtils } from 'langium';
import type { TextEdit, WorkspaceEdit } from 'vscode-languageserver';
import type * as ast from '../../generated/ast';
import { Layout } from '../../layout';
import { isLibrary } from '../../library';
import { type Declaration, type Kind, usedUri } from '../../symbols';
import type { Here, Refactoring } from './here';

type Shelved = ast.Gear | ast.Model;

/** More files than these are better chosen by hand. */
const MOST_SHELVES = 3;
const NEW_SHELF = 'our-shelf';

/** What a name of a shelf could be taken for where it is used. */
const CONFUSED: readonly Kind[] = ['Model', 'Gear', 'Source', 'Mix'];

export function toShelf(here: Here): Refactoring[] {
  const { statement } = here;
  if (statement?.$type !== 'Gear' && statement?.$type !== 'Model') return [];
  const moving = together(here, statement);
  if (!moving || !here.isReadable() || moving.some((each) => here.hasFinding(each))) return [];
  const shelves = usedShelves(here).filter((shelf) => isReachable(here, moving, shelf) && isFree(here, moving, shelf));
  const offers = shelves.slice(0, MOST_SHELVES).map((shelf) => ({ path: pathTo(here, shelf.uri), edit: intoShelf(here, moving, shelf) }));
  if (usedShelves(here).length === 0) offers.push(...newShelf(here, moving));
  const rest = moving.length - 1;
  const what = `${statement.name}${rest === 0 ? '' : rest === 1 ? ' and what it is made of' : ` and the ${rest} things it is made of`}`;
  return offers.map(({ path, edit }) => ({ title: `Move ${what} to ${path}`, kind: 'refactor.move.shelf', edit }));
}

/** What is moved: the statement, and all of this file that it is made of. Nothing where it belongs to this rig's people. */
function together(here: Here, statement: Shelved): Shelved[] | undefined {
  const found = new Set<Shelved>([statement]);
  for (const each of found) {
    for (const { reference } of AstUtils.streamAst(each).flatMap((node) => AstUtils.streamReferences(node))) {
      const target = 'ref' in reference ? reference.ref : undefined;
      if (!target) return undefined;
      if (AstUtils.getDocument(target) !== here.document) continue;
      if (target.$type !== 'Gear' && target.$type !== 'Model') return undefined;
      found.add(target as Shelved);
    }
  }
  const { twins } = here.services.rig.Symbols.of(here.document);
  const moving = here.file.statements.filter((each): each is Shelved => found.has(each as Shelved));
  return moving.every((each) => here.linesOf(each) && !twins.some(({ name }) => name === each.name)) ? moving : undefined;
}

/** The files of ours that this one uses by name. */
function usedShelves(here: Here): LangiumDocument<ast.RigFile>[] {
  const { LangiumDocuments } = here.services.shared.workspace;
  const found = here.services.rig.Symbols.of(here.document).uses.flatMap((use) => {
    const uri = usedUri(use);
    const inside = uri && here.services.rig.Workspace.isInside(uri.toString(), here.document.uri);
    return (inside && (LangiumDocuments.getDocument(uri) as LangiumDocument<ast.RigFile> | undefined)) || [];
  });
  return [...new Set(found)].filter((shelf) => shelf !== here.document && here.isReadable(shelf));
}

/** Whether the shelf sees all that stays where it is and is needed there. */
function isReachable(here: Here, moving: readonly Shelved[], shelf: LangiumDocument): boolean {
  const { Symbols } = here.services.rig;
  return needs(moving).every(
    (target) => moving.includes(target as Shelved) || Symbols.find(shelf, target.$type as Kind, target.name) === target,
  );
}

function needs(moving: readonly Shelved[]): Declaration[] {
  return moving.flatMap((each) =>
    AstUtils.streamAst(each)
      .flatMap((node) => AstUtils.streamReferences(node))
      .map(({ reference }) => ('ref' in reference ? (reference.ref as Declaration | undefined) : undefined))
      .toArray()
      .flatMap((target) => target ?? []),
  );
}

/** Whether the names are new to the shelf and to all who use it, so that they mean there what they mean here and nothing else. */
function isFree(here: Here, moving: readonly Shelved[], shelf: LangiumDocument): boolean {
  const { Symbols } = here.services.rig;
  const addresses = Symbols.usersOf([shelf.uri.toString()]);
  const users = here.services.shared.workspace.LangiumDocuments.all.filter(({ uri }) => addresses.has(uri.toString())).toArray();
  return moving.every(({ $type, name }) =>
    users.every((user) =>
      CONFUSED.every((kind) => {
        const there = Symbols.find(user, kind, name);
        if (!there || moving.includes(there as Shelved)) return isAlone(here, user, kind, name, moving);
        // In this rig the two have always stood side by side.
        return user === here.document && kind !== $type;
      }),
    ),
  );
}

/** Whether no other file that is seen from one has the name as well, hidden until now by the one that moves. */
function isAlone(here: Here, user: LangiumDocument, kind: Kind, name: string, moving: readonly Shelved[]): boolean {
  return here.services.rig.Symbols.closure(user).every((symbols) => {
    const there = symbols.get(kind, name);
    return !there || moving.includes(there as Shelved);
  });
}

function intoShelf(here: Here, moving: readonly Shelved[], shelf: LangiumDocument<ast.RigFile>): WorkspaceEdit {
  const layout = Layout.of(shelf.parseResult.value);
  const byType = (['Model', 'Gear'] as const).flatMap((type) => {
    const texts = moving.filter(({ $type }) => $type === type).map((each) => textOf(here, each, layout.newline));
    return texts.length === 0 ? [] : [layout.add(type, [{ word: '', text: texts.join(layout.newline) }])];
  });
  return { changes: { [here.document.uri.toString()]: moving.map((each) => taken(here, each)), [shelf.uri.toString()]: byType } };
}

/** A file of its own, beside this one. Only for editors that can make one. */
function newShelf(here: Here, moving: readonly Shelved[]): { path: string; edit: WorkspaceEdit }[] {
  const { document, layout } = here;
  if (!here.services.editor.Abilities.createsFiles || document.uri.scheme === 'untitled') return [];
  // What is needed from elsewhere would have to be used from there as well; with no file used there is none.
  if (needs(moving).some((each) => !moving.includes(each as Shelved) && !isLibrary(AstUtils.getDocument(each).uri))) return [];
  const folder = UriUtils.dirname(document.uri);
  const { LangiumDocuments } = here.services.shared.workspace;
  let name = `${NEW_SHELF}.rig`;
  for (let count = 2; LangiumDocuments.hasDocument(UriUtils.joinPath(folder, name)); count++) name = `${NEW_SHELF}-${count}.rig`;
  const uri = UriUtils.joinPath(folder, name).toString();
  const texts = moving.map((each) => textOf(here, each, layout.newline));
  const start = { line: 0, character: 0 };
  const text = ['# Gear of ours, for every rig that uses this file.', ...texts, ''].join(layout.newline);
  const gone = moving.map((each) => taken(here, each));
  const use = besides(layout.add('Use', [{ word: '', text: `use "${name}"` }]), gone);
  // Where both are at one place, what is put in comes before what is taken away.
  const edits = [use, ...gone];
  const version = here.services.shared.workspace.TextDocuments?.get(document.uri)?.version ?? null;
  const documentChanges: WorkspaceEdit['documentChanges'] = [
    { kind: 'create', uri, options: { overwrite: false, ignoreIfExists: false } },
    { textDocument: { uri, version: null }, edits: [{ range: { start, end: start }, newText: text }] },
    { textDocument: { uri: document.uri.toString(), version }, edits },
  ];
  return [{ path: `a new file, ${name}`, edit: { documentChanges } }];
}

/** An insertion, put before the lines that are taken away where it would fall among them. */
function besides(insertion: TextEdit, gone: readonly TextEdit[]): TextEdit {
  const { line } = insertion.range.start;
  const around = gone.find(({ range }) => range.start.line < line && line < range.end.line)?.range.start;
  return around ? { ...insertion, range: { start: around, end: around } } : insertion;
}

/** The lines that move: a statement with the comment on its last line, and a model with the comments right above it as well. */
function stretchOf(here: Here, statement: Shelved): { start: number; end: number } {
  const { text } = here.layout;
  const lines = here.linesOf(statement) as { start: number; end: number };
  let { start } = lines;
  if (statement.$type === 'Model') {
    for (let above = here.layout.lineStart(start - 1); start > 0 && /^[ \t]*#/.test(text.slice(above, start)); ) {
      start = above;
      above = here.layout.lineStart(start - 1);
    }
    // What stands at the top of a file is about the file.
    if (text.slice(0, start).trim() === '') start = lines.start;
  }
  return { start, end: lines.end };
}

function textOf(here: Here, statement: Shelved, newline: string): string {
  const { start, end } = stretchOf(here, statement);
  return here.layout.text.slice(start, end).replace(/\r\n|\n|\r/g, newline);
}

/** Takes its lines away. */
function taken(here: Here, statement: Shelved): TextEdit {
  const { text } = here.layout;
  const { start, end } = stretchOf(here, statement);
  const rest = /^(?:\r\n|\n|\r)/.exec(text.slice(end))?.[0].length ?? 0;
  return here.layout.edit(start, end + rest, '');
}

function pathTo(here: Here, uri: URI): string {
  return UriUtils.relative(UriUtils.dirname(here.document.uri), uri);
}
