/** The client's end of the language server, which runs in a process of its own. */
import * as vscode from 'vscode';
import { LanguageClient, type NodeModule, TransportKind } from 'vscode-languageclient/node';

export const LANGUAGE = 'rig';

/** Not those of a version control view or the like: they are no files of their own, and the server would take them for one. */
const SCHEMES = ['file', 'untitled', 'earloom'];

export function createClient(extensionUri: vscode.Uri): LanguageClient {
  const server: NodeModule = { module: vscode.Uri.joinPath(extensionUri, 'dist', 'server.cjs').fsPath, transport: TransportKind.ipc };
  const debug: NodeModule = { ...server, options: { execArgv: ['--nolazy', '--enable-source-maps', '--inspect=6009'] } };
  return new LanguageClient(
    'earloom',
    'Earloom',
    { run: server, debug },
    { documentSelector: SCHEMES.map((scheme) => ({ scheme, language: LANGUAGE })) },
  );
}

/** A rig or a file of gear that somebody writes in; not a file of the library. */
export function isRig(document: vscode.TextDocument): boolean {
  return document.languageId === LANGUAGE && ['file', 'untitled'].includes(document.uri.scheme);
}
