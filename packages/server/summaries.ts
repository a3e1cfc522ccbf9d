/** Says what a rig comes to, to who shows it in a few words. */
import { URI } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import type { CancellationToken, Connection } from 'vscode-languageserver';
import type { RigServices } from '#language';
import { type Summary, summaryOf } from '#language/editor';
import { type OfDocument, SUMMARY } from './protocol';
import { settled } from './settled';

export function answerSummaries(connection: Connection, shared: LangiumSharedServices, rig: RigServices): void {
  connection.onRequest(SUMMARY, async ({ uri: address }: OfDocument, token: CancellationToken): Promise<Summary | null> => {
    const document = await settled(shared, URI.parse(address), token);
    return (document && summaryOf(rig.rig.Analyser.of(document))) ?? null;
  });
}
