/** What changes on the floor since the last commit, or against another rig: a sheet by itself beside the text, with jumps. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { FromPreview, ToPreview } from '#preview';
import { type ChangesShown, COMPARE, type CompareWanted } from '#server/protocol';
import { noRig } from './export';
import type { Preview } from './preview';
import { previewPage } from './previewPage';

export class Comparing implements vscode.Disposable {
  private panel: vscode.WebviewPanel | undefined;
  private shown: ChangesShown | undefined;

  constructor(
    private readonly extensionUri: vscode.Uri,
    private readonly client: BaseLanguageClient,
    private readonly preview: Preview,
  ) {}

  /** Git runs as a program in the folder, so this is for folders that are trusted. */
  async withLastCommit(rig: vscode.Uri | undefined): Promise<void> {
    if (!rig) return noRig();
    if (mayAskGit()) await this.show({ uri: rig.toString() });
  }

  async withAnother(rig: vscode.Uri | undefined): Promise<void> {
    if (!rig) return noRig();
    const old = await pickOld(rig);
    if (old) await this.show({ uri: rig.toString(), old: old.toString() });
  }

  /** The sheets beside the text say which of their rows have changed. */
  async markRows(rig: vscode.Uri | undefined): Promise<void> {
    if (!rig) return noRig();
    const [commit, another, none] = ['Since the last commit', 'Against another rig…', 'No marks'];
    const picked = await vscode.window.showQuickPick([commit, another, none], { title: 'Mark the rows of the sheets that have changed' });
    if (picked === commit && mayAskGit()) this.preview.mark({}, rig);
    else if (picked === none) this.preview.mark(undefined, rig);
    else if (picked === another) {
      const old = await pickOld(rig);
      if (old) this.preview.mark({ old: old.toString() }, rig);
    }
  }

  dispose(): void {
    this.panel?.dispose();
  }

  private async show(wanted: CompareWanted): Promise<void> {
    try {
      this.shown = await this.client.sendRequest<ChangesShown>(COMPARE, wanted);
    } catch (problem) {
      void vscode.window.showErrorMessage(problem instanceof Error ? problem.message : String(problem));
      return;
    }
    if (this.panel) this.panel.reveal(undefined, true);
    else this.open();
    this.tell();
  }

  private open(): void {
    const place = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
    const panel = vscode.window.createWebviewPanel('earloom.changes', 'What Changes', place, { enableFindWidget: true });
    this.panel = panel;
    panel.webview.onDidReceiveMessage((message: FromPreview) => {
      if (message.type === 'ready') this.tell();
      else if (message.type === 'jump') void this.jump(message.place);
    });
    previewPage(panel, this.extensionUri, 'What changes');
    panel.onDidDispose(() => {
      this.panel = this.shown = undefined;
    });
  }

  private tell(): void {
    if (!this.shown) return;
    const { uri, sheet } = this.shown;
    void this.panel?.webview.postMessage({ type: 'alone', uri, sheet } satisfies ToPreview);
  }

  /** What is in the last commit alone stands nowhere that one could go to. */
  private async jump(place: string): Promise<void> {
    const spot = this.shown?.spots[place];
    if (!spot) return;
    const { start } = spot.range;
    const at = new vscode.Position(start.line, start.character);
    const document = await vscode.workspace.openTextDocument(vscode.Uri.parse(spot.uri));
    const open = vscode.window.visibleTextEditors.find((editor) => editor.document === document);
    await vscode.window.showTextDocument(document, {
      viewColumn: open?.viewColumn ?? vscode.ViewColumn.One,
      selection: new vscode.Range(at, at),
    });
  }
}

function mayAskGit(): boolean {
  if (vscode.workspace.isTrusted) return true;
  void vscode.window.showWarningMessage('Commits are looked at only in a folder that you trust: the program git is run there.');
  return false;
}

async function pickOld(rig: vscode.Uri): Promise<vscode.Uri | undefined> {
  const picked = await vscode.window.showOpenDialog({
    title: 'The rig as it was, or another night',
    openLabel: 'Compare',
    defaultUri: vscode.Uri.joinPath(rig, '..'),
    filters: { Rigs: ['rig'] },
  });
  return picked?.[0];
}
