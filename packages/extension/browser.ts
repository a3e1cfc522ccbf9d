/** The entry in a browser: the language server runs in a worker. */
import * as vscode from 'vscode';
import { BrowserMessageReader, BrowserMessageWriter, LanguageClient } from 'vscode-languageclient/browser';
import { clientOptions } from './client';
import { start } from './start';

let stop: (() => Promise<void>) | undefined;

export function activate(context: vscode.ExtensionContext): void {
  const script = vscode.Uri.joinPath(context.extensionUri, 'dist', 'server.web.js').toString(true);
  let worker: Worker | undefined;
  const options = clientOptions();
  const client = new LanguageClient(
    'earloom',
    'Earloom',
    async () => {
      // A worker does not end by itself when its client has stopped.
      worker?.terminate();
      worker = new Worker(script, { name: 'Earloom' });
      return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
    },
    { ...options, initializationOptions: { ...options.initializationOptions, script } },
  );
  context.subscriptions.push({ dispose: () => worker?.terminate() });
  stop = start(context, client, {
    commandLine: () => {
      void vscode.window.showInformationMessage('There is no command line in a browser: Earloom on a desktop has one.');
      return false;
    },
    pdf: false,
  });
}

export function deactivate(): Promise<void> | undefined {
  return stop?.();
}
