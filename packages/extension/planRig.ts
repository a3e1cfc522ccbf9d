/** "Plan the Rig…": what the rig has not written, shown as a diff to accept whole or line by line; one undo takes it back. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { PLAN, PLAN_PROGRESS, type Planned, type PlannedChange, type PlanProgress, type PlanWanted } from '#server/protocol';
import { showPage } from './explain';
import { noRig } from './export';

const SCHEME = 'earloom-plan';
const SHOW = 'Show the Plan';

export class Planning implements vscode.TextDocumentContentProvider, vscode.Disposable {
  private readonly registration: vscode.Disposable;
  private readonly changed = new vscode.EventEmitter<vscode.Uri>();
  readonly onDidChange = this.changed.event;
  private page = '';

  constructor(private readonly client: BaseLanguageClient) {
    this.registration = vscode.workspace.registerTextDocumentContentProvider(SCHEME, this);
  }

  /** `about` is the name of the one source to find a place for; without it, all. */
  async open(rig: vscode.Uri | undefined, about?: string): Promise<void> {
    if (!rig) return noRig();
    const planned = await this.made(rig);
    if (!planned) return;
    this.page = planned.page;
    this.changed.fire(PAGE);
    const wanted = about === undefined ? planned.changes : only(planned.changes, about);
    if (wanted.length > 0) await offered(rig, planned, wanted);
    const said = about !== undefined && wanted.length === 0 ? `No place was found for it. ${planned.summary}` : planned.summary;
    const rest = planned.unwritten > 0 ? ' Some of it cannot be written into this text: look at the plan.' : '';
    const picked = await vscode.window.showInformationMessage(said + rest, SHOW);
    if (picked === SHOW) await showPage(PAGE);
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

  provideTextDocumentContent(): string {
    return this.page;
  }

  dispose(): void {
    this.registration.dispose();
    this.changed.dispose();
  }
}

/** The tab is called by the end of the path. */
const PAGE = vscode.Uri.from({ scheme: SCHEME, path: '/Plan.md' });

/** What is for one source, with the gear that it needs. */
function only(changes: readonly PlannedChange[], about: string): PlannedChange[] {
  const mine = changes.filter((change) => change.about === about);
  const needed = new Set(mine.flatMap(({ needs }) => needs));
  return changes.filter((change) => mine.includes(change) || (change.brings !== undefined && needed.has(change.brings)));
}

/** Each change stands by itself in the editor's preview of refactorings, to be ticked or not. */
async function offered(rig: vscode.Uri, { version }: Planned, changes: readonly PlannedChange[]): Promise<void> {
  const document = await vscode.workspace.openTextDocument(rig);
  if (document.version !== version) {
    void vscode.window.showInformationMessage('The rig has changed while it was planned. Plan it again.');
    return;
  }
  const edit = new vscode.WorkspaceEdit();
  for (const { uri, edits, says, needs } of changes) {
    const metadata: vscode.WorkspaceEditEntryMetadata = {
      needsConfirmation: true,
      label: says,
      description: needs.length > 0 ? `with ${needs.join(', ')}` : undefined,
    };
    for (const { range, newText } of edits) {
      const { start, end } = range;
      edit.replace(vscode.Uri.parse(uri), new vscode.Range(start.line, start.character, end.line, end.character), newText, metadata);
    }
  }
  await vscode.workspace.applyEdit(edit, { isRefactoring: true });
}
