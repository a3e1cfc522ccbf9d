/** Waits for a document to be read and checked, also one that has only just been opened, or while the server is starting. */
import { DocumentState, type LangiumDocument, type URI } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import type { CancellationToken } from 'vscode-languageserver';

/** Rejects where there is no such document, and where nobody waits any more. */
export async function settled(
  { workspace }: LangiumSharedServices,
  uri: URI,
  token: CancellationToken,
): Promise<LangiumDocument | undefined> {
  await workspace.WorkspaceManager.ready;
  // What was opened before this was asked comes in with the builds that are waiting.
  if (!workspace.LangiumDocuments.hasDocument(uri)) await workspace.WorkspaceLock.read(() => undefined);
  await workspace.DocumentBuilder.waitUntil(DocumentState.Validated, uri, token);
  return workspace.LangiumDocuments.getDocument(uri);
}
