/** Sends the sheets of the documents that somebody is looking at. */
import { DocumentState, type LangiumDocument, URI, UriUtils } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import type { Connection } from 'vscode-languageserver';
import type { RigServices } from '#language';
import type { Place } from '#rig';
import { type PatchList, patchList } from '#sheets';
import { type OfDocument, SHEETS, type Sheets, type Spot, UNWATCH, WATCH } from './protocol';

export function sendSheets(connection: Connection, shared: LangiumSharedServices, rig: RigServices): void {
  /** As the client writes them, by the address that documents are kept under. */
  const watched = new Map<string, string>();
  const send = (document: LangiumDocument) => {
    const uri = watched.get(UriUtils.normalize(document.uri));
    if (uri === undefined) return;
    try {
      void connection.sendNotification(SHEETS, sheetsOf(uri, document, rig));
    } catch (problem) {
      console.error(`Could not make the sheets of ${uri}.`, problem);
    }
  };
  connection.onNotification(WATCH, ({ uri }: OfDocument) => {
    watched.set(UriUtils.normalize(uri), uri);
    const document = shared.workspace.LangiumDocuments.getDocument(URI.parse(uri));
    if (document?.state === DocumentState.Validated) send(document);
  });
  connection.onNotification(UNWATCH, ({ uri }: OfDocument) => {
    watched.delete(UriUtils.normalize(uri));
  });
  shared.workspace.DocumentBuilder.onDocumentPhase(DocumentState.Validated, send);
}

function sheetsOf(uri: string, document: LangiumDocument, rig: RigServices): Sheets {
  const { checked, located, spotOf } = rig.rig.Analyser.of(document);
  const findings = located.map(({ finding }) => finding);
  const sheet = checked && patchList(checked, findings);
  const spots: Record<string, Spot> = {};
  for (const place of sheet ? placesOf(sheet) : []) {
    const spot = spotOf(place);
    if (spot) spots[place] = spot;
  }
  return { uri, version: document.textDocument.version, title: sheet?.title ?? UriUtils.basename(document.uri), sheet, spots };
}

function placesOf({ inputs, outputs, house, leads, elsewhere }: PatchList): Set<Place> {
  const rows = [...inputs, ...outputs, ...house, ...leads];
  const notes = [...rows.flatMap((row) => row.findings), ...elsewhere];
  return new Set([...rows.flatMap((row) => [row.place, ...row.about]), ...notes.map((note) => note.place)]);
}
