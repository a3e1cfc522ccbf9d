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

/** The rigs that a client names. Both reject with words for the person who asked. */
export interface Rigs {
  readonly now: (address: string, token: CancellationToken) => Promise<Analysis>;
  /** Another rig; without an address, this one at the last commit. */
  readonly old: (uri: string, old: string | undefined, token: CancellationToken) => Promise<Analysis>;
}

/** Without a past there are no commits to compare with. */
export function rigsOf({ workspace }: LangiumSharedServices, rig: RigServices, past: Past | undefined): Rigs {
  const read = async (address: string, token: CancellationToken): Promise<Analysis> => {
    const uri = URI.parse(address);
    if (!workspace.LangiumDocuments.hasDocument(uri)) await workspace.LangiumDocuments.getOrCreateDocument(uri).catch(() => undefined);
    const document: LangiumDocument | undefined = workspace.LangiumDocuments.getDocument(uri);
    if (!document) throw refusal(`${UriUtils.basename(uri)} cannot be read. Name another file.`);
    if (workspace.TextDocuments.get(uri.toString())) await workspace.DocumentBuilder.waitUntil(DocumentState.Validated, uri, token);
    return rig.rig.Analyser.of(document);
  };
  const withRig = (analysis: Analysis, called: string): Analysis => {
    if (analysis.checked) return analysis;
    throw refusal(`There is no rig in ${called}: it only lends its gear to others, or nothing is written.`);
  };
  const nameOf = (address: string) => UriUtils.basename(URI.parse(address));
  return {
    now: async (address, token) => withRig(await read(address, token), nameOf(address)),
    old: async (uri, old, token) =>
      old === undefined
        ? withRig(await committed(URI.parse(uri), past), `${nameOf(uri)} as it was committed`)
        : withRig(await read(old, token), nameOf(old)),
  };
}

/** What the old one of two is called on a sheet. */
export function oldName(old: string | undefined): string {
  return old === undefined ? 'the last commit' : UriUtils.basename(URI.parse(old));
}

export function answerCompare(connection: Connection, rigs: Rigs): void {
  connection.onRequest(COMPARE, async ({ uri: address, old }: CompareWanted, token: CancellationToken): Promise<ChangesShown> => {
    const name = UriUtils.basename(URI.parse(address));
    const now = await rigs.now(address, token);
    const before = await rigs.old(address, old, token);
    const input = (analysis: Analysis) => ({ rig: analysis.lowered.rig, findings: foundBy(analysis) });
    const sheet = changesSheet(compare(input(before), input(now)), {
      before: oldName(old),
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
