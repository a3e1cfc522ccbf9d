/** "Choose Frequencies": what the light bulb offers at a radio set, for the whole rig that is open. */
import * as vscode from 'vscode';

const KIND = 'refactor.rewrite.frequencies';

export async function chooseFrequencies(): Promise<void> {
  const { document } = vscode.window.activeTextEditor ?? {};
  if (document?.languageId !== 'rig') {
    await vscode.window.showInformationMessage('Open the rig whose radio sets are to be set, and choose this again.');
    return;
  }
  const whole = new vscode.Range(new vscode.Position(0, 0), document.lineAt(document.lineCount - 1).range.end);
  const actions = await vscode.commands.executeCommand<vscode.CodeAction[] | undefined>(
    'vscode.executeCodeActionProvider',
    document.uri,
    whole,
    KIND,
  );
  const found = actions?.find(({ kind, edit }) => kind?.value === KIND && edit);
  if (!found?.edit) {
    await vscode.window.showInformationMessage(
      'No radio set of yours has to move, or none can: what it tunes is not stated, or nothing is clear. The sheet “Radio” says which.',
    );
    return;
  }
  await vscode.workspace.applyEdit(found.edit);
  await vscode.window.showInformationMessage(
    `${found.title.replace(/^.*: move/, 'Moved')}. It is no permission: the local radio regulator decides. Agree all frequencies with the house.`,
  );
}
