/** Says what a rig comes to, to who shows it in a few words. */
import { DocumentState, URI } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import type { CancellationToken, Connection } from 'vscode-languageserver';
import type { RigServices } from '#language';
import { type Summary, summaryOf } from '#language/editor';
import { type OfDocument, SUMMARY } from './protocol';

export function answerSummaries(connection: Connection, { workspace }: LangiumSharedServices, rig: RigServices): void {
  connection.onRequest(SUMMARY, async ({ uri: address }: OfDocument, token: CancellationToken): Promise<Summary | null> => {
    const uri = URI.parse(address);
    await workspace.DocumentBuilder.waitUntil(DocumentState.Validated, uri, token);
    const document = workspace.LangiumDocuments.getDocument(uri);
    return (document && summaryOf(rig.rig.Analyser.of(document))) ?? null;
  });
}
