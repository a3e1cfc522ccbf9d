/** "Plan the Rig…": what the rig has not written, as a diff, with its changes to tick; one undo takes it back. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { editsOf, taken, withNeeded } from '#language/taken';
import { PLAN, PLAN_PROGRESS, type Planned, type PlannedChange, type PlanProgress, type PlanWanted } from '#server/protocol';
import { showPage } from './explain';
import { noRig } from './export';

const SCHEME = 'earloom-plan';
const SHOW = 'Show the Plan';

export class Planning implements vscode.TextDocumentContentProvider, vscode.Disposable {
  private readonly registration: vscode.Disposable;
  private readonly changed = new vscode.EventEmitter<vscode.Uri>();
  readonly onDidChange = this.changed.event;
  /** By path. */
  private readonly texts = new Map<string, string>();

  constructor(private readonly client: BaseLanguageClient) {
    this.registration = vscode.workspace.registerTextDocumentContentProvider(SCHEME, this);
  }

  /** `about` is the id of the one source to find a place for, or of the mix to find a way for; without it, all. */
  async open(rig: vscode.Uri | undefined, about?: string): Promise<void> {
    if (!rig) return noRig();
    const planned = await this.made(rig);
    if (!planned) return;
    this.show(PAGE, planned.page);
    const wanted =
      about === undefined
        ? planned.changes
        : withNeeded(
            planned.changes,
            planned.changes.filter((change) => change.about === about),
          );
    const said =
      about !== undefined && wanted.length === 0
        ? `No ${about.startsWith('mix:') ? 'way' : 'place'} was found for it. ${planned.summary}`
        : planned.summary;
    const rest = planned.unwritten > 0 ? ' Some of it cannot be written into this text: look at the plan.' : '';
    if (wanted.length > 0) return this.offer(rig, planned, wanted, said + rest);
    if ((await vscode.window.showInformationMessage(said + rest, SHOW)) === SHOW) await showPage(PAGE);
  }

  /** The text as it is and as it would be side by side, with the changes to be ticked above. */
  private async offer(rig: vscode.Uri, { version }: Planned, changes: readonly PlannedChange[], summary: string): Promise<void> {
    const document = await vscode.workspace.openTextDocument(rig);
    const name = rig.path.split('/').at(-1) ?? '';
    const planned = vscode.Uri.from({ scheme: SCHEME, path: `/planned/${name}` });
    const text = TextDocument.create(rig.toString(), document.languageId, version, document.getText());
    const shown = (ticked: readonly PlannedChange[]) => {
      const here = ticked.filter(({ uri }) => vscode.Uri.parse(uri).toString() === rig.toString());
      this.show(planned, TextDocument.applyEdits(text, editsOf(here)));
    };
    if (document.version !== version) return changedMeanwhile();
    shown(changes);
    await vscode.commands.executeCommand('vscode.diff', rig, planned, `${name} as planned`, { preview: true });
    const taken = await told(summary, (end) => chosen(name, changes, shown, end));
    await closeDiff();
    if (taken.length === 0) return;
    if (document.version !== version) return changedMeanwhile();
    await write(taken);
    // There an undo takes it back, wherever the plan was asked for.
    const open = vscode.window.visibleTextEditors.find((editor) => editor.document === document);
    await vscode.window.showTextDocument(document, { viewColumn: open?.viewColumn });
  }

  private show(page: vscode.Uri, text: string): void {
    this.texts.set(page.path, text);
    this.changed.fire(page);
  }

  /** Nothing where it could not be made, or somebody has thought better of it. */
  private made(rig: vscode.Uri): Thenable<Planned | undefined> {
    const progress = { location: vscode.ProgressLocation.Notification, title: 'Planning the rig', cancellable: true };
    return vscode.window.withProgress(progress, async (bar, token) => {
      let done = 0;
      const heard = this.client.onNotification(PLAN_PROGRESS, (at: PlanProgress) => {
        if (at.uri !== rig.toString()) return;
        bar.report({ increment: Math.max(0, at.done - done) * 100, message: at.done < 0.6 ? 'trying lines' : 'choosing' });
        done = Math.max(done, at.done);
      });
      try {
        return await this.client.sendRequest<Planned>(PLAN, { uri: rig.toString() } satisfies PlanWanted, token);
      } catch (problem) {
        const says = problem instanceof Error ? problem.message : String(problem);
        if (!token.isCancellationRequested) void vscode.window.showErrorMessage(`The rig could not be planned: ${says}`);
        return undefined;
      } finally {
        heard.dispose();
      }
    });
  }

  provideTextDocumentContent({ path }: vscode.Uri): string {
    return this.texts.get(path) ?? '';
  }

  dispose(): void {
    this.registration.dispose();
    this.changed.dispose();
  }
}

/** A message that stands for as long as an answer is waited for, and no longer. It is whole where it has a button. */
function told<T>(title: string, answer: (end: vscode.CancellationToken) => Promise<T>): Thenable<T> {
  return vscode.window.withProgress({ location: vscode.ProgressLocation.Notification, title, cancellable: true }, (bar, end) => {
    // Nothing is under way: a bar that moves would say so.
    bar.report({ increment: 100 });
    return answer(end);
  });
}

function changedMeanwhile(): void {
  void vscode.window.showInformationMessage('The rig has changed while it was planned. Plan it again.');
}

/** The tab is called by the end of the path. */
const PAGE = vscode.Uri.from({ scheme: SCHEME, path: '/Plan.md' });

/** What somebody has ticked of these changes; nothing where they have thought better of it. */
function chosen(
  name: string,
  changes: readonly PlannedChange[],
  shown: (ticked: readonly PlannedChange[]) => void,
  end: vscode.CancellationToken,
): Promise<PlannedChange[]> {
  const items = changes.map((change) => ({ label: change.says, change }));
  const pick = vscode.window.createQuickPick<(typeof items)[number]>();
  pick.title = `Plan of ${name}`;
  pick.placeholder = 'Enter writes what is ticked; one undo takes it back';
  pick.canSelectMany = true;
  pick.buttons = [{ iconPath: new vscode.ThemeIcon('open-preview'), tooltip: SHOW }];
  // It stays while the difference and the plan are looked at.
  pick.ignoreFocusOut = true;
  pick.items = items;
  pick.selectedItems = items;
  return new Promise((resolve) => {
    let accepted: PlannedChange[] = [];
    let before = changes;
    pick.onDidChangeSelection((ticked) => {
      const now = ticked.map(({ change }) => change);
      const whole = taken(changes, before, now);
      before = whole;
      if (whole.length !== now.length || !whole.every((change) => now.includes(change)))
        pick.selectedItems = items.filter(({ change }) => whole.includes(change));
      shown(whole);
    });
    pick.onDidTriggerButton(() => showPage(PAGE));
    end.onCancellationRequested(() => pick.hide());
    pick.onDidAccept(() => {
      accepted = [...before];
      pick.hide();
    });
    pick.onDidHide(() => {
      pick.dispose();
      resolve(accepted);
    });
    pick.show();
  });
}

/** All in one edit, so that one undo takes it back. */
async function write(changes: readonly PlannedChange[]): Promise<void> {
  const edit = new vscode.WorkspaceEdit();
  for (const uri of new Set(changes.map((change) => change.uri))) {
    for (const { range, newText } of editsOf(changes.filter((change) => change.uri === uri))) {
      const { start, end } = range;
      edit.replace(vscode.Uri.parse(uri), new vscode.Range(start.line, start.character, end.line, end.character), newText);
    }
  }
  await vscode.workspace.applyEdit(edit);
}

async function closeDiff(): Promise<void> {
  const tabs = vscode.window.tabGroups.all.flatMap((group) => group.tabs);
  const mine = tabs.filter(({ input }) => input instanceof vscode.TabInputTextDiff && input.modified.scheme === SCHEME);
  await vscode.window.tabGroups.close(mine, true);
}
