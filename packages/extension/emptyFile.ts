/** An empty rig is nothing wrong, and offers ways to begin. */
import * as vscode from 'vscode';
import { isRig } from './client';
import { LANGUAGE } from './language';

/** The document that is being looked at, where it is a rig with nothing in it. */
export function emptyRig(): vscode.TextDocument | undefined {
  const document = vscode.window.activeTextEditor?.document;
  return document && isRig(document) && isEmpty(document) ? document : undefined;
}

/** Lines to click above the first, gone as soon as something is typed. */
export function offerToStart(): vscode.Disposable {
  const top = new vscode.Range(0, 0, 0, 0);
  const changed = new vscode.EventEmitter<void>();
  /** Those that the lines were last shown in: the editor keeps them there until it is told. */
  const offered = new Set<string>();
  return vscode.Disposable.from(
    changed,
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      if (offered.has(document.uri.toString()) && !isEmpty(document)) changed.fire();
    }),
    vscode.languages.registerCodeLensProvider(LANGUAGE, {
      onDidChangeCodeLenses: changed.event,
      provideCodeLenses: (document) => {
        const uri = document.uri.toString();
        if (!isRig(document) || !isEmpty(document)) {
          offered.delete(uri);
          return [];
        }
        offered.add(uri);
        return [
          new vscode.CodeLens(top, { title: 'Write a rig from four questions', command: 'earloom.newRig' }),
          new vscode.CodeLens(top, { title: 'Show me around', command: 'earloom.firstHour' }),
        ];
      },
    }),
  );
}

function isEmpty(document: vscode.TextDocument): boolean {
  return document.getText().trim() === '';
}
