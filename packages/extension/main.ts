/** The entry on a desktop or a server: the language server runs in a process of its own. */
import * as vscode from 'vscode';
import { LanguageClient, type NodeModule, TransportKind } from 'vscode-languageclient/node';
import { clientOptions } from './client';
import { checkInTerminal } from './commandLine';
import { start } from './start';

let stop: (() => Promise<void>) | undefined;

export function activate(context: vscode.ExtensionContext): void {
  const server: NodeModule = {
    module: vscode.Uri.joinPath(context.extensionUri, 'dist', 'server.cjs').fsPath,
    transport: TransportKind.ipc,
  };
  const debug: NodeModule = { ...server, options: { execArgv: ['--nolazy', '--enable-source-maps', '--inspect=6009'] } };
  const client = new LanguageClient('earloom', 'Earloom', { run: server, debug }, clientOptions());
  stop = start(context, client, { commandLine: () => checkInTerminal(context.extensionUri), pdf: true });
}

export function deactivate(): Promise<void> | undefined {
  return stop?.();
}
