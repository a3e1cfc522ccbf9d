import * as vscode from 'vscode';
import { LANGUAGE } from './client';

/** A buffer with a whole small rig in it, to be changed into one's own from stop to stop. */
export async function newRig(): Promise<void> {
  const document = await vscode.workspace.openTextDocument({ language: LANGUAGE });
  await vscode.window.showTextDocument(document);
  await vscode.commands.executeCommand('editor.action.insertSnippet', { langId: LANGUAGE, name: 'first rig' });
}
