/** The sheets beside the text: one of the rig that was last worked on, and each knows where the other is. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { FromPreview, ToPreview } from '#preview';
import { SHEETS, type Sheets, type SheetsUpdate, type Spot, UNWATCH, WATCH, type Watched } from '#server/protocol';
import { sheetsUpdated } from '#server/sheetsUpdate';
import { SHEET_IDS, type Sheet, type SheetId, TAB_IDS, TAB_NAMES, type TabId } from '#sheets/sheet';
import { updateOf } from '#sheets/update';
import { isRig } from './client';
import { previewPage } from './previewPage';
import { Ticks } from './ticks';

/** What the webview keeps over a reload of the window. */
interface Kept {
  readonly uri?: string;
}

export class Preview implements vscode.WebviewPanelSerializer<Kept>, vscode.Disposable {
  static readonly viewType = 'earloom.preview';

  private panel: vscode.WebviewPanel | undefined;
  /** What has come of each rig that is watched: of what is other now, the whole is made with it. */
  private readonly told = new Map<string, Sheets>();
  /** What the page has. */
  private posted: { readonly uri: string; readonly sheet: Sheet<TabId> } | undefined;
  /** The sheets that are shown. */
  private shown: Sheets | undefined;
  /** The rig that is to be shown as soon as its sheets come. */
  private wanted: string | undefined;
  /** The one wanted before it, as long as no rig is shown: the newer may be a file that has none. */
  private before: string | undefined;
  private pointed: { readonly editor: vscode.TextEditor; readonly at: vscode.Position } | undefined;
  /** Which of its sheets, as the preview says. */
  private sheet: TabId = TAB_IDS[0];
  /** What changed rows are marked against, while they are. */
  private against: Watched['against'];
  private readonly ticks: Ticks;
  private readonly disposables: vscode.Disposable[];
  /** Where the text was gone to. It is not selected: the next key would wipe it out. */
  private readonly pointedAt = vscode.window.createTextEditorDecorationType({
    backgroundColor: new vscode.ThemeColor('editor.rangeHighlightBackground'),
  });

  constructor(
    private readonly extensionUri: vscode.Uri,
    private readonly client: BaseLanguageClient,
    workspaceState: vscode.Memento,
  ) {
    this.ticks = new Ticks(workspaceState);
    this.disposables = [
      client.onNotification(SHEETS, (told: Sheets | SheetsUpdate) => this.hearOf(told)),
      vscode.window.onDidChangeActiveTextEditor((editor) => {
        if (this.panel && editor && isRig(editor.document)) this.want(editor.document.uri.toString());
      }),
      // What has been committed meanwhile is looked at again.
      vscode.workspace.onDidSaveTextDocument((document) => {
        if (this.against && isRig(document)) this.watchAgain();
      }),
      this.pointedAt,
      vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => {
        this.tellCursor(textEditor);
        this.fade(textEditor);
      }),
    ];
  }

  /** The sheet that is shown, or would be; the first where a plan is. */
  get chosen(): SheetId {
    return this.sheet === 'plan' ? SHEET_IDS[0] : this.sheet;
  }

  /** The rig of the editor that is in use, or else the one that is shown. */
  rig(): vscode.Uri | undefined {
    const editor = vscode.window.activeTextEditor;
    if (editor && isRig(editor.document)) return editor.document.uri;
    return this.shown?.sheets && vscode.Uri.parse(this.shown.uri);
  }

  /** Opens it beside the text, or brings it up, with the rig of this address or else of the editor that is in use; says whether there is one. */
  open(uri?: vscode.Uri): boolean {
    const editor = vscode.window.activeTextEditor;
    const rig = uri?.toString() ?? (editor && isRig(editor.document) ? editor.document.uri.toString() : undefined);
    if (rig === undefined && !this.panel) {
      void vscode.window.showInformationMessage('Open a .rig file first: the sheets are made from it.');
      return false;
    }
    if (this.panel) this.panel.reveal(undefined, true);
    else this.take(panelAt({ viewColumn: vscode.ViewColumn.Beside, preserveFocus: true }));
    if (rig !== undefined) this.want(rig);
    return true;
  }

  async deserializeWebviewPanel(old: vscode.WebviewPanel, kept: Kept | undefined): Promise<void> {
    const panel = searched(old);
    this.take(panel);
    const uri = kept?.uri ?? vscode.window.visibleTextEditors.find(({ document }) => isRig(document))?.document.uri.toString();
    if (uri === undefined) return;
    // The server tells only of files that it knows, and it knows those that are open.
    await vscode.workspace.openTextDocument(vscode.Uri.parse(uri)).then(
      () => this.want(uri),
      () => panel.dispose(),
    );
  }

  /** From now on rows that have changed are marked: since the last commit, or against another rig; or none are any more. */
  mark(against: Watched['against'], rig: vscode.Uri): void {
    this.against = against;
    if (!this.panel) this.open(rig);
    else {
      this.panel.reveal(undefined, true);
      this.watchAgain();
    }
  }

  /** To a server that has just been started nothing is watched; and each time, the latest counts. */
  watchAgain(): void {
    for (const uri of this.watched()) this.watch(uri);
  }

  dispose(): void {
    this.panel?.dispose();
    for (const each of this.disposables) each.dispose();
  }

  private take(panel: vscode.WebviewPanel): void {
    this.panel?.dispose();
    this.panel = panel;
    this.posted = undefined;
    panel.webview.onDidReceiveMessage((message: FromPreview) => this.hear(message), undefined, this.disposables);
    previewPage(panel, this.extensionUri, 'Sheets');
    // Nobody looks: nothing is planned, until the page is back and asks.
    panel.onDidChangeViewState(() => {
      if (this.panel === panel && !panel.visible && this.sheet === 'plan') for (const uri of this.watched()) this.unwatch(uri);
    });
    panel.onDidDispose(() => {
      if (this.panel !== panel) return;
      for (const uri of this.watched()) this.unwatch(uri);
      this.panel = this.wanted = this.before = this.shown = undefined;
    });
  }

  private watched(): string[] {
    return [...new Set([this.wanted, this.before, this.shown?.uri])].filter((uri) => uri !== undefined);
  }

  private want(uri: string): void {
    if (uri === this.wanted) return;
    const left = this.watched();
    if (!this.shown?.sheets) this.before = this.wanted;
    this.wanted = uri;
    this.leave(left);
    this.watch(uri);
  }

  private hearOf(told: Sheets | SheetsUpdate): void {
    // On its way while somebody went elsewhere.
    if (!this.watched().includes(told.uri)) return;
    const before = this.told.get(told.uri);
    const now = !('updates' in told) ? told : before && sheetsUpdated(before, told);
    if (now) {
      this.told.set(now.uri, now);
      this.receive(now);
    }
    // Without what it changes it says nothing: the whole is asked for.
    else this.watch(told.uri);
  }

  private receive(sheets: Sheets): void {
    if (!this.panel) return;
    const left = this.watched();
    // Of a sheet that has been left meanwhile.
    if (sheets.sheets && (sheets.plan ? 'plan' : sheets.sheets[0]?.id) !== this.sheet) return;
    if (sheets.uri === this.wanted && sheets.uri !== this.shown?.uri) {
      // A file that only lends its gear does not take the place of the rig that uses it.
      if (!sheets.sheets && sheets.lends && this.shown?.sheets) return;
    } else if (sheets.uri !== this.shown?.uri) {
      if (sheets.uri !== this.before || !sheets.sheets || this.shown?.sheets) return;
    }
    if (sheets.unmarked !== undefined && this.against) {
      this.against = undefined;
      void vscode.window.showWarningMessage(sheets.unmarked);
    }
    this.shown = sheets;
    if (sheets.sheets) this.before = undefined;
    this.leave(left);
    this.panel.title = sheets.sheets ? `${TAB_NAMES[this.sheet]}: ${sheets.title}` : 'Sheets';
    this.tell();
  }

  private tell(): void {
    if (!this.shown) return;
    const { uri, title, sheets, lends, titled, plan } = this.shown;
    const sheet = sheets?.[0];
    const before = this.posted?.uri === uri && this.posted.sheet.id === sheet?.id ? this.posted.sheet : undefined;
    const told = sheet && before ? { update: updateOf(before, sheet) } : { sheet };
    this.posted = sheet && { uri, sheet };
    this.post({ type: 'sheet', uri, title, ...told, plan: sheets && plan, lends, titled, ticked: this.ticks.of(uri) });
    const editor =
      vscode.window.activeTextEditor ?? vscode.window.visibleTextEditors.find(({ document }) => document.uri.toString() === uri);
    if (editor) this.tellCursor(editor);
  }

  private tellCursor({ document, selection }: vscode.TextEditor): void {
    if (!this.shown || !isRig(document)) return;
    const uri = document.uri.toString();
    const line = selection.active.line;
    const places = Object.entries(this.shown.spots).flatMap(([place, spot]) =>
      spot.uri === uri && spot.range.start.line <= line && line <= spot.range.end.line ? [place] : [],
    );
    this.post({ type: 'cursor', places });
  }

  private hear(message: FromPreview): void {
    if (message.type === 'ready') {
      // A page that was hidden has nothing, and asks again for what it showed.
      this.posted = undefined;
      if (message.sheet !== this.sheet) this.show(message.sheet);
      else if (this.sheet === 'plan') this.watchAgain();
      else this.tell();
    } else if (message.type === 'plan') {
      if (this.shown) void vscode.commands.executeCommand('earloom.planRig', this.shown.uri);
    } else if (message.type === 'show') this.show(message.sheet);
    else if (message.type === 'ticked') this.ticks.keep(message.uri, message.ticked);
    else if (message.type === 'jump') {
      const spot = this.shown?.spots[message.place];
      if (spot) void this.goTo(spot, this.shown?.uri);
    }
  }

  /** Goes to a stretch of text where it is open already, or else next to the rig that it belongs to. */
  private async goTo({ uri, range: { start, end } }: Spot, rig: string | undefined): Promise<void> {
    const document = await vscode.workspace.openTextDocument(vscode.Uri.parse(uri));
    const columnOf = (address: string | undefined) =>
      vscode.window.visibleTextEditors.find((editor) => editor.document.uri.toString() === address)?.viewColumn;
    const viewColumn = columnOf(document.uri.toString()) ?? columnOf(rig) ?? vscode.ViewColumn.One;
    const range = new vscode.Range(start.line, start.character, end.line, end.character);
    const editor = await vscode.window.showTextDocument(document, { viewColumn, selection: new vscode.Range(range.start, range.start) });
    editor.revealRange(range, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
    editor.setDecorations(this.pointedAt, [range]);
    this.pointed = { editor, at: range.start };
  }

  /** As soon as the cursor is elsewhere. */
  private fade(moved: vscode.TextEditor): void {
    const { editor, at } = this.pointed ?? {};
    if (!editor || !at || moved !== editor || (moved.selection.isEmpty && moved.selection.active.isEqual(at))) return;
    editor.setDecorations(this.pointedAt, []);
    this.pointed = undefined;
  }

  private show(sheet: TabId): void {
    this.sheet = sheet;
    this.watchAgain();
  }

  private post(message: ToPreview): void {
    void this.panel?.webview.postMessage(message);
  }

  private watch(uri: string): void {
    if (!this.client.isRunning()) return;
    const watched: Watched =
      this.sheet === 'plan' ? { uri, sheets: [], plan: true } : { uri, sheets: [this.sheet], updates: true, against: this.against };
    void this.client.sendNotification(WATCH, watched);
  }

  /** Of those that were watched, the ones that nobody waits for any more. */
  private leave(were: readonly string[]): void {
    const still = this.watched();
    for (const uri of were) if (!still.includes(uri)) this.unwatch(uri);
  }

  private unwatch(uri: string): void {
    this.told.delete(uri);
    if (this.client.isRunning()) void this.client.sendNotification(UNWATCH, { uri });
  }
}

/** An editor gives what it has of finding text. */
const OPTIONS: vscode.WebviewPanelOptions = { enableFindWidget: true };

function panelAt(place: { readonly viewColumn: vscode.ViewColumn; readonly preserveFocus: boolean }) {
  return vscode.window.createWebviewPanel(Preview.viewType, 'Sheets', place, OPTIONS);
}

/** A panel has for ever the options that it was made with: one that an earlier edition has left gives way to a new one. */
function searched(panel: vscode.WebviewPanel): vscode.WebviewPanel {
  if (panel.options.enableFindWidget) return panel;
  const anew = panelAt({ viewColumn: panel.viewColumn ?? vscode.ViewColumn.Beside, preserveFocus: true });
  panel.dispose();
  return anew;
}
