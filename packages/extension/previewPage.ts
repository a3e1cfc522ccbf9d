/** The page that shows sheets, put into a panel. */
import * as vscode from 'vscode';
import { previewHtml } from '#preview';

export function previewPage(panel: vscode.WebviewPanel, extensionUri: vscode.Uri, title: string): void {
  const dist = vscode.Uri.joinPath(extensionUri, 'dist');
  const { webview } = panel;
  webview.options = { enableScripts: true, localResourceRoots: [dist] };
  webview.html = previewHtml({
    scriptUri: webview.asWebviewUri(vscode.Uri.joinPath(dist, 'preview.js')).toString(),
    styleUri: webview.asWebviewUri(vscode.Uri.joinPath(dist, 'preview.css')).toString(),
    cspSource: webview.cspSource,
    nonce: nonce(),
    title,
  });
  const icon = (name: string) => vscode.Uri.joinPath(extensionUri, 'syntaxes', name);
  panel.iconPath = { light: icon('icon.svg'), dark: icon('icon-dark.svg') };
}

/** 32 hexadecimal digits that nobody can foretell. */
function nonce(): string {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
