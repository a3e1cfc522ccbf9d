/** A workbench in memory: files, marks in their text, and the editor's services over them. */
import { EmptyFileSystem, inject, type LangiumDocument, URI } from 'langium';
import { createDefaultModule, createDefaultSharedModule } from 'langium/lsp';
import type { CodeAction, Position, Range, TextEdit, WorkspaceEdit } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import {
  type Analysis,
  diagnosticOf,
  type Located,
  libraryFiles,
  RigGeneratedModule,
  RigGeneratedSharedModule,
  rigModule,
  rigSharedModule,
  Workspace,
} from '#language';
import { type RigEditorServices, rigEditorModule, rigEditorSharedModule } from '#language/editor';

export const FOLDER = 'memory:///rigs/';

/** A text without its marks: `<|>` is the cursor, `[|` and `|]` hold a range. */
export interface Marked {
  readonly text: string;
  readonly cursor?: number;
  readonly ranges: readonly { readonly start: number; readonly end: number }[];
}

export function marked(source: string): Marked {
  let text = '';
  let cursor: number | undefined;
  const ranges: { start: number; end: number }[] = [];
  const open: number[] = [];
  for (const part of source.split(/(<\|>|\[\||\|\])/)) {
    if (part === '<|>') cursor = text.length;
    else if (part === '[|') open.push(text.length);
    else if (part === '|]') ranges.push({ start: open.pop() as number, end: text.length });
    else text += part;
  }
  return { text, cursor, ranges: ranges.sort((a, b) => a.start - b.start) };
}

export interface Bench {
  readonly services: RigEditorServices;
  readonly document: LangiumDocument;
  readonly position: Position;
  readonly marks: ReadonlyMap<string, Marked>;
  documentOf(name: string): LangiumDocument;
  /** One more file, beside the others. */
  add(name: string, text: string): Promise<LangiumDocument>;
  analysis(): Analysis;
}

/** A name in the folder, or a whole address. */
export const uriOf = (name: string) => URI.parse(/^[a-z]+:/.test(name) ? name : FOLDER + name);

/** Opens files by name, as an editor does. The first is the one that is looked at; the cursor is wherever it is marked, there or in another. */
export async function open(files: Readonly<Record<string, string>> | string): Promise<Bench> {
  const workspace = new Workspace();
  let rig: RigEditorServices | undefined;
  const shared = inject(
    createDefaultSharedModule(EmptyFileSystem),
    RigGeneratedSharedModule,
    rigSharedModule(workspace, () => rig as RigEditorServices),
    rigEditorSharedModule(() => rig as RigEditorServices),
  );
  const services: RigEditorServices = inject(createDefaultModule({ shared }), RigGeneratedModule, rigModule(workspace), rigEditorModule);
  rig = services;
  shared.ServiceRegistry.register(services);
  workspace.open([FOLDER]);
  const { LangiumDocumentFactory, LangiumDocuments, DocumentBuilder } = shared.workspace;
  for (const { uri, text } of libraryFiles()) LangiumDocuments.addDocument(LangiumDocumentFactory.fromString(text, uri));
  const marks = new Map<string, Marked>();
  for (const [name, source] of Object.entries(typeof files === 'string' ? { 'rig.rig': files } : files)) {
    const each = marked(source);
    marks.set(name, each);
    const document = LangiumDocumentFactory.fromString(each.text, uriOf(name));
    LangiumDocuments.addDocument(document);
    shared.workspace.TextDocuments.set(document.textDocument);
  }
  await DocumentBuilder.build(LangiumDocuments.all.toArray(), { validation: true });
  const documentOf = (name: string) => LangiumDocuments.getDocument(uriOf(name)) as LangiumDocument;
  const names = [...marks.keys()];
  const at = names.find((name) => marks.get(name)?.cursor !== undefined) ?? (names[0] as string);
  const document = documentOf(at);
  const position = document.textDocument.positionAt(marks.get(at)?.cursor ?? 0);
  const add = async (name: string, text: string) => {
    const added = LangiumDocumentFactory.fromString(text, uriOf(name));
    LangiumDocuments.addDocument(added);
    await DocumentBuilder.build([added]);
    return added;
  };
  return { services, document, position, marks, documentOf, add, analysis: () => services.rig.Analyser.of(document) };
}

/** The cures that the light bulb offers for a finding. What lets it stand is none: it is a comment, with a gap where its reason goes. */
export async function curesOf({ services }: Bench, document: LangiumDocument, located: Located): Promise<CodeAction[]> {
  const diagnostic = diagnosticOf(located);
  const actions = await services.lsp.CodeActionProvider?.getCodeActions(document, {
    textDocument: { uri: document.uri.toString() },
    range: diagnostic.range,
    context: { diagnostics: [diagnostic], only: ['quickfix'] },
  });
  return ((actions ?? []) as CodeAction[]).filter(({ title }) => !title.startsWith('Allow this here'));
}

export function offsets(document: LangiumDocument, range: Range): { start: number; end: number } {
  return { start: document.textDocument.offsetAt(range.start), end: document.textDocument.offsetAt(range.end) };
}

/** The files as they are after an edit, by name. */
export function applied(bench: Bench, edit: WorkspaceEdit | undefined): Record<string, string> {
  const result: Record<string, string> = {};
  for (const name of bench.marks.keys()) {
    const { textDocument } = bench.documentOf(name);
    result[name] = applyTo(textDocument, edit?.changes?.[textDocument.uri] ?? []);
  }
  return result;
}

export function applyTo(textDocument: TextDocument, edits: readonly TextEdit[]): string {
  return TextDocument.applyEdits(textDocument, [...edits]);
}
