/** What the editor starts: the language client, the preview, the commands. */
import * as vscode from 'vscode';
import { State } from 'vscode-languageclient/node';
import { createClient } from './client';
import { newRig } from './newRig';
import { Preview } from './preview';

let stop: (() => Promise<void>) | undefined;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const client = createClient(context.extensionUri);
  const preview = new Preview(context.extensionUri, client);
  context.subscriptions.push(
    preview,
    client.onDidChangeState(({ newState }) => {
      if (newState === State.Running) preview.watchAgain();
    }),
    vscode.window.registerWebviewPanelSerializer(Preview.viewType, preview),
    vscode.commands.registerCommand('earloom.openPreview', (uri?: vscode.Uri) => preview.open(uri)),
    vscode.commands.registerCommand('earloom.newRig', newRig),
    vscode.commands.registerCommand('earloom.restart', () => client.restart()),
  );
  stop = () => client.dispose();
  await client.start();
}

export function deactivate(): Promise<void> | undefined {
  return stop?.();
}
