/** The whole language on one page, as the server makes it from the grammar. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { ONE_PAGE } from '#server/protocol';
import { showPage } from './explain';

const SCHEME = 'earloom-language';

export class OnePage implements vscode.TextDocumentContentProvider, vscode.Disposable {
  private readonly registration = vscode.workspace.registerTextDocumentContentProvider(SCHEME, this);

  constructor(private readonly client: BaseLanguageClient) {}

  open(): Promise<void> {
    // The tab is called by the end of the path.
    return showPage(vscode.Uri.from({ scheme: SCHEME, path: '/The Language on One Page.md' }));
  }

  provideTextDocumentContent(): Promise<string> {
    return this.client.sendRequest<string>(ONE_PAGE);
  }

  dispose(): void {
    this.registration.dispose();
  }
}
