/** The gear library, to be read: every figure with where it comes from. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { LIBRARY } from '#server/protocol';

/** Shows the shelf of it that is picked; says whether one was. */
export async function openLibrary(client: BaseLanguageClient): Promise<boolean> {
  const shelves = (await client.sendRequest<string[]>(LIBRARY)).map((each) => vscode.Uri.parse(each));
  const items = shelves.map((uri) => ({ label: uri.path.replace(/^.*\/|\.rig$/g, ''), uri }));
  const picked = await vscode.window.showQuickPick(items, { placeHolder: 'Which shelf of the gear library?', ignoreFocusOut: true });
  if (picked) await vscode.window.showTextDocument(picked.uri);
  return picked !== undefined;
}
