/** Compares a rig with its last commit, or with another rig, for a client that asks. */
import { DocumentState, type LangiumDocument, URI, UriUtils } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import { type CancellationToken, type Connection, ErrorCodes, ResponseError } from 'vscode-languageserver';
import { compare } from '#compare';
import { type Analysis, foundBy, type RigServices } from '#language';
import { changesSheet, placeInOld, placesOf } from '#sheets';
import { type ChangesShown, COMPARE, type CompareWanted, type Spot } from './protocol';

/** What a file was at the last commit. Rejects with words for the person who asked. */
export type Past = (file: URI) => Promise<Analysis>;

/** Without a past there are no commits to compare with. */
export function answerCompare(
  connection: Connection,
  { workspace }: LangiumSharedServices,
  rig: RigServices,
  past: Past | undefined,
): void {
  const read = async (address: string, token: CancellationToken): Promise<Analysis> => {
    const uri = URI.parse(address);
    if (!workspace.LangiumDocuments.hasDocument(uri)) await workspace.LangiumDocuments.getOrCreateDocument(uri).catch(() => undefined);
    const document: LangiumDocument | undefined = workspace.LangiumDocuments.getDocument(uri);
    if (!document) throw refusal(`${UriUtils.basename(uri)} cannot be read. Name another file.`);
    if (document.state >= DocumentState.Parsed && workspace.TextDocuments.get(uri.toString()))
      await workspace.DocumentBuilder.waitUntil(DocumentState.Validated, uri, token);
    return rig.rig.Analyser.of(document);
  };
  connection.onRequest(COMPARE, async ({ uri: address, old }: CompareWanted, token: CancellationToken): Promise<ChangesShown> => {
    const uri = URI.parse(address);
    const name = UriUtils.basename(uri);
    const now = await read(address, token);
    const before = old === undefined ? await committed(uri, past) : await read(old, token);
    for (const [analysis, called] of [
      [now, name],
      [before, old === undefined ? `${name} as it was committed` : UriUtils.basename(URI.parse(old))],
    ] as const)
      if (!analysis.checked) throw refusal(`There is no rig in ${called}: it only lends its gear to others, or nothing is written.`);
    const input = (analysis: Analysis) => ({ rig: analysis.lowered.rig, findings: foundBy(analysis) });
    const sheet = changesSheet(compare(input(before), input(now)), {
      before: old === undefined ? 'the last commit' : UriUtils.basename(URI.parse(old)),
      after: name,
    });
    const spots: Record<string, Spot> = {};
    for (const place of placesOf(sheet)) {
      const inOld = placeInOld(place);
      // What was committed is no file that one could go to.
      const spot = inOld === undefined ? now.spotOf(place) : old === undefined ? undefined : before.spotOf(inOld);
      if (spot) spots[place] = spot;
    }
    return { uri: address, sheet, spots };
  });
}

async function committed(uri: URI, past: Past | undefined): Promise<Analysis> {
  if (!past || uri.scheme !== 'file')
    throw refusal('Commits can be looked at only for files on this machine. Compare it with another rig instead.');
  try {
    return await past(uri);
  } catch (problem) {
    throw refusal(problem instanceof Error ? problem.message : String(problem));
  }
}

function refusal(says: string): ResponseError<void> {
  return new ResponseError(ErrorCodes.InvalidParams, says);
}
