/** The rig at hand in the status bar: what is to be put right, and how many inputs are taken. A click leads to the one or to the sheets. */
import * as vscode from 'vscode';
import { type BaseLanguageClient, State } from 'vscode-languageclient';
import { SUMMARY, type Summary } from '#server/protocol';
import { isRig } from './client';

const ICONS = { danger: 'error', error: 'error', warning: 'warning', none: 'pass' };

/** Shown for rigs only; without a colour of its own, whatever is wrong. */
export function statusBar(client: BaseLanguageClient): vscode.Disposable {
  const item = vscode.window.createStatusBarItem('rig', vscode.StatusBarAlignment.Left);
  item.name = 'Rig';
  let asked = 0;
  const update = async () => {
    const own = ++asked;
    const document = atHand();
    const summary = document && client.isRunning() ? await summaryOf(client, document) : undefined;
    if (own !== asked) return;
    if (summary) show(item, summary);
    else item.hide();
  };
  const updates = () => void update();
  return vscode.Disposable.from(
    item,
    vscode.window.onDidChangeActiveTextEditor(updates),
    client.onDidChangeState(({ newState }) => newState === State.Running && updates()),
    // The server tells of them whenever it has looked anew, be they the same.
    vscode.languages.onDidChangeDiagnostics(({ uris }) => {
      const uri = atHand()?.uri.toString();
      if (uris.some((each) => each.toString() === uri)) updates();
    }),
  );
}

/** The rig that is worked on, or that stands beside what is: its sheets, say. */
function atHand(): vscode.TextDocument | undefined {
  const { activeTextEditor, visibleTextEditors } = vscode.window;
  const document = (activeTextEditor ?? visibleTextEditors.find((each) => isRig(each.document)))?.document;
  return document && isRig(document) ? document : undefined;
}

/** Nothing for a file that only lends its gear, or that has been closed meanwhile. */
async function summaryOf(client: BaseLanguageClient, { uri }: vscode.TextDocument): Promise<Summary | undefined> {
  const answer = await client.sendRequest<Summary | null>(SUMMARY, { uri: uri.toString() }).catch(() => undefined);
  return answer ?? undefined;
}

function show(item: vscode.StatusBarItem, { gravest, wrong, inputs, text }: Summary): void {
  const used = inputs ? [`${inputs.used} of ${inputs.of} inputs`] : [];
  item.text = `$(${ICONS[gravest ?? 'none']}) ${[...(wrong > 0 ? [`${wrong} to put right`] : []), ...used].join(', ') || 'Rig'}`;
  const said = [wrong > 0 ? `${wrong} to put right` : 'nothing found wrong', ...used.map((each) => `${each} used`)].join(', ');
  const click = `A click opens the ${wrong > 0 ? 'problems' : 'sheets'}.`;
  item.accessibilityInformation = { label: `Rig: ${said}. ${click}`, role: 'button' };
  item.command = wrong > 0 ? 'workbench.actions.view.problems' : 'earloom.openPreview';
  item.tooltip = new vscode.MarkdownString(`${text}\n\n${click}`);
  item.show();
}
