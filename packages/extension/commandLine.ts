/** The command line, which ships with the extension. */
import * as vscode from 'vscode';
import { isRig } from './client';

/** A terminal with the line that checks the rig at hand; whoever wants it presses Enter. */
export function checkInTerminal(extensionUri: vscode.Uri): void {
  const document =
    vscode.window.activeTextEditor?.document ?? vscode.window.visibleTextEditors.find((each) => isRig(each.document))?.document;
  const file = document && isRig(document) && document.uri.scheme === 'file' ? document.uri.fsPath : 'your.rig';
  const program = vscode.Uri.joinPath(extensionUri, 'dist', 'cli.cjs').fsPath;
  const terminal = vscode.window.createTerminal('Earloom');
  terminal.show();
  terminal.sendText(`node ${quoted(program)} check ${quoted(file)}`, false);
}

/** As one word for the shells of this machine. */
function quoted(path: string): string {
  return process.platform === 'win32' ? `"${path}"` : `'${path.replaceAll("'", "'\\''")}'`;
}
