/** The command line, which ships with the extension. */
import * as vscode from 'vscode';
import { isRig } from './client';

/**
 * Checks the rig at hand in a terminal of its own. The process is given its words one by one and no shell reads them: whatever a
 * file is called, nothing in its name is carried out. It runs a program in the folder, so it is for folders that are trusted.
 * Says whether it could.
 */
export async function checkInTerminal(extensionUri: vscode.Uri): Promise<boolean> {
  if (!vscode.workspace.isTrusted) {
    const manage = 'Manage Trust';
    const says = 'The command line is run only in a folder that you trust. Trust this one, or look at the findings in the text.';
    if ((await vscode.window.showWarningMessage(says, manage)) === manage) await vscode.commands.executeCommand('workbench.trust.manage');
    return false;
  }
  const document =
    vscode.window.activeTextEditor?.document ?? vscode.window.visibleTextEditors.find((each) => isRig(each.document))?.document;
  if (!document || !isRig(document)) {
    void vscode.window.showInformationMessage('Open a .rig file first: that is what is checked.');
    return false;
  }
  if (document.uri.scheme !== 'file') {
    void vscode.window.showInformationMessage('Save this rig on this machine first: the command line reads files.');
    return false;
  }
  const program = vscode.Uri.joinPath(extensionUri, 'dist', 'cli.cjs').fsPath;
  const folder = vscode.workspace.getWorkspaceFolder(document.uri);
  // What a rig uses has to be in the folder that the command line is run in.
  const cwd = (folder?.uri ?? vscode.Uri.joinPath(document.uri, '..')).fsPath;
  const task = new vscode.Task(
    { type: 'earloom' },
    folder ?? vscode.TaskScope.Workspace,
    'check',
    'Earloom',
    new vscode.ProcessExecution('node', [program, 'check', '--', document.uri.fsPath], { cwd }),
    [],
  );
  // Without an echo: the terminal would carry out what the name says to it.
  task.presentationOptions = { reveal: vscode.TaskRevealKind.Always, echo: false, clear: true };
  await vscode.tasks.executeTask(task);
  return true;
}
