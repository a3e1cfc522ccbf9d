/** Looks at a text in every way that an editor, a sheet or the command line does, and throws where something is not as it has to be. */
import { isDeepStrictEqual } from 'node:util';
import type { LangiumDocument } from 'langium';
import type {
  CallHierarchyItem,
  CodeAction,
  CompletionItem,
  MarkupContent,
  Position,
  Range,
  SelectionRange,
  TextEdit,
  WorkspaceEdit,
} from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { type Analysis, diagnosticOf, isLibrary } from '#language';
import { format } from '#language/format';
import { renderSheet, SHEET_FORMATS, SHEET_IDS, type SheetId, sheetOf } from '#sheets';
import { type Bench, open } from '../editor-services/bench';
import { brought, complaints, isInside, unspeakable } from './sound';

export interface Thoroughness {
  /** Every way of looking, at many places, instead of some at a few. */
  readonly thorough: boolean;
}

const OPTIONS = { tabSize: 2, insertSpaces: true };

/** Something that does not hold. */
export class Unsound extends Error {}

export class Looker {
  private bench: Bench | undefined;
  private count = 0;

  constructor(private readonly used: Readonly<Record<string, string>>) {}

  /** `random` says which of the many ways, and where. */
  async look(text: string, random: () => number, { thorough }: Thoroughness = { thorough: false }): Promise<void> {
    this.bench ??= await open({ 'other.rig': 'model of-another is dynamic-mic\n', ...this.used });
    const { services } = this.bench;
    services.editor.Settings.take({ lenses: { mixes: true } });
    services.editor.Abilities.take({ workspace: { workspaceEdit: { documentChanges: true, resourceOperations: ['create'] } } });
    const now = (share: number) => thorough || random() < share;
    const document = await this.read(text);
    try {
      const analysis = services.rig.Analyser.of(document);
      for (const complaint of complaints(analysis)) throw new Unsound(complaint);
      await this.formatted(analysis, text, now(0.25));
      if (now(0.4)) await sheets(analysis, text, thorough ? SHEET_IDS : [SHEET_IDS[Math.floor(random() * SHEET_IDS.length)] as SheetId]);
      for (const position of positions(document, random, thorough ? 40 : 2)) await this.at(analysis, position, now(0.3), random);
      if (now(0.25)) await this.whole(analysis);
      if (now(0.25)) await this.actions(analysis, random, thorough ? 8 : 1);
      if (now(0.2)) await this.again(analysis, random);
    } finally {
      await this.forget(document);
    }
  }

  private get services() {
    return (this.bench as Bench).services;
  }

  private read(text: string): Promise<LangiumDocument> {
    return (this.bench as Bench).add(`case-${this.count++}.rig`, text);
  }

  /** As an editor lets go of a file, so that nothing is kept of it. */
  private async forget(document: LangiumDocument): Promise<void> {
    await this.services.shared.workspace.DocumentBuilder.update([], [document.uri]);
  }

  private async analysed<T>(text: string, use: (analysis: Analysis) => T): Promise<T> {
    const document = await this.read(text);
    try {
      return use(this.services.rig.Analyser.of(document));
    } finally {
      await this.forget(document);
    }
  }

  /** Formatting loses no letter, is done after once, and changes nothing that is meant. */
  private async formatted(analysis: Analysis, text: string, meant: boolean): Promise<void> {
    const once = format(this.services, text).text;
    if (once.replace(/\s/g, '') !== text.replace(/\s/g, '')) throw new Unsound('formatting has lost a letter');
    if (format(this.services, once).text !== once) throw new Unsound('formatting twice is not formatting once');
    const edits =
      (await this.services.lsp.Formatter?.formatDocument(analysis.document, { textDocument: identified(analysis), options: OPTIONS })) ??
      [];
    if (applied(analysis.document, edits, 'formatting') !== once)
      throw new Unsound("the editor's formatting is not that of the command line");
    if (!meant || once === text) return;
    const [before, after] = [meaning(analysis), await this.analysed(once, meaning)];
    if (!isDeepStrictEqual(before.findings, after.findings))
      throw new Unsound(`formatting changes what is found: ${difference(before.findings, after.findings)}`);
    if (!isDeepStrictEqual(before.rig, after.rig)) throw new Unsound('formatting changes what is meant');
  }

  /** What an editor asks where the cursor or the pointer is. */
  private async at(analysis: Analysis, position: Position, more: boolean, random: () => number): Promise<void> {
    const { document } = analysis;
    const { lsp, editor } = this.services;
    const text = document.textDocument.getText();
    const asked = { textDocument: identified(analysis), position };
    const hover = await lsp.HoverProvider?.getHoverContent(document, asked);
    if (hover) {
      speak('a hover', (hover.contents as MarkupContent).value, text);
      if (hover.range) inside('a hover', document, hover.range);
    }
    const completion = await lsp.CompletionProvider?.getCompletion(document, asked);
    for (const item of completion?.items ?? []) completes(document, item, text);
    if (!more) return;
    for (const { targetUri, targetRange } of (await lsp.DefinitionProvider?.getDefinition(document, asked)) ?? [])
      if (targetUri === document.uri.toString()) inside('a definition', document, targetRange);
    const context = { includeDeclaration: true };
    for (const { uri, range } of (await lsp.ReferencesProvider?.findReferences(document, { ...asked, context })) ?? [])
      if (uri === document.uri.toString()) inside('a reference', document, range);
    for (const { range } of (await lsp.DocumentHighlightProvider?.getDocumentHighlight(document, asked)) ?? [])
      inside('a highlight', document, range);
    for (const chain of editor.SelectionProvider.getSelectionRanges(document, { positions: [position] }))
      for (let each: SelectionRange | undefined = chain; each; each = each.parent) inside('a selection', document, each.range);
    await this.renamed(analysis, position);
    let [item] = (await lsp.CallHierarchyProvider?.prepareCallHierarchy(document, asked)) ?? [];
    for (let step = 0; step < 6 && item; step++) {
      speak('the signal path', `${item.name} ${item.detail ?? ''}`, text);
      const on = (await lsp.CallHierarchyProvider?.outgoingCalls({ item })) ?? [];
      const back = (await lsp.CallHierarchyProvider?.incomingCalls({ item })) ?? [];
      const next: CallHierarchyItem[] = [...on.map(({ to }) => to), ...back.map(({ from }) => from)];
      item = next[Math.floor(random() * next.length)] as CallHierarchyItem;
    }
  }

  /** A rename is refused in words, or changes nothing but names. */
  private async renamed({ document }: Analysis, position: Position): Promise<void> {
    const { RenameProvider } = this.services.lsp;
    const asked = { textDocument: { uri: document.uri.toString() }, position };
    try {
      const range = await RenameProvider?.prepareRename(document, asked);
      if (!range) return;
      const edit = await RenameProvider?.rename(document, { ...asked, newName: 'quite-another' });
      if (edit) this.edited(document, 'a rename', edit);
    } catch (problem) {
      // The refusals are errors of the protocol; whatever else is thrown is a fault.
      if ((problem as { code?: number }).code === undefined) throw problem;
    }
  }

  /** What an editor shows of a whole text. */
  private async whole({ document }: Analysis): Promise<void> {
    const { lsp } = this.services;
    const { textDocument } = document;
    const text = textDocument.getText();
    const asked = { textDocument: { uri: textDocument.uri } };
    const range = { start: { line: 0, character: 0 }, end: textDocument.positionAt(text.length) };
    for (const { position, label, textEdits } of (await lsp.InlayHintProvider?.getInlayHints(document, { ...asked, range })) ?? []) {
      inside('a hint', document, { start: position, end: position });
      speak('a hint', JSON.stringify(label), text);
      if (textEdits) applied(document, textEdits, 'a hint');
    }
    for (const lens of (await lsp.CodeLensProvider?.provideCodeLens(document, asked)) ?? []) {
      inside('a lens', document, lens.range);
      speak('a lens', lens.command?.title ?? '', text);
    }
    const data = (await lsp.SemanticTokenProvider?.semanticHighlight(document, asked))?.data ?? [];
    for (let at = 0, line = 0, character = 0; at < data.length; at += 5) {
      const [lines, characters, length] = data.slice(at, at + 3) as [number, number, number];
      if (lines < 0 || characters < 0 || length <= 0) throw new Unsound('a colour goes backwards');
      line += lines;
      character = lines === 0 ? character + characters : characters;
      inside('a colour', document, { start: { line, character }, end: { line, character: character + length } });
    }
    for (const { startLine, endLine } of (await lsp.FoldingRangeProvider?.getFoldingRanges(document, asked)) ?? [])
      if (startLine > endLine || endLine >= textDocument.lineCount) throw new Unsound(`a fold from ${startLine} to ${endLine}`);
    for (const symbol of (await lsp.DocumentSymbolProvider?.getSymbols(document, asked)) ?? []) {
      inside('an outline', document, symbol.range);
      inside('an outline', document, symbol.selectionRange);
      if (symbol.name === '') throw new Unsound('the outline has something without a name');
    }
    for (const link of (await lsp.DocumentLinkProvider?.getDocumentLinks(document, asked)) ?? []) inside('a link', document, link.range);
  }

  /** Some of what the light bulb offers, each carried out. */
  private async actions(analysis: Analysis, random: () => number, most: number): Promise<void> {
    const { document, located } = analysis;
    const diagnostics = located.map(diagnosticOf);
    const spots = positions(document, random, most).map((start) => ({
      range: { start, end: start },
      diagnostics: [] as typeof diagnostics,
    }));
    const wanted = [...diagnostics.map((each) => ({ range: each.range, diagnostics: [each] })), ...spots];
    for (let time = 0; time < most && wanted.length > 0; time++) {
      const [{ range, diagnostics: about }] = wanted.splice(Math.floor(random() * wanted.length), 1) as [(typeof wanted)[number]];
      const asked = { textDocument: identified(analysis), range, context: { diagnostics: about } };
      const offered = ((await this.services.lsp.CodeActionProvider?.getCodeActions(document, asked)) ?? []) as CodeAction[];
      const chosen = most > 1 ? offered : offered.slice(Math.floor(random() * offered.length)).slice(0, 1);
      for (const { title, edit, kind } of chosen) {
        speak('an action', title, document.textDocument.getText());
        if (!edit) continue;
        const after = this.edited(document, `"${title}"`, edit);
        await this.analysed(after, (then) => {
          for (const complaint of complaints(then)) throw new Unsound(`after "${title}": ${complaint}`);
          const [graver] = kind === 'quickfix' ? brought(analysis, then) : [];
          if (graver) throw new Unsound(`"${title}" brings ${graver}`);
        });
      }
    }
  }

  /** The text after an edit. All that is edited has to be there. */
  private edited(document: LangiumDocument, what: string, { changes, documentChanges }: WorkspaceEdit): string {
    const edits = new Map<string, readonly TextEdit[]>(Object.entries(changes ?? {}));
    const made = new Set<string>();
    for (const change of documentChanges ?? []) {
      if (!('textDocument' in change)) made.add((change as { uri: string }).uri);
      else if (!made.has(change.textDocument.uri)) edits.set(change.textDocument.uri, change.edits as TextEdit[]);
    }
    for (const [uri, each] of edits) {
      const other = this.services.shared.workspace.LangiumDocuments.all.find((known) => known.uri.toString() === uri);
      if (!other || isLibrary(other.uri)) throw new Unsound(`${what} edits ${uri}`);
      applied(other, each, what);
    }
    return applied(document, edits.get(document.uri.toString()) ?? [], what);
  }

  /** Part of the text typed anew, as an editor does it: what is found then is what is found in the same text read afresh. */
  private async again({ document }: Analysis, random: () => number): Promise<void> {
    const { DocumentBuilder, TextDocuments } = this.services.shared.workspace;
    const text = document.textDocument.getText();
    const [from, to] = [random(), random()].map((share) => Math.floor(share * text.length)).sort((a, b) => a - b) as [number, number];
    const end = Math.min(to, from + 40);
    const moved = text.slice(0, from) + text.slice(end) + text.slice(from, end);
    TextDocuments.set(TextDocument.create(document.textDocument.uri, 'rig', document.textDocument.version + 1, moved));
    await DocumentBuilder.update([document.uri], []);
    TextDocuments.delete(document.uri);
    const said = (analysis: Analysis) => analysis.located.map(({ finding: { code, figures }, range }) => ({ code, figures, range }));
    const [then, afresh] = [said(this.services.rig.Analyser.of(document)), await this.analysed(moved, said)];
    if (!isDeepStrictEqual(then, afresh)) throw new Unsound(`an edit leaves something behind: ${difference(then, afresh)}`);
  }
}

function identified({ document }: Analysis): { uri: string } {
  return { uri: document.uri.toString() };
}

/** What a text says; without offsets, which places of broken text have in them. */
function meaning({ lowered, located }: Analysis) {
  return {
    rig: lowered.rig,
    findings: located.map(({ finding: { code, place, figures } }) => ({
      code,
      place: place.replace(/@.*/, ''),
      // Some of it is told as it is written, which may be spaced in another way.
      figures: JSON.stringify(figures).replace(/\s/g, ''),
    })),
  };
}

function difference(before: readonly unknown[], after: readonly unknown[]): string {
  const at = before.findIndex((each, index) => !isDeepStrictEqual(each, after[index]));
  const first = at < 0 ? before.length : at;
  return `${JSON.stringify(before[first]) ?? 'nothing'} and then ${JSON.stringify(after[first]) ?? 'nothing'}`;
}

/** Sheets in every form. The signal flow is laid out by a library, which takes its time. */
async function sheets({ checked, located }: Analysis, text: string, ids: readonly SheetId[]): Promise<void> {
  if (!checked) return;
  const findings = located.map(({ finding }) => finding);
  for (const id of ids) {
    const sheet = await sheetOf(id, checked, findings);
    for (const format of SHEET_FORMATS) {
      const page = renderSheet(sheet, format);
      // A page has a style sheet and scripts of its own, in which such words may stand.
      const shown = format === 'html' ? page.replace(/<(style|script)\b.*?<\/\1>/gs, '') : page;
      const found = /\b(undefined|NaN|Infinity)\b|\[object/.exec(shown);
      if (found && !text.includes(found[0]))
        throw new Unsound(`the sheet ${id} as ${format} says "${shown.slice(Math.max(0, found.index - 60), found.index + 60)}"`);
    }
    renderSheet(sheet, 'text', { width: 60 });
  }
}

function completes(document: LangiumDocument, { label, detail, documentation, textEdit }: CompletionItem, text: string): void {
  speak('a completion', `${label} ${detail ?? ''} ${(documentation as MarkupContent | undefined)?.value ?? ''}`, text);
  if (!textEdit || !('range' in textEdit)) throw new Unsound(`the completion ${label} has no place`);
  inside('a completion', document, textEdit.range);
  if (textEdit.range.start.line !== textEdit.range.end.line) throw new Unsound(`the completion ${label} goes over lines`);
}

/** Starts and ends of words, and places between, in no order. */
function positions({ textDocument }: LangiumDocument, random: () => number, most: number): Position[] {
  const text = textDocument.getText();
  if (text.length <= most) return Array.from({ length: text.length + 1 }, (_, offset) => textDocument.positionAt(offset));
  return Array.from({ length: most }, () => {
    const offset = Math.floor(random() * (text.length + 1));
    if (random() < 0.4) return textDocument.positionAt(offset);
    const word = /[\p{L}\p{N}_-]+|$/u.exec(text.slice(offset)) as RegExpExecArray;
    return textDocument.positionAt(offset + word.index + (random() < 0.5 ? 0 : word[0].length));
  });
}

/** The text after edits, which may neither overlap nor be outside of it. */
function applied(document: LangiumDocument, edits: readonly TextEdit[], what: string): string {
  for (const { range } of edits) inside(what, document, range);
  try {
    return TextDocument.applyEdits(document.textDocument as TextDocument, [...edits]);
  } catch (problem) {
    throw new Unsound(`${what} cannot be carried out (${problem}): ${JSON.stringify(edits)}`);
  }
}

function inside(what: string, document: LangiumDocument, range: Range): void {
  if (!isInside(document, range)) throw new Unsound(`${what} is at ${JSON.stringify(range)}, which is not in the text`);
}

function speak(what: string, words: string, text: string): void {
  const complaint = unspeakable(words, text);
  if (complaint) throw new Unsound(`${what} ${complaint}`);
}
